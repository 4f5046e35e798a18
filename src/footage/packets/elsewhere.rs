use std::{fmt::Debug, ops::ControlFlow, sync::Arc};

use serde::{Deserialize, Serialize};

use crate::footage::{
    error::OpenError,
    libav::{self, Frame, Parameters, Pool, Threads},
};

use super::{scan::Scan, trouble::Troubled};

/// Who decodes a clip.
#[derive(Clone, Debug)]
pub(crate) enum Hands {
    /// This process.
    Own(Arc<Parameters>),
    /// Another one.
    Other(Arc<dyn Elsewhere>),
}

impl Hands {
    /// Returns how the other process ended, where there is one that did not end well.
    pub(crate) fn lost(&self) -> Option<String> {
        match self {
            Self::Own(_) => None,
            Self::Other(elsewhere) => elsewhere.lost(),
        }
    }
}

/// Reads and decodes a clip in other processes. Where one of them is lost, what was asked fails
/// with [`libav::LOST`], and may be asked once more.
pub(crate) trait Elsewhere: Debug + Send + Sync {
    /// Begins to decode at the first packet; pictures lie in `pool`.
    fn walk(
        &self,
        scan: &Scan,
        threads: Threads,
        pool: &Arc<Pool>,
    ) -> Result<Box<dyn Walk>, libav::Error>;

    /// Reads all packets; nothing when `stop` said so.
    fn scan(&self, stop: &dyn Fn() -> bool) -> Option<Result<Scan, OpenError>>;

    /// Returns how the process that was lost last ended.
    fn lost(&self) -> Option<String>;
}

/// A decoder in another process.
pub(crate) trait Walk: Send {
    /// Goes on from a packet. Where that cannot be done, [`Self::next`] says so.
    fn land(&mut self, start: u32);

    /// Decodes on; packets before one may be left out where no other picture leans on theirs.
    /// Breaks off when `stop` says so, and then goes on where it was.
    fn next(
        &mut self,
        leave_out_before: u32,
        stop: &dyn Fn() -> bool,
    ) -> Result<ControlFlow<(), (Option<Frame>, Progress)>, libav::Error>;
}

/// How far a decoder has come.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) struct Progress {
    /// Ordinal of the next packet to hand over.
    pub fed: u32,
    /// From this ordinal on everything was handed over.
    pub whole_from: u32,
    /// Whether everything has come out.
    pub ended: bool,
    /// Whether damage was met since the start.
    pub hurt: bool,
    /// Packets whose pictures went wrong since this was last told.
    pub troubles: Vec<Troubled>,
}
