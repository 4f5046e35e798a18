//! The commands `panel` and `attempts`: several marks files made into one score.

use std::{
    fs,
    io::{self, Write as _},
    path::{Path, PathBuf},
};

use anyhow::Context as _;
use clap::Args;
use stillcall::{
    report,
    rulebook::Book,
    sheet::{self, ScoreSheet, Together},
    units::Points,
};

use super::score::{book_for, read};

#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// Marks files of one routine by two or more judges, or of the attempts in their order.
    #[arg(required = true)]
    marks: Vec<PathBuf>,
    #[command(flatten)]
    options: Options,
}

#[derive(Debug, Args)]
pub(super) struct PanelArguments {
    #[command(flatten)]
    all: Arguments,
    /// Reference score that the panel's is held against.
    #[arg(long, value_name = "SCORE")]
    reference: Option<Points>,
}

#[derive(Debug, Args)]
struct Options {
    /// Rule book to score with instead of the one the marks name: a name or a TOML file.
    #[arg(long, value_name = "NAME|FILE")]
    rulebook: Option<String>,
    /// Print JSON instead of text.
    #[arg(long)]
    json: bool,
    /// Also write a page that prints on A4.
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
}

/// Puts the judges' sheets of one routine together.
pub(super) fn panel(arguments: &PanelArguments) -> anyhow::Result<()> {
    let (book, sheets) = sheets(&arguments.all)?;
    let panel = sheet::panel(&book, &sheets, arguments.reference)?;
    show(&panel, &arguments.all.options)
}

/// Puts the sheets of one athlete's attempts together.
pub(super) fn attempts(arguments: &Arguments) -> anyhow::Result<()> {
    let (book, sheets) = sheets(arguments)?;
    let attempts = sheet::attempts_together(&book, &sheets)?;
    show(&attempts, &arguments.options)
}

/// Scores every file under one book: the one named, or that of the first file.
fn sheets(arguments: &Arguments) -> anyhow::Result<(Book, Vec<ScoreSheet>)> {
    let named = arguments.options.rulebook.as_deref();
    let mut first: Option<(String, Book)> = None;
    let mut sheets = Vec::new();
    for path in &arguments.marks {
        let sheaf = read(path)?;
        let own = sheaf.routine.book.clone();
        let (judged, book) = match first.take() {
            Some((judged, _)) if named.is_none() && judged != own => anyhow::bail!(
                "{} was judged under \"{own}\", the file before it under \"{judged}\"; name one \
                 book for all with --rulebook",
                path.display()
            ),
            Some(known) => known,
            None => (own, book_for(&sheaf, path, named)?),
        };
        sheets.push(sheet::score(&book, &sheaf));
        first = Some((judged, book));
    }
    let (_, book) = first.context("name the marks files")?;
    Ok((book, sheets))
}

fn show(together: &Together, options: &Options) -> anyhow::Result<()> {
    if let Some(page) = &options.html {
        write_page(page, together)?;
    }
    let mut out = io::stdout().lock();
    if options.json {
        serde_json::to_writer_pretty(&mut out, together)?;
        writeln!(out)?;
    } else {
        write!(out, "{}", report::together(together).text())?;
    }
    Ok(out.flush()?)
}

fn write_page(page: &Path, together: &Together) -> anyhow::Result<()> {
    fs::write(page, report::together(together).html())
        .with_context(|| format!("cannot write {}", page.display()))
}
