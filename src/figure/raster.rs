//! Shapes as pixels: what leaves with a picture looks as it does on the screen.

use tiny_skia::{
    Color, FillRule, Paint, Path, PathBuilder, PixmapMut, Rect, Stroke as Line, StrokeDash,
    Transform,
};

use super::{
    letters,
    pen::{DOT, EDGE, EDGE_COVERS, EDGE_WIDTH, Outline, Pen, plate},
    shape::{Ink, Shape, ShapeForm},
};
use crate::units::{Shown, visible};

/// Where shapes lie on what is painted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Laid {
    /// Pixels painted for each pixel shown, across and down.
    pub scale: [f64; 2],
    /// Where the picture's own top left corner is painted.
    pub at: [f64; 2],
    /// Left, top, right and bottom of the room in which labels stay.
    pub room: [f32; 4],
    /// Pixels painted for a logical pixel: how wide lines are, and how large letters.
    pub unit: f32,
}

impl Laid {
    /// Returns how shapes lie on a picture that is painted over `size` pixels from `at` on.
    pub fn over([width, height]: [u32; 2], at: [u32; 2], shown: [u32; 2]) -> Self {
        let [x, y] = at.map(|side| side as f32);
        let [w, h] = [width as f32, height as f32];
        Self {
            scale: [
                f64::from(width) / f64::from(shown[0].max(1)),
                f64::from(height) / f64::from(shown[1].max(1)),
            ],
            at: at.map(f64::from),
            room: [x, y, x + w, y + h],
            unit: unit([width, height]),
        }
    }

    fn place(&self, Shown([x, y]): Shown) -> [f32; 2] {
        [x.mul_add(self.scale[0], self.at[0]) as f32, y.mul_add(self.scale[1], self.at[1]) as f32]
    }
}

/// Returns the pixels of a logical pixel on a picture: it is taken to be looked at 720 high.
pub fn unit([width, height]: [u32; 2]) -> f32 {
    (width.min(height) as f32 / 720.0).clamp(0.75, 6.0)
}

/// Paints shapes, first lines and dots, then what is written; returns what was painted on: left, top,
/// right and bottom. Nothing where nothing was.
pub fn paint(on: &mut PixmapMut<'_>, shapes: &[Shape], laid: &Laid) -> Option<[f32; 4]> {
    let mut brush = Brush { on, touched: None, unit: laid.unit };
    for shape in shapes {
        match shape {
            Shape::Path { through, ink, stroke } => {
                let through = through.iter().filter(|at| at.is_finite());
                let places: Vec<[f32; 2]> = through.map(|at| laid.place(*at)).collect();
                if let Some(path) = polyline(&places) {
                    brush.line(&path, (stroke.pen(), EDGE_COVERS), ink.over_picture());
                }
            }
            Shape::Dot { at, ink, form } if at.is_finite() => {
                brush.dot(laid.place(*at), *form, ink.over_picture());
            }
            Shape::Dot { .. } | Shape::Label { .. } => {}
        }
    }
    for shape in shapes {
        if let Shape::Label { at, text, ink } = shape
            && at.is_finite()
        {
            brush.label(laid.place(*at), &visible(text), (ink.over_picture(), laid));
        }
    }
    brush.touched
}

/// Paints words over the bottom of a picture, in as many lines as they take; returns what was painted
/// on.
pub fn paint_caption(on: &mut PixmapMut<'_>, words: &str, laid: &Laid) -> Option<[f32; 4]> {
    let mut brush = Brush { on, touched: None, unit: laid.unit };
    let [left, top, right, bottom] = laid.room;
    let (size, room) = (CAPTION * laid.unit, 2.0 * plate::ROOM * laid.unit);
    let lines = letters::lines(&visible(words), size, right - left - 2.0 * room);
    let step = 1.35 * size;
    let high = step.mul_add(lines.len() as f32, 2.0 * room).min(bottom - top);
    brush.fill([left, bottom - high, right, bottom], (EDGE, plate::COVERS));
    for (place, words) in lines.iter().enumerate() {
        let middle = step.mul_add(place as f32 + 0.5, room);
        let base = bottom - high + middle + letters::capital(size) / 2.0;
        brush.write(words, size, ([left + room, base], Ink::Body.over_picture()));
    }
    brush.touched
}

/// Size of a caption's letters.
const CAPTION: f32 = 18.0;

struct Brush<'a, 'b> {
    on: &'a mut PixmapMut<'b>,
    touched: Option<[f32; 4]>,
    unit: f32,
}

impl Brush<'_, '_> {
    fn label(&mut self, at: [f32; 2], words: &str, (ink, laid): ([u8; 3], &Laid)) {
        let (size, room) = (plate::LETTERS * self.unit, plate::ROOM * self.unit);
        let [wide, high] = [letters::width(words, size) + 2.0 * room, size + 2.0 * room];
        let off = plate::OFF.map(|off| off * self.unit);
        let [left, top, right, bottom] = laid.room;
        // A label at the edge is moved back into sight.
        let x = (at[0] + off[0]).min(right - wide).max(left);
        let y = (at[1] - high - off[1]).min(bottom - high).max(top);
        self.fill([x, y, x + wide, y + high], (EDGE, plate::COVERS));
        let base = y + f32::midpoint(high, letters::capital(size));
        self.write(words, size, ([x + room, base], ink));
    }

