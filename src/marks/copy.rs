//! Marks and the file they were made on: the same one moved, or another copy of the recording.

use super::model::{At, ClipFacts, Id, Item, Sheaf};
use crate::units::{Coded, FrameRef, Orientation, Shown, Ticks, Upright};

/// How a clip relates to the one that marks were made on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kin {
    /// The same bytes, under whatever name.
    Same,
    /// Other bytes: another recording, or the same one coded again.
    Other,
}

/// Returns how a clip that was `found` relates to the one that the marks remember.
///
/// The hash of all bytes decides where both know it, else the quick id.
pub fn kin(remembered: &ClipFacts, found: &ClipFacts) -> Kin {
    let same = match (&remembered.content_hash, &found.content_hash) {
        (Some(remembered), Some(found)) => remembered == found,
        _ => remembered.quick_id == found.quick_id,
    };
    if same { Kin::Same } else { Kin::Other }
}

/// Another copy of a recording: coded again, cut, or made smaller.
pub struct OtherCopy<'a> {
    /// What is known of it.
    pub facts: ClipFacts,
    /// How much later a picture is shown in it than in the clip that the marks were made on, in
    /// ticks of the copy; negative where its beginning was cut off.
    pub offset: Ticks,
    /// Returns the frame of the copy nearest to an instant; nothing beyond its ends.
    pub frame_at: &'a dyn Fn(Ticks) -> Option<FrameRef>,
}

/// Why marks cannot be moved to a copy.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum MoveError {
    /// The routine was planned and has no clip.
    #[error("the marks belong to no clip; they are of a planned routine")]
    NoClip,
    /// The picture has other proportions.
    #[error(
        "its picture is {found_w} x {found_h} and not of the proportions of {w} x {h}, so the \
         clicked points would lie elsewhere; give a copy that shows the whole picture"
    )]
    Shape {
        /// Width of the remembered picture, shown upright.
        w: u32,
        /// Its height.
        h: u32,
        /// Width of the copy's picture, shown upright.
        found_w: u32,
        /// Its height.
        found_h: u32,
    },
    /// Frames that marks stand on are not in the copy.
    #[error(
        "{count} of the frames that marks stand on lie before its beginning or after its end; \
         give another offset, or a longer copy"
    )]
    Outside {
        /// How many marks, readings and calls.
        count: usize,
    },
}

/// Sides of a picture in proportion may differ by so much: encoders round to whole blocks.
const PROPORTION: f64 = 0.02;

/// Returns the marks as they stand on another copy of their clip: every frame found again by its
/// time, every clicked point at the same place of the picture.
///
/// The instants between which an event lies stay those that were seen on the first clip.
pub fn move_to(sheaf: &Sheaf, copy: &OtherCopy<'_>) -> Result<Sheaf, MoveError> {
    let old = sheaf.clip.as_ref().ok_or(MoveError::NoClip)?;
    let way = Way::between(old, copy)?;
    let count = items(sheaf).filter(|item| way.item(item.clone()).is_none()).count();
    if count > 0 {
        return Err(MoveError::Outside { count });
    }
    let mut moved = sheaf.clone();
    moved.clip = Some(ClipFacts {
        orientation_override: old.orientation_override.map(|turn| way.turn(turn)),
        unknown: old.unknown.clone(),
        ..copy.facts.clone()
    });
    // A routine's ends may lie beside a copy that was cut closely.
    let end = |frame: &FrameRef| way.frame(frame).unwrap_or_else(|| way.instants(frame));
    moved.routine.span = sheaf.routine.span.map(|[from, to]| [end(&from), end(&to)]);
    for plane in &mut moved.planes {
        plane.frame = plane.frame.as_ref().map(end);
        let points = plane.points.iter_mut().flat_map(|point| &mut point.coded);
        points.for_each(|at| *at = way.point(*at));
    }
    (moved.marks, moved.readings, moved.calls) = Default::default();
    for item in items(sheaf).filter_map(|item| way.item(item)) {
        match item {
            Item::Mark(mark) => moved.marks.push(mark),
            Item::Reading(reading) => moved.readings.push(reading),
            Item::Call(call) => moved.calls.push(call),
        }
    }
    Ok(moved)
}

