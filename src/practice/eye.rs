//! Training the eye for angles: drawn figures whose angle is known, answered in degrees.
//!
//! Difficulty follows the person's own error: a level goes up when the eye is sure and down when
//! it is not, and the quantity that a person misses most comes up most.

use std::collections::BTreeMap;

use crate::{
    geometry::{Quantity, angle::Point, rng::Rng},
    units::Degrees,
};

/// Answers on one level that decide about the next.
const ROUND: usize = 6;
/// Mean error in degrees at or below which the next level comes.
const SURE: f64 = 4.0;
/// Mean error in degrees at or above which the level before comes back.
const UNSURE: f64 = 9.0;
/// Degrees that the camera is off square, level by level.
const OFF_SQUARE: [f64; 6] = [0.0, 0.0, 15.0, 25.0, 35.0, 45.0];
/// Milliseconds that the figure is shown, level by level; none for as long as one likes.
const SHOWN_MS: [Option<u32>; 6] =
    [None, Some(2_000), Some(2_000), Some(1_000), Some(1_000), Some(600)];

/// One figure to be judged.
#[derive(Clone, Debug, PartialEq)]
pub struct Task {
    /// What is asked.
    pub quantity: Quantity,
    /// The angle that was drawn.
    pub truth: Degrees,
    /// The figure as the camera sees it.
    pub figure: Figure,
    /// Degrees that the camera is off square.
    pub off_square: f64,
    /// How long the figure is shown, in milliseconds; none for as long as one likes.
    pub shown_ms: Option<u32>,
}

/// A line figure, x to the right and y up, about two units high.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Figure {
    /// Points with their names.
    pub joints: Vec<(&'static str, Point)>,
    /// Limbs as pairs of places among the joints.
    pub limbs: Vec<[usize; 2]>,
    /// Apparatus and floor as lines.
    pub fixed: Vec<[Point; 2]>,
}

/// An answer and what was right.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tried {
    /// What was asked.
    pub quantity: Quantity,
    /// The angle that was drawn.
    pub truth: Degrees,
    /// The answer.
    pub answer: Degrees,
    /// The level.
    pub level: usize,
}

/// A course of figures for one person.
#[derive(Clone, Debug)]
pub struct Trainer {
    rng: Rng,
    level: usize,
    tried: Vec<Tried>,
    /// How many of the answers were given before the level last changed.
    settled: usize,
}

impl Trainer {
    /// Begins on the first level; the seed decides which figures come.
    pub const fn new(seed: u64) -> Self {
        Self { rng: Rng::new(seed), level: 0, tried: Vec::new(), settled: 0 }
    }

    /// Returns the level, from 0 to 5.
    pub const fn level(&self) -> usize {
        self.level
    }

    /// Returns everything answered.
    pub fn tried(&self) -> &[Tried] {
        &self.tried
    }

    /// Returns the next figure.
    pub fn next_task(&mut self) -> Task {
        let quantity = self.choose();
        let [low, high] = range(quantity);
        let truth = self.rng.between(low, high).round();
        let share = self.rng.between(0.4, 0.6);
        let off_square = OFF_SQUARE[self.level];
        let figure = draw(quantity, truth, share).seen(off_square);
        Task { quantity, truth: Degrees(truth), figure, off_square, shown_ms: SHOWN_MS[self.level] }
    }

    /// Takes an answer, which must be a number, and returns how far it is off, in degrees.
    pub fn answer(&mut self, task: &Task, answer: Degrees) -> Option<Degrees> {
        if !answer.is_finite() {
            return None;
        }
        let Task { quantity, truth, .. } = *task;
        self.tried.push(Tried { quantity, truth, answer, level: self.level });
        self.follow();
        Some(Degrees(answer.0 - truth.0))
    }

    /// Returns the mean size of the error by quantity, in degrees, and of how many answers.
    pub fn errors(&self) -> BTreeMap<Quantity, (f64, usize)> {
        let mut errors: BTreeMap<Quantity, (f64, usize)> = BTreeMap::new();
        for tried in &self.tried {
            let (sum, count) = errors.entry(tried.quantity).or_default();
            *sum += (tried.answer.0 - tried.truth.0).abs();
            *count += 1;
        }
        for (sum, count) in errors.values_mut() {
            *sum /= *count as f64;
        }
        errors
    }

    /// Goes a level up or down by the errors since the last change.
    fn follow(&mut self) {
        let round = &self.tried[self.settled..];
        if round.len() < ROUND {
            return;
        }
        let last = &round[round.len() - ROUND..];
        let sum: f64 = last.iter().map(|tried| (tried.answer.0 - tried.truth.0).abs()).sum();
        let error = sum / ROUND as f64;
        let level = match self.level {
            level if error <= SURE => (level + 1).min(OFF_SQUARE.len() - 1),
            level if error >= UNSURE => level.saturating_sub(1),
            level => level,
        };
        if level != self.level {
            (self.level, self.settled) = (level, self.tried.len());
        }
    }

    /// Draws a quantity: the larger the own error, the likelier, and those not asked yet first.
    fn choose(&mut self) -> Quantity {
        let errors = self.errors();
        let weight =
            |quantity: &Quantity| errors.get(quantity).map_or(20.0, |(error, _)| 1.0 + error);
        let all: f64 = Quantity::ALL.iter().map(weight).sum();
        let mut at = self.rng.between(0.0, all);
        for quantity in Quantity::ALL {
            at -= weight(&quantity);
            if at < 0.0 {
                return quantity;
            }
        }
        Quantity::BodyLine
    }
}

