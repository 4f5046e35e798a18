//! Line figures at a known angle, and how a camera off square sees them.

/// A position in the figure.
type Point = [f64; 2];

/// A line figure, x to the right and y up, about two units high.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Figure {
    /// Points with their names.
    pub joints: Vec<(&'static str, Point)>,
    /// Limbs as pairs of places among the joints.
    pub limbs: Vec<[usize; 2]>,
    /// Apparatus and floor as lines.
    pub fixed: Vec<[Point; 2]>,
    /// Words about points, without which the figure would not be understood.
    pub labels: Vec<(&'static str, Point)>,
    /// The line from which the angle is counted; only shown with the truth.
    pub from: Vec<[Point; 2]>,
    /// The arc of the angle; only shown with the truth.
    pub arc: Vec<Point>,
}

/// Up, right, down and left.
const UP: Point = [0.0, 1.0];
const RIGHT: Point = [1.0, 0.0];
const DOWN: Point = [0.0, -1.0];
const LEFT: Point = [-1.0, 0.0];

/// Radius of an arc near the point where the lines meet.
const NEAR: f64 = 0.32;
/// How far out a word lies beyond what it names.
const BEYOND: f64 = 1.16;

fn floor(y: f64) -> Vec<[Point; 2]> {
    vec![[[-1.2, y], [1.2, y]]]
}

/// Hands on the bar, shoulders above it, the body out behind.
pub(super) fn body_line(degrees: f64) -> Figure {
    let shoulder = [0.12, 0.55];
    let body = Ray { at: shoulder, way: turned(degrees, RIGHT, UP) };
    Figure {
        joints: vec![
            ("hand", [0.0, 0.0]),
            ("shoulder", shoulder),
            ("hip", body.along(0.5)),
            ("knee", body.along(0.9)),
            ("toe", body.along(1.4)),
            ("head", [-0.06, 0.72]),
        ],
        limbs: vec![[0, 1], [1, 2], [2, 3], [3, 4], [1, 5]],
        fixed: vec![[[-0.25, 0.0], [0.25, 0.0]]],
        from: vec![[shoulder, Ray { at: shoulder, way: RIGHT }.along(1.4)]],
        arc: arc(shoulder, NEAR, degrees, [RIGHT, UP]),
        ..Figure::default()
    }
}

/// On the hands, leaning to the right.
pub(super) fn handstand(degrees: f64) -> Figure {
    let body = Ray { at: [0.0, 0.0], way: turned(degrees, UP, RIGHT) };
    Figure {
        joints: vec![
            ("hand", body.at),
            ("shoulder", body.along(0.55)),
            ("hip", body.along(1.05)),
            ("knee", body.along(1.45)),
            ("toe", body.along(1.95)),
            ("head", body.along(0.38)),
        ],
        limbs: vec![[0, 1], [1, 2], [2, 3], [3, 4]],
        fixed: floor(0.0),
        from: vec![[body.at, [0.0, 1.95]]],
        // Past the head, which would lie on it.
        arc: arc(body.at, 1.2, degrees, [UP, RIGHT]),
        ..Figure::default()
    }
}

/// On the hands, leaning in the direction of travel.
pub(super) fn repulsion(degrees: f64) -> Figure {
    Figure { labels: vec![("travel →", [0.9, -0.12])], ..handstand(degrees) }
}

/// Two legs; `share` of the angle lies on the left one's side.
pub(super) fn split(degrees: f64, share: f64) -> Figure {
    let left = turned(degrees * share, DOWN, RIGHT);
    let right = turned(degrees * (1.0 - share), DOWN, LEFT);
    Figure {
        joints: vec![
            ("left hip", [0.0, 0.0]),
            ("left ankle", left),
            ("right hip", [0.0, 0.0]),
            ("right ankle", right),
            ("shoulder", [0.0, 0.55]),
            ("head", [0.0, 0.78]),
        ],
        limbs: vec![[0, 1], [2, 3], [0, 4], [4, 5]],
        fixed: floor(-1.2),
        // From one leg through straight down to the other.
        arc: arc([0.0, 0.0], NEAR, degrees, [left, turned(90.0 - degrees * share, DOWN, LEFT)]),
        ..Figure::default()
    }
}

/// A leg lifted from hanging straight down.
pub(super) fn kick(degrees: f64) -> Figure {
    Figure {
        joints: vec![
            ("hip", [0.0, 0.0]),
            ("ankle", turned(degrees, DOWN, RIGHT)),
            ("standing foot", [0.0, -1.0]),
            ("shoulder", [0.0, 0.55]),
            ("head", [0.0, 0.78]),
        ],
        limbs: vec![[0, 1], [0, 2], [0, 3], [3, 4]],
        fixed: floor(-1.0),
        from: vec![[[0.0, 0.0], DOWN]],
        arc: arc([0.0, 0.0], NEAR, degrees, [DOWN, RIGHT]),
        ..Figure::default()
    }
}

/// A trunk bent forward over a straight leg.
pub(super) fn trunk(degrees: f64) -> Figure {
    let body = Ray { at: [0.0, 0.0], way: turned(degrees, UP, RIGHT) };
    Figure {
        joints: vec![
            ("hip", body.at),
            ("shoulder", body.along(0.55)),
            ("head", body.along(0.78)),
            ("ankle", DOWN),
        ],
        limbs: vec![[0, 1], [1, 2], [0, 3]],
        fixed: floor(-1.0),
        from: vec![[body.at, [0.0, 0.78]]],
        arc: arc(body.at, NEAR, degrees, [UP, RIGHT]),
        ..Figure::default()
    }
}

/// A bent arm or leg.
pub(super) fn bend(degrees: f64) -> Figure {
    Figure {
        joints: vec![
            ("near end", UP),
            ("joint", [0.0, 0.0]),
            ("far end", turned(degrees, DOWN, LEFT)),
        ],
        limbs: vec![[0, 1], [1, 2]],
        from: vec![[[0.0, 0.0], DOWN]],
        arc: arc([0.0, 0.0], NEAR, degrees, [DOWN, LEFT]),
        ..Figure::default()
    }
}

/// Both hands from above, and the line of travel, which goes to the right.
pub(super) fn twist(degrees: f64) -> Figure {
    let [x, y] = turned(degrees, [0.0, 0.5], [-0.5, 0.0]);
    Figure {
        joints: vec![("left hand or foot", [x, y]), ("right hand or foot", [-x, -y])],
        limbs: vec![[0, 1]],
        fixed: vec![[[-1.2, 0.0], [1.2, 0.0]]],
        labels: vec![
            ("travel →", [1.0, 0.1]),
            ("left", [x * BEYOND, y * BEYOND]),
            ("right", [-x * BEYOND, -y * BEYOND]),
        ],
        from: vec![[[0.0, 0.0], [0.0, 0.5]]],
        arc: arc([0.0, 0.0], NEAR, degrees, [UP, LEFT]),
    }
}

/// Seen from above: the foot before and after.
pub(super) fn turn(degrees: f64) -> Figure {
    let after = turned(degrees, RIGHT, UP);
    let beyond = |part| part * BEYOND;
    Figure {
        joints: vec![
            ("heel", [0.0, 0.0]),
            ("toe", RIGHT),
            ("heel after", [0.0, 0.0]),
            ("toe after", after),
        ],
        limbs: vec![[0, 1], [2, 3]],
        labels: vec![("before", RIGHT.map(beyond)), ("after", after.map(beyond))],
        arc: arc([0.0, 0.0], NEAR, degrees, [RIGHT, UP]),
        ..Figure::default()
    }
}

/// A point and a direction of length 1.
struct Ray {
    at: Point,
    way: Point,
}

impl Ray {
    fn along(&self, far: f64) -> Point {
        [self.at[0] + self.way[0] * far, self.at[1] + self.way[1] * far]
    }
}

/// Returns the arc about a point that begins at the first axis and goes towards the second.
fn arc(at: Point, radius: f64, degrees: f64, [from, towards]: [Point; 2]) -> Vec<Point> {
    const STEPS: u8 = 24;
    (0..=STEPS)
        .map(|step| {
            let way = turned(degrees * f64::from(step) / f64::from(STEPS), from, towards);
            Ray { at, way }.along(radius)
        })
        .collect()
}

/// Returns the direction that lies `degrees` from one axis towards the other.
fn turned(degrees: f64, from: Point, towards: Point) -> Point {
    let (sin, cos) = degrees.to_radians().sin_cos();
    [from[0] * cos + towards[0] * sin, from[1] * cos + towards[1] * sin]
}

impl Figure {
    /// Returns the figure as a camera sees it from six body lengths away, that far off square.
    pub(super) fn seen(mut self, off_square: f64) -> Self {
        const AWAY: f64 = 12.0;
        let (sin, cos) = off_square.to_radians().sin_cos();
        let seen = |[x, y]: Point| {
            let near = AWAY / (AWAY + x * sin);
            [x * cos * near, y * near]
        };
        let named = self.joints.iter_mut().chain(&mut self.labels).map(|(_, at)| at);
        let lines = self.fixed.iter_mut().chain(&mut self.from).flatten();
        for at in named.chain(lines).chain(&mut self.arc) {
            *at = seen(*at);
        }
        self
    }

    /// Returns the point about which the middle of the arc's label lies, outside the arc.
    pub(crate) fn beside_arc(&self) -> Option<Point> {
        const OUT: f64 = 0.17;
        let [first, middle, last] =
            [0, self.arc.len() / 2, self.arc.len().checked_sub(1)?].map(|it| self.arc[it]);
        // From the middle of the chord outward; where the arc is nearly flat, across its chord.
        let chord = [last[0] - first[0], last[1] - first[1]];
        let bow = [0, 1].map(|axis| middle[axis] - f64::midpoint(first[axis], last[axis]));
        let size = bow[0].hypot(bow[1]);
        let across = chord[0].hypot(chord[1]).max(f64::EPSILON);
        let way = if size > 0.02 {
            bow.map(|part| part / size)
        } else {
            [-chord[1] / across, chord[0] / across]
        };
        Some([0, 1].map(|axis| middle[axis] + way[axis] * OUT))
    }

    /// Returns the lower left and the upper right corner of everything in it, arc and all, so that
    /// it keeps its place when the truth is shown.
    pub(crate) fn extent(&self) -> [Point; 2] {
        let named = self.joints.iter().chain(&self.labels).map(|(_, at)| at);
        let lines = self.fixed.iter().chain(&self.from).flatten();
        let all = named.chain(lines).chain(&self.arc);
        all.fold([[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]], |[low, high], at| {
            [[low[0].min(at[0]), low[1].min(at[1])], [high[0].max(at[0]), high[1].max(at[1])]]
        })
    }
}
