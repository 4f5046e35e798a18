//! Draws a chart of the report on the paper.

use iced::{
    Color, Element, Length, Point, Rectangle, Renderer, Size, Theme, alignment, mouse,
    widget::{
        canvas::{self, Canvas, Frame, LineDash, Path, Stroke as Line, Text},
        text::Alignment,
    },
};

use crate::{
    report::document::chart::{ChartPiece, ChartStroke, Drawing, Fill, TextSide},
    units::visible,
    window::theme::{self, size},
};

/// Logical pixels for each unit of a chart.
const SCALE: f32 = 1.2;
/// Width of lines of a scale, in logical pixels.
const THIN: f32 = 1.0;
/// Width of lines that say something.
const THICK: f32 = 1.6;
/// Radius of a dot.
const DOT: f32 = 4.0;

/// Returns the chart as a widget.
pub(crate) fn chart<'a, M: 'a>(drawing: Drawing) -> Element<'a, M> {
    let [width, height] = drawing.size.map(|side| side as f32 * SCALE);
    Canvas::new(Chart(drawing)).width(Length::Fixed(width)).height(Length::Fixed(height)).into()
}

struct Chart(Drawing);

impl<M> canvas::Program<M> for Chart {
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
        for piece in &self.0.pieces {
            one(&mut frame, piece, theme);
        }
        vec![frame.into_geometry()]
    }
}

fn one(frame: &mut Frame, piece: &ChartPiece, theme: &Theme) {
    let colours = theme::colours(theme);
    match piece {
        ChartPiece::Line { ends: [a, b], stroke } => {
            let (width, colour, dashes): (f32, Color, &[f32]) = match stroke {
                ChartStroke::Grid => (THIN, colours.paper_edge, &[]),
                ChartStroke::Axis => (THIN, colours.ink_quiet, &[]),
                ChartStroke::Value => (THICK, colours.ink, &[]),
                ChartStroke::Limit => (THICK, colours.ink, &[7.0, 5.0]),
            };
            let line = Line {
                line_dash: LineDash { segments: dashes, offset: 0 },
                ..Line::default().with_width(width).with_color(colour)
            };
            frame.stroke(&Path::line(at(*a), at(*b)), line);
        }
        ChartPiece::Area { corner, size: [width, height], fill } => {
            let colour = match fill {
                Fill::Bar => Color { a: 0.45, ..colours.ink_quiet },
                Fill::Band => colours.paper_chosen,
            };
            let size = Size::new(*width as f32 * SCALE, *height as f32 * SCALE);
            frame.fill_rectangle(at(*corner), size, colour);
        }
        ChartPiece::Dot(place) => {
            let line = Line::default().with_width(THICK).with_color(colours.ink);
            frame.stroke(&Path::circle(at(*place), DOT), line);
        }
        ChartPiece::Words { at: place, words, side } => frame.fill_text(Text {
            content: visible(words).into_owned(),
            position: at(*place),
            color: colours.ink,
            size: size::SMALL.into(),
            font: theme::FONT,
            align_x: match side {
                TextSide::Start => Alignment::Left,
                TextSide::Middle => Alignment::Center,
                TextSide::End => Alignment::Right,
            },
            align_y: alignment::Vertical::Bottom,
            ..Text::default()
        }),
    }
}

fn at([x, y]: [f64; 2]) -> Point {
    Point::new(x as f32 * SCALE, y as f32 * SCALE)
}
