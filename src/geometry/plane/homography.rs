//! A plane tied to its picture by points of known place.

use nalgebra::{DMatrix, Matrix3, SMatrix, SVector, Vector3};
use serde::{Deserialize, Serialize};

use crate::{
    geometry::Refusal,
    units::{OnPlane, Shown},
};

/// A point on a plane and where it was clicked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair {
    /// Place on the plane.
    pub from: OnPlane,
    /// Place in the picture.
    pub to: Shown,
    /// The line through `from` on which the point lies anywhere, where that is all that is known.
    pub along: Option<Along>,
}

/// The direction of a line in a plane.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Along {
    /// Along x.
    X,
    /// Along y.
    Y,
}

impl Pair {
    /// Returns how many numbers it tells of the map: two, or how far beside its line it is.
    pub(super) const fn tells(&self) -> usize {
        if self.along.is_some() { 1 } else { 2 }
    }
}

/// Returns by how many numbers points tell more than a map needs.
pub(super) fn freedom(pairs: &[Pair]) -> usize {
    pairs.iter().map(Pair::tells).sum::<usize>().saturating_sub(8)
}

/// A one-to-one map from a plane to the picture that keeps straight lines straight.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Homography {
    forward: Matrix3<f64>,
    back: Matrix3<f64>,
}

impl Homography {
    /// Returns the map with this matrix; nothing where it cannot be undone.
    pub fn new(forward: Matrix3<f64>) -> Option<Self> {
        let size = forward.norm();
        if !size.is_finite() || size == 0.0 {
            return None;
        }
        let forward = forward / size;
        Some(Self { forward, back: forward.try_inverse()? })
    }

    /// Returns the matrix with its last entry one.
    pub fn matrix(&self) -> Matrix3<f64> {
        self.forward / self.forward[(2, 2)]
    }

    /// Returns the matrix of the way back with its last entry one.
    pub fn back_matrix(&self) -> Matrix3<f64> {
        self.back / self.back[(2, 2)]
    }

    /// Returns where a point of the plane is seen; nothing for one of the horizon.
    pub fn to(&self, OnPlane(point): OnPlane) -> Option<Shown> {
        apply(&self.forward, point).map(Shown)
    }

    /// Returns where a point of the picture lies on the plane; nothing for one of the horizon.
    pub fn from(&self, Shown(point): Shown) -> Option<OnPlane> {
        apply(&self.back, point).map(OnPlane)
    }

    /// Returns how [`Self::from`] changes with its point: rows are the plane's coordinates,
    /// columns the picture's, in plane units per pixel.
    pub fn from_slope(&self, Shown(point): Shown) -> Option<[[f64; 2]; 2]> {
        slope(&self.back, point)
    }

    /// Returns how [`Self::to`] changes with its point, in pixels per plane unit.
    pub fn to_slope(&self, OnPlane(point): OnPlane) -> Option<[[f64; 2]; 2]> {
        slope(&self.forward, point)
    }

    /// Returns a number whose sign tells on which side of the plane's horizon a picture point
    /// lies; the sign itself means nothing until it is held against a point of the plane.
    pub fn side(&self, Shown(point): Shown) -> f64 {
        self.back.row(2).dot(&homogeneous(point).transpose())
    }
}

/// What a fit gives.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fit {
    /// The map from the plane to the picture.
    pub homography: Homography,
    /// Root mean square miss per coordinate in pixels, each degree of freedom counted once;
    /// nothing with four points, which any map meets.
    pub residual: Option<f64>,
}

/// Returns the map that the normalised direct linear transform gives: least algebraic error.
pub fn fit_linear(pairs: &[Pair]) -> Result<Homography, Refusal> {
    check(pairs)?;
    let (from, to) = (Frame::around(pairs, |p| p.from.0), Frame::around(pairs, |p| p.to.0));
    linear(&normal(pairs, from, to))
        .and_then(|h| Homography::new(from.and_back(&h, to)))
        .ok_or(Refusal::InLine)
}

