//! How it stands with the marks file.

use std::{
    path::{Path, PathBuf},
    time::Duration,
};

use crate::window::screens::clip::complaint::Complaint;

/// How it stands with the file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Disk {
    is_writing: bool,
    failing: Option<Failing>,
}

/// Saving does not work.
#[derive(Clone, Debug, PartialEq, Eq)]
struct Failing {
    /// The marks file; another routine's is saved by itself.
    of: PathBuf,
    /// The time of day when it first did not.
    since: String,
    /// How often it was tried.
    tries: usize,
    /// What was last told of it.
    told: Complaint,
}

/// How long is waited before a save, in milliseconds: at first, and after each that failed.
const PAUSES: [u64; 6] = [500, 2_000, 4_000, 8_000, 16_000, 30_000];

impl Disk {
    /// Returns how long to wait before the next save of these marks; nothing while one is under way.
    pub(crate) fn pause(&self, of: &Path) -> Option<Duration> {
        let tries = self.failing(of).map_or(0, |failing| failing.tries);
        let pause = PAUSES.get(tries).or(PAUSES.last());
        pause.filter(|_| !self.is_writing).map(|pause| Duration::from_millis(*pause))
    }

    /// Notes that a save is under way.
    pub(crate) const fn begin(&mut self) {
        self.is_writing = true;
    }

    /// Returns whether a save is under way.
    pub(crate) const fn is_writing(&self) -> bool {
        self.is_writing
    }

    /// Notes that it came to nothing, and is to be tried again at once.
    pub(crate) const fn again(&mut self) {
        self.is_writing = false;
    }

    /// Notes that everything is saved; returns what was told and is no longer so.
    pub(crate) fn saved(&mut self) -> Option<Complaint> {
        std::mem::take(self).failing.map(|failing| failing.told)
    }

    /// Notes that saving these marks failed, at this time of day; returns what is to be told, where
    /// that is new.
    pub(crate) fn failed(&mut self, of: &Path, why: Complaint, now: String) -> Option<Complaint> {
        let known = self.failing(of).cloned();
        let is_new = known.as_ref().is_none_or(|known| known.told != why);
        let (since, tries) = known.map_or((now, 0), |known| (known.since, known.tries));
        let (of, tries, told) = (of.to_owned(), tries.saturating_add(1), why.clone());
        *self = Self { is_writing: false, failing: Some(Failing { of, since, tries, told }) };
        is_new.then_some(why)
    }

    /// Returns what stands on the screen as long as it fails.
    pub(crate) fn sign(&self, of: &Path) -> Option<String> {
        let since = &self.failing(of)?.since;
        Some(format!("Not saved since {since}, kept on this computer"))
    }

    fn failing(&self, of: &Path) -> Option<&Failing> {
        self.failing.as_ref().filter(|failing| failing.of == of)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn here() -> &'static Path {
        Path::new("meet.mp4.1.J-2.marks.json")
    }

    fn seconds(disk: &Disk) -> f32 {
        disk.pause(here()).map_or(f32::NAN, |pause| pause.as_secs_f32())
    }

    fn fail(disk: &mut Disk, why: &str, now: &str) -> Option<Complaint> {
        disk.failed(here(), Complaint::new(why), now.to_owned())
    }

    #[test]
    fn it_is_tried_again_after_growing_pauses_for_as_long_as_it_fails() {
        let mut disk = Disk::default();
        let mut pauses = vec![seconds(&disk)];
        for _ in 0..100 {
            disk.begin();
            assert_eq!(disk.pause(here()), None, "one save at a time");
            fail(&mut disk, "full", "14:02");
            pauses.push(seconds(&disk));
        }
        assert!(pauses.is_sorted(), "{pauses:?}");
        assert!(pauses.iter().all(|pause| (0.5..=30.0).contains(pause)), "{pauses:?}");
        assert!(pauses[1] > pauses[0] && pauses[100] == 30.0, "{pauses:?}");
        disk.saved();
        assert_eq!(seconds(&disk), pauses[0]);
    }

    #[test]
    fn the_sign_says_since_when_and_goes_with_a_save() {
        let mut disk = Disk::default();
        assert_eq!(disk.sign(here()), None);
        assert!(fail(&mut disk, "full", "14:02").is_some());
        // The same again is not told again, another reason is.
        assert_eq!(fail(&mut disk, "full", "14:03"), None);
        assert_eq!(fail(&mut disk, "gone", "14:04"), Some(Complaint::new("gone")));
        let sign = "Not saved since 14:02, kept on this computer".to_owned();
        assert_eq!(disk.sign(here()), Some(sign));
        let other = Path::new("meet.mp4.2.J-2.marks.json");
        assert_eq!(disk.sign(other), None, "another routine is saved by itself");
        assert_eq!(disk.pause(other), Disk::default().pause(other));
        assert_eq!(disk.saved(), Some(Complaint::new("gone")), "so that it goes off the screen");
        assert_eq!(disk.sign(here()), None);
    }
}
