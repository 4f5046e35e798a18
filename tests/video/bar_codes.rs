//! Colour bars as code values, for the tests of files and of the screen.

/// Y, Cb and Cr of eight bars.
pub(crate) type Codes = [[u16; 3]; 8];

/// Matrix, then white, yellow, cyan, green, magenta, red, blue, black at 75 %: limited range in 8
/// and in 10 bits, full range in 8. Computed from the
/// equations of ITU-R BT.601-7, BT.709-6 and BT.2020-2 with the Python library colour-science.
pub(crate) const BARS: [(&str, Codes, Codes, Codes); 3] = [
    (
        "smpte170m",
        [
            [180, 128, 128],
            [162, 44, 142],
            [131, 156, 44],
            [112, 72, 58],
            [84, 184, 198],
            [65, 100, 212],
            [35, 212, 114],
            [16, 128, 128],
        ],
        [
            [721, 512, 512],
            [646, 176, 567],
            [525, 625, 176],
            [450, 289, 231],
            [335, 735, 793],
            [260, 399, 848],
            [139, 848, 457],
            [64, 512, 512],
        ],
        [
            [191, 128, 128],
            [169, 32, 144],
            [134, 160, 32],
            [112, 65, 48],
            [79, 191, 208],
            [57, 96, 224],
            [22, 224, 112],
            [0, 128, 128],
        ],
    ),
    (
        "bt709",
        [
            [180, 128, 128],
            [168, 44, 136],
            [145, 147, 44],
            [133, 63, 52],
            [63, 193, 204],
            [51, 109, 212],
            [28, 212, 120],
            [16, 128, 128],
        ],
        [
            [721, 512, 512],
            [674, 176, 543],
            [581, 589, 176],
            [534, 253, 207],
            [251, 771, 817],
            [204, 435, 848],
            [111, 848, 481],
            [64, 512, 512],
        ],
        [
            [191, 128, 128],
            [177, 32, 137],
            [151, 150, 32],
            [137, 54, 41],
            [54, 202, 215],
            [41, 106, 224],
            [14, 224, 119],
            [0, 128, 128],
        ],
    ),
    (
        "bt2020nc",
        [
            [180, 128, 128],
            [171, 44, 135],
            [137, 151, 44],
            [127, 67, 51],
            [69, 189, 205],
            [59, 105, 212],
            [26, 212, 121],
            [16, 128, 128],
        ],
        [
            [721, 512, 512],
            [682, 176, 539],
            [548, 606, 176],
            [509, 270, 203],
            [276, 754, 821],
            [237, 418, 848],
            [103, 848, 485],
            [64, 512, 512],
        ],
        [
            [191, 128, 128],
            [180, 32, 136],
            [141, 155, 32],
            [130, 59, 40],
            [62, 197, 216],
            [50, 101, 224],
            [11, 224, 120],
            [0, 128, 128],
        ],
    ),
];
/// What the bars are in red, green and blue, each 0 or 75 % of 255.
pub(crate) const BAR_COLOURS: [[u8; 3]; 8] =
    [[1, 1, 1], [1, 1, 0], [0, 1, 1], [0, 1, 0], [1, 0, 1], [1, 0, 0], [0, 0, 1], [0, 0, 0]];

/// The same bars in 10 bits of full range, by the equations of the standards: luma from the shares
/// of red and blue (ITU-T H.273, table 4), chroma from the differences to it.
pub(crate) fn full_in_ten_bits(matrix: &str) -> Codes {
    let (kr, kb) = match matrix {
        "smpte170m" => (0.299, 0.114),
        "bt709" => (0.2126, 0.0722),
        _ => (0.2627, 0.0593),
    };
    BAR_COLOURS.map(|bar| {
        let [r, g, b] = bar.map(|part| 0.75 * f64::from(part));
        let y = kr * r + (1.0 - kr - kb) * g + kb * b;
        let chroma =
            |colour: f64, share: f64| (colour - y) / (2.0 * (1.0 - share)) * 1023.0 + 512.0;
        [y * 1023.0, chroma(b, kb), chroma(r, kr)].map(|code| code.round() as u16)
    })
}

/// Writes bars, each 16 samples wide and 32 high, as raw planes.
pub(crate) fn raw_bars(codes: &Codes, [shift_x, shift_y]: [u32; 2], bytes: usize) -> Vec<u8> {
    let plane = |component: usize, width: usize, height: usize| {
        let line = (0..8).flat_map(move |bar| std::iter::repeat_n(codes[bar][component], width));
        let line: Vec<u8> = line.flat_map(|code| code.to_le_bytes()[..bytes].to_vec()).collect();
        line.repeat(height)
    };
    let chroma = (16 >> shift_x, 32 >> shift_y);
    [plane(0, 16, 32), plane(1, chroma.0, chroma.1), plane(2, chroma.0, chroma.1)].concat()
}
