//! Pictures about which something was written before their frames were proved: each is held against
//! the proof as soon as that is there.

use crate::{
    footage::Picture,
    units::{FrameIndex, Ticks},
};

use super::stage::Stage;

/// Pictures that were on screen when something was written, and were not yet proved.
#[derive(Default)]
pub(crate) struct Unproved(Vec<Seen>);

struct Seen {
    ticks: Ticks,
    hash: u64,
}

/// A frame, and what its picture is proved to hash to; nothing as long as it is not proved.
type Known = (FrameIndex, Option<u64>);

impl Unproved {
    /// Remembers a picture, where it is not proved yet.
    pub(crate) fn note(&mut self, picture: &Picture) {
        if !picture.is_proved() {
            self.0.push(Seen { ticks: picture.ticks, hash: picture.hash() });
        }
    }

    /// Forgets the pictures that are proved by now, and returns the frames of those that prove to
    /// be others.
    pub(crate) fn settle(&mut self, stage: &Stage) -> Vec<FrameIndex> {
        if self.0.is_empty() {
            return Vec::new();
        }
        let footage = stage.footage();
        self.settle_by(|ticks| {
            let frame = footage.table().at(ticks);
            (frame.into(), footage.table().entry(frame).and_then(|entry| entry.hash))
        })
    }

    fn settle_by(&mut self, known: impl Fn(Ticks) -> Known) -> Vec<FrameIndex> {
        let mut others = Vec::new();
        self.0.retain(|seen| {
            let (frame, hash) = known(seen.ticks);
            if hash.is_some_and(|hash| hash != seen.hash) {
                others.push(frame);
            }
            hash.is_none()
        });
        others.sort_unstable();
        others.dedup();
        others
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_proved_waits_and_what_is_another_is_told() {
        let seen = |ticks, hash| Seen { ticks: Ticks(ticks), hash };
        let mut unproved = Unproved(vec![seen(10, 7), seen(20, 8), seen(30, 9), seen(20, 8)]);
        let frame = |ticks: Ticks| FrameIndex::from(ticks.0 as usize / 10);
        assert_eq!(unproved.settle_by(|ticks| (frame(ticks), None)), []);
        assert_eq!(unproved.0.len(), 4, "nothing is proved so far");
        let first_two = |ticks: Ticks| (frame(ticks), (ticks.0 < 30).then_some(7));
        assert_eq!(unproved.settle_by(first_two), [FrameIndex::from(2)]);
        assert_eq!(unproved.0.len(), 1, "the third still waits");
        assert_eq!(unproved.settle_by(|ticks| (frame(ticks), Some(9))), []);
        assert!(unproved.0.is_empty());
    }
}
