//! What the mouse does on the picture: zooming, moving, clicking, taking hold of points.

use iced::{Point, Rectangle, mouse};

use crate::window::viewer::viewport::{Room, Scale, Viewport};

use super::{
    state::{Press, State},
    told::Pointer,
    view::FrameView,
};

/// How near to a handle, in logical pixels, a press takes hold of it.
const HANDLE_REACH: f64 = 9.0;
/// How far a press may move and still be a click.
const CLICK_SLACK: f32 = 3.0;

impl<M> FrameView<'_, M> {
    pub(crate) fn mouse(
        &self,
        event: &mouse::Event,
        state: &mut State,
        at: Option<Point>,
        bounds: Rectangle,
    ) -> Option<Viewport> {
        let room = self.room(bounds);
        match event {
            mouse::Event::WheelScrolled { delta } => {
                let steps = match delta {
                    mouse::ScrollDelta::Lines { y, .. } => f64::from(*y),
                    mouse::ScrollDelta::Pixels { y, .. } => f64::from(*y) / 40.0,
                };
                let at = at?;
                Some(self.viewport.zoomed(steps, Some([at.x.into(), at.y.into()]), room))
            }
            mouse::Event::ButtonPressed(mouse::Button::Left) => {
                state.drag = Some(at?);
                None
            }
            mouse::Event::ButtonReleased(mouse::Button::Left) => {
                state.drag = None;
                None
            }
            mouse::Event::CursorMoved { position } => {
                let now = Point::new(position.x - bounds.x, position.y - bounds.y);
                let before = state.drag.replace(now).filter(|_| state.drag.is_some());
                self.drag(state, before, now, room)
            }
            _ => None,
        }
    }

    /// Returns what the pointer tells while points are placed.
    pub(crate) fn point(
        &self,
        event: &mouse::Event,
        state: &mut State,
        at: Point,
        room: Room,
    ) -> Option<Pointer> {
        // Without handles nothing is being placed as far as this view knows; but the key that
        // begins it may have come just before the click, so clicks are told all the same.
        let handles = self.handles.as_deref().unwrap_or_default();
        let placement = self.viewport.placement(room);
        let here = placement.to_picture([at.x.into(), at.y.into()]);
        match event {
            mouse::Event::ButtonPressed(mouse::Button::Left) => {
                let [x, y] = [f64::from(at.x), f64::from(at.y)];
                let far = |handle: &[f64; 2]| {
                    let [hx, hy] = placement.to_room(*handle);
                    (hx - x).hypot(hy - y)
                };
                let near = handles.iter().enumerate().map(|(i, handle)| (i, far(handle)));
                let near = near.min_by(|a, b| a.1.total_cmp(&b.1));
                let handle = near.filter(|near| near.1 <= HANDLE_REACH).map(|near| near.0);
                state.press = Some(Press { at, handle, moved: false });
                None
            }
            mouse::Event::CursorMoved { .. } => {
                let here_only = self.handles.as_ref().map(|_| Pointer::At(here));
                let Some(press) = &mut state.press else { return here_only };
                press.moved |= press.at.distance(at) > CLICK_SLACK;
                match press.handle.filter(|_| press.moved) {
                    Some(handle) => Some(Pointer::Held(handle, here)),
                    None => here_only,
                }
            }
            mouse::Event::ButtonReleased(mouse::Button::Left) => {
                let press = state.press.take()?;
                match (press.moved, press.handle) {
                    (false, _) => Some(Pointer::Clicked(here)),
                    (true, Some(handle)) => Some(Pointer::LetGo(handle, here)),
                    (true, None) => None,
                }
            }
            _ => None,
        }
    }

    pub(crate) fn drag(
        &self,
        state: &mut State,
        before: Option<Point>,
        now: Point,
        room: Room,
    ) -> Option<Viewport> {
        let Some(before) = before else {
            state.drag = None;
            return None;
        };
        if self.viewport.scale() == Scale::Fit {
            return None;
        }
        let by = now - before;
        Some(self.viewport.panned([by.x.into(), by.y.into()], room))
    }
}
