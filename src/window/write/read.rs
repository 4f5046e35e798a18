//! What the text of the write line may mean.

use std::collections::BTreeMap;

use crate::{
    marks::{CallAnswer, Phase, Quantity, Reading, What},
    units::{Magnitude, Points, Unit},
};

use super::{
    fixed,
    offer::{Entry, Hint, Offer, Rank},
    vocabulary::{ElementWord, FaultWord, Vocabulary},
};

/// What a rule asks of the chosen element.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Asked {
    /// Id of the rule.
    pub rule: String,
    /// Its name.
    pub label: String,
    /// What it measures.
    pub quantity: Quantity,
    /// Whether it is still unanswered.
    pub waiting: bool,
}

/// What the text is read against.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Context<'a> {
    /// The words of the book.
    pub words: &'a Vocabulary,
    /// What rules ask of the chosen element, waiting ones first.
    pub asked: &'a [Asked],
    /// The phase of the exercise at the frame on screen.
    pub phase: Phase,
    /// How often each element was written so far, by its id.
    pub used: &'a BTreeMap<String, u32>,
}

impl<'a> Context<'a> {
    /// Returns the elements, those that were written most first.
    fn by_use(self) -> Vec<&'a ElementWord> {
        let used = |element: &&ElementWord| self.used.get(&element.id).copied().unwrap_or(0);
        let mut elements: Vec<&ElementWord> = self.words.elements.iter().collect();
        elements.sort_by_key(|element| std::cmp::Reverse(used(element)));
        elements
    }
}

/// How many offers are made at most.
const MOST: usize = 8;

/// Returns what `text` may mean, the likeliest first, or a hint when it means nothing.
pub(crate) fn read(text: &str, context: Context<'_>) -> Result<Vec<Offer>, Hint> {
    let text = text.trim();
    if text.is_empty() {
        return Ok(everything(context));
    }
    if let Some(offers) = remark(text) {
        return Ok(offers);
    }
    let words: Vec<String> = text.split_whitespace().map(str::to_lowercase).collect();
    if let Some(result) = answer(&words, context.asked).or_else(|| angle(&words, context.asked)) {
        return result;
    }
    // Before amounts: the 180 of "hands 180" is a turn.
    let composed = fixed::composed(&words, context.phase);
    if !composed.is_empty() {
        return Ok(composed);
    }
    let mut ranked = Vec::new();
    let plain = match amount(&words) {
        Some((amount, rest)) => return faults_worth(amount, &rest, context.words),
        None => words,
    };
    ranked.extend(elements(&plain, context));
    ranked.extend(fixed::simple(&plain));
    ranked.extend(faults(&plain, context.words));
    // The sort is stable: within one rank elements come first, for moments have keys of their own,
    // and faults last.
    // What is called exactly so comes first even where the division may not use it.
    ranked.sort_by_key(|(rank, offer)| (*rank != 0, !offer.allowed, *rank));
    let offers: Vec<Offer> = ranked.into_iter().map(|(_, offer)| offer).take(MOST).collect();
    if offers.is_empty() { Err(nothing_called(text)) } else { Ok(offers) }
}

fn nothing_called(text: &str) -> Hint {
    format!(
        "Nothing in this book is called \"{text}\". Begin with \"note\" to keep it as a remark."
    )
}

fn remark(text: &str) -> Option<Vec<Offer>> {
    let (first, rest) = text.split_once(char::is_whitespace)?;
    (first.eq_ignore_ascii_case("note") && !rest.trim().is_empty()).then(|| {
        let note = rest.trim().to_owned();
        vec![Offer {
            label: format!("Remark: {note}"),
            entry: Entry::Mark(What::Note, note),
            aside: String::new(),
            allowed: true,
        }]
    })
}

