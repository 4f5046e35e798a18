//! The wall of clips: its commands and their keys.

use iced::keyboard::key::Named;

use crate::window::keymap::{
    binding::{Binding, Cap, Command, Group, Held, Line, bind, ctrl, named},
    names::line_in,
};

use Group::Library;

/// What keys and buttons of the wall ask for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum LibraryCommand {
    /// Does the next thing of a sitting: looks, goes to the next answer, goes on.
    GoOn,
    /// Completes the word that is written.
    Complete,
    /// Chooses another clip of the wall: right, down.
    Tile(i8, i8),
    /// Takes a folder into the library.
    AddFolder,
    /// Looks through the library's folders.
    LookAgain,
    /// Keeps the search under a name.
    SaveSearch,
    /// Makes a set of what is found.
    MakeSet,
    /// Gives everything that is found the same settings.
    Assign,
    /// Puts the judges of the chosen routine side by side.
    Judges,
    /// Shows what is noted of the chosen clip, as a form.
    Record,
    /// Puts everything that is found together as one athlete's attempts.
    Attempts,
    /// Hands everything of the chosen clip out.
    HandOutChosen,
    /// Hands out everything that is found.
    HandOutFound,
    /// Takes a bundle in.
    TakeBundle,
    /// Deletes the chosen clip.
    Delete,
    /// Erases everything of an athlete who withdraws.
    Withdraw,
    /// Closes what is open, or gives up what is chosen.
    Leave,
}

impl Command for LibraryCommand {
    fn line(self) -> Option<Line> {
        line_in(KEYS, &self)
    }
}

/// What keys do on the wall of clips; everything else is written into the search.
pub(crate) const KEYS: &[Binding<LibraryCommand>] = &[
    named(Named::Enter, LibraryCommand::GoOn, Library, "search; open the chosen clip"),
    named(Named::Tab, LibraryCommand::Complete, Library, "complete the word"),
    named(Named::ArrowDown, LibraryCommand::Tile(0, 1), Library, "choose a clip; the row below")
        .again(),
    named(
        Named::ArrowUp,
        LibraryCommand::Tile(0, -1),
        Library,
        "the row above; back to the search",
    )
    .again(),
    named(Named::ArrowRight, LibraryCommand::Tile(1, 0), Library, "next clip").again(),
    named(Named::ArrowLeft, LibraryCommand::Tile(-1, 0), Library, "clip before").again(),
    ctrl('o', LibraryCommand::AddFolder, Library, "take a folder in"),
    named(Named::F5, LibraryCommand::LookAgain, Library, "look through the folders again"),
    ctrl('s', LibraryCommand::SaveSearch, Library, "keep the search under a name"),
    ctrl('m', LibraryCommand::MakeSet, Library, "make a set of all that is found"),
    ctrl(
        'g',
        LibraryCommand::Assign,
        Library,
        "fill in event, division, day for all that is found",
    ),
    ctrl('j', LibraryCommand::Judges, Library, "the judges of the chosen routine side by side"),
    ctrl(
        'e',
        LibraryCommand::Record,
        Library,
        "what is noted of the chosen clip: who is filmed, consent, when it is deleted",
    ),
    ctrl(
        'p',
        LibraryCommand::Attempts,
        Library,
        "all that is found together, as one athlete's attempts",
    ),
    ctrl('b', LibraryCommand::HandOutChosen, Library, "hand the chosen clip out as a bundle"),
    bind(
        Held::CtrlShift,
        Cap::Writes('b'),
        LibraryCommand::HandOutFound,
        Library,
        "hand all that is found out as a bundle",
    ),
    ctrl('i', LibraryCommand::TakeBundle, Library, "take a bundle in (or drop it on the window)"),
    named(Named::Delete, LibraryCommand::Delete, Library, "delete the chosen clip: first a list"),
    ctrl('w', LibraryCommand::Withdraw, Library, "an athlete withdraws: first a list"),
    named(Named::Escape, LibraryCommand::Leave, Library, "stop looking; leave"),
];
