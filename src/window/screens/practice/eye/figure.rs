//! Draws a figure of the eye training on the stage.

use iced::{
    Color, Element, Length, Point, Rectangle, Renderer, Size, Theme, Vector, alignment, mouse,
    widget::{
        canvas::{self, Canvas, Frame, LineCap, LineDash, LineJoin, Path, Stroke, Text},
        text::Alignment,
    },
};

use crate::{
    practice::eye::Figure,
    window::theme::{self, size},
};

/// Share of the room that a figure takes at most.
const ROOM: f64 = 0.8;
/// Share of the room's height that one unit of the figure takes at most.
const UNIT: f64 = 0.34;
/// Widths of limbs, of apparatus and of what shows the truth, in logical pixels.
const WIDTHS: [f32; 3] = [7.0, 3.0, 2.0];
/// Radius of the head in units of the figure.
const HEAD: f64 = 0.11;
/// Width of the plate under the angle, in sizes of its text.
const PLATE: f32 = 1.9;
/// Dashes of the line from which the angle is counted.
const DASHES: &[f32] = &[8.0, 6.0];

/// A figure, with the truth where it is told.
pub(crate) struct FigureView<'a> {
    /// The figure.
    pub figure: &'a Figure,
    /// The angle in words, drawn with its arc.
    pub truth: Option<String>,
}

impl<'a> FigureView<'a> {
    /// Returns the widget.
    pub(crate) fn view<M: 'a>(self) -> Element<'a, M> {
        Canvas::new(self).width(Length::Fill).height(Length::Fill).into()
    }

    fn draw_all(&self, frame: &mut Frame, theme: &Theme, room: Rectangle) {
        let colours = theme::colours(theme);
        let [body, quiet, accent] =
            [theme::ON_STAGE, theme::ON_STAGE_QUIET, theme::STAGE_ACCENT].map(|tint| tint(colours));
        let place = self.placing(room);
        let [limb, fixed, thin] = WIDTHS;
        for line in &self.figure.fixed {
            frame.stroke(&path(line, &place), stroke(fixed, quiet, &[]));
        }
        for [a, b] in &self.figure.limbs {
            let ends = [a, b].map(|joint| self.figure.joints[*joint].1);
            frame.stroke(&path(&ends, &place), stroke(limb, body, &[]));
        }
        for (name, at) in &self.figure.joints {
            if *name == "head" {
                let radius = place([HEAD, 0.0]).x - place([0.0, 0.0]).x;
                frame.fill(&Path::circle(place(*at), radius), body);
            }
        }
        for (word, at) in &self.figure.labels {
            frame.fill_text(words(word, place(*at), quiet, size::BODY));
        }
        let Some(truth) = &self.truth else { return };
        for line in &self.figure.from {
            frame.stroke(&path(line, &place), stroke(thin, accent, DASHES));
        }
        frame.stroke(&path(&self.figure.arc, &place), stroke(fixed, accent, &[]));
        if let Some(at) = self.figure.beside_arc().map(&place) {
            // A plate keeps the number apart from limbs that it may lie on.
            let plate = Size::new(size::TITLE * PLATE, size::TITLE);
            let corner = at - Vector::new(plate.width / 2.0, plate.height / 2.0);
            frame.fill_rectangle(corner, plate, Color { a: 0.82, ..theme::STAGE });
            frame.fill_text(words(truth, at, accent, size::TITLE));
        }
    }

    /// Returns where in the room a point of the figure lies.
    fn placing(&self, room: Rectangle) -> impl Fn([f64; 2]) -> Point + use<> {
        let [low, high] = self.figure.extent();
        let [width, height] = [f64::from(room.width), f64::from(room.height)];
        let [across, up] = [0, 1].map(|axis| (high[axis] - low[axis]).max(f64::EPSILON));
        let scale = (width * ROOM / across).min(height * ROOM / up).min(height * UNIT);
        move |[x, y]| {
            let from_middle =
                [x - f64::midpoint(low[0], high[0]), y - f64::midpoint(low[1], high[1])];
            Point::new(
                (width / 2.0 + from_middle[0] * scale) as f32,
                (height / 2.0 - from_middle[1] * scale) as f32,
            )
        }
    }
}

impl<M> canvas::Program<M> for FigureView<'_> {
    type State = ();

    fn draw(
        &self,
        (): &(),
        renderer: &Renderer,
        theme: &Theme,
        bounds: Rectangle,
        _: mouse::Cursor,
    ) -> Vec<canvas::Geometry> {
        let mut frame = Frame::new(renderer, bounds.size());
        self.draw_all(&mut frame, theme, bounds);
        vec![frame.into_geometry()]
    }
}

fn path(through: &[[f64; 2]], place: &impl Fn([f64; 2]) -> Point) -> Path {
    Path::new(|path| {
        for (number, at) in through.iter().enumerate() {
            let at = place(*at);
            if number == 0 { path.move_to(at) } else { path.line_to(at) }
        }
    })
}

fn stroke(width: f32, colour: Color, dashes: &'static [f32]) -> Stroke<'static> {
    Stroke {
        line_dash: LineDash { segments: dashes, offset: 0 },
        line_cap: LineCap::Round,
        line_join: LineJoin::Round,
        ..Stroke::default().with_width(width).with_color(colour)
    }
}

fn words(content: &str, position: Point, color: Color, size: f32) -> Text {
    Text {
        content: content.to_owned(),
        position,
        color,
        size: size.into(),
        font: theme::STRONG,
        align_x: Alignment::Center,
        align_y: alignment::Vertical::Center,
        ..Text::default()
    }
}
