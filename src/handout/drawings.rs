//! What stands on the frames of a clip.

use std::collections::BTreeMap;

use crate::{
    figure::{self, Shape},
    footage::Footage,
    geometry::Limit,
    marks::{Reading, Sheaf, placing},
    units::{FrameRef, Orientation, Shown, Upright},
};

/// Drawings by the number of the frame that they stand on.
#[derive(Clone, Debug, Default)]
pub struct Drawings {
    turn: Option<Orientation>,
    kept: BTreeMap<usize, Vec<Shape>>,
    joints: BTreeMap<usize, Vec<(String, Shown)>>,
}

impl Drawings {
    /// Returns no drawing, of a clip that a person turned so, where its own tag is wrong.
    pub fn none(turn: Option<Orientation>) -> Self {
        Self { turn, ..Self::default() }
    }

    /// Returns the drawings of every reading of a clip, as the screen shows them.
    ///
    /// `limit` says what a rule asks of a reading, where one does; the angle that it asks for is drawn
    /// where `shows_asked` says so.
    pub fn of(
        sheaf: &Sheaf,
        footage: &Footage,
        limit: &dyn Fn(&Reading) -> Option<Limit>,
        shows_asked: bool,
    ) -> Self {
        let clip = sheaf.clip.as_ref();
        let turn = clip.and_then(|clip| clip.orientation_override);
        let mut drawings = Self::none(turn);
        let own = clip.map_or(footage.facts().upright, |clip| clip.upright);
        let upright = Upright { orientation: turn.unwrap_or(own.orientation), ..own };
        for reading in sheaf.readings.iter().filter(|it| !it.points.is_empty()) {
            let said = figure::caption(reading, limit(reading), shows_asked);
            for frame in placing::frames(reading) {
                if placing::on_frame(reading, &frame).is_empty() {
                    continue;
                }
                let k = number(&frame, footage);
                let shapes = figure::kept(sheaf, reading, &frame, &said);
                drawings.kept.entry(k).or_default().extend(shapes);
                let places = placing::on_frame(reading, &frame).into_iter();
                let joints = places.filter_map(|place| reading.points.get(place));
                let joints = joints.map(|it| (it.name.clone(), upright.to_shown(it.coded)));
                drawings.joints.entry(k).or_default().extend(joints);
            }
        }
        drawings
    }

    /// Returns how a person turned the clip, where its own tag is wrong.
    pub fn turn(&self) -> Option<Orientation> {
        self.turn
    }

    /// Returns the frames that something stands on, in order.
    pub fn frames(&self) -> impl Iterator<Item = usize> {
        self.kept.keys().copied()
    }

    /// Returns what stands on a frame.
    pub fn on(&self, k: usize) -> &[Shape] {
        self.kept.get(&k).map(Vec::as_slice).unwrap_or_default()
    }

    /// Returns the limbs between the joints that are marked on a frame.
    pub fn limbs_on(&self, k: usize) -> Vec<Shape> {
        let joints = self.joints.get(&k).into_iter().flatten();
        figure::limbs(&joints.map(|(name, at)| (name.as_str(), *at)).collect::<Vec<_>>())
    }

    /// Returns the last frame at or before `k` with something on it.
    pub(super) fn before(&self, k: usize) -> Option<usize> {
        self.kept.range(..=k).next_back().map(|(k, _)| *k)
    }
}

/// Returns the number of the frame that is meant: the time stamp decides, the number where two frames
/// share it.
fn number(frame: &FrameRef, footage: &Footage) -> usize {
    let table = footage.table();
    let named = usize::from(frame.index);
    let is_it = table.entry(named).is_some_and(|entry| entry.ticks == frame.ticks);
    if is_it { named } else { table.at(frame.ticks) }
}
