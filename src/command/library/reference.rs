use std::{io::Write as _, path::PathBuf};

use clap::Args;
use stillcall::{
    judged::{Judging, Ruled},
    library::{self, Judges, SidecarFile},
    marks::StateFolder,
};

use super::{Open, scan::refresh_when_new};
use crate::command::printed;

#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// Marks files of one routine, one per judge.
    #[arg(required = true, num_args = 1..)]
    marks: Vec<PathBuf>,
    /// Rule book to score with instead of the one the first file names.
    #[arg(long, value_name = "NAME|FILE")]
    rulebook: Option<String>,
    /// Record what this marks file comes to as agreed on by the judges of the files, or as the
    /// reference of the one judge.
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
    let mut judging = Judging::under(arguments.rulebook.as_deref(), state.as_ref())?;
    let judges = Judges::of(&arguments.marks, &mut judging)?;
    for remark in &judges.remarks {
        writeln!(printed::err(), "{remark}")?;
    }
    print(&judges, arguments.all)?;
    if let Some(version) = &arguments.record {
        let record = judges.agree_on(version, &judging)?;
        writeln!(printed::out(), "recorded in {}", record.display())?;
    }
    Ok(())
}

pub(super) fn recheck(arguments: &RecheckArguments) -> anyhow::Result<()> {
    let mut open = Open::of_user()?;
    let mut judging = Judging::under(Some(&arguments.rulebook), open.state.as_ref())?;
    refresh_when_new(&mut open)?;
    let mut out = printed::out();
    let (mut checked, mut changed) = (0, 0);
    for clip in library::clips(&open.index)? {
        let Ok(file) = SidecarFile::open(&clip) else { continue };
        for agreed in &file.sidecar.agreed {
            let marks = clip.with_file_name(&agreed.marks);
            let judged = match judging.judge(&marks) {
                Ok(judged) => judged,
                Err(error) => {
                    writeln!(out, "{}: not checked: {error}", clip.display())?;
                    continue;
                }
            };
            checked += 1;
            let changes = library::changes(&agreed.calls, &judged.sheet);
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
    let under = judging.only().map(Ruled::title).unwrap_or_default();
    writeln!(out, "{checked} agreed routines checked under {under}: {changed} come out otherwise")?;
    Ok(out.flush()?)
}

fn print(judges: &Judges, all: bool) -> anyhow::Result<()> {
    let (mut out, rows) = (printed::out(), &judges.rows);
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
