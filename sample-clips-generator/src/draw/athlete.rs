//! The figure's flesh: tapered limbs, trunk, head, hair.

use super::brush::{Blob, Tone, lit};
use crate::figure::body::HEIGHT;
use crate::figure::skeleton::{ArmJoints, LegJoints, mix};
use crate::figure::{Skeleton, V3};

const SKIN: Tone = [233, 188, 158];
const LEOTARD: Tone = [28, 116, 122];
const SASH: Tone = [226, 184, 84];
const HAIR: Tone = [82, 52, 36];
const EYE: Tone = [52, 40, 36];

/// Returns the figure in pieces. `pull` is where hair hangs to.
pub(super) fn blobs(s: &Skeleton, pull: V3) -> Vec<Blob> {
    let mut all = trunk(s);
    all.extend(head(s, pull));
    for side in 0..2 {
        all.extend(arm(&s.arm[side]));
        all.extend(leg(&s.leg[side]));
    }
    all
}

fn piece(tone: Tone, nearer: f64, balls: &[(V3, f64)]) -> Blob {
    let balls = balls.iter().map(|(p, r)| (*p, r * HEIGHT)).collect();
    Blob { balls, tone, sort_at: None, nearer }
}

fn trunk(s: &Skeleton) -> Vec<Blob> {
    let pelvis = |x: f64, y: f64, z: f64| s.root + s.pelvis * V3::new(x, y, z) * HEIGHT;
    let waist = |x: f64, y: f64, z: f64| s.waist + s.chest * V3::new(x, y, z) * HEIGHT;
    let chest = |x: f64, y: f64, z: f64| s.neck + s.chest * V3::new(x, y, z) * HEIGHT;
    let hips = [
        (pelvis(-0.012, 0.048, -0.012), 0.050),
        (pelvis(-0.012, -0.048, -0.012), 0.050),
        (waist(0.0, 0.030, 0.0), 0.042),
        (waist(0.0, -0.030, 0.0), 0.042),
    ];
    let ribs = [
        (waist(0.0, 0.030, 0.0), 0.042),
        (waist(0.0, -0.030, 0.0), 0.042),
        (chest(0.008, 0.048, -0.065), 0.050),
        (chest(0.008, -0.048, -0.065), 0.050),
        (chest(0.0, 0.074, -0.014), 0.034),
        (chest(0.0, -0.074, -0.014), 0.034),
    ];
    let sash = [(waist(0.002, 0.031, -0.012), 0.0435), (waist(0.002, -0.031, -0.012), 0.0435)];
    let sash_top = [(waist(0.002, 0.031, 0.006), 0.0428), (waist(0.002, -0.031, 0.006), 0.0428)];
    let sash = [sash[0], sash[1], sash_top[0], sash_top[1]];
    let neck = [(s.neck, 0.030), (mix(s.neck, s.head, 0.7), 0.026)];
    // The suit's pieces lie over each other in this order from wherever they are seen.
    let mut all = vec![
        piece(lit(SKIN, 0.95), 0.003, &neck),
        piece(LEOTARD, 0.004, &hips),
        piece(SASH, 0.005, &sash),
        piece(LEOTARD, 0.006, &ribs),
    ];
    for blob in &mut all {
        blob.sort_at = Some(s.waist);
    }
    all
}

fn head(s: &Skeleton, pull: V3) -> Vec<Blob> {
    let at = |x: f64, y: f64, z: f64| s.head + s.skull * V3::new(x, y, z) * HEIGHT;
    let face = [(at(0.010, 0.0, 0.006), 0.050), (at(0.022, 0.0, -0.034), 0.030)];
    let hair = [(at(-0.010, 0.0, 0.014), 0.055), (at(-0.022, 0.0, -0.006), 0.044)];
    let fringe = [(at(0.018, 0.0, 0.042), 0.026), (at(-0.012, 0.0, 0.036), 0.036)];
    let tail = pull.try_normalize(1e-6).unwrap_or_else(|| -V3::z()) * HEIGHT;
    let knot = at(-0.068, 0.0, 0.030);
    let root = at(-0.078, 0.0, 0.028);
    vec![
        piece(HAIR, 0.0, &hair),
        piece(SKIN, 0.004, &face),
        piece(SKIN, 0.005, &[(at(0.058, 0.0, -0.010), 0.008), (at(0.050, 0.0, 0.004), 0.008)]),
        piece(HAIR, 0.008, &fringe),
        piece(EYE, 0.001, &[(at(0.046, 0.026, 0.002), 0.0048)]),
        piece(EYE, 0.001, &[(at(0.046, -0.026, 0.002), 0.0048)]),
        piece(lit(SKIN, 0.9), 0.0, &[(at(-0.006, 0.050, -0.004), 0.010)]),
        piece(lit(SKIN, 0.9), 0.0, &[(at(-0.006, -0.050, -0.004), 0.010)]),
        piece(SASH, 0.0, &[(knot, 0.016)]),
        piece(
            HAIR,
            0.0,
            &[(root, 0.020), (root + tail * 0.06, 0.022), (root + tail * 0.125, 0.007)],
        ),
    ]
}

fn arm(a: &ArmJoints) -> Vec<Blob> {
    let fore = mix(a.elbow, a.wrist, 0.3);
    vec![
        piece(
            SKIN,
            0.0,
            &[(a.shoulder, 0.030), (mix(a.shoulder, a.elbow, 0.45), 0.027), (a.elbow, 0.020)],
        ),
        piece(SKIN, 0.0, &[(a.elbow, 0.020), (fore, 0.0215), (a.wrist, 0.013)]),
        piece(SKIN, 0.0, &[(a.wrist, 0.013), (a.hand, 0.017), (a.tips, 0.008)]),
    ]
}

fn leg(l: &LegJoints) -> Vec<Blob> {
    let (mid, calf) = (mix(l.hip, l.knee, 0.4), mix(l.knee, l.ankle, 0.3));
    let toes = mix(l.ball, l.toe, 0.8);
    let sole = (l.ankle - l.heel) * 0.18;
    vec![
        piece(SKIN, 0.0, &[(mix(l.hip, l.knee, 0.08), 0.053), (mid, 0.046), (l.knee, 0.031)]),
        piece(SKIN, 0.0, &[(l.knee, 0.031), (calf, 0.034), (l.ankle, 0.019)]),
        piece(
            lit(SKIN, 0.98),
            0.0,
            &[
                (l.ankle, 0.019),
                (l.heel + sole, 0.013),
                (mix(l.ball, l.ankle, 0.15), 0.014),
                (toes, 0.007),
            ],
        ),
    ]
}

/// Returns the points that cast a shadow, with their radii in metres.
pub(super) fn shadow_points(s: &Skeleton) -> Vec<(V3, f64)> {
    let mut all = vec![(s.root, 0.13), (mix(s.waist, s.neck, 0.4), 0.13), (s.head, 0.09)];
    for side in 0..2 {
        let (a, l) = (&s.arm[side], &s.leg[side]);
        all.extend([(a.elbow, 0.06), (a.hand, 0.05), (mix(l.hip, l.knee, 0.5), 0.09)]);
        all.extend([
            (l.knee, 0.08),
            (mix(l.knee, l.ankle, 0.5), 0.07),
            (l.ankle, 0.06),
            (l.ball, 0.05),
        ]);
    }
    all
}
