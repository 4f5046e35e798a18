//! The next frame at which the movement turns: where the picture changes least or most from frame to
//! frame. A cast, a swing and a leg are still for a moment where they turn back, and nothing changes
//! a picture more than what is quickest; both are frames that a judge looks for.

use crate::{
    geometry::camera::grey::Grey,
    units::FrameIndex,
    window::{keymap::Heading, theme::part},
};

use super::stage::Stage;

/// How much less must change after the most, and how much more after the least, to be a turn.
const TURNS_BY: f32 = 2.0;
/// Values that differ by less are alike.
const ALIKE: f32 = 1.1;
/// Added to every change: what coding alone makes of a picture that stands still, in levels of 255.
const STILL: f32 = 0.1;
/// How many pictures are wished for at once.
const BATCH: u64 = 16;
/// How many frames before its start a search begins, so that what turned just before it is known.
const RUN_UP: u64 = 15;
/// How much of the clip is looked through for a turn, in seconds.
const REACH: f64 = 10.0;

impl Heading {
    /// Returns the frame so many frames on; nothing before the first one.
    fn on(self, from: FrameIndex, by: u64) -> Option<FrameIndex> {
        match self {
            Self::On => from.0.checked_add(by),
            Self::Back => from.0.checked_sub(by),
        }
        .map(FrameIndex)
    }
}

/// A search for the next turn.
pub(crate) struct Turning {
    start: FrameIndex,
    heading: Heading,
    /// How many turns on.
    wanted: u32,
    /// The frame whose picture is looked at next; nothing beyond the clip's ends.
    next: Option<FrameIndex>,
    /// The picture before that, with how much it differs from the one before itself.
    before: Option<(Grey, Option<f32>)>,
    swings: Swings,
}

/// What came of a search.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Turned {
    /// It goes on when more pictures are there.
    NotYet,
    /// The movement turns here.
    At(FrameIndex),
    /// It does not as far as was looked.
    Nowhere,
}

impl Turning {
    /// Begins at a frame.
    pub(crate) fn begin(start: FrameIndex, heading: Heading) -> Self {
        let opposite = if heading == Heading::On { Heading::Back } else { Heading::On };
        let next = opposite.on(start, RUN_UP).or(Some(FrameIndex::FIRST));
        Self { start, heading, wanted: 1, next, before: None, swings: Swings::default() }
    }

    /// Looks for one turn more, where it goes the same way.
    pub(crate) fn and_one(&mut self, heading: Heading) -> bool {
        self.wanted += u32::from(self.heading == heading);
        self.heading == heading
    }

    /// Looks at the pictures that are there, and wishes for those that are not.
    pub(crate) fn look(&mut self, stage: &Stage) -> Turned {
        let small = |frame| stage.brightness(frame, part::SMALL_PICTURE as u32);
        let from = stage.seconds_of(self.start);
        if self.before.is_none() {
            self.next = self.next.map(|next| next.min(stage.last_frame()));
        }
        while let Some(next) = self.next.filter(|next| *next <= stage.last_frame()) {
            if (stage.seconds_of(next) - from).abs() > REACH {
                return Turned::Nowhere;
            }
            let Some(picture) = small(next) else {
                let mut batch: Vec<_> = (1..BATCH)
                    .filter_map(|by| self.heading.on(next, by))
                    .filter(|frame| *frame <= stage.last_frame())
                    .chain([next])
                    .collect();
                // The newest wish is met first, and pictures are decoded from first to last.
                batch.sort_unstable_by_key(|frame| std::cmp::Reverse(*frame));
                for frame in batch {
                    small(frame);
                }
                return Turned::NotYet;
            };
            self.next = self.heading.on(next, 1);
            let turned = self.take(next, picture);
            if turned.is_some_and(|turned| self.lies_ahead(turned)) {
                self.wanted = self.wanted.saturating_sub(1);
                if self.wanted == 0 {
                    return turned.map_or(Turned::Nowhere, Turned::At);
                }
            }
        }
        Turned::Nowhere
    }

