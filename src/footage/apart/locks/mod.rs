//! What a process that decodes shuts itself off from before it reads its clip.

mod bounds;
#[cfg(target_os = "linux")]
mod c_library;
#[cfg(target_os = "linux")]
mod calls;
#[cfg(target_os = "linux")]
mod files;
#[cfg(target_os = "linux")]
mod limits;

use std::process::Child;

use serde::{Deserialize, Serialize};

pub(super) use bounds::Bounds;

/// What a process is kept from. Only Linux can: elsewhere nothing of it holds.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Locks {
    /// Memory and processor time have an end, and no file can be opened.
    pub limits: bool,
    /// No file can be reached.
    pub files: bool,
    /// A call of the system that decoding does not need ends the process.
    pub calls: bool,
}

impl Locks {
    /// Shuts off every file that is not open.
    pub(super) fn shut_files(&mut self) {
        #[cfg(target_os = "linux")]
        {
            self.files = files::shut();
        }
    }

    /// Sets an end to memory and time, and to opening files.
    #[cfg_attr(not(target_os = "linux"), expect(unused_variables, reason = "no such limits"))]
    pub(super) fn set_limits(&mut self, bounds: Bounds) {
        #[cfg(target_os = "linux")]
        {
            self.limits = limits::set(bounds);
        }
    }

    /// Has the system end this process when it calls for what decoding does not need.
    pub(super) fn keep_calls(&mut self) {
        #[cfg(target_os = "linux")]
        {
            c_library::settle();
            self.calls = calls::keep();
        }
    }

    /// Returns in words what a process is not kept from.
    pub fn missing(self) -> Vec<&'static str> {
        let locks = [
            (self.limits, "taking all memory and time"),
            (self.files, "other files"),
            (self.calls, "a network"),
        ];
        locks.into_iter().filter(|(holds, _)| !holds).map(|(_, words)| words).collect()
    }
}

/// Lets another process be busy for as long again as one thing that is asked may take.
#[cfg_attr(not(target_os = "linux"), expect(unused_variables, reason = "no such limits"))]
pub(super) fn allow_more_time(child: &Child) {
    #[cfg(target_os = "linux")]
    limits::allow(child.id(), Bounds::STAYING.seconds);
}

/// Closes files that the program which started this one may have left open for it.
pub(super) fn close_what_was_left_open() {
    #[cfg(target_os = "linux")]
    limits::close_others();
}
