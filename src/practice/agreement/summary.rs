//! From what both said of many things to the report.

use std::collections::BTreeMap;

use super::{
    asked::Asked,
    compared::{Compared, ComparedUnit, DEDUCTION, ELEMENT, NOT_SEEN, Said},
    correlation,
    extent::ComparedExtent,
    group,
    known::Known,
    model::{Agreement, KindLine, NumberLine, NumbersOn, OverTime, Person, ScoreLine, Situation},
};
use crate::{
    practice::statistics::{
        Answered, Kappa, Proportion, Square, Stat, Undefined, Varies, Weights, coefficient,
        crossed_share, differences, kappa,
    },
    sheet::CAUTION,
};

/// Situations that the report lists.
const SITUATIONS: usize = 12;

/// Returns the report on everything compared; people stand in the order of `people`.
pub fn summary(
    reference: &str,
    people: &[String],
    compared: &[Compared],
    scores: &[ScoreLine],
) -> Agreement {
    let of = |code: &String| {
        let own: Vec<&Compared> = compared.iter().filter(|one| one.person == *code).collect();
        let scores = scores.iter().filter(|line| line.person == *code).cloned().collect();
        person(code, &own, scores)
    };
    let all: Vec<&Compared> = compared.iter().collect();
    let mut kinds = kind_lines(&all);
    kinds.sort_by(|a, b| share(a).total_cmp(&share(b)));
    let extent = ComparedExtent::of(compared);
    Agreement {
        reference: reference.to_owned(),
        books: Vec::new(),
        people: people.iter().map(of).collect(),
        compared: extent,
        not_compared: extent.left_out(),
        kinds,
        situations: situations(&all),
        group_calls: group::calls(compared, people),
        group_values: group::values(compared, people),
        remarks: Vec::new(),
        whose: Vec::new(),
        caution: CAUTION,
    }
}

fn person(code: &str, own: &[&Compared], scores: Vec<ScoreLine>) -> Person {
    let elements = || own.iter().filter(|one| one.kind == ELEMENT).filter_map(|one| words(one));
    let count = |is: fn(&str, &str) -> bool| elements().filter(|(a, b)| is(a, b)).count();
    Person {
        code: code.to_owned(),
        found: count(|a, b| a == b),
        missed: count(|a, b| a != b && b == NOT_SEEN),
        invented: count(|a, b| a != b && a == NOT_SEEN),
        renamed: count(|a, b| a != b && a != NOT_SEEN && b != NOT_SEEN),
        scores,
        kinds: kind_lines(own),
        numbers: number_lines(own),
        over_time: over_time(own),
    }
}

fn words(one: &Compared) -> Option<(&str, &str)> {
    match &one.said {
        Said::Word { reference, other } => Some((reference, other)),
        _ => None,
    }
}

/// Returns the kinds of call by name.
fn kind_lines(own: &[&Compared]) -> Vec<KindLine> {
    // Of each kind, how many were left open and what was said of the others.
    let mut kinds: BTreeMap<&str, (usize, Asked<'_, Pair<'_>>)> = BTreeMap::new();
    for one in own {
        match &one.said {
            Said::Word { reference, other } => {
                kinds.entry(&one.kind).or_default().1.add(one, (reference, other));
            }
            Said::Open => kinds.entry(&one.kind).or_default().0 += 1,
            Said::Number { .. } => {}
        }
    }
    kinds.into_iter().map(|(kind, (open, asked))| kind_line(kind, open, &asked.answers)).collect()
}

/// What the reference said and what the other said.
type Pair<'a> = (&'a str, &'a str);

