//! Zoom and pan: how the upright picture lies in the room that the window gives it.

use crate::{
    units::{OnScreen, Shown},
    window::keymap::View,
};

/// How large the picture is shown and what of it is in the middle.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Viewport {
    scale: Scale,
    /// Point of the upright picture in the middle of the room; nothing is the picture's own.
    centre: Option<Shown>,
}

/// How large the picture is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum Scale {
    /// As large as the room lets it be whole.
    #[default]
    Fit,
    /// So many logical pixels of the window to one of the picture.
    Times(f64),
}

/// Where the picture lies in the room, both measured in logical pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Placement {
    /// Pixels of the room to one of the picture.
    pub scale: f64,
    /// Where the picture's top left corner lies in the room.
    pub origin: OnScreen,
}

/// The picture and the room it is shown in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Width and height of the upright picture in square pixels.
    pub picture: [f64; 2],
    /// Width and height of the room in logical pixels.
    pub room: [f64; 2],
}

const LARGEST: f64 = 32.0;
/// One turn of the wheel or one press of a key.
const STEP: f64 = 1.25;

impl Room {
    /// Returns the scale at which the whole picture just fits.
    pub fn fit(&self) -> f64 {
        let [w, h] = [0, 1].map(|axis| self.room[axis] / self.picture[axis].max(1.0));
        w.min(h).max(1e-6)
    }

    pub(crate) fn middle(&self) -> OnScreen {
        OnScreen(self.room.map(|side| side / 2.0))
    }
}

impl Viewport {
    /// Returns how the picture is shown after a command.
    pub(crate) fn looked(self, view: View, room: Room) -> Self {
        match view {
            View::ZoomIn => self.zoomed(1.0, None, room),
            View::ZoomOut => self.zoomed(-1.0, None, room),
            View::Fit => Self::FIT,
            View::OneToOne => self.one_to_one(room),
            View::Pan(right, down) => self.panned_by_eighths([right, down], room),
        }
    }

    /// Shows the whole picture.
    pub const FIT: Self = Self { scale: Scale::Fit, centre: None };

    /// Returns how large the picture is shown.
    pub const fn scale(&self) -> Scale {
        self.scale
    }

    /// Returns where the picture lies.
    pub(crate) fn placement(&self, room: Room) -> Placement {
        let scale = match self.scale {
            Scale::Fit => room.fit(),
            Scale::Times(times) => times,
        };
        let Shown(centre) =
            self.centre.unwrap_or_else(|| Shown(room.picture.map(|side| side / 2.0)));
        let OnScreen(middle) = room.middle();
        let origin = [0, 1].map(|axis| {
            let there = room.picture[axis] * scale;
            if there <= room.room[axis] {
                // What fits is held in the middle; there is nothing to look for beside it.
                (room.room[axis] - there) / 2.0
            } else {
                let wanted = middle[axis] - centre[axis] * scale;
                wanted.clamp(room.room[axis] - there, 0.0)
            }
        });
        Placement { scale, origin: OnScreen(origin) }
    }

    /// Returns the picture shown `steps` steps larger, the point `at` of the room staying where it
    /// is; without a point, the middle.
    #[must_use]
    pub fn zoomed(&self, steps: f64, at: Option<OnScreen>, room: Room) -> Self {
        let placement = self.placement(room);
        let at = at.unwrap_or_else(|| room.middle());
        let scale = (placement.scale * STEP.powf(steps)).min(LARGEST);
        if scale <= room.fit() {
            return Self::FIT;
        }
        self.at_scale(scale, at, room)
    }

    /// Returns the picture after two fingers moved over it, each with what lay under it.
    #[must_use]
    pub(crate) fn pinched(&self, from: [OnScreen; 2], to: [OnScreen; 2], room: Room) -> Self {
        let apart = |[a, b]: [OnScreen; 2]| a.distance(b).max(1.0);
        let steps = (apart(to) / apart(from)).log(STEP);
        let (before, after) = (OnScreen::mean(from), OnScreen::mean(to));
        self.zoomed(steps, Some(before), room).panned(after - before, room)
    }

    /// Returns the picture with one of its pixels to one of the window's.
    #[must_use]
    pub(crate) fn one_to_one(&self, room: Room) -> Self {
        self.at_scale(1.0, room.middle(), room)
    }

    /// Returns the picture moved by so many pixels of the room.
    #[must_use]
    pub(crate) fn panned(&self, by: [f64; 2], room: Room) -> Self {
        let placement = self.placement(room);
        let centre = placement.to_shown(room.middle() + by.map(|by| -by));
        Self { centre: Some(centre), ..*self }.settled(room)
    }

    /// Returns the picture looked at further right and down by eighths of the room.
    #[must_use]
    pub(crate) fn panned_by_eighths(&self, [right, down]: [i8; 2], room: Room) -> Self {
        let by = [right, down].map(f64::from);
        self.panned([0, 1].map(|axis| -by[axis] * room.room[axis] / 8.0), room)
    }

