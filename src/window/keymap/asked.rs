//! What a key event asks for on each screen.
//!
//! Events that a field has captured never come here, so letters are safe while someone writes.

use iced::keyboard::Event;

use super::{
    find::find,
    tables::{
        aside::{self, AsideCommand},
        clip::{self, ClipCommand, Everywhere},
        erase::{self, EraseCommand},
        hand::{self, HandCommand},
        judges::{self, JudgesCommand},
        library::{self, LibraryCommand},
        pair::{self, PairCommand},
        points,
        practice::{
            EYE_KEYS, EyeCommand, REPORT_KEYS, ReportCommand, SITTING_KEYS, SittingCommand,
        },
        start::{self, StartCommand},
    },
};

/// Returns what a key asks for on every screen.
pub(crate) fn everywhere(event: &Event) -> Option<Everywhere> {
    match find(clip::KEYS, event)? {
        ClipCommand::Everywhere(command) => Some(command),
        ClipCommand::Going(_)
        | ClipCommand::View(_)
        | ClipCommand::Steady(_)
        | ClipCommand::Work(_)
        | ClipCommand::Points(_) => None,
    }
}

/// Returns what a key asks for on the clip screen.
pub(crate) fn on_clip(event: &Event) -> Option<ClipCommand> {
    find(clip::KEYS, event)
}

/// Returns what a key asks for while points are placed.
pub(crate) fn while_placing(event: &Event) -> Option<ClipCommand> {
    let own = find(points::KEYS, event).map(ClipCommand::Points);
    own.or_else(|| on_clip(event).filter(|command| command.stays()))
}

/// Returns what a key asks for while two clips lie side by side.
pub(crate) fn on_pair(event: &Event) -> Option<PairCommand> {
    let own = find(pair::KEYS, event).map(PairCommand::Work);
    own.or_else(|| on_clip(event).and_then(PairCommand::of))
}

/// Returns what a key asks for on the start screen; everything else is written or picks.
pub(crate) fn at_start(event: &Event) -> Option<StartCommand> {
    find(start::KEYS, event)
}

/// Returns what a key asks for on the wall of clips; everything else is written.
pub(crate) fn in_library(event: &Event) -> Option<LibraryCommand> {
    find(library::KEYS, event)
}

/// Returns what a key asks for while something is to be erased; everything else is written.
pub(crate) fn while_erasing(event: &Event) -> Option<EraseCommand> {
    find(erase::KEYS, event)
}

/// Returns what a key asks for while a bundle is handed out or taken in; everything else is written.
pub(crate) fn while_handing(event: &Event) -> Option<HandCommand> {
    find(hand::KEYS, event)
}

/// Returns what a key asks for while judges are side by side.
pub(crate) fn among_judges(event: &Event) -> Option<JudgesCommand> {
    find(judges::KEYS, event)
}

/// Returns what a key asks for in the list of what was set aside.
pub(crate) fn among_asides(event: &Event) -> Option<AsideCommand> {
    find(aside::KEYS, event)
}

/// Returns what a key asks for in a sitting; everything else is written into the answer.
pub(crate) fn in_sitting(event: &Event) -> Option<SittingCommand> {
    find(SITTING_KEYS, event)
}

/// Returns what a key asks for while the eye is trained; everything else is written.
pub(crate) fn in_training(event: &Event) -> Option<EyeCommand> {
    find(EYE_KEYS, event)
}

/// Returns what a key asks for on the report on agreement.
pub(crate) fn on_report(event: &Event) -> Option<ReportCommand> {
    find(REPORT_KEYS, event)
}
