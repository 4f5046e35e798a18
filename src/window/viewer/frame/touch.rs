//! Fingers on the picture: two make it larger and smaller, one moves it.

use iced::{Point, Rectangle, touch};

use crate::window::viewer::viewport::{Scale, Viewport};

use super::{state::Fingers, view::FrameView};

impl<M> FrameView<'_, M> {
    /// Follows the fingers and returns how the picture is shown after a move.
    pub(crate) fn touched(
        &self,
        event: touch::Event,
        fingers: &mut Fingers,
        bounds: Rectangle,
    ) -> Option<Viewport> {
        match event {
            touch::Event::FingerPressed { id, position } => {
                if bounds.contains(position) {
                    fingers.push((id, position));
                }
                None
            }
            touch::Event::FingerLifted { id, .. } | touch::Event::FingerLost { id, .. } => {
                fingers.retain(|finger| finger.0 != id);
                None
            }
            touch::Event::FingerMoved { id, position } => {
                let before = fingers.clone();
                fingers.iter_mut().find(|finger| finger.0 == id)?.1 = position;
                self.moved(&before, fingers, bounds)
            }
        }
    }

    fn moved(&self, before: &Fingers, after: &Fingers, bounds: Rectangle) -> Option<Viewport> {
        let room = self.room(bounds);
        let inside = |at: Point| [f64::from(at.x - bounds.x), f64::from(at.y - bounds.y)];
        match (&before[..], &after[..]) {
            ([(_, a), (_, b)], [(_, c), (_, d)]) => {
                let (from, to) = ([*a, *b].map(inside), [*c, *d].map(inside));
                Some(self.viewport.pinched(from, to, room))
            }
            ([(_, from)], [(_, to)]) if self.viewport.scale() != Scale::Fit => {
                let by = *to - *from;
                Some(self.viewport.panned([by.x.into(), by.y.into()], room))
            }
            _ => None,
        }
    }
}
