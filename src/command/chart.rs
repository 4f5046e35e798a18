use std::io::Write as _;

use anyhow::Context as _;
use clap::Args;
use stillcall::{
    library::{FileKind, Leaving},
    report, rulebook,
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
    #[command(flatten)]
    pages: PageFiles,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let book = rulebook::load(&arguments.rulebook)?;
    let chart = report::chart(&book, &arguments.event).with_context(|| {
        format!("the book has no event {}; {}", arguments.event, super::card::known(&book))
    })?;
    arguments.pages.write(&chart, |file| Leaving::new(file, FileKind::Page))?;
    let mut out = printed::out();
    write!(out, "{}", chart.text())?;
    Ok(out.flush()?)
}
