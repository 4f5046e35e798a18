//! The hall: wall, floor, mats, and the light.

use tiny_skia::{
    FillRule, GradientStop, LinearGradient, Paint, Pixmap, Point, RadialGradient, Rect, SpreadMode,
    Transform,
};

use super::brush::{self, Blob, Tone, colour, lit};
use crate::camera::View;
use crate::figure::V3;
use crate::scene::{Finish, Scene, Shape, Solid};

const WALL: f64 = 14.0;
const BOARDS: Tone = [193, 176, 152];

/// Paints everything that never moves but rails and uprights, which the athlete may be behind.
pub(super) fn paint(picture: &mut Pixmap, view: &View, scene: &Scene) {
    wall(picture);
    floor(picture, view);
    for solid in &scene.solids {
        if let Some((lo, hi)) = corners(solid) {
            contact_shadow(picture, view, lo, hi);
            block(picture, view, solid, (lo, hi));
        }
    }
    vignette(picture);
}

/// Returns rails and uprights in pieces short enough to be sorted among the limbs.
pub(super) fn rails(scene: &Scene) -> Vec<Blob> {
    const PIECE: f64 = 0.12;
    let mut blobs = Vec::new();
    for solid in &scene.solids {
        let Shape::Bar(a, b, radius) = solid.shape else { continue };
        let pieces = ((b - a).norm() / PIECE).ceil().max(1.0);
        let tone = tone(solid.finish);
        for k in 0..pieces as u32 {
            let at = |k: f64| a + (b - a) * (k / pieces);
            let balls = vec![(at(f64::from(k)), radius), (at(f64::from(k + 1)), radius)];
            blobs.push(Blob { balls, tone, sort_at: None, nearer: 0.0 });
        }
    }
    blobs
}

fn tone(finish: Finish) -> Tone {
    match finish {
        Finish::Wood => [196, 160, 112],
        Finish::Steel => [150, 156, 164],
        Finish::Mat => [74, 112, 164],
        Finish::Soft => [92, 132, 178],
        Finish::Carpet => [138, 156, 178],
    }
}

fn corners(solid: &Solid) -> Option<(V3, V3)> {
    match solid.shape {
        Shape::Block(lo, hi) | Shape::Wedge(lo, hi) => Some((lo, hi)),
        Shape::Bar(..) => None,
    }
}

fn wall(picture: &mut Pixmap) {
    let h = picture.height() as f32;
    let stops = vec![
        GradientStop::new(0.0, colour([205, 212, 218], 1.0)),
        GradientStop::new(1.0, colour([226, 229, 231], 1.0)),
    ];
    let shader = LinearGradient::new(
        Point::from_xy(0.0, 0.0),
        Point::from_xy(0.0, h * 0.7),
        stops,
        SpreadMode::Pad,
        Transform::identity(),
    );
    fill_all(picture, shader);
}

fn floor(picture: &mut Pixmap, view: &View) {
    let at = |x: f64, y: f64| V3::new(x, y, 0.0);
    let quad =
        |x0: f64, x1: f64, y0: f64, y1: f64| [at(x0, y0), at(x1, y0), at(x1, y1), at(x0, y1)];
    let near = view.camera.at[1].min(-6.0) - 2.0;
    for strip in 0..24 {
        // Nearer boards are a little darker, as under a lamp over the apparatus.
        let share = f64::from(strip) / 24.0;
        let y = near + (WALL - near) * share;
        let tone = lit(BOARDS, 0.86 + 0.2 * share);
        brush::fill_face(picture, view, &quad(-40.0, 40.0, y, WALL), tone);
    }
    for k in -40..=40 {
        let x = f64::from(k);
        brush::line(picture, view, [at(x, near), at(x, WALL)], (0.012, [120, 104, 84]), 0.28);
    }
    let skirting =
        [at(-40.0, WALL), at(40.0, WALL), V3::new(40.0, WALL, 0.16), V3::new(-40.0, WALL, 0.16)];
    brush::fill_face(picture, view, &skirting, [168, 172, 176]);
    // A broad stripe along the wall gives the eye a level line.
    let stripe = skirting.map(|p| p + V3::z() * if p.z > 0.0 { 1.5 } else { 1.45 });
    brush::fill_face(picture, view, &stripe, [186, 198, 206]);
}

fn contact_shadow(picture: &mut Pixmap, view: &View, lo: V3, hi: V3) {
    if lo.z > 0.05 {
        return;
    }
    for k in 0..5 {
        let m = 0.03 + 0.035 * f64::from(k);
        let corner = |x: f64, y: f64| V3::new(x, y, lo.z);
        let quad = [
            corner(lo.x - m, lo.y - m),
            corner(hi.x + m, lo.y - m),
            corner(hi.x + m, hi.y + m * 0.3),
            corner(lo.x - m, hi.y + m * 0.3),
        ];
        shade_face(picture, view, &quad);
    }
}

