//! What was set aside, in words.

use std::time::SystemTime;

use jiff::{Timestamp, tz::TimeZone};

use crate::{
    marks::{Aside, AsideKind},
    units::counted,
};

/// Returns what it is, as a line begins with it.
pub(super) const fn title(kind: AsideKind) -> &'static str {
    match kind {
        AsideKind::TornJournal => "Steps behind a damaged place of the journal",
        AsideKind::OtherJournal => "Steps of another version, from this computer's journal",
        AsideKind::OtherVersion => "Another computer's version",
        AsideKind::Copy => "A copy beside the marks",
        AsideKind::OwnFolder => "Marks in your own folder",
    }
}

/// Returns when it was written, by the clock of the place.
pub(super) fn when(at: Option<SystemTime>) -> String {
    let stamp = at.and_then(|at| Timestamp::try_from(at).ok());
    let local = stamp.map(|stamp| stamp.to_zoned_datetime(TimeZone::system()));
    local.map_or("time unknown".to_owned(), |it| it.strftime("%Y-%m-%d %H:%M").to_string())
}

/// Returns what of it is not in the marks, and whether that is settled.
pub(super) fn beyond(aside: &Aside) -> String {
    let Ok(merged) = &aside.beyond else {
        return "Made on another copy of the clip".to_owned();
    };
    let (new, other) = (merged.joined.len(), merged.conflicts.len());
    if new + other == 0 {
        return "✓ All of it is in the marks".to_owned();
    }
    let new = (new > 0).then(|| format!("{} not in the marks", counted(new, "thing")));
    let other = (other > 0).then(|| format!("{} otherwise than here", counted(other, "thing")));
    let said: Vec<String> = new.into_iter().chain(other).collect();
    let sign = if aside.has_more() { "… " } else { "✓ Settled: " };
    format!("{sign}{}", said.join(", "))
}
