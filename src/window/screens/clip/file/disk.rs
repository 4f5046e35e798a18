//! How it stands with the marks file.

use std::time::Duration;

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
    /// Returns how long to wait before the next save; nothing while one is under way.
    pub(crate) fn pause(&self) -> Option<Duration> {
        let tries = self.failing.as_ref().map_or(0, |failing| failing.tries);
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

    /// Notes that it failed, at this time of day; returns what is to be told, where that is new.
    pub(crate) fn failed(&mut self, why: Complaint, now: String) -> Option<Complaint> {
        let (since, tries, known) = match self.failing.take() {
            Some(Failing { since, tries, told }) => (since, tries, Some(told)),
            None => (now, 0, None),
        };
        let is_new = known.as_ref() != Some(&why);
        self.failing = Some(Failing { since, tries: tries.saturating_add(1), told: why.clone() });
        self.is_writing = false;
        is_new.then_some(why)
    }

    /// Returns what stands on the screen as long as it fails.
    pub(crate) fn sign(&self) -> Option<String> {
        let since = &self.failing.as_ref()?.since;
        Some(format!("Not saved since {since}, kept on this computer"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seconds(disk: &Disk) -> f32 {
        disk.pause().map_or(f32::NAN, |pause| pause.as_secs_f32())
    }

    #[test]
    fn it_is_tried_again_after_growing_pauses_for_as_long_as_it_fails() {
        let mut disk = Disk::default();
        let mut pauses = vec![seconds(&disk)];
        for _ in 0..100 {
            disk.begin();
            assert_eq!(disk.pause(), None, "one save at a time");
            disk.failed(Complaint::new("full"), "14:02".to_owned());
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
        assert_eq!(disk.sign(), None);
        let full = Complaint::new("full");
        assert_eq!(disk.failed(full.clone(), "14:02".to_owned()), Some(full.clone()));
        // The same again is not told again, another reason is.
        assert_eq!(disk.failed(full, "14:03".to_owned()), None);
        let gone = Complaint::new("gone");
        assert_eq!(disk.failed(gone.clone(), "14:04".to_owned()), Some(gone.clone()));
        let sign = "Not saved since 14:02, kept on this computer".to_owned();
        assert_eq!(disk.sign(), Some(sign));
        assert_eq!(disk.saved(), Some(gone), "so that it can be taken off the screen");
        assert_eq!(disk.sign(), None);
    }
}