/// Reads `met`, `not met`, `can't tell`.
fn answer(words: &[String], asked: &[Asked]) -> Option<Result<Vec<Offer>, Hint>> {
    let joined = words.join(" ").replace(['\'', '’'], "");
    let (answer, says) = match joined.as_str() {
        "met" | "yes" => (CallAnswer::Met, "met"),
        "not met" | "no" | "missed" => (CallAnswer::NotMet, "not met"),
        "cant tell" | "cannot tell" | "unsure" => (CallAnswer::CantTell, "can't tell"),
        _ => return None,
    };
    if asked.is_empty() {
        return Some(Err("Choose an element first: no rule asks anything here.".to_owned()));
    }
    let offers = asked.iter().map(|asked| Offer {
        entry: Entry::Call { rule: asked.rule.clone(), answer },
        label: format!("{}: {says}", asked.label),
        aside: if asked.waiting { "waiting" } else { "changes the answer" }.to_owned(),
        allowed: true,
    });
    Some(Ok(offers.collect()))
}

/// Reads `angle -3`, `angle 78 ±2`, `78°`, `length 1.25`, `offset 0.3`, `knees 0.8`.
fn angle(words: &[String], asked: &[Asked]) -> Option<Result<Vec<Offer>, Hint>> {
    let (first, rest) = words.split_first()?;
    let (name, rest) = match first.strip_suffix('°') {
        Some(_) => ("angle", words.to_vec()),
        None => (first.as_str(), rest.to_vec()),
    };
    let unit = Quantity::ALL.into_iter().find(|it| it.written() == name)?.unit();
    // "knees 0.3" may be an amount off for a fault of this name.
    let asked: Vec<&Asked> =
        asked.iter().filter(|asked| asked.quantity.written() == name).collect();
    if asked.is_empty() && unit != Unit::Degree {
        return None;
    }
    let Some((value, u)) = value_with_uncertainty(&rest) else {
        return Some(Err(match unit {
            Unit::Degree => format!("Write the angle in degrees: {name} 78, or {name} 78 ±2."),
            Unit::Metre => format!("Write it in metres: {name} 1.25, or {name} 1.25 ±0.05."),
            Unit::ShoulderWidth => {
                format!("Write it in shoulder widths: {name} 0.8, or {name} 0.8 ±0.1.")
            }
        }));
    };
    if asked.is_empty() {
        return Some(Err("Choose an element first: no rule asks for an angle here.".to_owned()));
    }
    let offers = asked.into_iter().map(|asked| Offer {
        entry: Entry::Reading { quantity: asked.quantity, value, u },
        label: format!("{}: {}", asked.label, asked.quantity.write(value)),
        aside: if u.0 > 0.0 {
            format!("± {}", asked.quantity.write(u))
        } else {
            "stated".to_owned()
        },
        allowed: true,
    });
    Some(Ok(offers.collect()))
}

/// Returns what a person would write for a reading: `angle 78 ±2`.
pub(crate) fn stated(reading: &Reading) -> String {
    let (name, unit) = (reading.quantity.written(), reading.quantity.unit());
    let value = unit.number(reading.value);
    let u =
        if reading.u.0 > 0.0 { format!(" ±{}", unit.number(reading.u)) } else { String::new() };
    format!("{name} {value}{u}")
}

fn value_with_uncertainty(words: &[String]) -> Option<(Magnitude, Magnitude)> {
    let joined = words.concat().replace('°', "").replace("+-", "±").replace('−', "-");
    let (value, u) = joined.split_once('±').unwrap_or((&joined, "0"));
    let degrees = |text: &str| text.parse().ok().map(Magnitude).filter(|d| d.is_finite());
    let (value, u): (Magnitude, Magnitude) = (degrees(value)?, degrees(u)?);
    (value.0.abs() <= 720.0 && (0.0..=90.0).contains(&u.0)).then_some((value, u))
}

/// Splits an amount off: `0.3 legs`, `legs 0.3`.
fn amount(words: &[String]) -> Option<(Points, Vec<String>)> {
    let as_amount = |word: &String| word.replace(',', ".").parse::<Points>().ok();
    let at = words.iter().position(|word| as_amount(word).is_some())?;
    let amount = as_amount(&words[at])?;
    let rest = words.iter().enumerate().filter(|(i, _)| *i != at).map(|(_, w)| w.clone());
    Some((amount, rest.collect()))
}

