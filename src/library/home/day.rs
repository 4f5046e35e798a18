//! Which day it is for consents and periods: a clock that goes back brings nothing back.

use std::path::PathBuf;

use jiff::civil::Date;

use super::folder::Home;
use crate::store::{read_text, replace_private};

const FILE: &str = "latest-day";

/// A clock that is behind the latest day that it ever told.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ClockBehind {
    /// What the clock says.
    pub clock: Date,
    /// The latest day that was seen, which counts as today.
    pub latest: Date,
    /// Where that is kept.
    pub kept: PathBuf,
}

/// Returns the day that counts as today: the clock's in universal time, or the latest that this
/// user's library has seen where the clock says an earlier one.
pub fn today() -> Date {
    Home::of_user().map_or_else(clock_day, |home| home.today())
}

/// Returns the clock's date in universal time, for what is only dated with it.
pub fn clock_day() -> Date {
    jiff::tz::Offset::UTC.to_datetime(jiff::Timestamp::now()).date()
}

impl Home {
    /// Returns the day that counts as today here, and keeps it where it is the latest so far.
    pub fn today(&self) -> Date {
        let (clock, latest) = (clock_day(), self.latest_day());
        if latest.is_none_or(|latest| latest < clock) && self.path().is_dir() {
            // Where it cannot be kept, the clock is all there is.
            let _ = replace_private(&self.day_file(), clock.to_string().as_bytes());
        }
        latest.map_or(clock, |latest| latest.max(clock))
    }

    /// Returns what to say of a clock that is behind.
    pub fn clock_behind(&self) -> Option<ClockBehind> {
        let (clock, latest) = (clock_day(), self.latest_day()?);
        (clock < latest).then(|| ClockBehind { clock, latest, kept: self.day_file() })
    }

    fn day_file(&self) -> PathBuf {
        self.path().join(FILE)
    }

    fn latest_day(&self) -> Option<Date> {
        let path = self.day_file();
        read_text(&path).ok()?.trim().parse().ok()
    }
}