    /// Returns the picture at a scale with one of its points as near to the middle as its edges
    /// let it be.
    pub fn about(point: Shown, scale: f64, room: Room) -> Self {
        Self { scale: Scale::Times(scale), centre: Some(point) }.settled(room)
    }

    /// Returns the picture moved just so far that a point of it is in sight.
    #[must_use]
    pub(crate) fn showing(&self, point: Shown, room: Room) -> Self {
        const MARGIN: f64 = 40.0;
        let OnScreen([x, y]) = self.placement(room).to_screen(point);
        let into = |at: f64, side: f64| {
            let margin = MARGIN.min(side / 4.0);
            at.clamp(margin, side - margin) - at
        };
        let by = [into(x, room.room[0]), into(y, room.room[1])];
        if by == [0.0, 0.0] { *self } else { self.panned(by, room) }
    }

    fn at_scale(&self, scale: f64, at: OnScreen, room: Room) -> Self {
        let under = self.placement(room).to_shown(at);
        let centre = under + (room.middle() - at).map(|off| off / scale);
        Self { scale: Scale::Times(scale), centre: Some(centre) }.settled(room)
    }

    /// Takes the centre from where the picture really came to lie, so that pushing against an
    /// edge leaves no slack to be pulled back.
    fn settled(self, room: Room) -> Self {
        let centre = self.placement(room).to_shown(room.middle());
        Self { centre: Some(centre), ..self }
    }
}

impl Placement {
    /// Returns the point of the picture under a point of the room.
    pub(crate) fn to_shown(self, at: OnScreen) -> Shown {
        Shown((at - self.origin).map(|off| off / self.scale))
    }

    /// Returns the point of the room over a point of the picture.
    pub(crate) fn to_screen(self, Shown(at): Shown) -> OnScreen {
        self.origin + at.map(|part| part * self.scale)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROOM: Room = Room { picture: [1920.0, 1080.0], room: [960.0, 800.0] };

    fn near(a: Shown, b: Shown) {
        assert!(a.distance(b) < 1e-9, "{a:?} {b:?}");
    }

    #[test]
    fn the_whole_picture_lies_in_the_middle() {
        let placement = Viewport::FIT.placement(ROOM);
        assert_eq!(placement, Placement { scale: 0.5, origin: OnScreen([0.0, 130.0]) });
    }

    #[test]
    fn zooming_keeps_what_is_under_the_pointer() {
        let at = OnScreen([700.0, 420.0]);
        let before = Viewport::FIT.placement(ROOM).to_shown(at);
        let zoomed = Viewport::FIT.zoomed(6.0, Some(at), ROOM);
        near(zoomed.placement(ROOM).to_shown(at), before);
        assert_eq!(zoomed.zoomed(-20.0, None, ROOM), Viewport::FIT);
    }

    #[test]
    fn what_lies_under_two_fingers_goes_with_them() {
        let from = [[400.0, 400.0], [500.0, 420.0]].map(OnScreen);
        let to = [[350.0, 390.0], [650.0, 450.0]].map(OnScreen);
        let before = Viewport::FIT.placement(ROOM);
        let after = Viewport::FIT.pinched(from, to, ROOM).placement(ROOM);
        // Three times as far apart is three times as large.
        assert!((after.scale - 1.5).abs() < 1e-9);
        for finger in 0..2 {
            near(after.to_shown(to[finger]), before.to_shown(from[finger]));
        }
    }

    #[test]
    fn the_picture_cannot_be_pushed_out_of_the_room() {
        let zoomed = Viewport::FIT.one_to_one(ROOM);
        let pushed = zoomed.panned([1e6, 1e6], ROOM).placement(ROOM);
        assert!(pushed.origin.distance(OnScreen([0.0, 0.0])) < 1e-9);
        let pushed = zoomed.panned([-1e6, -1e6], ROOM).placement(ROOM);
        assert!(pushed.origin.distance(OnScreen([960.0 - 1920.0, 800.0 - 1080.0])) < 1e-9);
    }

    #[test]
    fn a_push_against_the_edge_leaves_no_slack() {
        let pushed = Viewport::FIT.one_to_one(ROOM).panned([1e6, 0.0], ROOM);
        let back = pushed.panned([-10.0, 0.0], ROOM).placement(ROOM);
        assert!(back.origin.distance(OnScreen([-10.0, -140.0])) < 1e-9);
    }

    #[test]
    fn there_and_back_is_where_one_began() {
        let placement =
            Viewport::FIT.zoomed(3.0, Some(OnScreen([10.0, 700.0])), ROOM).placement(ROOM);
        let at = Shown([12.5, 3.25]);
        near(placement.to_shown(placement.to_screen(at)), at);
    }
}
