//! Patches of high dynamic range with what is shown of them, for the tests of files and of the
//! screen.
//!
//! The expected values were worked out in Python with numpy, apart from this program: signal to
//! light by ITU-R BT.2100-2 table 5 (HLG, 1000 cd/m2, system gamma 1.2) and SMPTE ST 2084 (PQ),
//! BT.2020 to BT.709 through both sets of primaries and white D65, then the fixed scale that the
//! program documents: 203 cd/m2 (report ITU-R BT.2408) at 0.75 of the BT.709 curve, and
//! `0.75 + 0.25 e / (e + 0.25 / 0.3709)` for light `e` above it.

/// Luma and chroma in 10 bits, limited range, and the colour to show.
pub(crate) type Patch = ([u16; 3], [f64; 3]);

const fn gray(code: u16, shown: f64) -> Patch {
    ([code, 512, 512], [shown, shown, shown])
}

/// Signals 0, 0.25, 0.5, 0.7385 (a quarter of the light), 0.75, 0.8716 (half) and 1.
pub(crate) const HLG_GRAYS: [Patch; 8] = [
    gray(64, 0.0),
    gray(283, 34.32),
    gray(502, 93.65),
    gray(711, 184.84),
    gray(721, 191.32),
    gray(828, 231.46),
    gray(940, 245.66),
    gray(64, 0.0),
];
/// Light of 0, 0.1, 1, 10, 100, 203, 1000 and 4000 cd/m2.
pub(crate) const PQ_GRAYS: [Patch; 8] = [
    gray(64, 0.0),
    gray(119, 0.43),
    gray(195, 4.21),
    gray(327, 35.46),
    gray(509, 133.84),
    gray(573, 191.58),
    gray(723, 245.70),
    gray(855, 252.79),
];
/// The highest light that a PQ signal has, 10 000 cd/m2, and black beside it.
pub(crate) const PQ_TOP: [Patch; 8] = {
    let (top, black) = (gray(940, 254.12), gray(64, 0.0));
    [top, black, top, black, top, black, top, black]
};
/// White, yellow, cyan, green, magenta, red, blue and black at a signal of 0.75.
pub(crate) const HLG_BARS: [Patch; 8] = [
    ([721, 512, 512], [191.32, 191.32, 191.32]),
    ([682, 176, 539], [196.46, 190.94, 0.0]),
    ([548, 606, 176], [0.0, 196.11, 187.22]),
    ([509, 270, 203], [0.0, 195.29, 0.0]),
    ([276, 754, 821], [209.53, 0.0, 179.41]),
    ([237, 418, 848], [209.75, 0.0, 0.0]),
    ([103, 848, 485], [0.0, 0.0, 152.58]),
    ([64, 512, 512], [0.0, 0.0, 0.0]),
];
/// The same bars as PQ.
pub(crate) const PQ_BARS: [Patch; 8] = [
    ([721, 512, 512], [245.49, 245.49, 245.49]),
    ([682, 176, 539], [246.17, 245.57, 0.0]),
    ([548, 606, 176], [0.0, 246.57, 245.66]),
    ([509, 270, 203], [0.0, 246.63, 0.0]),
    ([276, 754, 821], [249.20, 0.0, 246.43]),
    ([237, 418, 848], [249.46, 0.0, 0.0]),
    ([103, 848, 485], [0.0, 0.0, 246.57]),
    ([64, 512, 512], [0.0, 0.0, 0.0]),
];

/// Returns eight patches as planes of 4:2:0 in 10 bits.
pub(crate) fn planes(patches: &[Patch; 8]) -> Vec<u8> {
    let plane = |component: usize, width: usize, height: usize| {
        let row = patches.iter().flat_map(|(codes, _)| vec![codes[component]; width]);
        row.flat_map(u16::to_le_bytes).collect::<Vec<u8>>().repeat(height)
    };
    [plane(0, 16, 32), plane(1, 8, 16), plane(2, 8, 16)].concat()
}
