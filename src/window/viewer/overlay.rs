//! Draws shapes over the picture, where the picture lies.

use iced::{
    Element, Length, Point, Rectangle, Renderer, Size, Theme, Vector, mouse,
    widget::canvas::{self, Canvas, Frame, LineDash, Path, Stroke as Line, Text},
};

use crate::{
    figure::{Shape, ShapeForm, Stroke},
    units::{OnScreen, Shown},
    window::theme::{self, size},
};

use super::{
    ink,
    viewport::{Placement, Room, Viewport},
};

/// Shapes over a picture, and where in its room the picture lies.
pub(crate) struct Overlay {
    /// What is drawn.
    pub shapes: Vec<Shape>,
    /// Zoom and pan of the picture.
    pub viewport: Viewport,
    /// Width and height of the upright picture.
    pub picture: [f64; 2],
    /// A place marked by a cross over the whole room.
    pub cross: Option<Shown>,
}

impl Overlay {
    /// Returns the widget, which leaves the mouse to what lies below.
    pub(crate) fn view<'a, M: 'a>(self) -> Element<'a, M> {
        Canvas::new(self).width(Length::Fill).height(Length::Fill).into()
    }
}

impl<M> canvas::Program<M> for Overlay {
    type State = ();

    fn draw(
        &self,
        (): &(),
        renderer: &Renderer,
        theme: &Theme,
        bounds: Rectangle,
        _: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let room = [f64::from(bounds.width), f64::from(bounds.height)];
        let placement = self.viewport.placement(Room { picture: self.picture, room });
        let place = |at: Shown| to_point(placement, at);
        let colours = theme::colours(theme);
        let mut frame = Frame::new(renderer, bounds.size());
        if let Some(at) = self.cross.map(place) {
            cross(&mut frame, at, theme::STAGE_ACCENT(colours));
        }
        for shape in &self.shapes {
            match shape {
                Shape::Path { through, ink, stroke } => {
                    let through: Vec<Point> = through.iter().map(|at| place(*at)).collect();
                    path(&mut frame, &through, ink::tint(*ink)(colours), *stroke);
                }
                Shape::Dot { at, ink, form } => {
                    dot(&mut frame, place(*at), ink::tint(*ink)(colours), *form);
                }
                Shape::Label { .. } => {}
            }
        }
        let mut labels = Frame::new(renderer, bounds.size());
        for shape in &self.shapes {
            if let Shape::Label { at, text, ink } = shape {
                label(&mut labels, place(*at), text, ink::tint(*ink)(colours));
            }
        }
        vec![frame.into_geometry(), labels.into_geometry()]
    }
}

fn to_point(placement: Placement, at: Shown) -> Point {
    let OnScreen([x, y]) = placement.to_screen(at);
    Point::new(x as f32, y as f32)
}

fn path(frame: &mut Frame, through: &[Point], colour: iced::Color, stroke: Stroke) {
    let (width, dashes): (f32, &[f32]) = match stroke {
        Stroke::Thin => (1.5, &[]),
        Stroke::Thick => (3.0, &[]),
        Stroke::Dashed => (2.0, &[7.0, 5.0]),
    };
    let drawn = Path::new(|path| {
        for (place, at) in through.iter().enumerate() {
            if place == 0 { path.move_to(*at) } else { path.line_to(*at) }
        }
    });
    let line = |width: f32, colour| Line {
        line_dash: LineDash { segments: dashes, offset: 0 },
        ..Line::default().with_width(width).with_color(colour)
    };
    frame.stroke(&drawn, line(width + 2.0, iced::Color { a: 0.7, ..ink::EDGE }));
    frame.stroke(&drawn, line(width, colour));
}

fn dot(frame: &mut Frame, at: Point, colour: iced::Color, form: ShapeForm) {
    // Rings leave the very pixel that was clicked in sight.
    let ring = |radius: f32| Path::circle(at, radius);
    let square = || Path::rectangle(at - Vector::new(5.0, 5.0), Size::new(10.0, 10.0));
    let outlines = match form {
        ShapeForm::Ring => vec![ring(5.0)],
        ShapeForm::Chosen => vec![ring(5.0), ring(9.0)],
        ShapeForm::Square => vec![square()],
    };
    for outline in outlines {
        frame.stroke(&outline, Line::default().with_width(4.0).with_color(ink::EDGE));
        frame.stroke(&outline, Line::default().with_width(2.0).with_color(colour));
    }
}

fn cross(frame: &mut Frame, at: Point, colour: iced::Color) {
    let size = frame.size();
    let lines = [
        [Point::new(0.0, at.y), Point::new(size.width, at.y)],
        [Point::new(at.x, 0.0), Point::new(at.x, size.height)],
    ];
    for [a, b] in lines {
        let line = Path::line(a, b);
        frame.stroke(&line, Line::default().with_width(2.0).with_color(ink::EDGE));
        frame.stroke(&line, Line::default().with_width(1.0).with_color(colour));
    }
}

/// Width of a letter over its size, about; a plate a little too wide does no harm.
const LETTER: f32 = 0.52;

fn label(frame: &mut Frame, at: Point, text: &str, colour: iced::Color) {
    let pad = theme::space::TIGHT;
    let plate = Size::new(
        text.chars().count() as f32 * size::BODY * LETTER + 2.0 * pad,
        size::BODY + 2.0 * pad,
    );
    let room = frame.size();
    let wanted = at + Vector::new(theme::space::MIDDLE, -plate.height - theme::space::SMALL);
    // A label at the edge is moved back into sight.
    let corner = Point::new(
        wanted.x.clamp(0.0, (room.width - plate.width).max(0.0)),
        wanted.y.clamp(0.0, (room.height - plate.height).max(0.0)),
    );
    frame.fill_rectangle(corner, plate, iced::Color { a: 0.82, ..ink::EDGE });
    frame.fill_text(Text {
        content: text.to_owned(),
        position: corner + Vector::new(pad, pad - 1.0),
        color: colour,
        size: size::BODY.into(),
        font: theme::STRONG,
        ..Text::default()
    });
}
