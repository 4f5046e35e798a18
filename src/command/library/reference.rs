use std::{
    io::{self, Write as _},
    path::{Path, PathBuf},
};

use anyhow::{Context as _, ensure};
use clap::Args;
use stillcall::{
    library::{self, Agreed, Beside, SidecarFile},
    marks::{self, Sheaf, StateFolder, model::Unknown},
    rulebook::{self, Book},
    sheet::{self, ScoreSheet},
};

use super::{Open, scan::refresh_when_new};

#[derive(Debug, Args)]
pub struct Arguments {
    /// Marks files of one routine, one per judge.
    #[arg(required = true, num_args = 2..)]
    marks: Vec<PathBuf>,
    /// Rule book to score with instead of the one the first file names.
    #[arg(long, value_name = "NAME|FILE")]
    rulebook: Option<String>,
    /// Record what this marks file comes to as agreed on by the judges of the files.
    #[arg(long, value_name = "MARKS")]
    record: Option<PathBuf>,
    /// Print what all agree on as well.
    #[arg(long)]
    all: bool,
}

#[derive(Debug, Args)]
pub struct RecheckArguments {
    /// The new rule book: a name or a TOML file.
    #[arg(long, value_name = "NAME|FILE")]
    rulebook: String,
}

pub fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let sheaves: Vec<Sheaf> =
        arguments.marks.iter().map(|path| load(path)).collect::<Result<_, _>>()?;
    check_same_routine(&arguments.marks, &sheaves)?;
    let book = rulebook::load(arguments.rulebook.as_deref().unwrap_or(&sheaves[0].routine.book))?;
    let sheets: Vec<ScoreSheet> = sheaves.iter().map(|sheaf| sheet::score(&book, sheaf)).collect();
    let rows = library::side_by_side(&sheets.iter().collect::<Vec<_>>());
    let judges: Vec<&str> = sheaves.iter().map(|sheaf| sheaf.routine.judge.as_str()).collect();
    print(&rows, &judges, arguments.all)?;
    match &arguments.record {
        Some(version) => record(version, &judges, &book),
        None => Ok(()),
    }
}

pub fn recheck(arguments: &RecheckArguments) -> anyhow::Result<()> {
    let book = rulebook::load(&arguments.rulebook)?;
    let mut open = Open::of_user()?;
    refresh_when_new(&mut open)?;
    let mut out = io::stdout().lock();
    let (mut checked, mut changed) = (0, 0);
    for clip in library::clips(&open.index)? {
        let Ok(file) = SidecarFile::open(&clip) else { continue };
        for agreed in &file.sidecar.agreed {
            let marks = clip.with_file_name(&agreed.marks);
            let sheaf = match load(&marks) {
                Ok(sheaf) => sheaf,
                Err(error) => {
                    writeln!(out, "{}: not checked: {error:#}", clip.display())?;
                    continue;
                }
            };
            checked += 1;
            let changes = library::changes(&agreed.calls, &sheet::score(&book, &sheaf));
            if changes.is_empty() {
                continue;
            }
            changed += 1;
            let (by, edition) = (agreed.by.join(", "), &agreed.edition);
            writeln!(
                out,
                "{}, routine {}: agreed by {by} under {edition}",
                clip.display(),
                agreed.routine
            )?;
            for one in changes {
                let said =
                    |answer: &Option<String>| answer.clone().unwrap_or("not asked".to_owned());
                writeln!(out, "  {}: {} -> {}", one.label, said(&one.agreed), said(&one.now))?;
            }
        }
    }
    writeln!(
        out,
        "{checked} agreed routines checked under {}, edition {}: {changed} come out otherwise",
        book.title, book.edition
    )?;
    Ok(out.flush()?)
}

fn load(path: &Path) -> anyhow::Result<Sheaf> {
    let mut sheaf = marks::load(path, StateFolder::of_user().as_ref())?;
    marks::renew(&mut sheaf);
    Ok(sheaf)
}

fn check_same_routine(paths: &[PathBuf], sheaves: &[Sheaf]) -> anyhow::Result<()> {
    let of = |sheaf: &Sheaf| {
        let clip = sheaf.clip.as_ref().map(|clip| clip.quick_id.clone());
        (clip, sheaf.routine.id.clone())
    };
    for (path, sheaf) in paths.iter().zip(sheaves) {
        ensure!(
            of(sheaf) == of(&sheaves[0]),
            "{} and {} are not of the same routine of the same clip",
            paths[0].display(),
            path.display()
        );
    }
    Ok(())
}

fn print(rows: &[Beside], judges: &[&str], all: bool) -> anyhow::Result<()> {
    let mut out = io::stdout().lock();
    for row in rows.iter().filter(|row| all || row.differs()) {
        writeln!(out, "{} ({})", row.label, row.asks)?;
        for (judge, answer) in judges.iter().zip(&row.answers) {
            writeln!(out, "    {judge}: {}", answer.as_deref().unwrap_or("not asked"))?;
        }
    }
    let differing = rows.iter().filter(|row| row.differs()).count();
    writeln!(out, "{differing} differences, {} the same", rows.len() - differing)?;
    Ok(out.flush()?)
}

fn record(version: &Path, judges: &[&str], book: &Book) -> anyhow::Result<()> {
    let sheaf = load(version)?;
    let of = sheaf.clip.as_ref().context("a planned routine has no clip to agree on")?;
    let clip = version.with_file_name(&of.name);
    let mut file = SidecarFile::begin(&clip)?;
    let mut by: Vec<String> = judges.iter().map(|judge| (*judge).to_owned()).collect();
    by.sort();
    by.dedup();
    ensure!(by.len() > 1, "a reference is agreed on by two judges or more");
    let agreed = Agreed {
        routine: sheaf.routine.id.clone(),
        by,
        on: library::today(),
        book: book.id.clone(),
        edition: book.edition.clone(),
        book_hash: book.hash.clone(),
        marks: version.file_name().unwrap_or_default().to_string_lossy().into_owned(),
        calls: library::calls_of(&sheet::score(book, &sheaf)),
        unknown: Unknown::new(),
    };
    file.sidecar.agreed.retain(|other| other.routine != agreed.routine);
    file.sidecar.agreed.push(agreed);
    file.save()?;
    writeln!(io::stdout(), "recorded in {}", file.path().display())?;
    Ok(())
}
