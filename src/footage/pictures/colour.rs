/// The equations that tie Y'CbCr to R'G'B' (ITU-T H.273, matrix coefficients).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Matrix {
    /// The samples are red, green and blue themselves.
    Rgb,
    /// ITU-R BT.601, standard definition.
    Bt601,
    /// ITU-R BT.709, high definition.
    Bt709,
    /// ITU-R BT.2020, non-constant luminance.
    Bt2020,
    /// SMPTE ST 240.
    Smpte240,
    /// United States FCC 73.682.
    Fcc,
}

impl Matrix {
    /// Returns the shares of red and blue in luma.
    pub(super) fn red_and_blue(self) -> (f64, f64) {
        match self {
            Self::Rgb | Self::Bt709 => (0.2126, 0.0722),
            Self::Bt601 => (0.299, 0.114),
            Self::Bt2020 => (0.2627, 0.0593),
            Self::Smpte240 => (0.212, 0.087),
            Self::Fcc => (0.30, 0.11),
        }
    }
}

/// Which code values are black and white.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SampleRange {
    /// 16 to 235 in 8 bits, chroma 16 to 240.
    Limited,
    /// 0 to 255 in 8 bits.
    Full,
}

/// How signal relates to light.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Transfer {
    /// An ordinary screen's curve; shown as it is.
    Sdr,
    /// Hybrid log-gamma of ITU-R BT.2100.
    Hlg,
    /// Perceptual quantiser of ITU-R BT.2100.
    Pq,
}

/// Which red, green and blue are meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Primaries {
    /// Those of BT.709, or close to them; shown as they are.
    Bt709,
    /// The wide ones of BT.2020.
    Bt2020,
}

/// How a picture's code values become colours.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct ColourSpace {
    /// The equations between luma, chroma and colours.
    pub matrix: Matrix,
    /// Black and white.
    pub range: SampleRange,
    /// The curve.
    pub transfer: Transfer,
    /// The primaries.
    pub primaries: Primaries,
    /// Whether the file named the matrix; if not, it follows from the picture's size.
    pub tagged: bool,
}

/// What kind of samples a picture has.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Samples {
    Luma,
    LumaChroma,
    /// A yuvj format, whose name says full range.
    LumaChromaFull,
    Rgb,
}

impl ColourSpace {
    /// Settles what the file left open.
    ///
    /// An untagged picture is BT.709 when its height is over 576 or its width at least 1280, else
    /// BT.601; common practice, no source. `numbers` are matrix, range, transfer and primaries of
    /// ITU-T H.273 as FFmpeg gives them.
    pub(crate) fn settle(samples: Samples, numbers: [i32; 4], size: [u32; 2]) -> Self {
        let [matrix, range, transfer, primaries] = numbers;
        let named = match (samples, matrix) {
            (Samples::Rgb, _) => Some(Matrix::Rgb),
            (_, 1) => Some(Matrix::Bt709),
            (_, 4) => Some(Matrix::Fcc),
            (_, 5 | 6) => Some(Matrix::Bt601),
            (_, 7) => Some(Matrix::Smpte240),
            (_, 9 | 10) => Some(Matrix::Bt2020),
            _ => None,
        };
        let by_size = if size[1] > 576 || size[0] >= 1280 { Matrix::Bt709 } else { Matrix::Bt601 };
        Self {
            matrix: named.unwrap_or(by_size),
            range: match (range, samples) {
                (2, _) | (_, Samples::LumaChromaFull) => SampleRange::Full,
                (1, _) | (_, Samples::LumaChroma) => SampleRange::Limited,
                _ => SampleRange::Full,
            },
            transfer: match transfer {
                16 => Transfer::Pq,
                18 => Transfer::Hlg,
                _ => Transfer::Sdr,
            },
            primaries: if primaries == 9 { Primaries::Bt2020 } else { Primaries::Bt709 },
            tagged: named.is_some(),
        }
    }

