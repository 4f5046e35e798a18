use std::{
    io::{self, Write as _},
    path::PathBuf,
};

use clap::Args;
use stillcall::{
    library::{self, Judges, SidecarFile},
    marks::StateFolder,
    rulebook, sheet,
};

use super::{Open, scan::refresh_when_new};

#[derive(Debug, Args)]
pub(crate) struct Arguments {
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
pub(crate) struct RecheckArguments {
    /// The new rule book: a name or a TOML file.
    #[arg(long, value_name = "NAME|FILE")]
    rulebook: String,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let state = StateFolder::of_user();
    let judges = Judges::of(&arguments.marks, arguments.rulebook.as_deref(), state.as_ref())?;
    print(&judges, arguments.all)?;
    if let Some(version) = &arguments.record {
        let record = judges.agree_on(version, state.as_ref())?;
        writeln!(io::stdout(), "recorded in {}", record.display())?;
    }
    Ok(())
}

pub(super) fn recheck(arguments: &RecheckArguments) -> anyhow::Result<()> {
    let book = rulebook::load(&arguments.rulebook)?;
    let mut open = Open::of_user()?;
    refresh_when_new(&mut open)?;
    let mut out = io::stdout().lock();
    let (mut checked, mut changed) = (0, 0);
    for clip in library::clips(&open.index)? {
        let Ok(file) = SidecarFile::open(&clip) else { continue };
        for agreed in &file.sidecar.agreed {
            let marks = clip.with_file_name(&agreed.marks);
            let sheaf = match library::load_marks(&marks, open.state.as_ref()) {
                Ok(sheaf) => sheaf,
                Err(error) => {
                    writeln!(out, "{}: not checked: {error}", clip.display())?;
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

fn print(judges: &Judges, all: bool) -> anyhow::Result<()> {
    let (mut out, rows) = (io::stdout().lock(), &judges.rows);
    for row in rows.iter().filter(|row| all || row.differs()) {
        writeln!(out, "{} ({})", row.label, row.asks)?;
        for (judge, answer) in judges.codes.iter().zip(&row.answers) {
            writeln!(out, "    {judge}: {}", answer.as_deref().unwrap_or("not asked"))?;
        }
    }
    let differing = rows.iter().filter(|row| row.differs()).count();
    writeln!(out, "{differing} differences, {} the same", rows.len() - differing)?;
    Ok(out.flush()?)
}
