use std::{io::Write as _, ops::ControlFlow, path::PathBuf};

use clap::Args;
use stillcall::library::{self, Found, OwnHands, Pace, Scan, ScanProgress, Scanned};

use super::{Open, remove::say_what_was_finished};
use crate::command::printed;

/// What is said of an index that broke.
pub(super) const DAMAGED: &str = "the index was damaged and is made anew from your files";

#[derive(Debug, Args)]
pub(crate) struct AddArguments {
    /// The folder.
    folder: PathBuf,
}

#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// Do not read whole clips to name them by their content.
    #[arg(long)]
    no_hash: bool,
}

pub(super) fn add(arguments: &AddArguments) -> anyhow::Result<()> {
    let mut open = Open::of_user()?;
    open.shelf.add(&arguments.folder)?;
    open.shelf.write(&open.home)?;
    let scanned = refresh(&mut open)?;
    write!(printed::out(), "{}", text(&scanned))?;
    Ok(())
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let mut open = Open::of_user()?;
    if open.shelf.folders.is_empty() {
        writeln!(printed::out(), "no folders yet; add one with `stillcall library add FOLDER`")?;
    }
    let scanned = refresh(&mut open)?;
    write!(printed::out(), "{}", text(&scanned))?;
    for (clip, day) in library::due(&open.index, library::today())? {
        writeln!(printed::out(), "to be deleted by {day}: {}", clip.display())?;
    }
    printed::out().flush()?;
    if !arguments.no_hash {
        scan(&mut open).hash(&mut progress())?;
    }
    Ok(())
}

/// Brings the index up to date.
pub(super) fn refresh(open: &mut Open) -> anyhow::Result<Scanned> {
    if open.index.found() == Found::Damaged {
        writeln!(printed::err(), "{DAMAGED}")?;
    }
    let scanned = scan(open).run(&mut progress())?;
    if !scanned.stopped {
        heed(open)?;
    }
    Ok(scanned)
}

/// Carries out what other computers left word of.
fn heed(open: &Open) -> anyhow::Result<()> {
    let heeded = library::heed_withdrawals(open.places(), &mut OwnHands)?;
    let mut out = printed::err();
    for erased in &heeded.erased {
        say_what_was_finished(erased, &mut out)?;
    }
    for said in &heeded.told {
        writeln!(out, "{said}")?;
    }
    Ok(())
}

/// Brings the index up to date where it was just begun, because it would find nothing.
pub(super) fn refresh_when_new(open: &mut Open) -> anyhow::Result<()> {
    if open.index.found() != Found::Known {
        refresh(open)?;
    }
    Ok(())
}

fn scan(open: &mut Open) -> Scan<'_> {
    Scan {
        index: &mut open.index,
        home: &open.home,
        shelf: &open.shelf,
        state: open.state.as_ref(),
    }
}

/// Says how far a scan is. It may be killed at any time, and the next one goes on where it was.
fn progress() -> impl FnMut(ScanProgress) -> ControlFlow<()> {
    let (pace, mut said) = (Pace::default(), String::new());
    move |progress| {
        let now = match progress {
            ScanProgress::Clips(done, all) => format!("{done} of {all} clips"),
            ScanProgress::Marks(done, all) => format!("{done} of {all} marks files"),
            ScanProgress::Hashing(done, all) => {
                format!("clips read through: {}; Ctrl+C stops", pace.words(done, all))
            }
        };
        if now != said {
            // Spaces cover what is longer and was said before.
            printed::in_place(&format!("{now:<70}"));
            said = now;
        }
        ControlFlow::Continue(())
    }
}

/// Returns what a scan found, in words.
fn text(found: &Scanned) -> String {
    let mut lines = vec![format!("{} clips, {} marks files", found.clips, found.marks)];
    lines.extend((!found.new.is_empty()).then(|| format!("{} new clips", found.new.len())));
    for (from, to) in &found.moved {
        lines.push(format!("moved: {} is now {}", from.display(), to.display()));
    }
    let lists = [
        ("moved with its clip", &found.followed),
        ("altered since it was marked or noted", &found.altered),
        ("gone", &found.gone),
    ];
    for (what, paths) in lists {
        lines.extend(paths.iter().map(|path| format!("{what}: {}", path.display())));
    }
    for group in &found.duplicates {
        let names: Vec<String> = group.iter().map(|path| path.display().to_string()).collect();
        lines.push(format!("the same content: {}", names.join(", ")));
    }
    let stopped = "it gave way to a withdrawal or deletion before its end; scan again";
    lines.extend(found.stopped.then(|| stopped.to_owned()));
    lines.extend(found.problems.iter().cloned());
    lines.join("\n") + "\n"
}
