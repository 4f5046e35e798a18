use std::{
    io::{self, Write as _},
    path::PathBuf,
};

use clap::Args;
use stillcall::library::{self, Code, Excerpts, Marks, Places, Removed, Shared, Witnessed};

use super::{Open, scan::refresh};
use crate::command::printed;

/// What no program can reach.
const REMAINS: &str = "\
Not reached, and for the club to see to: backups, the system's trash, copies that a program keeps in
step on other devices, cards and cameras, and whatever was handed out.";

#[derive(Debug, Args)]
struct WitnessArguments {
    /// Who deletes, by role or code.
    #[arg(long, value_name = "WHO")]
    by: String,
    /// Who looks on: a second adult.
    #[arg(long, value_name = "WHO")]
    witness: String,
}

#[derive(Debug, Args)]
pub(crate) struct DeleteArguments {
    /// The clip.
    clip: PathBuf,
    #[command(flatten)]
    witness: WitnessArguments,
    /// Keep marks and numbers; they hold no pictures.
    #[arg(long)]
    keep_marks: bool,
    /// Keep the clips that were cut from it.
    #[arg(long)]
    keep_excerpts: bool,
}

#[derive(Debug, Args)]
pub(crate) struct WithdrawArguments {
    /// Code of the athlete.
    athlete: Code,
    #[command(flatten)]
    witness: WitnessArguments,
    /// Also delete clips on which others are filmed as well.
    #[arg(long)]
    delete_shared: bool,
    /// Only say what would go.
    #[arg(long)]
    dry_run: bool,
}

pub(super) fn delete(arguments: &DeleteArguments) -> anyhow::Result<()> {
    let mut open = Open::of_user()?;
    refresh(&mut open)?;
    // The index names clips by their whole path.
    let clip = arguments.clip.canonicalize().unwrap_or_else(|_| arguments.clip.clone());
    let keep = if arguments.keep_marks { Marks::Keep } else { Marks::Delete };
    let cut = if arguments.keep_excerpts { Excerpts::Keep } else { Excerpts::Delete };
    let removed =
        library::delete(places(&open), &clip, (keep, cut), &witnessed(&arguments.witness))?;
    refresh(&mut open)?;
    let mut out = printed::out();
    list(&mut out, &removed)?;
    writeln!(out, "{REMAINS}")?;
    Ok(out.flush()?)
}

pub(super) fn withdraw(arguments: &WithdrawArguments) -> anyhow::Result<()> {
    let mut open = Open::of_user()?;
    refresh(&mut open)?;
    let code = &arguments.athlete;
    if arguments.dry_run {
        return dry_run(&open, code);
    }
    let shared = if arguments.delete_shared { Shared::Delete } else { Shared::Close };
    let witnessed = witnessed(&arguments.witness);
    let done = library::withdraw(places(&open), code, shared, &witnessed)?;
    refresh(&mut open)?;
    let mut out = printed::out();
    list(&mut out, &done.removed)?;
    for clip in &done.closed {
        writeln!(
            out,
            "still shows {code} beside others, and is closed for every use but watching: {}\n  cut \
             or cover it, or delete it with --delete-shared",
            clip.display()
        )?;
    }
    for bundle in &done.handed_out {
        let pictures = if bundle.pictures { "with" } else { "without" };
        writeln!(
            out,
            "handed out {pictures} pictures on {} to {}: {}; ask for its deletion",
            bundle.on,
            bundle.to,
            bundle.path.display()
        )?;
    }
    for path in library::where_left(places(&open), &open.shelf, code) {
        writeln!(out, "still names {code}: {}", path.display())?;
    }
    writeln!(out, "{REMAINS}")?;
    Ok(out.flush()?)
}

fn dry_run(open: &Open, code: &Code) -> anyhow::Result<()> {
    let touched = library::touched(places(open), code)?;
    let mut out = printed::out();
    let lists = [("would go", &touched.own), ("shows others as well", &touched.shared)];
    for (what, clips) in lists {
        for clip in clips {
            writeln!(out, "{what}: {}", clip.display())?;
        }
    }
    for marks in &touched.marks {
        writeln!(out, "would go: {}", marks.display())?;
    }
    Ok(out.flush()?)
}

fn places(open: &Open) -> Places<'_> {
    Places { home: &open.home, index: &open.index, state: open.state.as_ref() }
}

fn witnessed(arguments: &WitnessArguments) -> Witnessed {
    Witnessed { by: arguments.by.clone(), witness: arguments.witness.clone() }
}

fn list(out: &mut impl io::Write, removed: &Removed) -> io::Result<()> {
    for path in &removed.files {
        writeln!(out, "deleted: {}", path.display())?;
    }
    if removed.files.is_empty() {
        writeln!(out, "there was nothing to delete")?;
    }
    Ok(())
}
