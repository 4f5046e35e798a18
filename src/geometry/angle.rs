//! Angles and lengths of lines, in a world with x to one side and y up.

/// A position: pixels in the picture (y down), metres or pixels in the world (y up).
pub type Point = [f64; 2];

/// Returns the angle of a line above horizontal, -90 to 90 degrees, to whichever side it points.
pub fn elevation([x, y]: Point) -> f64 {
    y.atan2(x.abs()).to_degrees()
}

/// Returns the angle of a line from vertical, up or down whichever is nearer, -90 to 90 degrees;
/// positive on the side of x.
pub fn off_vertical([x, y]: Point) -> f64 {
    let (x, y) = if y < 0.0 { (-x, -y) } else { (x, y) };
    x.atan2(y).to_degrees()
}

/// Returns the angle from `a` to `b` in degrees, above -180 to 180, from the x axis towards the
/// y axis.
pub fn between(a: Point, b: Point) -> f64 {
    let cross = a[0] * b[1] - a[1] * b[0];
    let dot = a[0] * b[0] + a[1] * b[1];
    cross.atan2(dot).to_degrees()
}

/// Returns the angle above -180 to 180 degrees that differs from `degrees` by whole turns.
pub fn wrap(degrees: f64) -> f64 {
    let turned = degrees.rem_euclid(360.0);
    if turned > 180.0 { turned - 360.0 } else { turned }
}

/// Returns the angle opened at a shared point between two others, 0 to 180 degrees.
pub fn bend(at: Point, ends: [Point; 2]) -> f64 {
    between(minus(ends[0], at), minus(ends[1], at)).abs()
}

pub(super) fn minus(a: Point, b: Point) -> Point {
    [a[0] - b[0], a[1] - b[1]]
}

pub(super) fn middle(points: &[Point], of: &[usize]) -> Point {
    let sum = of.iter().fold([0.0, 0.0], |[x, y], at| [x + points[*at][0], y + points[*at][1]]);
    sum.map(|s| s / of.len() as f64)
}

pub(super) fn length([x, y]: Point) -> f64 {
    x.hypot(y)
}