    /// Returns three rows of four numbers that turn samples into R'G'B'.
    ///
    /// Multiply a row with (y, cb, cr, 1), or (r, g, b, 1) for RGB pictures, where each sample is
    /// its code value divided by the largest one (255 in 8 bits, 1023 in 10). The result is
    /// gamma-coded, 0 black and 1 white, and may lie outside. For gray pictures give cb and cr
    /// half: `2^(depth-1)` over the largest code value.
    pub(crate) fn to_rgb(self, depth: u32) -> [[f64; 4]; 3] {
        let largest = ((1_u64 << depth) - 1) as f64;
        let step = 2_f64.powi(depth as i32 - 8);
        let (black, luma, chroma) = match self.range {
            SampleRange::Limited => (16.0 * step, 219.0 * step, 224.0 * step),
            SampleRange::Full => (0.0, largest, largest),
        };
        let (y, y0) = (largest / luma, -black / luma);
        if self.matrix == Matrix::Rgb {
            return [[y, 0.0, 0.0, y0], [0.0, y, 0.0, y0], [0.0, 0.0, y, y0]];
        }
        let (kr, kb) = self.matrix.red_and_blue();
        let kg = 1.0 - kr - kb;
        let (c, middle) = (largest / chroma, 128.0 * step / chroma);
        let (red, blue) = (2.0 * (1.0 - kr), 2.0 * (1.0 - kb));
        let (green_cb, green_cr) = (-blue * kb / kg, -red * kr / kg);
        let row = |cb: f64, cr: f64| [y, cb * c, cr * c, y0 - (cb + cr) * middle];
        [row(0.0, red), row(green_cb, green_cr), row(blue, 0.0)]
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn limited(matrix: Matrix) -> ColourSpace {
        ColourSpace {
            matrix,
            range: SampleRange::Limited,
            transfer: Transfer::Sdr,
            primaries: Primaries::Bt709,
            tagged: true,
        }
    }

    fn convert(space: ColourSpace, depth: u32, samples: [u32; 3]) -> [f64; 3] {
        let largest = f64::from((1_u32 << depth) - 1);
        let [y, cb, cr] = samples.map(|code| f64::from(code) / largest);
        space.to_rgb(depth).map(|[a, b, c, d]| (a * y + b * cb + c * cr + d) * 255.0)
    }

    /// Multipliers for 8-bit limited range that follow from ITU-R BT.601-7, BT.709-6 and
    /// BT.2020-2; computed with the Python library colour-science.
    #[test]
    fn decodes_as_the_standards_say() {
        let rows = [
            (Matrix::Bt601, [81, 90, 240], [254.439_932, -0.480_478, -0.969_890]),
            (Matrix::Bt709, [81, 90, 240], [276.471_932, 24.102_534, -4.586_336]),
            (Matrix::Bt2020, [81, 90, 240], [263.696_432, 9.955_800, -5.702_417]),
            (Matrix::Bt601, [180, 100, 150], [226.071_493, 184.042_960, 134.476_404]),
            (Matrix::Bt709, [63, 102, 240], [255.513_027, 0.584_647, -0.196_419]),
            (Matrix::Bt2020, [41, 240, 110], [-1.106_545, 19.836_703, 268.988_089]),
        ];
        for (matrix, samples, expected) in rows {
            let found = convert(limited(matrix), 8, samples);
            for (found, expected) in found.into_iter().zip(expected) {
                assert!((found - expected).abs() < 1e-4, "{matrix:?} {samples:?}: {found}");
            }
        }
    }

    /// Bars at 75 % (BT.709 in 10 bits: the set of SMPTE RP 219, from memory).
    #[test]
    fn ten_bits_and_full_range_give_the_same_bars() {
        let yellow_10 = convert(limited(Matrix::Bt709), 10, [674, 176, 543]);
        let full = ColourSpace { range: SampleRange::Full, ..limited(Matrix::Bt709) };
        let yellow_full = convert(full, 8, [177, 32, 137]);
        for found in [yellow_10, yellow_full] {
            for (found, expected) in found.into_iter().zip([191.25, 191.25, 0.0]) {
                assert!((found - expected).abs() < 1.5, "{found} is not {expected}");
            }
        }
    }

    #[test]
    fn untagged_pictures_follow_their_size() {
        let of = |size| ColourSpace::settle(Samples::LumaChroma, [2, 0, 2, 2], size).matrix;
        assert_eq!(of([720, 576]), Matrix::Bt601);
        assert_eq!(of([1280, 540]), Matrix::Bt709);
        assert_eq!(of([960, 720]), Matrix::Bt709);
    }
}
