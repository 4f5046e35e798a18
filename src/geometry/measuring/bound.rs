//! One cause that is known by its bounds only.

use super::measured::ErrorSource;
use crate::geometry::error::rng::Rng;

/// By how much the truth lies off the value for one cause.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Bound {
    /// What bounds it.
    pub cause: ErrorSource,
    off: Off,
}

#[derive(Clone, Debug, PartialEq)]
enum Off {
    /// From the lowest, usually zero or negative, to the highest, each as likely.
    Even([f64; 2]),
    /// Any of these.
    OneOf(Vec<f64>),
}

impl Bound {
    pub(super) fn of(cause: ErrorSource, ends: [f64; 2]) -> Self {
        Self { cause, off: Off::Even([ends[0].min(ends[1]), ends[0].max(ends[1])]) }
    }

    pub(super) const fn one_of(cause: ErrorSource, off: Vec<f64>) -> Self {
        Self { cause, off: Off::OneOf(off) }
    }

    /// Returns the root mean square about the value: a over root 3 when both sides are a.
    pub(crate) fn u(&self) -> f64 {
        match &self.off {
            Off::Even([low, high]) => ((low * low + low * high + high * high) / 3.0).sqrt(),
            Off::OneOf(all) => {
                (all.iter().map(|off| off * off).sum::<f64>() / all.len().max(1) as f64).sqrt()
            }
        }
    }

    /// Draws once.
    pub(crate) fn draw(&self, rng: &mut Rng) -> f64 {
        match &self.off {
            Off::Even([low, high]) => rng.between(*low, *high),
            Off::OneOf(all) => {
                let place = (rng.uniform() * all.len() as f64) as usize;
                all.get(place).copied().unwrap_or(0.0)
            }
        }
    }
}
