//! Which figure comes next, and how hard it is.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use super::{
    drill::{DRILLS, Drill},
    figure::Figure,
};
use crate::{
    geometry::{Quantity, rng::Rng},
    units::Degrees,
};

/// Answers on one level that decide about the next.
const ROUND: usize = 6;
/// Mean error in degrees at or below which the next level comes.
const SURE: f64 = 4.0;
/// Mean error in degrees at or above which the level before comes back.
const UNSURE: f64 = 9.0;
/// Answers to a quantity that say how often it comes up.
const RECENT: usize = 20;
/// How much oftener than a quantity without an error one comes up at most, so that the others are
/// not forgotten.
const MOST: f64 = 30.0;
/// How many levels there are.
pub(crate) const LEVELS: usize = OFF_SQUARE.len();
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
    /// The question in words.
    pub question: &'static str,
    /// From where to where the angle is counted.
    pub counted: &'static str,
    /// The angle that was drawn.
    pub truth: Degrees,
    /// The figure as the camera sees it.
    pub figure: Figure,
    /// The same seen square on, for the truth.
    pub square_on: Figure,
    /// Degrees that the camera is off square.
    pub off_square: f64,
    /// How long the figure is shown, in milliseconds; none for as long as one likes.
    pub shown_ms: Option<u32>,
}

/// An answer and what was right.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
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

impl Tried {
    /// Returns how far the answer is off, in degrees; positive is too much.
    pub fn off(&self) -> Degrees {
        Degrees(self.answer.0 - self.truth.0)
    }
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

    /// Goes on where the answers given before have led; the seed decides which figures come.
    pub fn going_on(seed: u64, earlier: impl IntoIterator<Item = Tried>) -> Self {
        let mut trainer = Self::new(seed);
        for tried in earlier.into_iter().filter(|it| it.answer.is_finite()) {
            trainer.tried.push(tried);
            trainer.follow();
        }
        trainer
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
        let drill = self.choose();
        let [low, high] = drill.range;
        let truth = self.rng.between(low, high).round();
        let share = self.rng.between(0.4, 0.6);
        let off_square = OFF_SQUARE[self.level];
        let square_on = (drill.draw)(truth, share);
        Task {
            quantity: drill.quantity,
            question: drill.question,
            counted: drill.counted,
            truth: Degrees(truth),
            figure: square_on.clone().seen(off_square),
            square_on,
            off_square,
            shown_ms: SHOWN_MS[self.level],
        }
    }

    /// Takes an answer, which must be a number, and returns how far it is off, in degrees.
    pub fn answer(&mut self, task: &Task, answer: Degrees) -> Option<Degrees> {
        if !answer.is_finite() {
            return None;
        }
        let Task { quantity, truth, .. } = *task;
        let tried = Tried { quantity, truth, answer, level: self.level };
        self.tried.push(tried);
        self.follow();
        Some(tried.off())
    }

    /// Returns the mean size of the error by quantity, in degrees, of the last answers to each.
    fn errors(&self) -> BTreeMap<Quantity, f64> {
        let mut errors: BTreeMap<Quantity, (f64, usize)> = BTreeMap::new();
        for tried in self.tried.iter().rev() {
            let (sum, count) = errors.entry(tried.quantity).or_default();
            if *count < RECENT {
                *sum += tried.off().0.abs();
                *count += 1;
            }
        }
        errors.into_iter().map(|(quantity, (sum, count))| (quantity, sum / count as f64)).collect()
    }

    /// Goes a level up or down by the errors since the last change.
    fn follow(&mut self) {
        let round = &self.tried[self.settled..];
        if round.len() < ROUND {
            return;
        }
        let last = &round[round.len() - ROUND..];
        let sum: f64 = last.iter().map(|tried| tried.off().0.abs()).sum();
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

    /// Draws a drill: the larger the own error, the likelier, and those not asked yet first.
    fn choose(&mut self) -> &'static Drill {
        let errors = self.errors();
        let weight = |drill: &Drill| {
            errors.get(&drill.quantity).map_or(20.0, |error| (1.0 + error).min(MOST))
        };
        let mut at = self.rng.between(0.0, DRILLS.iter().map(weight).sum());
        let drawn = DRILLS.iter().find(|drill| {
            at -= weight(drill);
            at < 0.0
        });
        drawn.unwrap_or(&DRILLS[0])
    }
}
