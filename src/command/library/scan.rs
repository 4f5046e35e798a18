use std::{
    io::{self, IsTerminal as _, Write as _},
    ops::ControlFlow,
    path::PathBuf,
};

use clap::Args;
use stillcall::library::{self, Found, OwnHands, Scan, ScanProgress, Scanned};

use super::{Open, remove::say_what_was_finished};

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
    write!(io::stdout(), "{}", text(&scanned))?;
    Ok(())
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let mut open = Open::of_user()?;
    if open.shelf.folders.is_empty() {
        writeln!(io::stdout(), "no folders yet; add one with `stillcall library add FOLDER`")?;
    }
    let scanned = refresh(&mut open)?;
    write!(io::stdout(), "{}", text(&scanned))?;
    for (clip, day) in library::due(&open.index, library::today())? {
        writeln!(io::stdout(), "to be deleted by {day}: {}", clip.display())?;
    }
    io::stdout().flush()?;
    if !arguments.no_hash {
        scan(&mut open).hash(&mut progress)?;
    }
    Ok(())
}

/// Brings the index up to date.
pub(super) fn refresh(open: &mut Open) -> anyhow::Result<Scanned> {
    if open.index.found() == Found::Damaged {
        writeln!(io::stderr(), "{DAMAGED}")?;
    }
    let scanned = scan(open).run(&mut progress)?;
    if !scanned.stopped {
        heed(open)?;
    }
    Ok(scanned)
}

/// Carries out what other computers left word of.
fn heed(open: &Open) -> anyhow::Result<()> {
    let heeded = library::heed_withdrawals(open.places(), &mut OwnHands)?;
    let mut out = io::stderr().lock();
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

/// Says how far it is, to a person only.
fn progress(progress: ScanProgress) -> ControlFlow<()> {
    if io::stderr().is_terminal() {
        let (what, done, all) = match progress {
            ScanProgress::Clips(done, all) => ("clips", done, all),
            ScanProgress::Marks(done, all) => ("marks files", done, all),
            ScanProgress::Hashing(done, all) => ("clips read through", done, all),
        };
        // Nobody reads it where it cannot be written.
        let _ = write!(io::stderr(), "\r{done} of {all} {what}  ");
        let _ = io::stderr().flush();
    }
    ControlFlow::Continue(())
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