fn items(sheaf: &Sheaf) -> impl Iterator<Item = Item> {
    let ids: Vec<Id> = [
        sheaf.marks.iter().map(|mark| mark.id).collect::<Vec<_>>(),
        sheaf.readings.iter().map(|reading| reading.id).collect(),
        sheaf.calls.iter().map(|call| call.id).collect(),
    ]
    .concat();
    ids.into_iter().filter_map(|id| sheaf.item(id))
}

/// The way from one copy to the other.
struct Way<'a> {
    from: Upright,
    to: Upright,
    old: &'a ClipFacts,
    copy: &'a OtherCopy<'a>,
}

impl<'a> Way<'a> {
    fn between(old: &'a ClipFacts, copy: &'a OtherCopy<'a>) -> Result<Self, MoveError> {
        let (from, to) = (old.upright, copy.facts.upright);
        let ([w, h], [found_w, found_h]) = (from.shown_size(), to.shown_size());
        let proportion = |[w, h]: [u32; 2]| f64::from(w) / f64::from(h);
        let ratio = proportion([found_w, found_h]) / proportion([w, h]);
        if (ratio - 1.0).abs() > PROPORTION {
            return Err(MoveError::Shape { w, h, found_w, found_h });
        }
        Ok(Self { from, to, old, copy })
    }

    fn item(&self, item: Item) -> Option<Item> {
        Some(match item {
            Item::Mark(mut mark) => {
                mark.at = self.at(mark.at)?;
                Item::Mark(mark)
            }
            Item::Reading(mut reading) => {
                reading.at = self.at(reading.at)?;
                for point in &mut reading.points {
                    point.coded = self.point(point.coded);
                    point.frame = match &point.frame {
                        Some(frame) => Some(self.frame(frame)?),
                        None => None,
                    };
                }
                for line in [&mut reading.how.line, &mut reading.how.level] {
                    *line = line.map(|line| line.map(|at| self.point(at)));
                }
                // Pictures of another file tell it anew.
                reading.how.camera = None;
                Item::Reading(reading)
            }
            Item::Call(mut call) => {
                call.at = self.at(call.at)?;
                Item::Call(call)
            }
        })
    }

    fn at(&self, at: At) -> Option<At> {
        Some(match at {
            At::Frame(frame) => At::Frame(self.frame(&frame)?),
            At::Span(from, to) => At::Span(self.frame(&from)?, self.frame(&to)?),
            At::Place(place) => At::Place(place),
        })
    }

    fn frame(&self, frame: &FrameRef) -> Option<FrameRef> {
        let seen = self.instants(frame);
        let found = (self.copy.frame_at)(seen.ticks)?;
        let (lo, hi) = (seen.lo.min(found.ticks), seen.hi.max(found.ticks));
        Some(FrameRef { lo, hi, field: frame.field, ..found })
    }

    /// Returns the frame's times by the copy's clock, the bounds rounded outwards.
    fn instants(&self, frame: &FrameRef) -> FrameRef {
        let [old, new] = [self.old.time_base, self.copy.facts.time_base];
        let later = |ticks: Ticks, rounded: usize| {
            Ticks(old.in_base(ticks, new)[rounded].0.saturating_add(self.copy.offset.0))
        };
        FrameRef {
            ticks: later(frame.ticks, 0),
            lo: later(frame.lo, 0),
            hi: later(frame.hi, 1),
            ..*frame
        }
    }

    /// Returns where a coded point of the old clip lies in the copy's coded picture.
    fn point(&self, at: Coded) -> Coded {
        let Shown([x, y]) = self.from.to_shown(at);
        let ([w, h], [found_w, found_h]) = (self.from.shown_size(), self.to.shown_size());
        let share = |there: u32, here: u32| f64::from(there) / f64::from(here);
        self.to.to_coded(Shown([x * share(found_w, w), y * share(found_h, h)]))
    }

    /// Returns how the copy must be turned to look as the old clip did when turned by hand.
    fn turn(&self, by_hand: Orientation) -> Orientation {
        let send = |direction| {
            let shown = self.to.orientation.turn(direction);
            by_hand.turn(self.from.orientation.turn_back(shown))
        };
        let ([a, b], [c, d]) = (send([1.0, 0.0]), send([0.0, 1.0]));
        Orientation::from_matrix([a, b, c, d])
    }
}
