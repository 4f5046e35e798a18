//! Fills shapes: convex hulls of round ends for limbs, polygons for flat faces.

use tiny_skia::{
    Color, FillRule, GradientStop, LinearGradient, Paint, Path, PathBuilder, Pixmap, Point,
    SpreadMode, Stroke, Transform,
};

use crate::camera::View;
use crate::figure::V3;

/// A colour as red, green, blue, each 0 to 255.
pub(super) type Tone = [u8; 3];

/// A tapered piece of a body or bar: the hull of balls, each a centre and a radius in metres.
#[derive(Clone, Debug)]
pub(super) struct Blob {
    /// The balls; shading runs across the line from the first to the last.
    pub balls: Vec<(V3, f64)>,
    /// Base colour.
    pub tone: Tone,
    /// The point by whose distance it is sorted; none for the middle of its balls.
    pub sort_at: Option<V3>,
    /// Metres by which it is sorted nearer to the camera than it is.
    pub nearer: f64,
}

/// Paints blobs from the farthest to the nearest; what lies beyond `middle` is a little darker.
pub(super) fn paint(picture: &mut Pixmap, view: &View, blobs: Vec<Blob>, middle: V3) {
    let centre = view.camera.seen(middle).z;
    let mut sorted: Vec<(f64, Blob)> =
        blobs.into_iter().map(|b| (depth(view, &b) - b.nearer, b)).collect();
    sorted.sort_by(|a, b| b.0.total_cmp(&a.0));
    for (far, blob) in sorted {
        let shade = 1.0 - ((far - centre) * 0.9).clamp(-0.02, 0.16);
        paint_blob(picture, view, &blob, shade);
    }
}

/// Returns the tone with its brightness multiplied by `by`.
pub(super) fn lit(tone: Tone, by: f64) -> Tone {
    tone.map(|c| (f64::from(c) * by).round().clamp(0.0, 255.0) as u8)
}

/// Fills a flat polygon in space, clipped to what lies in front of the camera.
pub(super) fn fill_face(picture: &mut Pixmap, view: &View, corners: &[V3], tone: Tone) {
    let clipped = in_front(view, corners);
    let Some(path) = polygon(&clipped) else { return };
    let mut paint = Paint { anti_alias: true, ..Paint::default() };
    paint.set_color(colour(tone, 1.0));
    picture.fill_path(&path, &paint, FillRule::Winding, Transform::identity(), None);
}

/// Draws a line in space, `width` in metres, seen through at `alpha`.
pub(super) fn line(
    picture: &mut Pixmap,
    view: &View,
    [a, b]: [V3; 2],
    (width, tone): (f64, Tone),
    alpha: f32,
) {
    let ends = in_front(view, &[a, b]);
    let (Some(p), Some(q)) = (ends.first(), ends.get(1)) else { return };
    let mut path = PathBuilder::new();
    path.move_to(p.0 as f32, p.1 as f32);
    path.line_to(q.0 as f32, q.1 as f32);
    let Some(path) = path.finish() else { return };
    let far = view.camera.seen((a + b) / 2.0).z.max(0.5);
    let width = (width * view.camera.focal / far).max(0.6) as f32;
    let mut paint = Paint { anti_alias: true, ..Paint::default() };
    paint.set_color(colour(tone, alpha));
    let stroke = Stroke { width, ..Stroke::default() };
    picture.stroke_path(&path, &paint, &stroke, Transform::identity(), None);
}

/// Returns a colour that is seen through at `alpha`, 0 to 1.
pub(super) fn colour([r, g, b]: Tone, alpha: f32) -> Color {
    Color::from_rgba8(r, g, b, (alpha.clamp(0.0, 1.0) * 255.0).round() as u8)
}

fn depth(view: &View, blob: &Blob) -> f64 {
    if let Some(p) = blob.sort_at {
        return view.camera.seen(p).z;
    }
    let sum: f64 = blob.balls.iter().map(|(p, _)| view.camera.seen(*p).z).sum();
    sum / blob.balls.len() as f64
}

fn paint_blob(picture: &mut Pixmap, view: &View, blob: &Blob, shade: f64) {
    let mut circles = Vec::with_capacity(blob.balls.len());
    for (p, r) in &blob.balls {
        let Some((x, y, z)) = view.project(*p) else { return };
        circles.push((x, y, (r * view.camera.focal / z).max(0.4)));
    }
    let Some(path) = hull(&circles) else { return };
    let paint = Paint {
        shader: across(&circles, lit(blob.tone, shade)),
        anti_alias: true,
        ..Paint::default()
    };
    picture.fill_path(&path, &paint, FillRule::Winding, Transform::identity(), None);
}

