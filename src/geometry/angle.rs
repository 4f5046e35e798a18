//! Angles and lengths of lines, in a world with x to one side and y up.

/// How far a line goes in x and in y.
type Line = [f64; 2];

/// Returns the angle of a line above horizontal, -90 to 90 degrees, to whichever side it points.
pub fn elevation([x, y]: Line) -> f64 {
    y.atan2(x.abs()).to_degrees()
}

/// Returns the angle of a line from vertical, up or down whichever is nearer, -90 to 90 degrees;
/// positive on the side of x.
pub fn off_vertical([x, y]: Line) -> f64 {
    let (x, y) = if y < 0.0 { (-x, -y) } else { (x, y) };
    x.atan2(y).to_degrees()
}

/// Returns the angle from `a` to `b` in degrees, above -180 to 180, from the x axis towards the
/// y axis.
pub fn between(a: Line, b: Line) -> f64 {
    let cross = a[0] * b[1] - a[1] * b[0];
    let dot = a[0] * b[0] + a[1] * b[1];
    cross.atan2(dot).to_degrees()
}

/// Returns the angle above -180 to 180 degrees that differs from `degrees` by whole turns.
pub fn wrap(degrees: f64) -> f64 {
    let turned = degrees.rem_euclid(360.0);
    if turned > 180.0 { turned - 360.0 } else { turned }
}

/// Returns how long a line is.
pub(super) fn length([x, y]: Line) -> f64 {
    x.hypot(y)
}
