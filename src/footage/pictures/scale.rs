//! A plane of samples in another size.

/// Returns a plane of `from` samples each way as one of `to`: halved by means of four as long as it is
/// twice too large, then by the nearest samples, the middle of the picture staying in the middle.
pub(super) fn scaled(samples: &[u8], from: [usize; 2], to: [usize; 2]) -> Vec<u8> {
    let [w, h] = from;
    if w >= 2 * to[0] && h >= 2 * to[1] {
        return scaled(&halved(samples, from), [w / 2, h / 2], to);
    }
    let [across, down] = [0, 1].map(|axis| nearest(from[axis], to[axis]));
    let mut made = Vec::with_capacity(to[0] * to[1]);
    for (above, below, share) in down {
        let row = |y: usize| samples.get(y * w..(y + 1) * w).unwrap_or_default();
        let (above, below) = (row(above), row(below));
        made.extend(across.iter().map(|&(left, right, along)| {
            let mix = |row: &[u8]| {
                let at = |x: usize| u32::from(row.get(x).copied().unwrap_or_default());
                at(left) * (ONE - along) + at(right) * along
            };
            let sum = mix(above) * (ONE - share) + mix(below) * share;
            ((sum + ONE * ONE / 2) / (ONE * ONE)) as u8
        }));
    }
    made
}

/// Shares are counted in so many parts.
const ONE: u32 = 256;

/// Returns for each sample of the new line the two of the old one between which it lies, and how far
/// towards the second.
fn nearest(from: usize, to: usize) -> Vec<(usize, usize, u32)> {
    let last = from.saturating_sub(1);
    let of = |place: usize| {
        let at = ((place as f64 + 0.5) * from as f64 / to as f64 - 0.5).clamp(0.0, last as f64);
        let first = at.floor() as usize;
        (first, (first + 1).min(last), (at.fract() * f64::from(ONE)) as u32)
    };
    (0..to).map(of).collect()
}

fn halved(samples: &[u8], [w, h]: [usize; 2]) -> Vec<u8> {
    let mut made = Vec::with_capacity((w / 2) * (h / 2));
    for rows in samples.chunks_exact(2 * w).take(h / 2) {
        let (above, below) = rows.split_at(w);
        let pairs = above.chunks_exact(2).zip(below.chunks_exact(2));
        made.extend(pairs.map(|(a, b)| {
            let sum: u16 = a.iter().chain(b).map(|&sample| u16::from(sample)).sum();
            ((sum + 2) / 4) as u8
        }));
    }
    made
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slope_keeps_its_middle_and_its_ends() {
        // 0 to 63 across; a quarter as wide the samples lie at 1.5, 5.5 and so on.
        let slope: Vec<u8> = (0..4).flat_map(|_| 0..64).collect();
        let small = scaled(&slope, [64, 4], [16, 1]);
        let expected: Vec<f64> = (0..16).map(|x| f64::from(x) * 4.0 + 1.5).collect();
        for (found, expected) in small.iter().zip(expected) {
            assert!((f64::from(*found) - expected).abs() <= 1.0, "{found} is not {expected}");
        }
        let large = scaled(&slope, [64, 4], [96, 6]);
        assert_eq!((large.len(), large[0], large[95]), (96 * 6, 0, 63));
        assert!((i32::from(large[48]) - 32).abs() <= 1);
    }
}
