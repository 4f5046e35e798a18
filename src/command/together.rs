//! The commands `panel` and `attempts`: several marks files made into one score.

use std::{io::Write as _, path::PathBuf};

use anyhow::{Context as _, ensure};
use clap::Args;
use stillcall::{
    judged::{Judged, Judging, Ruled},
    library::{FileKind, Leaving},
    marks::StateFolder,
    report,
    sheet::{self, ScoreSheet, Together},
    units::Points,
};

use super::pages::PageFiles;

use super::score::tell;
use crate::command::printed;

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
    #[command(flatten)]
    pages: PageFiles,
}

/// Puts the judges' sheets of one routine together.
pub(super) fn panel(arguments: &PanelArguments) -> anyhow::Result<()> {
    let all = judged(&arguments.all)?;
    let (ruled, sheets) = sheets(&all)?;
    let panel = sheet::panel(&ruled.book, &sheets, arguments.reference)?;
    show(&panel, &all, &arguments.all.options)
}

/// Puts the sheets of one athlete's attempts together.
pub(super) fn attempts(arguments: &Arguments) -> anyhow::Result<()> {
    let all = judged(arguments)?;
    let (ruled, sheets) = sheets(&all)?;
    let attempts = sheet::attempts_together(&ruled.book, &sheets)?;
    show(&attempts, &all, &arguments.options)
}

/// Scores every file under one book: the one named, or that of the first file in its edition.
fn judged(arguments: &Arguments) -> anyhow::Result<Vec<Judged>> {
    let named = arguments.options.rulebook.as_deref();
    let mut judging = Judging::under(named, StateFolder::of_user().as_ref())?;
    let mut all: Vec<Judged> = Vec::new();
    for path in &arguments.marks {
        let judged = judging.judge(path)?;
        let [own, first] = [&judged, all.first().unwrap_or(&judged)]
            .map(|judged| &judged.marked.sheaf.routine.book);
        ensure!(
            named.is_some() || own == first,
            "{} was judged under \"{own}\", the file before it under \"{first}\"; name one book \
             for all with --rulebook",
            path.display()
        );
        tell(&judged)?;
        judging.keep_to(&judged.ruled);
        all.push(judged);
    }
    Ok(all)
}

/// Returns the sheets, and the book that they have in common.
fn sheets(all: &[Judged]) -> anyhow::Result<(&Ruled, Vec<ScoreSheet>)> {
    let first = all.first().context("name the marks files")?;
    Ok((&first.ruled, all.iter().map(|judged| judged.sheet.clone()).collect()))
}

fn show(together: &Together, all: &[Judged], options: &Options) -> anyhow::Result<()> {
    let page = report::together(together);
    let of = || all.iter().map(|judged| &judged.marked.sheaf).collect();
    options.pages.write(&page, |file| Leaving::new(file, FileKind::Sheet).of(of()))?;
    let mut out = printed::out();
    if options.json {
        serde_json::to_writer_pretty(&mut out, together)?;
        writeln!(out)?;
    } else {
        write!(out, "{}", page.text())?;
    }
    Ok(out.flush()?)
}
