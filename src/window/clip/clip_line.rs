//! The clip line: the whole length of the clip, with every mark on it; press or drag to go there.

use iced::{
    Element, Event, Length, Point, Rectangle, Renderer, Size, Theme, mouse,
    widget::canvas::{self, Action, Canvas, Frame, Geometry, Path, Stroke},
};

use super::Message;
use crate::window::theme::{self, part};

/// What stands on the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// An element: a tall stroke.
    Element,
    /// Anything else: a short one.
    Other,
    /// Something that is taken off: a triangle.
    Taken,
}

/// The line.
pub struct ClipLine {
    /// The frame on screen.
    pub frame: u64,
    /// The last frame.
    pub last: u64,
    /// What stands where.
    pub marks: Vec<(u64, Sort)>,
}

impl ClipLine {
    /// Draws the line.
    pub fn view<'a>(self) -> Element<'a, Message> {
        Canvas::new(self).width(Length::Fill).height(part::CLIP_LINE).into()
    }

    fn x(&self, frame: u64, width: f32) -> f32 {
        let share = frame as f64 / self.last.max(1) as f64;
        EDGE + share as f32 * (width - 2.0 * EDGE)
    }

    fn frame_under(&self, x: f32, width: f32) -> u64 {
        let share = f64::from((x - EDGE) / (width - 2.0 * EDGE).max(1.0));
        (share.clamp(0.0, 1.0) * self.last as f64).round() as u64
    }

    fn mark(&self, frame: &mut Frame, (at, sort): (u64, Sort)) {
        let x = self.x(at, frame.width());
        let middle = frame.height() / 2.0;
        match sort {
            Sort::Element => bar(frame, x, middle - 11.0, 22.0, theme::STAGE_ACCENT),
            Sort::Other => bar(frame, x, middle - 5.0, 10.0, theme::ON_STAGE_QUIET),
            Sort::Taken => {
                let triangle = Path::new(|path| {
                    path.move_to(Point::new(x - 4.5, middle + 13.0));
                    path.line_to(Point::new(x + 4.5, middle + 13.0));
                    path.line_to(Point::new(x, middle + 5.0));
                    path.close();
                });
                frame.fill(&triangle, theme::ON_STAGE);
            }
        }
    }
}

/// Room left at both ends, so that the first and last frame can be hit.
const EDGE: f32 = 8.0;

fn bar(frame: &mut Frame, x: f32, top: f32, height: f32, color: iced::Color) {
    frame.fill_rectangle(Point::new(x - 1.0, top), Size::new(2.0, height), color);
}

impl canvas::Program<Message> for ClipLine {
    /// Whether the button is held.
    type State = bool;

    fn update(
        &self,
        held: &mut bool,
        event: &Event,
        bounds: Rectangle,
        cursor: mouse::Cursor,
    ) -> Option<Action<Message>> {
        match event {
            Event::Mouse(mouse::Event::ButtonPressed(mouse::Button::Left)) => {
                cursor.position_in(bounds)?;
                *held = true;
            }
            Event::Mouse(mouse::Event::ButtonReleased(mouse::Button::Left)) => {
                *held = false;
                return None;
            }
            Event::Mouse(mouse::Event::CursorMoved { .. }) if *held => {}
            _ => return None,
        }
        let x = cursor.position()?.x - bounds.x;
        let frame = self.frame_under(x, bounds.width);
        Some(Action::publish(Message::FramePointedAt(frame)).and_capture())
    }

    fn draw(
        &self,
        _: &bool,
        renderer: &Renderer,
        _: &Theme,
        bounds: Rectangle,
        _: mouse::Cursor,
    ) -> Vec<Geometry> {
        let mut frame = Frame::new(renderer, bounds.size());
        let middle = frame.height() / 2.0;
        let line = Path::line(Point::new(EDGE, middle), Point::new(frame.width() - EDGE, middle));
        let stroke = Stroke::default().with_width(2.0).with_color(theme::STAGE_EDGE);
        frame.stroke(&line, stroke);
        for mark in &self.marks {
            self.mark(&mut frame, *mark);
        }
        let x = self.x(self.frame, frame.width());
        let head = Path::new(|path| {
            path.move_to(Point::new(x - 6.0, 1.0));
            path.line_to(Point::new(x + 6.0, 1.0));
            path.line_to(Point::new(x, 9.0));
            path.close();
        });
        let height = frame.height();
        bar(&mut frame, x, 2.0, height - 4.0, theme::ON_STAGE);
        frame.fill(&head, theme::ON_STAGE);
        vec![frame.into_geometry()]
    }

    fn mouse_interaction(
        &self,
        _: &bool,
        bounds: Rectangle,
        cursor: mouse::Cursor,
    ) -> mouse::Interaction {
        if cursor.is_over(bounds) { mouse::Interaction::Pointer } else { mouse::Interaction::None }
    }
}
