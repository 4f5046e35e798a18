//! One file per command; each says what was asked in its arguments and does it in `run`.

mod agree;
mod aside;
mod card;
mod chart;
mod library;
mod measure;
mod pages;
pub(crate) mod printed;
mod result;
mod rulebook;
mod score;
mod sitting;
mod together;

#[cfg(all(test, unix, feature = "video"))]
mod killed;
#[cfg(test)]
mod leaving;
#[cfg(all(test, target_os = "linux", feature = "video"))]
mod no_socket;

#[cfg(feature = "video")]
mod attach;
#[cfg(feature = "video")]
mod demo;
#[cfg(feature = "window")]
mod eye;
#[cfg(feature = "video")]
mod frames;
#[cfg(feature = "video")]
mod handing;
#[cfg(feature = "video")]
mod moments;
#[cfg(feature = "video")]
mod proving;
#[cfg(feature = "video")]
mod replay;
#[cfg(feature = "video")]
mod still;

use std::{
    io::{self, Write as _},
    path::PathBuf,
    process::ExitCode,
};

use clap::{Parser, Subcommand};
use stillcall::{
    library::Home,
    marks::{Quantity, Sheaf},
    store,
};

/// Steps a gymnastics video frame by frame, pins what a judge sees, and adds it up into a score
/// sheet. For practice: no official scores.
///
/// Exit codes: 0 done, 1 failed or the rule book has errors, 2 the command line was not
/// understood.
#[derive(Debug, Parser)]
#[command(version, args_conflicts_with_subcommands = true)]
pub(crate) struct CommandLine {
    /// Clip to open in the window; without one, the start screen.
    clip: Option<PathBuf>,
    /// Marks file to open with it, where several lie beside the clip.
    #[arg(long, value_name = "FILE", requires = "clip")]
    marks: Option<PathBuf>,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Say what a clip holds, frame by frame.
    #[cfg(feature = "video")]
    Frames(frames::Arguments),
    /// Save one frame as a picture, with what was measured drawn on it where that is wished.
    #[cfg(feature = "video")]
    Still(still::Arguments),
    /// Save 4 to 24 frames as one picture.
    #[cfg(feature = "video")]
    Moments(moments::Arguments),
    /// Save a stretch of a clip as a clip of its own: at real speed, then slowly, stopping on the frame
    /// that decides, with what was measured drawn on it; alone or with a second clip.
    #[cfg(feature = "video")]
    Replay(replay::Arguments),
    /// Add marks up into a score sheet.
    Score(score::Arguments),
    /// Make the sheets of two or more judges of one routine into one score, as the book says.
    Panel(together::PanelArguments),
    /// Make the sheets of an athlete's attempts into one score, as the book says.
    Attempts(together::Arguments),
    /// Type in what a routine was given at the meet; its sheet then shows the difference.
    Result(result::Arguments),
    /// List what was ever set aside of marks: damaged journals, versions of other computers, copies
    /// of a sync client; show one, or take it back.
    Aside(aside::Arguments),
    /// Say what the points of every reading measure, and how surely.
    Measure(measure::Arguments),
    /// Print what a judge keeps at the table: one event and division of a rule book on one page.
    Card(card::Arguments),
    /// Print the elements of an event by division.
    Chart(chart::Arguments),
    /// Say how well the calls of others match a reference, and where they differ.
    Agree(agree::Arguments),
    /// Sit a set of looks: answer from one look, then see the stills.
    Sitting(sitting::Arguments),
    /// Train the eye for angles on drawn figures.
    #[cfg(feature = "window")]
    Eye(eye::Arguments),
    /// Check, list or begin rule books.
    #[command(subcommand)]
    Rulebook(rulebook::Command),
    /// Keep a club's clips: what is noted of them, who agreed to what, and where they are.
    #[command(subcommand)]
    Library(library::Command),
    /// Point marks to their clip where it was moved or renamed, or to another copy of it.
    #[cfg(feature = "video")]
    Attach(attach::Arguments),
    /// Make the sample clips, score them and open one.
    #[cfg(feature = "video")]
    Demo(demo::Arguments),
}

/// Takes away what a program that was killed left half made, says what could not be, and notes from
/// now on what this one makes.
fn clear_unfinished() {
    let Some(home) = Home::of_user() else { return };
    store::note_unfinished_in(home.notes());
    for (path, error) in store::clear_unfinished(&home.notes()) {
        tracing::error!("{} was left half made and cannot be deleted: {error}", path.display());
    }
}

