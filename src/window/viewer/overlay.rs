//! Draws shapes over the picture, where the picture lies.

use iced::{
    Element, Length, Point, Rectangle, Renderer, Size, Theme, Vector, mouse,
    widget::canvas::{self, Canvas, Frame, LineDash, Path, Stroke as Line, Text},
};

use crate::{
    figure::{
        DOT, EDGE_COVERS, EDGE_WIDTH, Outline, Shape, ShapeForm, Stroke, plate as label_plate,
    },
    units::{OnScreen, Shown},
    window::theme,
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
    let pen = stroke.pen();
    let drawn = Path::new(|path| {
        for (place, at) in through.iter().enumerate() {
            if place == 0 { path.move_to(*at) } else { path.line_to(*at) }
        }
    });
    let line = |width: f32, colour| Line {
        line_dash: LineDash { segments: pen.dashes, offset: 0 },
        ..Line::default().with_width(width).with_color(colour)
    };
    let edge = iced::Color { a: EDGE_COVERS, ..ink::EDGE };
    frame.stroke(&drawn, line(pen.width + EDGE_WIDTH, edge));
    frame.stroke(&drawn, line(pen.width, colour));
}

fn dot(frame: &mut Frame, at: Point, colour: iced::Color, form: ShapeForm) {
    for outline in form.outlines() {
        let outline = match *outline {
            Outline::Circle(radius) => Path::circle(at, radius),
            Outline::Square(side) => {
                Path::rectangle(at - Vector::new(side / 2.0, side / 2.0), Size::new(side, side))
            }
        };
        let line = |width| Line::default().with_width(width);
        frame.stroke(&outline, line(DOT.width + EDGE_WIDTH).with_color(ink::EDGE));
        frame.stroke(&outline, line(DOT.width).with_color(colour));
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
    let (pad, letters) = (label_plate::ROOM, label_plate::LETTERS);
    let plate =
        Size::new(text.chars().count() as f32 * letters * LETTER + 2.0 * pad, letters + 2.0 * pad);
    let room = frame.size();
    let [right, above] = label_plate::OFF;
    let wanted = at + Vector::new(right, -plate.height - above);
    // A label at the edge is moved back into sight.
    let corner = Point::new(
        wanted.x.clamp(0.0, (room.width - plate.width).max(0.0)),
        wanted.y.clamp(0.0, (room.height - plate.height).max(0.0)),
    );
    frame.fill_rectangle(corner, plate, iced::Color { a: label_plate::COVERS, ..ink::EDGE });
    frame.fill_text(Text {
        content: text.to_owned(),
        position: corner + Vector::new(pad, pad - 1.0),
        color: colour,
        size: letters.into(),
        font: theme::STRONG,
        ..Text::default()
    });
}
