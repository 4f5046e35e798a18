//! Colours on the screen, read back from the graphics card's renderer.

use stillcall::{
    footage::{Decoder, Footage},
    units::Orientation,
    window::Viewport,
};

use crate::{
    bar_codes::{BAR_COLOURS, BARS, full_in_ten_bits, raw_bars},
    clips,
    drawn::{Theatre, renderer},
    hdr_codes::{HLG_BARS, HLG_GRAYS, PQ_BARS, PQ_GRAYS, PQ_TOP, Patch, planes},
};

/// Compares the middle of eight patches, each 16 wide and 32 high, with what they must be.
fn check(clip: &std::path::Path, renderer: &mut iced::Renderer, expected: &[[f64; 3]; 8]) {
    let theatre = Theatre::open(clip);
    theatre.go_to(0);
    let shot = theatre.shot(renderer, Viewport::FIT, [128, 32]);
    for (patch, expected) in expected.iter().enumerate() {
        let at = (16 * shot.width + patch * 16 + 8) * 4;
        for (found, expected) in shot.rgba[at..at + 3].iter().zip(expected) {
            let near = (f64::from(*found) - expected).abs() <= 1.0;
            assert!(near, "{}: patch {patch} is {found}, not {expected}", clip.display());
        }
    }
}

/// The bars of the tests of files, drawn by the shader: within one code value.
#[test]
fn bars_have_their_colours_on_the_screen() {
    let mut renderer = renderer("wgpu");
    let expected = BAR_COLOURS.map(|bar| bar.map(|part| f64::from(part) * 191.0));
    for (matrix, limited, limited_10, full) in &BARS {
        for (sub, shifts) in [("420", [1, 1]), ("422", [1, 0]), ("444", [0, 0])] {
            let kinds = [
                (limited, 1, "", "tv"),
                (limited_10, 2, "10le", "tv"),
                (full, 1, "", "pc"),
                (&full_in_ten_bits(matrix), 2, "10le", "pc"),
            ];
            for (codes, bytes, suffix, range) in kinds {
                let format = format!("yuv{sub}p{suffix}");
                let tags = format!("-colorspace {matrix} -color_range {range}");
                let name = format!("{matrix}-{format}-{range}");
                let clip = clips::raw(&name, &raw_bars(codes, shifts, bytes), &format, &tags);
                check(&clip, &mut renderer, &expected);
            }
        }
    }
}

#[test]
fn high_dynamic_range_is_shown_by_the_formula_on_the_screen() {
    let mut renderer = renderer("wgpu");
    let rows: [(&str, &str, &[Patch; 8]); 5] = [
        ("hlg-grays", "arib-std-b67", &HLG_GRAYS),
        ("hlg-bars", "arib-std-b67", &HLG_BARS),
        ("pq-grays", "smpte2084", &PQ_GRAYS),
        ("pq-top", "smpte2084", &PQ_TOP),
        ("pq-bars", "smpte2084", &PQ_BARS),
    ];
    for (name, transfer, patches) in rows {
        let tags = format!(
            "-color_range tv -color_primaries bt2020 -color_trc {transfer} -colorspace bt2020nc",
        );
        let clip = clips::raw(name, &planes(patches), "yuv420p10le", &tags);
        check(&clip, &mut renderer, &patches.map(|(_, shown)| shown));
    }
}

/// Shader and file export agree for every way of storing a picture. The export itself is held
/// against FFmpeg's own conversion in the video tests.
#[test]
fn the_shader_agrees_with_the_exported_picture() {
    let ways = [
        ("420.mp4", "-c:v libx264 -pix_fmt yuv420p"),
        ("422.mp4", "-c:v libx264 -pix_fmt yuv422p"),
        ("444.mp4", "-c:v libx264 -pix_fmt yuv444p"),
        ("420-10.mp4", "-c:v libx264 -pix_fmt yuv420p10le"),
        ("422-10.mp4", "-c:v libx264 -pix_fmt yuv422p10le"),
        ("gray.mkv", "-c:v ffv1 -pix_fmt gray"),
        ("full.mp4", "-c:v libx264 -pix_fmt yuvj420p -color_range pc"),
        (
            "709.mp4",
            "-c:v libx264 -pix_fmt yuv420p -colorspace bt709 -color_primaries bt709 -color_trc bt709",
        ),
        ("rgb.mkv", "-c:v ffv1 -pix_fmt gbrp"),
        ("packed.mkv", "-c:v ffv1 -pix_fmt bgr0"),
        ("wide.mp4", "-c:v libx264 -pix_fmt yuv420p -vf setsar=4/3"),
        (
            "hlg.mp4",
            "-c:v libx264 -pix_fmt yuv420p10le -colorspace bt2020nc -color_primaries bt2020 -color_trc arib-std-b67",
        ),
    ];
    let mut renderer = renderer("wgpu");
    for (name, options) in ways {
        let clip = clips::coded(name, options);
        let theatre = Theatre::open(&clip);
        theatre.go_to(7);
        let footage = Footage::open(&clip).unwrap();
        let exported = Decoder::new(&footage, 1).picture(7).unwrap().to_rgba_upright();
        let size = [exported.width(), exported.height()];
        let shot = theatre.shot(&mut renderer, Viewport::FIT, size);
        compare(name, &shot.rgba, exported.as_raw());
    }
}

/// Every value within one code value; only stretching is done by different filters on screen and in
/// files, so that pixels at edges differ there.
fn compare(name: &str, shown: &[u8], exported: &[u8]) {
    assert_eq!(shown.len(), exported.len(), "{name}");
    let is_stretched = name.starts_with("wide");
    let (most, allowed) = if is_stretched { (3, shown.len() / 10) } else { (1, 0) };
    let differing = shown.iter().zip(exported).filter(|(a, b)| a.abs_diff(**b) > most).count();
    assert!(differing <= allowed, "{name}: {differing} of {} values differ", shown.len());
    let sum: u64 = shown.iter().zip(exported).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
    let mean = sum as f64 / shown.len() as f64;
    assert!(mean < 1.5, "{name}: mean difference {mean}");
}

/// A clip turned by hand looks like its exported picture turned so, on both renderers and for
/// pictures that the graphics card is given in colours already.
#[test]
fn a_turn_by_hand_is_shown() {
    let ways =
        [("420.mp4", "-c:v libx264 -pix_fmt yuv420p"), ("packed.mkv", "-c:v ffv1 -pix_fmt bgr0")];
    let turns = [(1, false), (0, true), (3, true), (0, false)]
        .map(|(quarter_turns, mirrored)| Orientation { quarter_turns, mirrored });
    for (name, options) in ways {
        let clip = clips::coded(name, options);
        let theatre = Theatre::open(&clip);
        theatre.go_to(7);
        let footage = Footage::open(&clip).unwrap();
        let picture = Decoder::new(&footage, 1).picture(7).unwrap();
        for backend in ["wgpu", "tiny-skia"] {
            let mut renderer = renderer(backend);
            // One renderer for all turns: what was drawn before must not be shown again.
            for turn in turns {
                let exported = picture.to_rgba_turned(Some(turn));
                let size = [exported.width(), exported.height()];
                let shot = theatre.turned_shot(&mut renderer, turn, size);
                compare(&format!("{name} {backend} {turn:?}"), &shot.rgba, exported.as_raw());
            }
        }
    }
}
