//! The commands `panel` and `attempts`: several marks files made into one score.

use std::{
    fs,
    io::{self, Write as _},
    path::{Path, PathBuf},
};

use anyhow::{Context as _, ensure};
use clap::Args;
use stillcall::{
    judged::{Judged, Judging, Ruled},
    marks::StateFolder,
    report,
    sheet::{self, ScoreSheet, Together},
    units::Points,
};

use super::score::tell;

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
    let (ruled, sheets) = sheets(&arguments.all)?;
    let panel = sheet::panel(&ruled.book, &sheets, arguments.reference)?;
    show(&panel, &arguments.all.options)
}

/// Puts the sheets of one athlete's attempts together.
pub(super) fn attempts(arguments: &Arguments) -> anyhow::Result<()> {
    let (ruled, sheets) = sheets(arguments)?;
    let attempts = sheet::attempts_together(&ruled.book, &sheets)?;
    show(&attempts, &arguments.options)
}

/// Scores every file under one book: the one named, or that of the first file in its edition.
fn sheets(arguments: &Arguments) -> anyhow::Result<(Ruled, Vec<ScoreSheet>)> {
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
    let first = all.first().context("name the marks files")?.ruled.clone();
    Ok((first, all.into_iter().map(|judged| judged.sheet).collect()))
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
        write!(out, "{}", sheet::together_text(together))?;
    }
    Ok(out.flush()?)
}

fn write_page(page: &Path, together: &Together) -> anyhow::Result<()> {
    fs::write(page, report::together_page(together))
        .with_context(|| format!("cannot write {}", page.display()))
}
