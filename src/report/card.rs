//! The one page that a judge keeps at the table: what a book says of one event and division.

use std::fmt::Write as _;

use super::{card_angles, card_faults, card_limits};
use crate::{
    rulebook::{
        Angle, Book, Counts, Credit, Element, Formula, Requirement, Scoring, Text, ValueParts,
    },
    units::Points,
};

/// A judge's card of one event in one division.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Card {
    /// Title and edition of the book.
    pub book: String,
    /// Event and division by name.
    pub title: String,
    /// How the score is built, in one line.
    pub score: String,
    /// The parts of the card that say something.
    pub sections: Vec<Section>,
}

/// One part of a card.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Section {
    /// Its heading.
    pub title: &'static str,
    /// Its rows in the book's order.
    pub rows: Vec<Row>,
}

/// One rule on a card.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Row {
    /// How a judge writes it; empty where the book has none.
    pub shorthand: String,
    /// What it is.
    pub label: String,
    /// What it asks or costs.
    pub says: String,
    /// Page in the club's own printed book.
    pub page: String,
    /// The angle it asks for, for its figure.
    pub angle: Option<Angle>,
}

/// Returns the card, or nothing where the book says nothing of the event in the division.
pub fn card(book: &Book, event: &str, division: &str) -> Option<Card> {
    let scoring = book.scoring(event, division)?;
    let (of_event, of_division) = (book.event(event)?, book.division(division)?);
    let at = (event, division);
    let void = book.whens_of(event, division).into_iter().filter(|when| when.void);
    let void = void.map(|when| row(&when.shorthand, &when.label, "void", &when.page));
    let mut voids: Vec<Row> = void.chain(card_faults::voids(book, at)).collect();
    voids.extend(card_limits::consequences(scoring));
    let mut sections = vec![
        Section {
            title: "Value parts",
            rows: value_parts(book, book.value_parts_of(event, division)),
        },
        Section { title: "Vaults", rows: vaults(book, at) },
        Section {
            title: "Requirements",
            rows: rows(book.requirements_of(event, division), requirement),
        },
        Section { title: "Angles", rows: card_angles::angles(book, at) },
        Section {
            title: "Text",
            rows: book.text_of(event, division).map(text).into_iter().collect(),
        },
        Section { title: "Faults that differ", rows: card_faults::faults(book, at) },
        Section { title: "Falls, help, swings, contacts", rows: card_faults::whens(book, at) },
        Section { title: "Void and not allowed", rows: voids },
        Section { title: "Times", rows: card_limits::times(book, at) },
        Section { title: "Limits and bonuses", rows: card_limits::limits(book, at) },
    ];
    sections.retain(|section| !section.rows.is_empty());
    Some(Card {
        book: format!("{}, edition {}", book.title, book.edition),
        title: format!("{}, {}", of_event.name, of_division.name),
        score: score(scoring),
        sections,
    })
}

impl Card {
    /// Returns the card as text, one rule a line.
    pub fn text(&self) -> String {
        let mut text = format!("{}\n{}\n{}\n", self.title, self.book, self.score);
        for section in &self.sections {
            let _ = writeln!(text, "\n{}", section.title);
            for row in &section.rows {
                let line = format!("  {:<8} {:<44} {}", row.shorthand, row.label, row.says);
                let page =
                    if row.page.is_empty() { String::new() } else { format!("  ({})", row.page) };
                let _ = writeln!(text, "{}{page}", line.trim_end());
            }
        }
        text
    }
}

/// Returns a row for each rule.
pub(super) fn rows<'a, T: 'a>(rules: Vec<&'a T>, row: impl Fn(&'a T) -> Row) -> Vec<Row> {
    rules.into_iter().map(row).collect()
}

/// Returns a row without a figure.
pub(super) fn row(shorthand: &str, label: &str, says: &str, page: &str) -> Row {
    let own = str::to_owned;
    let (shorthand, label) = (own(shorthand), own(label));
    Row { shorthand, label, says: own(says), page: own(page), angle: None }
}

fn score(scoring: &Scoring) -> String {
    let mut score = match scoring.formula {
        Formula::StartMinus { start } => format!("Start value {}", start.short()),
        Formula::StartMinusHalf { start } => {
            format!("Start value {}, half of the deductions", start.short())
        }
        Formula::Buckets { value_parts, requirements, artistry, execution } => format!(
            "Value parts {}, requirements {}, artistry {}, execution {}",
            value_parts.short(),
            requirements.short(),
            artistry.short(),
            execution.short()
        ),
        Formula::Open { execution, best, at_most } => {
            let most = at_most.map(|most| format!(", together at most {}", most.short()));
            let most = most.unwrap_or_default();
            format!("The best {best} elements{most}, execution {}", execution.short())
        }
    };
    if scoring.floor > Points::ZERO {
        let _ = write!(score, ", never below {}", scoring.floor.short());
    }
    if let Some(ceiling) = scoring.ceiling {
        let _ = write!(score, ", never above {}", ceiling.short());
    }
    score
}

fn value_parts(book: &Book, rule: Option<&ValueParts>) -> Vec<Row> {
    let Some(rule) = rule else { return Vec::new() };
    let asked = rule.need.iter().filter(|need| need.count > 0);
    asked
        .map(|need| {
            let name = book.class(&need.class).map_or(need.class.as_str(), |c| c.name.as_str());
            let says = format!("{} each", need.price.short());
            row("", &format!("{} × {name}", need.count), &says, &rule.page)
        })
        .collect()
}

/// Returns the vaults that the division may do, each with its start value.
fn vaults(book: &Book, (event, division): (&str, &str)) -> Vec<Row> {
    let value = |element: &Element| {
        let vault = element.vault.as_ref()?;
        let (short, value) = (&element.shorthand, vault.value_in(division).short());
        Some(row(short, &element.name, &value, &element.page))
    };
    book.vaults(event, division).filter_map(value).collect()
}

fn requirement(rule: &Requirement) -> Row {
    let each = if rule.each { " each" } else { "" };
    row(&rule.shorthand, &rule.label, &format!("{}{each}", rule.price.short()), &rule.page)
}

/// Returns the kinds of credit in words.
pub(super) fn credit(gates: &[Credit]) -> String {
    let word = |credit: &Credit| match credit {
        Credit::ValuePart => "value part",
        Credit::Requirement => "requirement",
        Credit::Connection => "connection",
    };
    gates.iter().map(word).collect::<Vec<_>>().join(", ")
}

/// Returns how often an amount is taken, in words that follow it.
pub(super) const fn times(counts: Counts) -> &'static str {
    match counts {
        Counts::Each => "",
        Counts::OncePerElement => ", once per element",
        Counts::OncePerPhase => ", once per phase",
        Counts::Once => ", once",
    }
}

/// Returns the elements of a compulsory routine in their order, and what differing from it costs.
fn text(rule: &Text) -> Row {
    let mut left_out = rule.left_out.short();
    if rule.left_out_value > Points::ZERO {
        let _ = write!(left_out, " and {} times its worth", rule.left_out_value.short());
    }
    let says = format!(
        "left out {left_out}; added {}; in another place {}",
        rule.added.short(),
        rule.swapped.short()
    );
    row("", &rule.elements.join(", "), &says, &rule.page)
}
