//! Smooth interpolation that never overshoots a key.

/// Returns the monotone cubic through `(times[i], value(i))` at `t`, constant beyond the ends.
///
/// Slopes by Fritsch and Butland (1984): where the values turn, the curve is level, so an
/// extreme of the motion is a key and not between keys.
pub fn sample(times: &[f64], value: impl Fn(usize) -> f64, t: f64) -> f64 {
    let last = times.len() - 1;
    let i = times.partition_point(|&k| k <= t);
    if i == 0 {
        return value(0);
    }
    if i > last {
        return value(last);
    }
    let (t0, t1, v0, v1) = (times[i - 1], times[i], value(i - 1), value(i));
    let h = t1 - t0;
    let (m0, m1) = (slope(times, &value, i - 1) * h, slope(times, &value, i) * h);
    hermite((v0, m0), (v1, m1), (t - t0) / h)
}

/// Returns the cubic with the given (value, slope) at `u` 0 and 1.
pub fn hermite((v0, m0): (f64, f64), (v1, m1): (f64, f64), u: f64) -> f64 {
    let (u2, u3) = (u * u, u * u * u);
    (2.0 * u3 - 3.0 * u2 + 1.0) * v0
        + (u3 - 2.0 * u2 + u) * m0
        + (3.0 * u2 - 2.0 * u3) * v1
        + (u3 - u2) * m1
}

/// Returns 0 to 1 along a smooth step as `u` goes from 0 to 1.
pub fn smooth(u: f64) -> f64 {
    let u = u.clamp(0.0, 1.0);
    u * u * (3.0 - 2.0 * u)
}

fn slope(times: &[f64], value: &impl Fn(usize) -> f64, i: usize) -> f64 {
    if i == 0 || i + 1 == times.len() {
        return 0.0;
    }
    let (h0, h1) = (times[i] - times[i - 1], times[i + 1] - times[i]);
    let (d0, d1) = ((value(i) - value(i - 1)) / h0, (value(i + 1) - value(i)) / h1);
    if d0 * d1 <= 0.0 {
        return 0.0;
    }
    let (w0, w1) = (2.0 * h1 + h0, h1 + 2.0 * h0);
    (w0 + w1) / (w0 / d0 + w1 / d1)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn passes_through_its_keys_and_never_beyond_them() {
        let (times, values) = ([0.0, 1.0, 1.5, 4.0], [0.0, 10.0, 10.0, -3.0]);
        for (t, v) in times.iter().zip(values) {
            assert!((sample(&times, |i| values[i], *t) - v).abs() < 1e-12);
        }
        for k in 0..=400 {
            let v = sample(&times, |i| values[i], f64::from(k) / 100.0);
            assert!((-3.0..=10.0).contains(&v));
        }
    }
}
