//! What happens while something is to be erased.

use crate::{
    library::ErasePlan,
    window::{keymap::EraseCommand, typing::Typed},
};

use super::{
    form::{EraseChoice, EraseField},
    outcome::EraseOutcome,
};

/// What happened.
#[derive(Clone, Debug)]
pub(crate) enum EraseMessage {
    /// A button or a key stands for a command.
    Asked(EraseCommand),
    /// A field was pointed at.
    PointedAt(EraseField, Typed),
    /// A choice was pressed.
    Turned(EraseChoice),
    /// It is known what would go, for what was asked under this number.
    Planned(u64, Box<Result<ErasePlan, String>>),
    /// It was carried out, or cut short.
    Carried(Box<Result<EraseOutcome, String>>),
}
