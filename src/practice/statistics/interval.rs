use serde::Serialize;
use statrs::function::beta::inv_beta_reg;

/// The 0.975 quantile of the standard normal distribution.
pub(super) const Z: f64 = 1.959_963_984_540_054;

/// A 95 % interval.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct Interval {
    /// Its lower end.
    pub low: f64,
    /// Its upper end.
    pub high: f64,
}

impl Interval {
    /// Returns the interval `half` to both sides of `middle`.
    pub fn around(middle: f64, half: f64) -> Self {
        Self { low: middle - half, high: middle + half }
    }

    /// Returns the interval with its ends held between `low` and `high`.
    #[must_use]
    pub fn within(self, low: f64, high: f64) -> Self {
        Self { low: self.low.clamp(low, high), high: self.high.clamp(low, high) }
    }

    /// Returns whether the value lies in it, ends included.
    pub fn holds(&self, value: f64) -> bool {
        (self.low..=self.high).contains(&value)
    }
}

/// Returns the 0.975 quantile of Student's t for these degrees of freedom, more than 0.
pub fn t_quantile(freedom: f64) -> f64 {
    let x = inv_beta_reg(0.5 * freedom, 0.5, 0.05);
    (freedom * (1.0 - x) / x).sqrt()
}

/// Returns the 0.975 quantile of F for these degrees of freedom, more than 0, whole or not.
pub(crate) fn f_quantile(above: f64, below: f64) -> f64 {
    // From the smaller tail, which loses no digits.
    let x = inv_beta_reg(0.5 * below, 0.5 * above, 0.025);
    below * (1.0 - x) / (above * x)
}
