//! The small figure of what is asked of an angle.

use maud::{Markup, html};

use crate::{geometry::Drawn, rulebook::Angle};

/// Returns a small figure of the target: the line it is held against, and the line asked for;
/// none of a length.
pub(super) fn figure(angle: &Angle) -> Option<Markup> {
    let (held, asked) = directions(angle)?;
    let end = |degrees: f64| {
        let radians = degrees.to_radians();
        (10.0 * radians.sin(), -10.0 * radians.cos())
    };
    let ((hx, hy), (ax, ay)) = (end(held), end(asked));
    Some(html! {
        svg viewBox="-11 -11 22 22" role="img" aria-label=(angle.asks()) {
            line.held x1="0" y1="0" x2=(coordinate(hx)) y2=(coordinate(hy)) {}
            line x1="0" y1="0" x2=(coordinate(ax)) y2=(coordinate(ay)) {}
        }
    })
}

/// Returns the two directions in degrees from straight up, clockwise.
fn directions(angle: &Angle) -> Option<(f64, f64)> {
    let target = angle.target.0;
    Some(match angle.quantity.drawn() {
        // Above the level line is positive, and that line goes to the right.
        Drawn::AboveLevel => (90.0, 90.0 - target),
        Drawn::Opening => (180.0 - target / 2.0, 180.0 + target / 2.0),
        Drawn::OffUpright => (0.0, target),
        Drawn::Nothing => return None,
    })
}

/// Returns a coordinate to a tenth; adding 0 takes the sign from a zero.
fn coordinate(value: f64) -> String {
    format!("{:.1}", (value * 10.0).round() / 10.0 + 0.0)
}
