//! What is written while its frame is not yet proved: the picture that was seen is held against the
//! proof as soon as that is there.

use crate::{
    footage::Picture,
    units::{FrameIndex, Ticks},
    window::{screens::clip::Clip, viewer::stage::Stage},
};

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
    fn note(&mut self, picture: &Picture) {
        if !picture.is_proved() {
            self.0.push(Seen { ticks: picture.ticks, hash: picture.hash() });
        }
    }

    /// Forgets the pictures that are proved by now, and returns the frames of those that prove to
    /// be others.
    fn settle(&mut self, known: impl Fn(Ticks) -> Known) -> Vec<FrameIndex> {
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

impl Clip {
    /// Remembers the picture on screen, about which something was written just now.
    pub(crate) fn note_unproved(&mut self) {
        if let Some(picture) = self.viewer.stage().latest() {
            self.unproved.note(&picture);
        }
    }

    /// Says where something was written about a picture that its frame proves not to have.
    pub(crate) fn settle_unproved(&mut self) {
        let stage = self.viewer.stage();
        let others = self.unproved.settle(|ticks| known(stage, ticks));
        if others.is_empty() {
            return;
        }
        let frames: Vec<String> = others.iter().map(ToString::to_string).collect();
        self.complain(&format!(
            "You wrote before the clip was proved, and saw another picture then than it proves to \
             have at frame {}. Look again at what is pinned there.",
            frames.join(", "),
        ));
    }
}

fn known(stage: &Stage, ticks: Ticks) -> Known {
    let footage = stage.footage();
    let frame = footage.table().at(ticks);
    (frame.into(), footage.table().entry(frame).and_then(|entry| entry.hash))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_not_proved_waits_and_what_is_another_is_told() {
        let seen = |ticks, hash| Seen { ticks: Ticks(ticks), hash };
        let mut unproved = Unproved(vec![seen(10, 7), seen(20, 8), seen(30, 9), seen(20, 8)]);
        let frame = |ticks: Ticks| FrameIndex::from(ticks.0 as usize / 10);
        assert_eq!(unproved.settle(|ticks| (frame(ticks), None)), []);
        assert_eq!(unproved.0.len(), 4, "nothing is proved so far");
        let first_two = |ticks: Ticks| (frame(ticks), (ticks.0 < 30).then_some(7));
        assert_eq!(unproved.settle(first_two), [FrameIndex::from(2)]);
        assert_eq!(unproved.0.len(), 1, "the third still waits");
        assert_eq!(unproved.settle(|ticks| (frame(ticks), Some(9))), []);
        assert!(unproved.0.is_empty());
    }
}