/// Returns the map with the least sum of squared distances, in the picture, between the clicks
/// and where the plane's points fall: the most likely one when the plane's points are known
/// exactly and clicks err alike in every direction.
pub fn fit(pairs: &[Pair]) -> Result<Fit, Refusal> {
    check(pairs)?;
    let (from, to) = (Frame::around(pairs, |p| p.from.0), Frame::around(pairs, |p| p.to.0));
    let normal = normal(pairs, from, to);
    let start = linear(&normal).ok_or(Refusal::InLine)?;
    let refined = if freedom(pairs) > 0 { refine(start, &normal, 50) } else { start };
    let homography = Homography::new(from.and_back(&refined, to)).ok_or(Refusal::InLine)?;
    let side = homography.side(pairs[0].to);
    if pairs.iter().any(|pair| homography.side(pair.to) * side <= 0.0) {
        return Err(Refusal::Crossed);
    }
    Ok(Fit { homography, residual: residual(&homography, pairs) })
}

/// Fits again after small moves of the points, from a map that is known to be near; unlike
/// [`fit`] it checks nothing, so that it can be called thousands of times.
pub fn fit_near(near: &Homography, pairs: &[Pair]) -> Option<Homography> {
    let (from, to) = (Frame::around(pairs, |p| p.from.0), Frame::around(pairs, |p| p.to.0));
    let normal = normal(pairs, from, to);
    let start = to.matrix() * near.forward * from.matrix().try_inverse()?;
    Homography::new(from.and_back(&refine(start, &normal, 4), to))
}

/// A pair of coordinates, of the plane or of the picture, whichever is at hand.
type Coordinates = [f64; 2];

/// A shift and a scale that bring points around zero at a mean distance of root 2.
#[derive(Clone, Copy)]
struct Frame {
    centre: Coordinates,
    scale: f64,
}

impl Frame {
    fn around(pairs: &[Pair], of: impl Fn(&Pair) -> Coordinates) -> Self {
        let n = pairs.len() as f64;
        let sum = pairs.iter().map(&of).fold([0.0; 2], |a, p| [a[0] + p[0], a[1] + p[1]]);
        let centre = sum.map(|s| s / n);
        let reach = |p: Coordinates| (p[0] - centre[0]).hypot(p[1] - centre[1]);
        let mean = pairs.iter().map(|pair| reach(of(pair))).sum::<f64>() / n;
        Self { centre, scale: std::f64::consts::SQRT_2 / mean }
    }

    fn apply(self, p: Coordinates) -> Coordinates {
        [(p[0] - self.centre[0]) * self.scale, (p[1] - self.centre[1]) * self.scale]
    }

    fn matrix(self) -> Matrix3<f64> {
        let ([x, y], s) = (self.centre, self.scale);
        Matrix3::new(s, 0.0, -s * x, 0.0, s, -s * y, 0.0, 0.0, 1.0)
    }

    fn inverse(self) -> Matrix3<f64> {
        let ([x, y], s) = (self.centre, 1.0 / self.scale);
        Matrix3::new(s, 0.0, x, 0.0, s, y, 0.0, 0.0, 1.0)
    }

    /// Turns a map between normal frames into one between the points themselves.
    fn and_back(self, h: &Matrix3<f64>, to: Self) -> Matrix3<f64> {
        to.inverse() * h * self.matrix()
    }
}

fn normal(pairs: &[Pair], from: Frame, to: Frame) -> Vec<Pair> {
    let moved = |pair: &Pair| Pair {
        from: OnPlane(from.apply(pair.from.0)),
        to: Shown(to.apply(pair.to.0)),
        along: pair.along,
    };
    pairs.iter().map(moved).collect()
}

/// Refuses points that fix no plane before any arithmetic is done on them.
fn check(pairs: &[Pair]) -> Result<(), Refusal> {
    if !pairs.iter().all(|pair| pair.from.is_finite() && pair.to.is_finite()) {
        return Err(Refusal::NoAngle { detail: "a point of the plane is not a number" });
    }
    let pairs: &[Pair] = &known(pairs).copied().collect::<Vec<_>>();
    if pairs.len() < 4 {
        return Err(Refusal::TooFewPoints { found: pairs.len() });
    }
    if is_thin(pairs, |pair| pair.from.0) || is_thin(pairs, |pair| pair.to.0) {
        return Err(Refusal::InLine);
    }
    Ok(())
}