fn shade_face(picture: &mut Pixmap, view: &View, quad: &[V3; 4]) {
    for k in 0..4 {
        brush::line(picture, view, [quad[k], quad[(k + 1) % 4]], (0.06, [40, 36, 30]), 0.05);
    }
}

fn block(picture: &mut Pixmap, view: &View, solid: &Solid, (lo, hi): (V3, V3)) {
    let base = tone(solid.finish);
    let left = if matches!(solid.shape, Shape::Wedge(..)) { lo.z + 0.03 } else { hi.z };
    let p = |x: f64, y: f64, z: f64| V3::new(x, y, z);
    let eye = V3::from(view.camera.at);
    let top = [p(lo.x, lo.y, left), p(hi.x, lo.y, hi.z), p(hi.x, hi.y, hi.z), p(lo.x, hi.y, left)];
    if eye.x < lo.x {
        let face =
            [p(lo.x, lo.y, lo.z), p(lo.x, hi.y, lo.z), p(lo.x, hi.y, left), p(lo.x, lo.y, left)];
        brush::fill_face(picture, view, &face, lit(base, 0.7));
    }
    if eye.x > hi.x {
        let face =
            [p(hi.x, lo.y, lo.z), p(hi.x, hi.y, lo.z), p(hi.x, hi.y, hi.z), p(hi.x, lo.y, hi.z)];
        brush::fill_face(picture, view, &face, lit(base, 0.7));
    }
    if eye.y < lo.y {
        let face =
            [p(lo.x, lo.y, lo.z), p(hi.x, lo.y, lo.z), p(hi.x, lo.y, hi.z), p(lo.x, lo.y, left)];
        brush::fill_face(picture, view, &face, lit(base, 0.8));
    }
    if eye.z > lo.z {
        brush::fill_face(picture, view, &top, lit(base, 1.08));
    }
    seams(picture, view, solid, (lo, hi));
}

/// Draws the joins between mats, which give the eye a measure of length and height.
fn seams(picture: &mut Pixmap, view: &View, solid: &Solid, (lo, hi): (V3, V3)) {
    let dark = (0.012, lit(tone(solid.finish), 0.55));
    if solid.finish == Finish::Soft {
        for k in 1..4 {
            let z = lo.z + (hi.z - lo.z) * f64::from(k) / 4.0;
            let ends = [V3::new(lo.x, lo.y, z), V3::new(hi.x, lo.y, z)];
            brush::line(picture, view, ends, dark, 0.8);
        }
    }
    if solid.finish == Finish::Mat {
        let mut x = lo.x + 2.0;
        while x < hi.x - 0.3 {
            let (near, far) = (V3::new(x, lo.y, hi.z), V3::new(x, hi.y, hi.z));
            brush::line(picture, view, [near, far], dark, 0.5);
            brush::line(picture, view, [near, V3::new(x, lo.y, lo.z)], dark, 0.5);
            x += 2.0;
        }
    }
    let edge = (0.014, lit(tone(solid.finish), 1.25));
    let near = [V3::new(lo.x, lo.y, hi.z), V3::new(hi.x, lo.y, hi.z)];
    if !matches!(solid.shape, Shape::Wedge(..)) {
        brush::line(picture, view, near, edge, 0.6);
    }
}

fn vignette(picture: &mut Pixmap) {
    let (w, h) = (picture.width() as f32, picture.height() as f32);
    let middle = Point::from_xy(w / 2.0, h * 0.45);
    let shader = RadialGradient::new(
        middle,
        middle,
        w.max(h) * 0.72,
        vec![
            GradientStop::new(0.45, colour([20, 24, 32], 0.0)),
            GradientStop::new(1.0, colour([20, 24, 32], 0.26)),
        ],
        SpreadMode::Pad,
        Transform::identity(),
    );
    fill_all(picture, shader);
}

fn fill_all(picture: &mut Pixmap, shader: Option<tiny_skia::Shader<'static>>) {
    let whole = Rect::from_xywh(0.0, 0.0, picture.width() as f32, picture.height() as f32);
    let (Some(whole), Some(shader)) = (whole, shader) else { return };
    let path = tiny_skia::PathBuilder::from_rect(whole);
    let paint = Paint { shader, ..Paint::default() };
    picture.fill_path(&path, &paint, FillRule::Winding, Transform::identity(), None);
}
