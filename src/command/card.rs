use std::{
    io::{self, Write as _},
    path::PathBuf,
};

use anyhow::Context as _;
use clap::Args;
use stillcall::{
    library::{FileKind, Home, Leaving},
    report,
    rulebook::{self, Book},
};

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
    /// Write the card as a page that prints on one A4 sheet, instead of text.
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let book = rulebook::load(&arguments.rulebook)?;
    let (event, division) = (&arguments.event, &arguments.division);
    let card = report::card(&book, event, division).with_context(|| {
        format!("the book says nothing of {division} on {event}; {}", known(&book))
    })?;
    if let Some(page) = &arguments.html {
        let html = card.document().html();
        let leaving = Leaving::new(page, FileKind::Page);
        return Ok(leaving.write(html.as_bytes(), Home::of_user().as_ref())?);
    }
    let mut out = io::stdout().lock();
    write!(out, "{}", card.document().text())?;
    Ok(out.flush()?)
}

/// Returns the events and divisions of the book in words.
pub(super) fn known(book: &Book) -> String {
    let events: Vec<&str> = book.events.iter().map(|event| event.id.as_str()).collect();
    let divisions: Vec<&str> = book.divisions.iter().map(|d| d.id.as_str()).collect();
    format!("its events are {}, its divisions {}", events.join(", "), divisions.join(", "))
}