    fn write(&mut self, words: &str, size: f32, (at, ink): ([f32; 2], [u8; 3])) {
        if let Some(path) = letters::outlines(words, size, at) {
            let (paint, still) = (paint_of(ink, 1.0), Transform::identity());
            self.touch(path.bounds(), 1.0);
            self.on.fill_path(&path, &paint, FillRule::Winding, still, None);
        }
    }

    fn dot(&mut self, [x, y]: [f32; 2], form: ShapeForm, ink: [u8; 3]) {
        for outline in form.outlines() {
            let path = match outline {
                Outline::Circle(radius) => PathBuilder::from_circle(x, y, radius * self.unit),
                Outline::Square(side) => {
                    let half = side * self.unit / 2.0;
                    let rect = Rect::from_ltrb(x - half, y - half, x + half, y + half);
                    rect.map(PathBuilder::from_rect)
                }
            };
            if let Some(path) = path {
                self.line(&path, (DOT, 1.0), ink);
            }
        }
    }

    /// Strokes a path with its edge below it.
    fn line(&mut self, path: &Path, (pen, covers): (Pen, f32), ink: [u8; 3]) {
        let dashes: Vec<f32> = pen.dashes.iter().map(|length| length * self.unit).collect();
        let (dash, still) = (StrokeDash::new(dashes, 0.0), Transform::identity());
        let edge = Line { width: (pen.width + EDGE_WIDTH) * self.unit, dash, ..Line::default() };
        // Where a line turns sharply its corner reaches beyond its width.
        self.touch(path.bounds(), edge.width * edge.miter_limit / 2.0);
        self.on.stroke_path(path, &paint_of(EDGE, covers), &edge, still, None);
        let own = Line { width: pen.width * self.unit, ..edge };
        self.on.stroke_path(path, &paint_of(ink, 1.0), &own, still, None);
    }

    fn fill(&mut self, [x0, y0, x1, y1]: [f32; 4], (ink, covers): ([u8; 3], f32)) {
        if let Some(rect) = Rect::from_ltrb(x0, y0, x1, y1) {
            self.touch(rect, 1.0);
            self.on.fill_rect(rect, &paint_of(ink, covers), Transform::identity(), None);
        }
    }

    fn touch(&mut self, of: Rect, beyond: f32) {
        let own =
            [of.left() - beyond, of.top() - beyond, of.right() + beyond, of.bottom() + beyond];
        self.touched = Some(self.touched.map_or(own, |all| {
            [all[0].min(own[0]), all[1].min(own[1]), all[2].max(own[2]), all[3].max(own[3])]
        }));
    }
}

fn paint_of([r, g, b]: [u8; 3], covers: f32) -> Paint<'static> {
    let mut paint = Paint { anti_alias: true, ..Paint::default() };
    paint.set_color(Color::from_rgba8(r, g, b, (covers * 255.0).round() as u8));
    paint
}

fn polyline(places: &[[f32; 2]]) -> Option<Path> {
    let mut path = PathBuilder::new();
    for (place, [x, y]) in places.iter().enumerate() {
        if place == 0 { path.move_to(*x, *y) } else { path.line_to(*x, *y) }
    }
    path.finish()
}

#[cfg(test)]
mod tests {
    use tiny_skia::Pixmap;

    use super::*;
    use crate::figure::Stroke;

    /// The middle of the pixels of a colour.
    fn middle(of: &Pixmap, ink: [u8; 3]) -> [f64; 2] {
        let own = |pixel: &tiny_skia::PremultipliedColorU8| {
            [pixel.red(), pixel.green(), pixel.blue()] == ink && pixel.alpha() == 255
        };
        let found = of.pixels().iter().enumerate().filter(|(_, pixel)| own(pixel));
        let places = found.map(|(at, _)| {
            let [x, y] = [at as u32 % of.width(), at as u32 / of.width()];
            Shown([f64::from(x) + 0.5, f64::from(y) + 0.5])
        });
        Shown::mean(places.collect::<Vec<_>>()).0
    }

    #[test]
    fn a_line_lies_where_its_ends_do() {
        let mut on = Pixmap::new(200, 100).unwrap();
        let ends = vec![Shown([20.0, 30.0]), Shown([60.0, 30.0])];
        let shape = Shape::Path { through: ends, ink: Ink::Counts, stroke: Stroke::Thick };
        // Twice as large, from 10 pixels down on.
        let laid = Laid { at: [0.0, 10.0], unit: 1.0, ..Laid::over([200, 100], [0, 0], [100, 50]) };
        paint(&mut on.as_mut(), &[shape], &laid);
        let [x, y] = middle(&on, Ink::Counts.over_picture());
        assert!((x - 80.0).abs() < 0.6 && (y - 70.0).abs() < 0.6, "{x} {y}");
    }

    #[test]
    fn a_label_stays_in_its_room() {
        let mut on = Pixmap::new(200, 100).unwrap();
        let label =
            Shape::Label { at: Shown([199.0, 1.0]), text: "5° ± 2°".to_owned(), ink: Ink::Open };
        paint(&mut on.as_mut(), &[label], &Laid::over([200, 100], [0, 0], [200, 100]));
        let [x, y] = middle(&on, Ink::Open.over_picture());
        assert!((150.0..200.0).contains(&x) && (0.0..30.0).contains(&y), "{x} {y}");
    }
}