/// Returns how many answers are the same, with the interval that is right for one person or several.
fn same(answers: &[Answered<Pair<'_>>]) -> Stat<Proportion> {
    let hit = |one: &Answered<Pair<'_>>| one.with(one.said.0 == one.said.1);
    crossed_share(&answers.iter().map(hit).collect::<Vec<_>>())
}

fn kind_line(kind: &str, open: usize, answers: &[Answered<Pair<'_>>]) -> KindLine {
    let mut apart: BTreeMap<Pair<'_>, usize> = BTreeMap::new();
    for pair in answers.iter().map(|one| &one.said).filter(|(a, b)| a != b) {
        *apart.entry(*pair).or_default() += 1;
    }
    let most = apart.into_iter().max_by(|(a, n), (b, m)| n.cmp(m).then_with(|| b.cmp(a)));
    KindLine {
        kind: kind.to_owned(),
        open,
        same: Known(same(answers)),
        kappa: Known(beyond_chance(kind, answers)),
        differs: most.map(|((a, b), n)| (a.to_owned(), b.to_owned(), n)),
    }
}

fn beyond_chance(kind: &str, answers: &[Answered<Pair<'_>>]) -> Stat<Kappa> {
    let said = || answers.iter().map(|one| one.said);
    let one_sided = kind == DEDUCTION || said().any(|(a, b)| [a, b].contains(&NOT_SEEN));
    if one_sided || kind == ELEMENT {
        return Err(Undefined::OneSided);
    }
    // One answer agrees or does not; what chance has to do with it cannot be seen.
    if answers.len() == 1 {
        return Err(Undefined::TooFew { needed: 2, found: 1 });
    }
    let mut names: Vec<&str> = said().flat_map(|(a, b)| [a, b]).collect();
    names.sort_unstable();
    names.dedup();
    let place = |word: &str| names.iter().position(|known| *known == word).unwrap_or(0);
    let placed = |one: &Answered<Pair<'_>>| one.with((place(one.said.0), place(one.said.1)));
    let placed: Vec<Answered<(usize, usize)>> = answers.iter().map(placed).collect();
    let of = |answers: &[Answered<(usize, usize)>]| {
        let pairs: Vec<(usize, usize)> = answers.iter().map(|one| one.said).collect();
        kappa(&Square::of_pairs(&pairs, names.len())?, Weights::Plain)
    };
    let found = of(&placed)?;
    if Asked::is_of_one(answers) {
        return Ok(found);
    }
    let imagined = Asked::imagined(answers, (0..names.len()).map(|place| (place, place)));
    let interval = coefficient(&placed, &imagined, Varies::ItemsAndPeople, |answers| {
        of(answers).ok().map(|kappa| kappa.value)
    });
    Ok(Kappa { interval, ..found })
}

fn share(line: &KindLine) -> f64 {
    // A kind of which nothing can be said stands last.
    line.same.0.map_or(2.0, |same| same.share)
}

fn number_lines(own: &[&Compared]) -> Vec<NumberLine> {
    // Of each kind the dates, with reference and other.
    type Dated<'a> = Vec<(&'a str, &'a str, [f64; 2])>;
    let mut kinds: BTreeMap<(ComparedUnit, &str), Dated<'_>> = BTreeMap::new();
    for one in own {
        if let Said::Number { unit, reference, other } = one.said {
            let said = (one.date.as_str(), one.item.as_str(), [reference, other]);
            kinds.entry((unit, &one.kind)).or_default().push(said);
        }
    }
    let line = |((unit, kind), dated): ((ComparedUnit, &str), Dated<'_>)| {
        let mut dates: BTreeMap<&str, Vec<(f64, f64)>> = BTreeMap::new();
        for (date, _, [reference, other]) in &dated {
            dates.entry(date).or_default().push((*other, *reference));
        }
        let turned: Vec<(f64, f64)> = dated.iter().map(|(.., [a, b])| (*b, *a)).collect();
        let rows: Vec<(&str, Vec<f64>)> =
            dated.iter().map(|(_, item, pair)| (*item, pair.to_vec())).collect();
        let on = |(date, pairs): (&str, Vec<(f64, f64)>)| NumbersOn {
            date: date.to_owned(),
            differences: Known(differences(&pairs)),
        };
        NumberLine {
            kind: kind.to_owned(),
            unit,
            differences: Known(differences(&turned)),
            correlation: Known(correlation::correlation(&rows, Varies::Items)),
            pairs: dated.iter().map(|(.., [a, b])| (*a, *b)).collect(),
            over_time: dates.into_iter().map(on).collect(),
        }
    };
    kinds.into_iter().map(line).collect()
}

fn over_time(own: &[&Compared]) -> Vec<OverTime> {
    let mut dates: BTreeMap<&str, Asked<'_, Pair<'_>>> = BTreeMap::new();
    for one in own {
        if let Some(said) = words(one) {
            dates.entry(&one.date).or_default().add(one, said);
        }
    }
    let one = |(date, asked): (&str, Asked<'_, Pair<'_>>)| OverTime {
        date: date.to_owned(),
        same: Known(same(&asked.answers)),
    };
    dates.into_iter().map(one).collect()
}

/// Returns the situations in which answers differ, the most often first.
fn situations(all: &[&Compared]) -> Vec<Situation> {
    let mut counted: BTreeMap<(&str, &str), Asked<'_, Pair<'_>>> = BTreeMap::new();
    for one in all {
        if let Some(said) = words(one) {
            counted.entry((&one.kind, &one.situation)).or_default().add(one, said);
        }
    }
    let mut found: Vec<Situation> = counted
        .into_iter()
        .map(|((kind, situation), asked)| Situation {
            kind: kind.to_owned(),
            label: situation.to_owned(),
            same: Known(same(&asked.answers)),
            differ: asked.answers.iter().filter(|one| one.said.0 != one.said.1).count(),
        })
        .filter(|situation| situation.differ > 0)
        .collect();
    found.sort_by_key(|situation| std::cmp::Reverse(situation.differ));
    found.truncate(SITUATIONS);
    found
}