/// Returns a gradient across the piece, lit from above and a little from the left.
fn across(circles: &[(f64, f64, f64)], tone: Tone) -> tiny_skia::Shader<'static> {
    let plain = || tiny_skia::Shader::SolidColor(colour(tone, 1.0));
    let Some((a, b)) = ends(circles) else { return plain() };
    let light = (-0.35, -0.94);
    let along = (b.0 - a.0, b.1 - a.1);
    let length = along.0.hypot(along.1);
    let widest = circles.iter().map(|c| c.2).fold(0.0, f64::max);
    let normal = if length < widest * 0.5 { light } else { (-along.1 / length, along.0 / length) };
    let facing = normal.0 * light.0 + normal.1 * light.1;
    let way = if facing < 0.0 { -1.0 } else { 1.0 };
    let (cx, cy) = (f64::midpoint(a.0, b.0), f64::midpoint(a.1, b.1));
    let (dx, dy) = (normal.0 * widest * way, normal.1 * widest * way);
    let stop = |at: f32, by: f64| GradientStop::new(at, colour(lit(tone, by), 1.0));
    LinearGradient::new(
        Point::from_xy((cx + dx) as f32, (cy + dy) as f32),
        Point::from_xy((cx - dx) as f32, (cy - dy) as f32),
        vec![stop(0.0, 1.0), stop(0.25, 1.07), stop(0.55, 0.97), stop(1.0, 0.74)],
        SpreadMode::Pad,
        Transform::identity(),
    )
    .unwrap_or_else(plain)
}

/// Returns the middles of both ends; an end of a broad piece is a pair of balls.
fn ends(circles: &[(f64, f64, f64)]) -> Option<((f64, f64), (f64, f64))> {
    let at = |i: usize| circles.get(i).map(|c| (c.0, c.1));
    let last = circles.len().checked_sub(1)?;
    if circles.len() < 4 {
        return at(0).zip(at(last));
    }
    let middle =
        |i, j| at(i).zip(at(j)).map(|(p, q)| (f64::midpoint(p.0, q.0), f64::midpoint(p.1, q.1)));
    middle(0, 1).zip(middle(last - 1, last))
}

/// Returns the outline of the convex hull of circles given as centre and radius.
fn hull(circles: &[(f64, f64, f64)]) -> Option<Path> {
    const STEPS: u32 = 24;
    let mut points: Vec<(f64, f64)> = circles
        .iter()
        .flat_map(|(x, y, r)| {
            (0..STEPS).map(move |k| {
                let (s, c) = (f64::from(k) / f64::from(STEPS) * std::f64::consts::TAU).sin_cos();
                (x + c * r, y + s * r)
            })
        })
        .collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut outline = half_hull(points.iter().copied());
    outline.extend(half_hull(points.iter().rev().copied()));
    polygon(&outline)
}

fn half_hull(points: impl Iterator<Item = (f64, f64)>) -> Vec<(f64, f64)> {
    let mut kept: Vec<(f64, f64)> = Vec::new();
    for p in points {
        while let [.., a, b] = kept[..] {
            if (b.0 - a.0) * (p.1 - a.1) - (b.1 - a.1) * (p.0 - a.0) > 0.0 {
                break;
            }
            kept.pop();
        }
        kept.push(p);
    }
    kept.pop();
    kept
}

fn polygon(points: &[(f64, f64)]) -> Option<Path> {
    let mut path = PathBuilder::new();
    let (first, rest) = points.split_first()?;
    path.move_to(first.0 as f32, first.1 as f32);
    for p in rest {
        path.line_to(p.0 as f32, p.1 as f32);
    }
    path.close();
    path.finish()
}

/// Returns the picture points of a polygon, cut off just in front of the camera.
fn in_front(view: &View, corners: &[V3]) -> Vec<(f64, f64)> {
    const NEAR: f64 = 0.1;
    let seen: Vec<V3> = corners.iter().map(|p| view.camera.seen(*p)).collect();
    let mut kept = Vec::new();
    for (i, b) in seen.iter().enumerate() {
        let a = seen[(i + seen.len() - 1) % seen.len()];
        if (a.z > NEAR) != (b.z > NEAR) {
            kept.push(a + (b - a) * ((NEAR - a.z) / (b.z - a.z)));
        }
        if b.z > NEAR {
            kept.push(*b);
        }
    }
    let (w, h) = (f64::from(view.size.0), f64::from(view.size.1));
    let f = view.camera.focal;
    // Far outside the picture the rasteriser's fixed point would overflow.
    let bound = |v: f64| v.clamp(-30_000.0, 30_000.0);
    kept.iter().map(|p| (bound(w / 2.0 + p.x / p.z * f), bound(h / 2.0 + p.y / p.z * f))).collect()
}
