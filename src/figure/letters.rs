//! Words as outlines, in the window's own font.

use std::sync::OnceLock;

use tiny_skia::{Path, PathBuilder};
use ttf_parser::{Face, OutlineBuilder};

/// The font of what counts, on the screen too.
pub const FONT: &[u8] = include_bytes!("../../fonts/SourceSans3-SemiBold.ttf");

fn face() -> Option<&'static Face<'static>> {
    static FACE: OnceLock<Option<Face<'static>>> = OnceLock::new();
    FACE.get_or_init(|| Face::parse(FONT, 0).ok()).as_ref()
}

/// Returns how wide a line of words is, in letters of `size`.
pub(super) fn width(words: &str, size: f32) -> f32 {
    let Some(face) = face() else { return 0.0 };
    words.chars().map(|letter| advance(face, letter)).sum::<f32>() * size
}

/// Returns how high a capital letter is.
pub(super) fn capital(size: f32) -> f32 {
    face().and_then(Face::capital_height).map_or(0.66, |height| share(face(), height)) * size
}

/// Returns the outlines of a line of words that begins at a place of its base line.
pub(super) fn outlines(words: &str, size: f32, [x, y]: [f32; 2]) -> Option<Path> {
    let face = face()?;
    let scale = size / f32::from(face.units_per_em());
    let mut pen = Outlines { path: PathBuilder::new(), at: [x, y], scale };
    for letter in words.chars() {
        if let Some(glyph) = face.glyph_index(letter).or(face.glyph_index('?')) {
            face.outline_glyph(glyph, &mut pen);
        }
        pen.at[0] += advance(face, letter) * size;
    }
    pen.path.finish()
}

/// Returns words in lines of at most `most`, broken between words where that is possible.
pub(super) fn lines(words: &str, size: f32, most: f32) -> Vec<String> {
    let mut lines = Vec::new();
    for part in words.lines() {
        let mut line = String::new();
        for word in part.split_whitespace() {
            let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
            if line.is_empty() || width(&longer, size) <= most {
                line = longer;
            } else {
                lines.push(std::mem::replace(&mut line, word.to_owned()));
            }
        }
        lines.push(line);
    }
    lines
}

fn advance(face: &Face<'_>, letter: char) -> f32 {
    let glyph = face.glyph_index(letter).or(face.glyph_index('?')).unwrap_or_default();
    f32::from(face.glyph_hor_advance(glyph).unwrap_or_default()) / f32::from(face.units_per_em())
}

fn share(face: Option<&Face<'_>>, units: i16) -> f32 {
    face.map_or(0.0, |face| f32::from(units) / f32::from(face.units_per_em()))
}

/// Takes a glyph's outline, whose y goes up, to where it stands.
struct Outlines {
    path: PathBuilder,
    at: [f32; 2],
    scale: f32,
}

impl Outlines {
    fn to(&self, x: f32, y: f32) -> [f32; 2] {
        [self.at[0] + x * self.scale, self.at[1] - y * self.scale]
    }
}

impl OutlineBuilder for Outlines {
    fn move_to(&mut self, x: f32, y: f32) {
        let [x, y] = self.to(x, y);
        self.path.move_to(x, y);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        let [x, y] = self.to(x, y);
        self.path.line_to(x, y);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        let ([x1, y1], [x, y]) = (self.to(x1, y1), self.to(x, y));
        self.path.quad_to(x1, y1, x, y);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let ([x1, y1], [x2, y2], [x, y]) = (self.to(x1, y1), self.to(x2, y2), self.to(x, y));
        self.path.cubic_to(x1, y1, x2, y2, x, y);
    }

    fn close(&mut self) {
        self.path.close();
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sign_of_a_value_is_in_the_font() {
        let face = face().expect("the font is read");
        for sign in "0123456789.,°±−×≈✓✗".chars() {
            assert!(face.glyph_index(sign).is_some(), "{sign}");
        }
    }

    #[test]
    fn a_line_is_broken_where_it_gets_too_long() {
        let one = width("hips below the bar", 15.0);
        let broken = lines("hips below the bar hips below the bar", 15.0, one + 0.1);
        assert_eq!(broken, ["hips below the bar", "hips below the bar"]);
        assert_eq!(lines("incomprehensible", 15.0, 1.0), ["incomprehensible"]);
        assert!((width("aa", 30.0) - 4.0 * width("a", 15.0)).abs() < 1e-3);
    }
}