    fn lies_ahead(&self, frame: FrameIndex) -> bool {
        match self.heading {
            Heading::On => frame > self.start,
            Heading::Back => frame < self.start,
        }
    }

    /// Takes a picture in, and returns the frame of a turn that it shows.
    fn take(&mut self, frame: FrameIndex, picture: Grey) -> Option<FrameIndex> {
        let (before, earlier) = self.before.take().unzip();
        let change = before.map(|before| before.change(&picture));
        self.before = Some((picture, change));
        // Of the frame before this one both sides are known now.
        let both = earlier.flatten().zip(change).map(|(one, other)| one + other);
        let of = match self.heading {
            Heading::On => frame.0.checked_sub(1),
            Heading::Back => frame.0.checked_add(1),
        };
        self.swings.take(FrameIndex(of?), both? + STILL)
    }
}

/// Finds where a series rises and falls by [`TURNS_BY`].
#[derive(Default)]
struct Swings {
    first: Option<FrameIndex>,
    least: Option<Least>,
    most: Option<(FrameIndex, f32)>,
    /// Whether it rises; nothing before its first turn.
    rises: Option<bool>,
}

/// The least value so far, and the frames from and to which the series keeps to it.
#[derive(Clone, Copy)]
struct Least {
    value: f32,
    from: FrameIndex,
    to: FrameIndex,
    /// Whether the series has not left it since.
    holds: bool,
}

impl Least {
    const fn at(at: FrameIndex, value: f32) -> Self {
        Self { value, from: at, to: at, holds: true }
    }

    fn take(self, at: FrameIndex, value: f32) -> Self {
        if value * ALIKE < self.value {
            return Self::at(at, value);
        }
        if self.holds && value < self.value * ALIKE {
            return Self { to: at, ..self };
        }
        Self { holds: false, ..self }
    }

    /// Where it turned: the middle of a stretch in which nothing moves.
    const fn middle(self) -> FrameIndex {
        FrameIndex(u64::midpoint(self.from.0, self.to.0))
    }
}

impl Swings {
    /// Takes the next value, and returns where the series turned before it, where it did.
    fn take(&mut self, at: FrameIndex, value: f32) -> Option<FrameIndex> {
        let first = *self.first.get_or_insert(at);
        let least = self.least.map_or(Least::at(at, value), |least| least.take(at, value));
        let most = self.most.filter(|most| value <= most.1).unwrap_or((at, value));
        (self.least, self.most) = (Some(least), Some(most));
        let turned = if self.rises != Some(false) && value * TURNS_BY < most.1 {
            (self.rises, self.least) = (Some(false), Some(Least::at(at, value)));
            most.0
        } else if self.rises != Some(true) && value > least.value * TURNS_BY {
            (self.rises, self.most) = (Some(true), Some((at, value)));
            least.middle()
        } else {
            return None;
        };
        // Where it was begun to look, nothing turned yet.
        (turned != first).then_some(turned)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn turns(values: &[f32]) -> Vec<u64> {
        let mut swings = Swings::default();
        let turns = values
            .iter()
            .zip(0..)
            .filter_map(|(value, at)| swings.take(FrameIndex(at), *value).map(|turn| turn.0));
        turns.collect()
    }

    #[test]
    fn a_series_turns_at_its_least_and_most() {
        let swing = [4.0, 3.0, 1.0, 2.0, 5.0, 6.0, 5.0, 2.0, 1.0, 3.0];
        assert_eq!(turns(&swing), [2, 5, 8]);
        assert_eq!(turns(&[4.0, 1.0, 1.05, 1.0, 1.0, 1.0, 4.0]), [3], "the middle of a rest");
        assert_eq!(turns(&[1.0, 1.1, 0.9, 1.2, 1.0]), [] as [u64; 0], "it only trembles");
        assert_eq!(turns(&[5.0, 4.0, 2.0, 1.0]), [] as [u64; 0], "it falls from the beginning on");
    }
}
