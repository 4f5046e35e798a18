use super::colour::{ColourSpace, Primaries, Transfer};

/// Brings the colours of a high dynamic range picture down to an ordinary screen.
///
/// One fixed formula for reading positions, not for grading. Signal to display light in cd/m2 by
/// ITU-R BT.2100 (HLG as on a 1000 cd/m2 screen, system gamma 1.2); divided by 203 cd/m2, the
/// reference white of report ITU-R BT.2408; BT.2020 to BT.709 primaries; then, for each colour,
/// light up to white through the BT.709 curve times 0.75, and light above white rolled off by
/// `0.75 + 0.25 · e / (e + 0.25 / 0.3709)` with `e` the light above white.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Tone {
    transfer: Transfer,
    wide: bool,
}

/// Reference white in cd/m2 (ITU-R BT.2408).
const REFERENCE_WHITE: f32 = 203.0;
/// Signal at which reference white is shown.
const WHITE_SIGNAL: f32 = 0.75;

impl Tone {
    /// Returns the formula for a picture's colours.
    pub(crate) fn of(colour: ColourSpace) -> Self {
        Self { transfer: colour.transfer, wide: colour.primaries == Primaries::Bt2020 }
    }

    /// Turns gamma-coded R'G'B' into what an ordinary screen shows; SDR stays as it is.
    pub(crate) fn apply(self, rgb: [f32; 3]) -> [f32; 3] {
        let light = match self.transfer {
            Transfer::Sdr => return rgb,
            Transfer::Hlg => hlg_light(rgb),
            Transfer::Pq => rgb.map(pq_light),
        };
        let light = light.map(|cd| cd / REFERENCE_WHITE);
        let light = if self.wide { to_bt709(light) } else { light };
        light.map(|light| to_signal(light.max(0.0)))
    }
}

/// Returns display light in cd/m2 of an HLG signal (BT.2100-2, 1000 cd/m2, system gamma 1.2).
fn hlg_light(rgb: [f32; 3]) -> [f32; 3] {
    let [r, g, b] = rgb.map(hlg_scene);
    let luminance = 0.2627 * r + 0.6780 * g + 0.0593 * b;
    let gain = 1000.0 * luminance.max(0.0).powf(0.2);
    [r, g, b].map(|scene| scene * gain)
}

/// Inverse of the HLG OETF: signal to scene light, both 0 to 1.
fn hlg_scene(signal: f32) -> f32 {
    const A: f32 = 0.178_832_77;
    const B: f32 = 0.284_668_92;
    const C: f32 = 0.559_910_7;
    if signal <= 0.5 {
        signal.max(0.0).powi(2) / 3.0
    } else {
        (((signal - C) / A).exp() + B) / 12.0
    }
}

/// Returns display light in cd/m2 of a PQ signal (SMPTE ST 2084).
fn pq_light(signal: f32) -> f32 {
    const M1: f32 = 0.159_301_76;
    const M2: f32 = 78.843_75;
    const C1: f32 = 0.835_937_5;
    const C2: f32 = 18.851_563;
    const C3: f32 = 18.6875;
    let power = signal.clamp(0.0, 1.0).powf(1.0 / M2);
    let ratio = (power - C1).max(0.0) / (C2 - C3 * power);
    10_000.0 * ratio.powf(1.0 / M1)
}

/// Linear light of BT.2020 primaries in BT.709 primaries (ITU-R BT.2087).
fn to_bt709([r, g, b]: [f32; 3]) -> [f32; 3] {
    [
        1.660_491 * r - 0.587_641_1 * g - 0.072_849_86 * b,
        -0.124_550_47 * r + 1.132_899_9 * g - 0.008_349_42 * b,
        -0.018_150_76 * r - 0.100_578_9 * g + 1.118_729_7 * b,
    ]
}

/// Returns the signal for light in which reference white is 1: the BT.709 curve scaled so that
/// white lands at 0.75, and above white a hyperbola with the same slope there that nears 1.
fn to_signal(light: f32) -> f32 {
    if light <= 1.0 {
        return WHITE_SIGNAL * bt709(light);
    }
    let room = 1.0 - WHITE_SIGNAL;
    // Slope of the curve at white: 0.75 · 1.099 · 0.45.
    let slope = WHITE_SIGNAL * 1.099 * 0.45;
    WHITE_SIGNAL + room * (light - 1.0) / (light - 1.0 + room / slope)
}

/// The OETF of ITU-R BT.709-6.
fn bt709(light: f32) -> f32 {
    if light < 0.018 { 4.5 * light } else { 1.099 * light.powf(0.45) - 0.099 }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Values of ITU-R BT.2100-2 and SMPTE ST 2084, computed with the Python library
    /// colour-science.
    #[test]
    fn signals_become_the_standards_light() {
        for (signal, light) in [(0.25, 5.154_176), (0.5, 92.245_71), (0.75, 983.377_86)] {
            assert!((pq_light(signal) / light - 1.0).abs() < 2e-3, "{signal}");
        }
        for (signal, scene) in [(0.25, 0.020_833_333), (0.5, 0.083_333_33), (0.75, 0.264_962_56)] {
            assert!((hlg_scene(signal) / scene - 1.0).abs() < 1e-4, "{signal}");
        }
        // Report ITU-R BT.2408: 75 % HLG is 203 cd/m2.
        assert!((hlg_light([0.75; 3])[0] - 203.152).abs() < 0.05);
    }

    #[test]
    fn reference_white_is_three_quarters_and_nothing_is_clipped() {
        let hlg = Tone { transfer: Transfer::Hlg, wide: true };
        let [r, g, b] = hlg.apply([0.75; 3]);
        for value in [r, g, b] {
            assert!((value - 0.75).abs() < 0.002, "{value}");
        }
        let steps: Vec<f32> =
            (0_u8..=100).map(|s| hlg.apply([f32::from(s) / 100.0; 3])[1]).collect();
        assert!(steps.is_sorted_by(|a, b| a < b) && steps[100] < 1.0);
    }

    /// BT.709-6: 0.018 is 0.0812, 0.18 is 0.4090, 0.5 is 0.7055.
    #[test]
    fn the_curve_is_bt_709() {
        for (light, signal) in [(0.018, 0.081_248), (0.18, 0.409_008), (0.5, 0.705_515)] {
            assert!((bt709(light) - signal).abs() < 1e-3);
        }
    }
}
