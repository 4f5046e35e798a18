//! What the library does on the command line; one file per subject.

mod assign;
mod bundle;
#[cfg(feature = "video")]
mod excerpt;
mod find;
mod note;
mod reference;
mod remove;
mod scan;
mod set;

use std::{io::Write as _, process::ExitCode};

use crate::command::printed;
use anyhow::Context as _;
use clap::Subcommand;
use stillcall::{
    library::{Home, Index, IndexError, Shelf},
    marks::StateFolder,
};

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Add a folder of clips to the library.
    Add(scan::AddArguments),
    /// Bring the index up to date with the files.
    Scan(scan::Arguments),
    /// Show the library in the window.
    #[cfg(feature = "window")]
    Wall(WallArguments),
    /// Find routines by what happens in them.
    Find(find::Arguments),
    /// Give many routines the same event, division, athlete or day.
    Assign(assign::Arguments),
    /// Note of a clip who is filmed and what was agreed to.
    Note(note::Arguments),
    /// Say what is noted of a clip and what may be done with it.
    Info(note::InfoArguments),
    /// List the clips that are to be deleted.
    Due(find::DueArguments),
    /// Delete a clip with everything that was made of it.
    Delete(remove::DeleteArguments),
    /// Delete everything of an athlete who withdraws her consent.
    Withdraw(remove::WithdrawArguments),
    /// Make a part of a clip a clip of its own, with its marks.
    #[cfg(feature = "video")]
    Cut(excerpt::Arguments),
    /// Write marks, records, rule books and clips into one file for another club.
    Export(bundle::ExportArguments),
    /// Take such a file in.
    Import(bundle::ImportArguments),
    /// Make a set of the routines that a search finds, for `stillcall sitting`.
    Set(set::Arguments),
    /// Put judges' marks of one routine side by side, and record what was agreed on.
    Reference(reference::Arguments),
    /// Say which agreed calls come out otherwise under another edition of the rules.
    Recheck(reference::RecheckArguments),
}

#[cfg(feature = "window")]
#[derive(Debug, clap::Args)]
pub(super) struct WallArguments {
    /// What to look for, as `find` takes it.
    query: Vec<String>,
}

pub(super) fn run(command: &Command) -> anyhow::Result<ExitCode> {
    match dispatch(command) {
        Err(error) if is_damaged(&error) => again(command),
        done => done,
    }
}

fn dispatch(command: &Command) -> anyhow::Result<ExitCode> {
    match command {
        Command::Delete(arguments) => remove::delete(arguments),
        Command::Withdraw(arguments) => remove::withdraw(arguments),
        other => {
            finish_what_was_begun();
            usual(other).map(|()| ExitCode::SUCCESS)
        }
    }
}

/// Goes on with a deletion or withdrawal that was cut short. Where it fails, what was asked for is
/// done all the same.
fn finish_what_was_begun() {
    if let Err(error) = remove::finish() {
        // Nobody reads it where it cannot be written.
        let _ = writeln!(printed::err(), "what was begun to be deleted is not finished: {error:#}");
    }
}

fn usual(command: &Command) -> anyhow::Result<()> {
    match command {
        Command::Add(arguments) => scan::add(arguments),
        Command::Scan(arguments) => scan::run(arguments),
        #[cfg(feature = "window")]
        Command::Wall(arguments) => super::show(stillcall::window::OpensOn::Library(
            Home::of_user(),
            arguments.query.join(" "),
            stillcall::footage::ApartDecoder::default(),
        )),
        Command::Find(arguments) => find::run(arguments),
        Command::Assign(arguments) => assign::run(arguments),
        Command::Note(arguments) => note::run(arguments),
        Command::Info(arguments) => note::info(arguments),
        Command::Due(arguments) => find::due(arguments),
        // Carried out above.
        Command::Delete(_) | Command::Withdraw(_) => Ok(()),
        #[cfg(feature = "video")]
        Command::Cut(arguments) => excerpt::run(arguments),
        Command::Export(arguments) => bundle::export(arguments),
        Command::Import(arguments) => bundle::import(arguments),
        Command::Set(arguments) => set::run(arguments),
        Command::Reference(arguments) => reference::run(arguments),
        Command::Recheck(arguments) => reference::recheck(arguments),
    }
}

fn is_damaged(error: &anyhow::Error) -> bool {
    matches!(error.downcast_ref(), Some(IndexError::Damaged { .. })) || remove::is_damaged(error)
}

/// Throws a damaged index away and does what was asked with a new one.
fn again(command: &Command) -> anyhow::Result<ExitCode> {
    if let Some(home) = Home::of_user() {
        Index::discard(&home)?;
    }
    writeln!(printed::err(), "{}", scan::DAMAGED)?;
    dispatch(command)
}

/// The library of this user, open.
struct Open {
    home: Home,
    state: Option<StateFolder>,
    shelf: Shelf,
    index: Index,
}

impl Open {
    fn of_user() -> anyhow::Result<Self> {
        let home = Home::of_user().context(
            "this user has no home folder to keep the library's index in; name one with \
             STILLCALL_STATE",
        )?;
        let (shelf, index) = (Shelf::read(&home)?, Index::open(&home)?);
        if let Some(behind) = home.clock_behind() {
            writeln!(
                printed::err(),
                "the clock says {}, earlier than a day that was seen before: {} counts as today. If \
                 the clock was ahead by mistake, set it right and delete {}",
                behind.clock,
                behind.latest,
                behind.kept.display()
            )?;
        }
        Ok(Self { home, state: StateFolder::of_user(), shelf, index })
    }
}
