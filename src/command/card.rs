use std::io::Write as _;

use anyhow::Context as _;
use clap::Args;
use stillcall::{
    library::{FileKind, Leaving},
    report,
    rulebook::{self, Book},
};

use super::pages::PageFiles;
use crate::command::printed;

#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// Rule book: a name or a TOML file.
    #[arg(long, value_name = "NAME|FILE")]
    rulebook: String,
    /// Id of the event.
    #[arg(long)]
    event: String,
    /// Id of the division.
    #[arg(long)]
    division: String,
    #[command(flatten)]
    pages: PageFiles,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let book = rulebook::load(&arguments.rulebook)?;
    let (event, division) = (&arguments.event, &arguments.division);
    let card = report::card(&book, event, division).with_context(|| {
        format!("the book says nothing of {division} on {event}; {}", known(&book))
    })?;
    let page = card.document();
    arguments.pages.write(&page, |file| Leaving::new(file, FileKind::Page))?;
    let mut out = printed::out();
    write!(out, "{}", page.text())?;
    Ok(out.flush()?)
}

/// Returns the events and divisions of the book in words.
pub(super) fn known(book: &Book) -> String {
    let events: Vec<&str> = book.events.iter().map(|event| event.id.as_str()).collect();
    let divisions: Vec<&str> = book.divisions.iter().map(|d| d.id.as_str()).collect();
    format!("its events are {}, its divisions {}", events.join(", "), divisions.join(", "))
}
