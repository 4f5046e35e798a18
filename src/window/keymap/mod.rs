//! Keys and what they do.
//!
//! One table feeds the handler, the help sheet, the tooltips and the page of keys in docs. Each
//! part of it has the commands of one screen as a type of its own, which that screen matches whole.

mod asked;
mod binding;
mod find;
mod names;
mod page;
mod tables;
#[cfg(test)]
mod tests;

pub(crate) use asked::{
    among_asides, among_judges, at_start, everywhere, in_library, in_sitting, in_training, on_clip,
    on_pair, on_report, while_erasing, while_handing, while_placing,
};
pub(crate) use binding::{Command, Group};
pub(crate) use names::{key_of, tip};
pub(crate) use page::{Known, known};
pub(crate) use tables::{
    aside::AsideCommand,
    clip::{ClipCommand, Everywhere, Going, Heading, Steady, View, Work},
    erase::EraseCommand,
    hand::HandCommand,
    judges::JudgesCommand,
    library::LibraryCommand,
    pair::{PairCommand, PairWork},
    points::{AngleCommand, PointCommand},
    practice::{EyeCommand, ReportCommand, SittingCommand},
    start::StartCommand,
};
