//! One measurement from beginning to end.

use statrs::distribution::{ContinuousCDF, StudentsT};

use super::{
    bound::Bound,
    bounds,
    ground::Variation,
    joining::join_frames,
    measured::{ErrorSource, Measured, Method, Share},
    model::Model,
};
use crate::{
    geometry::{
        HALF_WIDTH, Quantity, Refusal,
        angle::wrap,
        error::{
            propagate::{self, Propagated, draw, first_order, mean_and_deviation, middle_95},
            rng::Rng,
        },
        input::MeasureInput,
        shape::AngleShape,
    },
    units::{Magnitude, Unit},
};

/// Measures, or says why not.
pub fn measure(input: &MeasureInput) -> Result<Measured, Refusal> {
    let mut model = Model::of(input)?;
    let mut notes = join_frames(input, &mut model);
    let first = at_best(&model)
        .ok_or(Refusal::NoAngle { detail: "they lie on top of each other or beyond a horizon" })?;
    let bounds = bounds::all(input, &model, first.value);
    let spread = spread(&model, &first, &bounds);
    let quantity = input.quantity;
    if spread.u.is_nan() || spread.u > useless(quantity.unit()) {
        return Err(Refusal::TooUncertain { quantity, u: Magnitude(spread.u) });
    }
    notes.splice(0..0, lowest_part(&model));
    if input.quantity == Quantity::Twist {
        notes.push(format!("{:.1} quarters.", first.value.abs() / 90.0));
    }
    if spread.is_bent {
        notes.push("First order is off by more than 2 %, so the interval is drawn.".to_owned());
    }
    let (value, interval) = shown(input.quantity, first.value, spread.interval);
    Ok(Measured {
        value,
        u: Magnitude(spread.u),
        interval,
        method: spread.method,
        budget: budget(&model, &first, &bounds),
        notes,
        residual: model.ground.fixed().and_then(|fixed| fixed.residual),
    })
}

fn at_best(model: &Model) -> Option<Propagated> {
    let best = model.value(&model.best(), Variation::NONE)?;
    first_order(&model.inputs, |x| near(model, best, x))
}

/// Returns the value nearest to `best`, so that no small step counts as a whole turn.
fn near(model: &Model, best: f64, x: &[f64]) -> Option<f64> {
    model.value(x, Variation::NONE).map(|value| best + wrap(value - best))
}

/// From this standard uncertainty on a value says nothing: the interval is a third of a turn, or
/// as long as two people, or twice the shoulders.
const fn useless(unit: Unit) -> f64 {
    match unit {
        Unit::Degree => 30.0,
        Unit::Metre => 1.0,
        Unit::ShoulderWidth => 0.5,
    }
}

/// Drawings that tell whether first order holds; each is paired with its first-order value.
const DRAWS_TO_CHECK: usize = 500;
/// Drawings that make an interval.
const DRAWS: usize = 4000;
/// First order may be off by this share.
const BENT: f64 = 0.02;
/// A mean off by this share of the uncertainty is off too.
const SHIFTED: f64 = 0.05;
/// Of drawings this share may make no angle, before the value is refused.
const LOST: f64 = 0.01;
/// Bounded causes below this share of the uncertainty leave it normal.
const SMALL_BOUND: f64 = 0.3;

struct Spread {
    u: f64,
    interval: [f64; 2],
    method: Method,
    is_bent: bool,
}

