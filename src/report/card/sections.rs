//! The one page that a judge keeps at the table: what a book says of one event and division.

use std::fmt::Write as _;

use crate::{
    report::{
        cautions::CHECK_THE_BOOK,
        document::{Cell, Column, Document, Part, Piece, Style, Table},
    },
    rulebook::{Book, Element, Holds, Requirement, ScorePart, Scoring, Text, ValueParts},
    units::{Points, capitalised},
};

use super::{
    angles, faults, limits,
    row::{CardRow, CardSection, row, rows},
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
    pub sections: Vec<CardSection>,
}

/// Returns the card, or nothing where the book says nothing of the event in the division.
pub fn card(book: &Book, event: &str, division: &str) -> Option<Card> {
    let scoring = book.scoring(event, division)?;
    let (of_event, of_division) = (book.event(event)?, book.division(division)?);
    let at = (event, division);
    let void = book.whens_of(event, division).into_iter().filter(|when| when.void);
    let void = void.map(|when| row(&when.shorthand, &when.label, "void", &when.page));
    let mut voids: Vec<CardRow> = void.chain(faults::voids(book, at)).collect();
    voids.extend(limits::consequences(scoring));
    let mut sections = vec![
        CardSection {
            title: "Value parts",
            rows: value_parts(book, book.value_parts_of(event, division)),
        },
        CardSection { title: "Vaults", rows: vaults(book, at) },
        CardSection {
            title: "Requirements",
            rows: rows(book.requirements_of(event, division), requirement),
        },
        CardSection { title: "Angles", rows: angles::angles(book, at) },
        CardSection {
            title: "Text",
            rows: book
                .text_of(event, division)
                .map(|rule| text(book, event, rule))
                .into_iter()
                .collect(),
        },
        CardSection { title: "Faults that differ", rows: faults::faults(book, at) },
        CardSection { title: "Falls, help, swings, contacts", rows: faults::whens(book, at) },
        CardSection { title: "Void and not allowed", rows: voids },
        CardSection { title: "Times", rows: limits::times(book, at) },
        CardSection { title: "Limits and bonuses", rows: limits::limits(book, at) },
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
    /// Returns the card as a page.
    pub fn document(&self) -> Document {
        let parts = self.sections.iter().map(|section| {
            let rows = section.rows.iter().map(cells).collect();
            let holds = ["short", "label", "says", "page"];
            let columns = holds.map(|holds| Column::new("", holds)).into();
            Part::new(section.title, [Piece::Table(Table { columns, rows })])
        });
        Document {
            title: self.title.clone(),
            head: vec![self.book.clone(), self.score.clone()],
            parts: parts.collect(),
            caution: CHECK_THE_BOOK.to_owned(),
            style: Style::Card,
        }
    }
}

fn cells(row: &CardRow) -> Vec<Cell> {
    let label = match &row.angle {
        Some(angle) => Cell::Asked(row.label.clone(), Box::new(angle.clone())),
        None => Cell::from(row.label.as_str()),
    };
    let text = |words: &String| Cell::from(words.as_str());
    vec![text(&row.shorthand), label, text(&row.says), text(&row.page)]
}

fn score(scoring: &Scoring) -> String {
    let parts = scoring.ledger.parts.iter().flat_map(|part| of_part(part, scoring.ledger.best));
    let mut score = capitalised(&parts.collect::<Vec<_>>().join(", "));
    if scoring.floor > Points::ZERO {
        let _ = write!(score, ", never below {}", scoring.floor.short());
    }
    if let Some(ceiling) = scoring.ceiling {
        let _ = write!(score, ", never above {}", ceiling.short());
    }
    score
}

/// Returns what makes a part of the score, in words.
fn of_part(part: &ScorePart, best: u32) -> Vec<String> {
    let label = part.label.to_lowercase();
    let mut words = Vec::new();
    if part.base > Points::ZERO {
        words.push(format!("{label} {}", part.base.short()));
    }
    if part.holds(Holds::Elements) {
        words.push(format!("the best {best} elements"));
    }
    if let Some(most) = part.at_most {
        words.push(format!("together at most {}", most.short()));
    }
    match part.share.0 {
        1000 => {}
        500 => words.push("half of the deductions".to_owned()),
        _ => words.push(format!("{} of the deductions", part.share.short())),
    }
    words
}

fn value_parts(book: &Book, rule: Option<&ValueParts>) -> Vec<CardRow> {
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
fn vaults(book: &Book, (event, division): (&str, &str)) -> Vec<CardRow> {
    let value = |element: &Element| {
        let vault = element.vault.as_ref()?;
        let (short, value) = (&element.shorthand, vault.value_in(division).short());
        Some(row(short, &element.name, &value, &element.page))
    };
    book.vaults(event, division).filter_map(value).collect()
}

fn requirement(rule: &Requirement) -> CardRow {
    let each = if rule.each { " each" } else { "" };
    row(&rule.shorthand, &rule.label, &format!("{}{each}", rule.price.short()), &rule.page)
}

/// Returns the elements of a compulsory routine in their order, and what differing from it costs.
fn text(book: &Book, event: &str, rule: &Text) -> CardRow {
    let mut left_out = rule.left_out.short();
    if rule.left_out_value > Points::ZERO {
        let _ = write!(left_out, " and {} times its worth", rule.left_out_value.short());
    }
    let says = format!(
        "left out {left_out}; added {}; in another place {}",
        rule.added.short(),
        rule.swapped.short()
    );
    let name = |id: &String| {
        book.element(event, id).map_or_else(|| id.clone(), |element| element.name.clone())
    };
    let names: Vec<String> = rule.elements.iter().map(name).collect();
    row("", &format!("{}: {}", rule.label, names.join(", ")), &says, &rule.page)
}
