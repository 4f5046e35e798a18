//! The clip line: the whole length of the clip, with every mark on it; press or drag to go there.

use iced::{
    Color, Element, Event, Length, Point, Rectangle, Renderer, Size, Theme, mouse,
    widget::canvas::{self, Action, Canvas, Frame, Geometry, Path, Stroke},
};

use crate::{
    units::FrameIndex,
    window::{
        screens::clip::Message,
        theme::{self, Colours, Current, part},
    },
};

/// What stands on the line.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Sort {
    /// An element: a tall stroke.
    Element,
    /// Anything else: a short one.
    Other,
    /// Something that is taken off: a triangle.
    Taken,
}

pub(crate) struct ClipLine {
    /// The frame on screen.
    pub frame: FrameIndex,
    /// The last frame.
    pub last: FrameIndex,
    /// What stands where.
    pub marks: Vec<(FrameIndex, Sort)>,
    /// From which frame to which an element reaches, by what hangs under it.
    pub elements: Vec<[FrameIndex; 2]>,
    /// From which frame to which the routines reach; the one that is open is current.
    pub routines: Vec<([FrameIndex; 2], Current)>,
}

impl ClipLine {
    /// Draws the line.
    pub(crate) fn view<'a>(self) -> Element<'a, Message> {
        Canvas::new(self).width(Length::Fill).height(part::CLIP_LINE).into()
    }

    fn x(&self, frame: FrameIndex, width: f32) -> f32 {
        let share = frame.0 as f64 / self.last.0.max(1) as f64;
        EDGE + share as f32 * (width - 2.0 * EDGE)
    }

    fn frame_under(&self, x: f32, width: f32) -> FrameIndex {
        let share = f64::from((x - EDGE) / (width - 2.0 * EDGE).max(1.0));
        FrameIndex((share.clamp(0.0, 1.0) * self.last.0 as f64).round() as u64)
    }

    fn band(&self, frame: &mut Frame, [from, to]: [FrameIndex; 2], band: Band, color: Color) {
        let (left, right) = (self.x(from, frame.width()), self.x(to, frame.width()));
        let size = Size::new(right - left, band.height);
        frame.fill_rectangle(Point::new(left, band.top), size, color);
    }

    fn mark(&self, frame: &mut Frame, (at, sort): (FrameIndex, Sort), colours: &Colours) {
        let x = self.x(at, frame.width());
        let middle = frame.height() / 2.0;
        match sort {
            Sort::Element => bar(frame, x, middle - 11.0, 22.0, colours.stage_accent),
            Sort::Other => bar(frame, x, middle - 5.0, 10.0, colours.on_stage_quiet),
            Sort::Taken => {
                let triangle = Path::new(|path| {
                    path.move_to(Point::new(x - 4.5, middle + 13.0));
                    path.line_to(Point::new(x + 4.5, middle + 13.0));
                    path.line_to(Point::new(x, middle + 5.0));
                    path.close();
                });
                frame.fill(&triangle, colours.on_stage);
            }
        }
    }
}

/// Where a band lies across the line.
#[derive(Clone, Copy)]
struct Band {
    top: f32,
    height: f32,
}

/// Room left at both ends, so that the first and last frame can be hit.
const EDGE: f32 = 8.0;

fn bar(frame: &mut Frame, x: f32, top: f32, height: f32, color: Color) {
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
        theme: &Theme,
        bounds: Rectangle,
        _: mouse::Cursor,
    ) -> Vec<Geometry> {
        let colours = theme::colours(theme);
        let mut frame = Frame::new(renderer, bounds.size());
        let middle = frame.height() / 2.0;
        let line = Path::line(Point::new(EDGE, middle), Point::new(frame.width() - EDGE, middle));
        let stroke = Stroke::default().with_width(2.0).with_color(colours.stage_edge);
        frame.stroke(&line, stroke);
        for element in &self.elements {
            self.band(
                &mut frame,
                *element,
                Band { top: middle - 3.0, height: 6.0 },
                colours.stage_accent,
            );
        }
        for (routine, current) in &self.routines {
            let (height, color) = match current {
                Current::Yes => (4.0, colours.stage_accent),
                Current::No => (2.0, colours.on_stage_quiet),
            };
            self.band(&mut frame, *routine, Band { top: 0.0, height }, color);
        }
        for mark in &self.marks {
            self.mark(&mut frame, *mark, colours);
        }
        let x = self.x(self.frame, frame.width());
        let head = Path::new(|path| {
            path.move_to(Point::new(x - 6.0, 1.0));
            path.line_to(Point::new(x + 6.0, 1.0));
            path.line_to(Point::new(x, 9.0));
            path.close();
        });
        let height = frame.height();
        bar(&mut frame, x, 2.0, height - 4.0, colours.on_stage);
        frame.fill(&head, colours.on_stage);
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