/// Returns from and to which angle figures are drawn, in degrees.
const fn range(quantity: Quantity) -> [f64; 2] {
    match quantity {
        Quantity::BodyLine => [-30.0, 85.0],
        Quantity::Repulsion => [-15.0, 60.0],
        Quantity::OffVertical | Quantity::Trunk => [0.0, 45.0],
        Quantity::Split => [90.0, 185.0],
        Quantity::Kick => [20.0, 150.0],
        Quantity::Turn | Quantity::Twist => [60.0, 179.0],
        Quantity::Bend => [5.0, 120.0],
    }
}

/// Returns the figure seen square on; `share` divides a split between the legs.
fn draw(quantity: Quantity, degrees: f64, share: f64) -> Figure {
    let floor = |y: f64| vec![[[-1.2, y], [1.2, y]]];
    match quantity {
        Quantity::BodyLine => {
            // Hands on the bar, shoulders above it, the body out behind.
            let (shoulder, way) = ([0.12, 0.55], turned(degrees, [1.0, 0.0], [0.0, 1.0]));
            let along = |far: f64| [shoulder[0] + way[0] * far, shoulder[1] + way[1] * far];
            Figure {
                joints: vec![
                    ("hand", [0.0, 0.0]),
                    ("shoulder", shoulder),
                    ("hip", along(0.5)),
                    ("knee", along(0.9)),
                    ("toe", along(1.4)),
                    ("head", [-0.06, 0.72]),
                ],
                limbs: vec![[0, 1], [1, 2], [2, 3], [3, 4], [1, 5]],
                fixed: vec![[[-0.25, 0.0], [0.25, 0.0]]],
            }
        }
        Quantity::Repulsion | Quantity::OffVertical => {
            let way = turned(degrees, [0.0, 1.0], [1.0, 0.0]);
            let along = |far: f64| [way[0] * far, way[1] * far];
            Figure {
                joints: vec![
                    ("hand", [0.0, 0.0]),
                    ("shoulder", along(0.55)),
                    ("hip", along(1.05)),
                    ("knee", along(1.45)),
                    ("toe", along(1.95)),
                    ("head", along(0.38)),
                ],
                limbs: vec![[0, 1], [1, 2], [2, 3], [3, 4]],
                fixed: floor(0.0),
            }
        }
        Quantity::Split => {
            let left = turned(degrees * share, [0.0, -1.0], [1.0, 0.0]);
            let right = turned(degrees * (1.0 - share), [0.0, -1.0], [-1.0, 0.0]);
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
            }
        }
        Quantity::Kick => Figure {
            joints: vec![
                ("hip", [0.0, 0.0]),
                ("ankle", turned(degrees, [0.0, -1.0], [1.0, 0.0])),
                ("standing foot", [0.0, -1.0]),
                ("shoulder", [0.0, 0.55]),
                ("head", [0.0, 0.78]),
            ],
            limbs: vec![[0, 1], [0, 2], [0, 3], [3, 4]],
            fixed: floor(-1.0),
        },
        Quantity::Trunk => trunk(degrees),
        Quantity::Bend => bend(degrees),
        Quantity::Twist => twist(degrees),
        // Seen from above: the foot before and after.
        Quantity::Turn => Figure {
            joints: vec![
                ("heel", [0.0, 0.0]),
                ("toe", [1.0, 0.0]),
                ("heel after", [0.0, 0.0]),
                ("toe after", turned(degrees, [1.0, 0.0], [0.0, 1.0])),
            ],
            limbs: vec![[0, 1], [2, 3]],
            fixed: Vec::new(),
        },
    }
}

/// A trunk bent forward over a straight leg.
fn trunk(degrees: f64) -> Figure {
    let way = turned(degrees, [0.0, 1.0], [1.0, 0.0]);
    Figure {
        joints: vec![
            ("hip", [0.0, 0.0]),
            ("shoulder", way.map(|c| c * 0.55)),
            ("head", way.map(|c| c * 0.78)),
            ("ankle", [0.0, -1.0]),
        ],
        limbs: vec![[0, 1], [1, 2], [0, 3]],
        fixed: vec![[[-1.2, -1.0], [1.2, -1.0]]],
    }
}

/// A bent arm or leg.
fn bend(degrees: f64) -> Figure {
    let far = turned(degrees, [0.0, -1.0], [-1.0, 0.0]);
    Figure {
        joints: vec![("near end", [0.0, 1.0]), ("joint", [0.0, 0.0]), ("far end", far)],
        limbs: vec![[0, 1], [1, 2]],
        fixed: Vec::new(),
    }
}

/// Both hands from above, and the line of travel, which goes to the right.
fn twist(degrees: f64) -> Figure {
    let [x, y] = turned(degrees, [0.0, 0.5], [-0.5, 0.0]);
    Figure {
        joints: vec![("left hand or foot", [x, y]), ("right hand or foot", [-x, -y])],
        limbs: vec![[0, 1]],
        fixed: vec![[[-1.2, 0.0], [1.2, 0.0]]],
    }
}

/// Returns the direction that lies `degrees` from one axis towards the other.
fn turned(degrees: f64, from: Point, towards: Point) -> Point {
    let (sin, cos) = degrees.to_radians().sin_cos();
    [from[0] * cos + towards[0] * sin, from[1] * cos + towards[1] * sin]
}

impl Figure {
    /// Returns the figure as a camera sees it from six body lengths away, that far off square.
    fn seen(mut self, off_square: f64) -> Self {
        const AWAY: f64 = 12.0;
        let (sin, cos) = off_square.to_radians().sin_cos();
        let seen = |[x, y]: Point| {
            let near = AWAY / (AWAY + x * sin);
            [x * cos * near, y * near]
        };
        for (_, at) in &mut self.joints {
            *at = seen(*at);
        }
        for line in &mut self.fixed {
            *line = line.map(seen);
        }
        self
    }
}