/// Returns the points whose place is known in both directions.
fn known(pairs: &[Pair]) -> impl Iterator<Item = &Pair> {
    pairs.iter().filter(|pair| pair.along.is_none())
}

/// Returns whether no four points are left of which no three lie in a line, or nearly so.
fn is_thin(pairs: &[Pair], of: impl Fn(&Pair) -> Coordinates) -> bool {
    // Of very many points a few spread over the list tell as much.
    let every = pairs.len().div_ceil(ENOUGH_POINTS);
    let points: Vec<Coordinates> = pairs.iter().step_by(every).map(of).collect();
    let n = points.len();
    let quads = (0..n).flat_map(|a| {
        (a + 1..n)
            .flat_map(move |b| (b + 1..n).flat_map(move |c| (c + 1..n).map(move |d| [a, b, c, d])))
    });
    let best = quads
        .map(|[a, b, c, d]| {
            [[a, b, c], [a, b, d], [a, c, d], [b, c, d]]
                .map(|corner| flatness(corner.map(|at| points[at])))
                .into_iter()
                .fold(f64::INFINITY, f64::min)
        })
        .fold(0.0, f64::max);
    best < THIN
}

/// Area of a triangle over the square of its longest side: 0.43 for equal sides, 0 in a line.
fn flatness([a, b, c]: [Coordinates; 3]) -> f64 {
    let side = |p: Coordinates, q: Coordinates| (p[0] - q[0]).hypot(p[1] - q[1]);
    let area = ((b[0] - a[0]) * (c[1] - a[1]) - (c[0] - a[0]) * (b[1] - a[1])).abs() / 2.0;
    let longest = side(a, b).max(side(b, c)).max(side(a, c));
    if longest > 0.0 { area / (longest * longest) } else { 0.0 }
}

const ENOUGH_POINTS: usize = 12;

/// The long side of a plane may be 50 times the short one.
const THIN: f64 = 0.01;

fn linear(normal: &[Pair]) -> Option<Matrix3<f64>> {
    // Nine rows at least, so that the vector that is sent to zero is among the answers.
    let mut rows = DMatrix::zeros((2 * normal.len()).max(9), 9);
    for (k, Pair { from: OnPlane([x, y]), to: Shown([u, v]), .. }) in known(normal).enumerate() {
        let [first, second] = [
            [*x, *y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y, -u],
            [0.0, 0.0, 0.0, *x, *y, 1.0, -v * x, -v * y, -v],
        ];
        for column in 0..9 {
            rows[(2 * k, column)] = first[column];
            rows[(2 * k + 1, column)] = second[column];
        }
    }
    let svd = rows.svd(false, true);
    let (vectors, sizes) = (svd.v_t?, svd.singular_values);
    let mut order: Vec<usize> = (0..9).collect();
    order.sort_by(|a, b| sizes[*a].total_cmp(&sizes[*b]));
    if sizes[order[1]] < 1e-7 * sizes[order[8]] {
        return None;
    }
    let h = vectors.row(order[0]);
    Some(Matrix3::from_fn(|row, column| h[3 * row + column]))
}

/// Least squares by damped Gauss-Newton over the eight free entries. The last entry is kept at
/// one: the frame's zero lies amid the points and so never on the horizon.
fn refine(start: Matrix3<f64>, normal: &[Pair], most: usize) -> Matrix3<f64> {
    let mut h = start / start[(2, 2)];
    let (mut cost, mut damping) = (misses(&h, normal), 1e-9);
    for _ in 0..most {
        let (square, slope) = normal_equations(&h, normal);
        let damped = square + SMatrix::<f64, 8, 8>::identity() * (damping * square.trace() / 8.0);
        let Some(step) = damped.lu().solve(&slope) else { return h };
        let moved = Matrix3::from_fn(|row, column| {
            h[(row, column)] - step.get(3 * row + column).copied().unwrap_or(0.0)
        });
        let then = misses(&moved, normal);
        if then > cost {
            if step.norm() < 1e-12 {
                return h;
            }
            damping = (damping * 100.0).max(1e-6);
            continue;
        }
        (h, cost, damping) = (moved, then, damping / 10.0);
        if step.norm() < 1e-13 {
            return h;
        }
    }
    h
}