fn faults_worth(amount: Points, words: &[String], book: &Vocabulary) -> Result<Vec<Offer>, Hint> {
    let mut fitting: Vec<(Rank, &FaultWord)> = book
        .faults
        .iter()
        .filter_map(|fault| Some((rank(words, &[&fault.name], &[&fault.shorthand])?, fault)))
        .collect();
    fitting.sort_by_key(|(rank, _)| *rank);
    if fitting.is_empty() {
        return Err(nothing_called(&words.join(" ")));
    }
    let offers: Vec<Offer> = fitting
        .iter()
        .filter(|(_, fault)| fault.amounts.takes(amount))
        .map(|(_, fault)| Offer::of_fault(fault, fault.amounts.keeps(amount), amount.short()))
        .take(MOST)
        .collect();
    let (_, first) = fitting[0];
    if offers.is_empty() {
        return Err(format!("{} takes {}.", first.name, first.amounts.says()));
    }
    Ok(offers)
}

fn elements(words: &[String], context: Context<'_>) -> Vec<(Rank, Offer)> {
    let fitting = context.by_use().into_iter().filter_map(|element| {
        let short = [element.shorthand.as_str(), element.code.as_str()];
        Some((rank(words, &[&element.name, &element.id], &short)?, element))
    });
    fitting.map(|(rank, element)| (rank, Offer::of_element(element))).collect()
}

fn faults(words: &[String], book: &Vocabulary) -> Vec<(Rank, Offer)> {
    let fitting = book
        .faults
        .iter()
        .filter_map(|fault| Some((rank(words, &[&fault.name], &[&fault.shorthand])?, fault)));
    let offers = fitting.flat_map(|(rank, fault)| {
        Offer::all_of_fault(fault).into_iter().map(move |offer| (rank, offer))
    });
    offers.collect()
}

/// Returns what may be written while nothing is: every element that the division may use, those
/// that were written most first, then every fault.
fn everything(context: Context<'_>) -> Vec<Offer> {
    let elements = context.by_use().into_iter().filter(|element| element.allowed);
    let faults = context.words.faults.iter().flat_map(Offer::all_of_fault);
    elements.map(Offer::of_element).chain(faults).collect()
}

/// Ranks how the words fit names and shorthands; nothing when they do not.
fn rank(words: &[String], names: &[&str], shorthands: &[&str]) -> Option<Rank> {
    let text = words.join(" ");
    if text.is_empty() {
        return None;
    }
    let same = |s: &&&str| !s.is_empty() && s.to_lowercase() == text;
    if names.iter().chain(shorthands).any(|s| same(&s)) {
        return Some(0);
    }
    let shorthands: Vec<String> = shorthands.iter().map(|it| it.to_lowercase()).collect();
    let names: Vec<String> = names.iter().map(|name| name.to_lowercase()).collect();
    let parts = |name: &str| -> Vec<String> {
        name.split(|c: char| !c.is_alphanumeric()).map(str::to_owned).collect()
    };
    let whole = |name: &&String| words.iter().all(|word| parts(name).contains(word));
    let begun = |name: &&String| {
        let parts = parts(name);
        words.iter().all(|word| parts.iter().any(|part| part.starts_with(word.as_str())))
    };
    let begins = |name: &&String| name.starts_with(&text);
    // Whole words come before those that merely begin alike.
    let fits = |fit: &dyn Fn(&&String) -> bool| names.iter().any(|name| fit(&name));
    if fits(&|name| whole(name) && begins(name)) {
        return Some(1);
    }
    if !fits(&whole) && shorthands.iter().any(|shorthand| shorthand.starts_with(&text)) {
        return Some(3);
    }
    let ranks: [&dyn Fn(&&String) -> bool; 4] =
        [&whole, &begins, &begun, &|name| name.contains(&text)];
    ranks.iter().zip(2..).find(|(fit, _)| fits(*fit)).map(|(_, rank)| rank)
}
