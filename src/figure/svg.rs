//! Shapes as an SVG picture for a page.

use std::fmt::Write as _;

use super::shape::{Ink, Shape, ShapeForm, Stroke};
use crate::units::Shown;

/// Width of the drawing on a page, in its own units.
const WIDTH: f64 = 320.0;
/// Room round the shapes, as a share of their size.
const ROOM: f64 = 0.15;

/// Returns the shapes as an SVG element cropped to them, with `title` for those who do not see it;
/// nothing where there is nothing to draw.
pub fn svg(shapes: &[Shape], title: &str) -> Option<String> {
    let [low, high] = extent(shapes)?;
    let size = (high[0] - low[0]).max(high[1] - low[1]).max(1.0);
    let room = size * ROOM;
    let scale = WIDTH / (size + 2.0 * room);
    let place = |Shown([x, y]): Shown| [(x - low[0] + room) * scale, (y - low[1] + room) * scale];
    let [w, h] = [0, 1].map(|axis| (high[axis] - low[axis] + 2.0 * room) * scale);
    let mut out = String::new();
    // Writing to a string cannot fail.
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{w:.0}\" height=\"{h:.0}\" \
         viewBox=\"0 0 {w:.0} {h:.0}\"><title>{}</title>",
        escaped(title)
    );
    for shape in shapes {
        draw(&mut out, shape, place);
    }
    out.push_str("</svg>");
    Some(out)
}

fn draw(out: &mut String, shape: &Shape, place: impl Fn(Shown) -> [f64; 2]) {
    let _ = match shape {
        Shape::Path { through, ink, stroke } => {
            let points: Vec<String> = through
                .iter()
                .map(|point| {
                    let [x, y] = place(*point);
                    format!("{x:.1},{y:.1}")
                })
                .collect();
            let (width, dash) = match stroke {
                Stroke::Thin => (1.2, ""),
                Stroke::Thick => (3.0, ""),
                Stroke::Dashed => (1.6, " stroke-dasharray=\"6 4\""),
            };
            write!(
                out,
                "<polyline points=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{width}\"{dash}/>",
                points.join(" "),
                colour(*ink)
            )
        }
        Shape::Dot { at, ink, form } => {
            let ([x, y], colour) = (place(*at), colour(*ink));
            match form {
                ShapeForm::Square => write!(
                    out,
                    "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"6\" height=\"6\" fill=\"none\" \
                     stroke=\"{colour}\"/>",
                    x - 3.0,
                    y - 3.0
                ),
                ShapeForm::Ring | ShapeForm::Chosen => write!(
                    out,
                    "<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"3.5\" fill=\"#fff\" \
                     stroke=\"{colour}\"/>"
                ),
            }
        }
        Shape::Label { at, text, ink } => {
            let [x, y] = place(*at);
            write!(
                out,
                "<text x=\"{:.1}\" y=\"{:.1}\" font-size=\"13\" fill=\"{}\">{}</text>",
                x + 8.0,
                y - 6.0,
                colour(*ink),
                escaped(text)
            )
        }
    };
}

/// Dark enough for white paper; what is decided is said in words too.
const fn colour(ink: Ink) -> &'static str {
    match ink {
        Ink::Body => "#51605f",
        Ink::Counts | Ink::World => "#0b5f5c",
        Ink::Met => "#216238",
        Ink::Missed => "#982a20",
        Ink::Open | Ink::Asked => "#774700",
    }
}

fn extent(shapes: &[Shape]) -> Option<[[f64; 2]; 2]> {
    let points = shapes.iter().flat_map(|shape| match shape {
        Shape::Path { through, .. } => through.clone(),
        Shape::Dot { at, .. } | Shape::Label { at, .. } => vec![*at],
    });
    let ends = points.filter(|point| point.is_finite());
    ends.fold(None, |ends, Shown(point)| {
        let [low, high] = ends.unwrap_or([point, point]);
        Some([
            [0, 1].map(|axis| low[axis].min(point[axis])),
            [0, 1].map(|axis| high[axis].max(point[axis])),
        ])
    })
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_drawing_is_cropped_to_its_shapes_and_keeps_its_words_safe() {
        let line = |a, b| Shape::Path {
            through: vec![Shown(a), Shown(b)],
            ink: Ink::Counts,
            stroke: Stroke::Thick,
        };
        let label =
            Shape::Label { at: Shown([300.0, 200.0]), text: "5° < 10°".into(), ink: Ink::Open };
        let drawn = svg(&[line([100.0, 200.0], [300.0, 200.0]), label], "a & b").unwrap();
        // 200 wide with 30 on either side is 260 pixels, shown 320 wide.
        assert!(drawn.contains("points=\"36.9,36.9 283.1,36.9\""), "{drawn}");
        assert!(drawn.contains("5° &lt; 10°") && drawn.contains("<title>a &amp; b</title>"));
        assert_eq!(svg(&[], "nothing"), None);
    }
}