fn spread(model: &Model, first: &Propagated, bounds: &[Bound]) -> Spread {
    let bounded = bounds.iter().map(|bound| bound.u().powi(2)).sum::<f64>().sqrt();
    let u = first.u().hypot(bounded);
    // Few placements make a normal distribution's tails too thin, JCGM 100 G.3.
    let freedom = u.powi(4) / (first.u().powi(4) / first.freedom(&model.inputs));
    let cover = cover(freedom);
    let turned = |x: &[f64]| near(model, first.value, x);
    let checked = draw(&model.inputs, first, DRAWS_TO_CHECK, turned);
    let is_bent = is_bent(&checked, first);
    if (checked.len() as f64) < (1.0 - LOST) * DRAWS_TO_CHECK as f64 {
        return Spread {
            u: f64::INFINITY,
            interval: [0.0; 2],
            method: Method::MonteCarlo,
            is_bent,
        };
    }
    if !is_bent && bounded <= SMALL_BOUND * u {
        let interval = [first.value - cover * u, first.value + cover * u];
        return Spread { u, interval, method: Method::FirstOrder, is_bent };
    }
    let drawn: Vec<f64> = if is_bent {
        draw(&model.inputs, first, DRAWS, turned).iter().map(|drawn| drawn.result).collect()
    } else {
        let mut rng = Rng::new(1);
        (0..DRAWS).map(|_| first.value + first.u() * rng.normal()).collect()
    };
    let mut rng = Rng::new(2);
    let drawn =
        drawn.iter().map(|value| value + bounds.iter().map(|b| b.draw(&mut rng)).sum::<f64>());
    let wider = |end: f64| first.value + (end - first.value) * cover / HALF_WIDTH;
    let interval = middle_95(drawn).map(wider);
    // The interval is what decides, so the standard uncertainty of a bent result follows it.
    let u = if is_bent { (interval[1] - interval[0]) / (2.0 * HALF_WIDTH) } else { u };
    Spread { u, interval, method: Method::MonteCarlo, is_bent }
}

fn is_bent(drawn: &[propagate::Draw], first: &Propagated) -> bool {
    let [mean, deviation] = mean_and_deviation(drawn.iter().map(|d| d.result));
    let [linear_mean, linear] = mean_and_deviation(drawn.iter().map(|d| d.linear));
    first.u() > 0.0
        && ((deviation / linear - 1.0).abs() > BENT
            || (mean - linear_mean).abs() > SHIFTED * first.u())
}

/// Returns how many standard uncertainties 95 % reach.
fn cover(freedom: f64) -> f64 {
    if freedom > 1000.0 || !freedom.is_finite() {
        return HALF_WIDTH;
    }
    StudentsT::new(0.0, 1.0, freedom).map_or(HALF_WIDTH, |t| t.inverse_cdf(0.975))
}

fn lowest_part(model: &Model) -> Option<String> {
    let compared = model.compared();
    if compared.len() < 2 {
        return None;
    }
    let counts = match model.shape {
        AngleShape::Lowest { .. } => compared.iter().min_by(|a, b| a.1.total_cmp(&b.1)),
        _ => compared.iter().max_by(|a, b| a.1.abs().total_cmp(&b.1.abs())),
    }?;
    let list: Vec<String> = compared.iter().map(|(name, d)| format!("{name} {d:+.0}°")).collect();
    Some(format!("{}: the {} counts.", list.join(", "), counts.0))
}

/// Returns value and interval as they are shown: those of sizes without a sign.
fn shown(quantity: Quantity, value: f64, [low, high]: [f64; 2]) -> (Magnitude, [Magnitude; 2]) {
    let (value, low, high) = match (quantity.is_size(), value < 0.0) {
        (true, true) => (-value, -high, -low),
        _ => (value, low, high),
    };
    let [low, high] =
        if quantity.is_size() && low < 0.0 { [0.0, high.max(-low)] } else { [low, high] };
    (Magnitude(value), [Magnitude(low), Magnitude(high)])
}

fn budget(model: &Model, first: &Propagated, bounds: &[Bound]) -> Vec<Share> {
    let parts = model.inputs.iter().map(|input| input.cause).zip(first.parts.iter().copied());
    let bounded = bounds.iter().map(|bound| (bound.cause, bound.u()));
    let mut shares: Vec<Share> = Vec::new();
    for (cause, u) in parts.chain(bounded).filter(|(_, u)| *u != 0.0) {
        match shares.iter_mut().find(|share: &&mut Share| share.cause == cause) {
            Some(share) => share.u = Magnitude(share.u.0.hypot(u)),
            None => shares.push(Share { cause, u: Magnitude(u.abs()) }),
        }
    }
    shares.sort_by(|a, b| b.u.0.total_cmp(&a.u.0));
    shares
}

impl Measured {
    /// Returns the cause that weighs most, whose remedy would help most.
    pub fn worst(&self) -> Option<ErrorSource> {
        self.budget.first().map(|share| share.cause)
    }
}
