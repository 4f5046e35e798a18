//! The soft shadow under the figure.

use tiny_skia::{
    FillRule, GradientStop, Paint, PathBuilder, Pixmap, Point, RadialGradient, SpreadMode,
    Transform,
};

use super::athlete;
use super::brush::colour;
use crate::camera::View;
use crate::figure::{Skeleton, V3};
use crate::scene::Scene;

/// Darkens what lies under each part of the body; the higher the part, the wider and fainter.
pub(super) fn paint(picture: &mut Pixmap, view: &View, scene: &Scene, skeleton: &Skeleton) {
    for (p, radius) in athlete::shadow_points(skeleton) {
        let top = scene.top(p.x, p.y);
        let height = (p.z - top).max(0.0);
        let strength = 0.16 / (1.0 + 1.6 * height);
        spot(
            picture,
            view,
            (V3::new(p.x, p.y, top), radius + 0.10 + 0.16 * height),
            strength as f32,
        );
    }
}

fn spot(picture: &mut Pixmap, view: &View, (at, radius): (V3, f64), strength: f32) {
    let Some((x, y, far)) = view.project(at) else { return };
    let rx = (radius * view.camera.focal / far) as f32;
    let rise = (view.camera.at[2] - at.z) / far;
    let flat = rise.clamp(0.06, 1.0) as f32;
    let Some(circle) = PathBuilder::from_circle(0.0, 0.0, 1.0) else { return };
    let stops = vec![
        GradientStop::new(0.0, colour([24, 22, 26], strength)),
        GradientStop::new(0.5, colour([24, 22, 26], strength * 0.55)),
        GradientStop::new(1.0, colour([24, 22, 26], 0.0)),
    ];
    let middle = Point::from_xy(0.0, 0.0);
    let shader =
        RadialGradient::new(middle, middle, 1.0, stops, SpreadMode::Pad, Transform::identity());
    let Some(shader) = shader else { return };
    let paint = Paint { shader, anti_alias: true, ..Paint::default() };
    let place = Transform::from_row(rx, 0.0, 0.0, rx * flat, x as f32, y as f32);
    picture.fill_path(&circle, &paint, FillRule::Winding, place, None);
}
