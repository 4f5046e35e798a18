//! What the uncertainty of inputs does to a result: first order (JCGM 100) and by drawing
//! (JCGM 101).

use super::rng::Rng;

/// Something uncertain that a result depends on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Input<C> {
    /// Best value.
    pub value: f64,
    /// Standard uncertainty.
    pub u: f64,
    /// Degrees of freedom behind it; infinite for what is taken as known.
    pub freedom: f64,
    /// What makes it uncertain.
    pub cause: C,
}

/// A result with what it owes to every input.
#[derive(Clone, Debug, PartialEq)]
pub struct Propagated {
    /// Value at the best values of the inputs.
    pub value: f64,
    /// Partial derivative times standard uncertainty of every input.
    pub parts: Vec<f64>,
}

impl Propagated {
    /// Returns the combined standard uncertainty of independent inputs.
    pub fn u(&self) -> f64 {
        self.parts.iter().map(|part| part * part).sum::<f64>().sqrt()
    }

    /// Returns the effective degrees of freedom, JCGM 100 G.4.1; infinite when all is known.
    ///
    /// Inputs of one cause share one estimate of their spread, and so its degrees of freedom.
    pub fn freedom<C: Copy + PartialEq>(&self, inputs: &[Input<C>]) -> f64 {
        let mut causes: Vec<(C, f64, f64)> = Vec::new();
        for (part, input) in self.parts.iter().zip(inputs) {
            match causes.iter_mut().find(|(cause, ..)| *cause == input.cause) {
                Some((_, square, _)) => *square += part * part,
                None => causes.push((input.cause, part * part, input.freedom)),
            }
        }
        let shares = causes.iter().map(|(_, square, freedom)| square * square / freedom);
        effective_freedom(self.u(), shares)
    }
}

/// Returns u⁴ over the sum of uᵢ⁴ over νᵢ (Welch and Satterthwaite).
pub(crate) fn effective_freedom(u: f64, fourths_over_freedom: impl Iterator<Item = f64>) -> f64 {
    u.powi(4) / fourths_over_freedom.sum::<f64>()
}

/// Returns the result and the parts of its uncertainty by central differences; nothing where
/// `result` is not defined about the best values.
pub fn first_order<C>(
    inputs: &[Input<C>],
    result: impl Fn(&[f64]) -> Option<f64>,
) -> Option<Propagated> {
    let mut at: Vec<f64> = inputs.iter().map(|input| input.value).collect();
    let value = result(&at)?;
    let mut parts = Vec::with_capacity(inputs.len());
    for (k, input) in inputs.iter().enumerate() {
        if input.u == 0.0 {
            parts.push(0.0);
            continue;
        }
        let step = input.u * STEP;
        at[k] = input.value + step;
        let up = result(&at)?;
        at[k] = input.value - step;
        let down = result(&at)?;
        at[k] = input.value;
        parts.push((up - down) / (2.0 * STEP));
    }
    (value.is_finite() && parts.iter().all(|part| part.is_finite()))
        .then_some(Propagated { value, parts })
}

/// Step of a difference, in standard uncertainties: small against any bend, large against
/// rounding.
const STEP: f64 = 1e-3;

/// One drawing of all inputs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Draw {
    /// What the result is there.
    pub result: f64,
    /// What first order makes of the same drawing.
    pub linear: f64,
}

/// Draws the inputs from normal distributions `n` times, the same drawings every time; those
/// at which `result` is not defined are left out.
pub fn draw<C>(
    inputs: &[Input<C>],
    first: &Propagated,
    n: usize,
    result: impl Fn(&[f64]) -> Option<f64>,
) -> Vec<Draw> {
    let mut rng = Rng::new(SEED);
    let mut at = vec![0.0; inputs.len()];
    (0..n)
        .filter_map(|_| {
            let mut linear = first.value;
            for (k, input) in inputs.iter().enumerate() {
                let z = rng.normal();
                at[k] = input.value + z * input.u;
                linear += z * first.parts[k];
            }
            result(&at).filter(|r| r.is_finite()).map(|result| Draw { result, linear })
        })
        .collect()
}

const SEED: u64 = 20_261_125;

/// Returns the mean and the standard deviation.
pub fn mean_and_deviation(values: impl Iterator<Item = f64> + Clone) -> [f64; 2] {
    let n = values.clone().count().max(1) as f64;
    let mean = values.clone().sum::<f64>() / n;
    let squares: f64 = values.map(|value| (value - mean).powi(2)).sum();
    [mean, (squares / (n - 1.0).max(1.0)).sqrt()]
}

/// Returns the values below which 2.5 % and 97.5 % of all lie.
pub(crate) fn middle_95(values: impl Iterator<Item = f64>) -> [f64; 2] {
    let mut sorted: Vec<f64> = values.collect();
    sorted.sort_by(f64::total_cmp);
    let at = |share: f64| {
        let place = (share * sorted.len() as f64) as usize;
        sorted.get(place.min(sorted.len().saturating_sub(1))).copied().unwrap_or(f64::NAN)
    };
    [at(0.025), at(0.975)]
}