/// Does what the command line asks.
pub(crate) fn run(line: CommandLine) -> anyhow::Result<ExitCode> {
    clear_unfinished();
    match line.command {
        #[cfg(feature = "video")]
        Some(Command::Frames(arguments)) => frames::run(&arguments)?,
        #[cfg(feature = "video")]
        Some(Command::Still(arguments)) => still::run(&arguments)?,
        #[cfg(feature = "video")]
        Some(Command::Moments(arguments)) => moments::run(&arguments)?,
        #[cfg(feature = "video")]
        Some(Command::Replay(arguments)) => replay::run(&arguments)?,
        Some(Command::Score(arguments)) => score::run(&arguments)?,
        Some(Command::Panel(arguments)) => together::panel(&arguments)?,
        Some(Command::Attempts(arguments)) => together::attempts(&arguments)?,
        Some(Command::Result(arguments)) => result::run(&arguments)?,
        Some(Command::Aside(arguments)) => aside::run(&arguments)?,
        Some(Command::Measure(arguments)) => measure::run(&arguments)?,
        Some(Command::Card(arguments)) => card::run(&arguments)?,
        Some(Command::Chart(arguments)) => chart::run(&arguments)?,
        Some(Command::Agree(arguments)) => agree::run(&arguments)?,
        Some(Command::Sitting(arguments)) => sitting::run(&arguments)?,
        #[cfg(feature = "window")]
        Some(Command::Eye(arguments)) => eye::run(&arguments)?,
        Some(Command::Rulebook(command)) => return rulebook::run(command),
        Some(Command::Library(command)) => return library::run(&command),
        #[cfg(feature = "video")]
        Some(Command::Attach(arguments)) => attach::run(&arguments)?,
        #[cfg(feature = "video")]
        Some(Command::Demo(arguments)) => demo::run(&arguments)?,
        None => open_window(line.clip, line.marks)?,
    }
    Ok(ExitCode::SUCCESS)
}

/// Tells what a person should know beside what was asked for, a line each.
fn tell_all(said: impl IntoIterator<Item = impl AsRef<str>>) -> io::Result<()> {
    let mut errors = printed::err();
    for said in said {
        writeln!(errors, "{}", said.as_ref())?;
    }
    Ok(())
}

/// Says what to look for in pictures of a routine, before they leave.
fn warn_of_splits(sheaf: &Sheaf) -> io::Result<()> {
    if sheaf.readings.iter().any(|reading| reading.quantity == Quantity::Split) {
        writeln!(
            printed::err(),
            "some stills may show a split. No picture may seem to look at the groin: look at each \
             one before it leaves your hands, and leave out or crop what may"
        )?;
    }
    Ok(())
}

#[cfg(feature = "window")]
fn open_window(clip: Option<PathBuf>, marks: Option<PathBuf>) -> anyhow::Result<()> {
    use stillcall::window::OpensOn;
    show(clip.map_or(OpensOn::Start, |clip| OpensOn::Clip(clip, marks)))
}

/// Opens the window on a sample clip, where there is most to see.
#[cfg(feature = "window")]
fn open_sample(clip: PathBuf) -> anyhow::Result<()> {
    show(stillcall::window::OpensOn::Sample(clip))
}

#[cfg(all(feature = "video", not(feature = "window")))]
fn open_sample(clip: PathBuf) -> anyhow::Result<()> {
    open_window(Some(clip), None)
}

/// Opens the window on what is given.
#[cfg(feature = "window")]
fn show(opens_on: stillcall::window::OpensOn) -> anyhow::Result<()> {
    anyhow::ensure!(
        has_display(),
        "there is no display to open a window on; the commands of `stillcall --help` need none"
    );
    stillcall::window::run(opens_on)
}

/// Returns whether a window can be shown: always, except where a display must be named.
#[cfg(feature = "window")]
fn has_display() -> bool {
    let named = |name| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    !cfg!(all(unix, not(target_os = "macos"))) || named("DISPLAY") || named("WAYLAND_DISPLAY")
}

#[cfg(all(feature = "video", not(feature = "window")))]
fn has_display() -> bool {
    false
}

#[cfg(not(feature = "window"))]
fn open_window(_: Option<PathBuf>, _: Option<PathBuf>) -> anyhow::Result<()> {
    anyhow::bail!("this build has no window; see `stillcall --help` for the commands it has")
}