fn misses(h: &Matrix3<f64>, normal: &[Pair]) -> f64 {
    let back = h.try_inverse();
    let one = |pair: &Pair| {
        let miss = missed(h, back.as_ref(), pair)?;
        Some(miss.directions().map(|across| miss.by(across).powi(2)).sum::<f64>())
    };
    normal.iter().map(|pair| one(pair).unwrap_or(f64::INFINITY)).sum()
}

/// By how much a click misses where its point is mapped to.
struct Miss {
    /// The point of the plane, of a line the nearest.
    from: Coordinates,
    off: Coordinates,
    /// Of a line, the direction across it: along it nothing is known.
    across: Option<Coordinates>,
}

impl Miss {
    fn directions(&self) -> impl Iterator<Item = Coordinates> + use<> {
        let both = [[1.0, 0.0], [0.0, 1.0]];
        let [first, second] = self.across.map_or(both.map(Some), |across| [Some(across), None]);
        first.into_iter().chain(second)
    }

    fn by(&self, [across, down]: Coordinates) -> f64 {
        across * self.off[0] + down * self.off[1]
    }
}

fn missed(h: &Matrix3<f64>, back: Option<&Matrix3<f64>>, pair: &Pair) -> Option<Miss> {
    let Pair { from: OnPlane(mut from), to: Shown(to), along } = *pair;
    let mut across = None;
    if let Some(along) = along {
        let free = along as usize;
        from[free] = apply(back?, to)?[free];
        // From where it is straight across in the plane to where it is in the picture: only there does
        // the miss not change with the direction of the line.
        for _ in 0..3 {
            let ([[a, b], [c, d]], seen) = (slope(h, from)?, apply(h, from)?);
            let [x, y] = if along == Along::X { [a, c] } else { [b, d] };
            let long = x.hypot(y);
            from[free] += ((to[0] - seen[0]) * x + (to[1] - seen[1]) * y) / (long * long);
            across = Some([-y / long, x / long]);
        }
    }
    let seen = apply(h, from)?;
    Some(Miss { from, off: [seen[0] - to[0], seen[1] - to[1]], across })
}

fn normal_equations(h: &Matrix3<f64>, normal: &[Pair]) -> (SMatrix<f64, 8, 8>, SVector<f64, 8>) {
    let (mut square, mut slope) = (SMatrix::zeros(), SVector::zeros());
    let back = h.try_inverse();
    for miss in normal.iter().filter_map(|pair| missed(h, back.as_ref(), pair)) {
        let [x, y] = miss.from;
        let q = h * Vector3::new(x, y, 1.0);
        let [u, v] = [q.x / q.z, q.y / q.z];
        let [first, second] = [
            [x, y, 1.0, 0.0, 0.0, 0.0, -u * x, -u * y],
            [0.0, 0.0, 0.0, x, y, 1.0, -v * x, -v * y],
        ]
        .map(|row| SVector::<f64, 8>::from(row) / q.z);
        for across in miss.directions() {
            let row = first * across[0] + second * across[1];
            square += row * row.transpose();
            slope += row * miss.by(across);
        }
    }
    (square, slope)
}

fn residual(homography: &Homography, pairs: &[Pair]) -> Option<f64> {
    let freedom = freedom(pairs);
    (freedom > 0).then(|| (misses(&homography.forward, pairs) / freedom as f64).sqrt())
}

fn homogeneous([x, y]: Coordinates) -> Vector3<f64> {
    Vector3::new(x, y, 1.0)
}

fn apply(h: &Matrix3<f64>, point: Coordinates) -> Option<Coordinates> {
    let q = h * homogeneous(point);
    let place = [q.x / q.z, q.y / q.z];
    place.iter().all(|c| c.is_finite()).then_some(place)
}

fn slope(h: &Matrix3<f64>, point: Coordinates) -> Option<[[f64; 2]; 2]> {
    let place = apply(h, point)?;
    let w = h.row(2).dot(&homogeneous(point).transpose());
    let entry = |row: usize, column: usize| (h[(row, column)] - place[row] * h[(2, column)]) / w;
    Some([[entry(0, 0), entry(0, 1)], [entry(1, 0), entry(1, 1)]])
}
