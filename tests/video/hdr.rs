//! High dynamic range comes down to an ordinary picture by one written formula.

use std::fs;

use stillcall::footage::{Footage, Note};

use crate::{
    clips::{made, scratch},
    hdr_codes::{HLG_BARS, HLG_GRAYS, PQ_BARS, PQ_GRAYS, PQ_TOP, Patch, planes},
    looks::still,
};

/// Writes a clip of patches, takes a still of it and compares the middle of each patch.
fn check(name: &str, transfer: &str, patches: &[Patch; 8], most: f64) {
    let raw = scratch("hdr").join(format!("{name}.yuv"));
    fs::write(&raw, planes(patches)).expect("a place for patches");
    let options = format!(
        "-f rawvideo -s 128x32 -pix_fmt yuv420p10le -r 25 -i {} -c:v ffv1 -color_range tv \
         -color_primaries bt2020 -color_trc {transfer} -colorspace bt2020nc",
        raw.display(),
    );
    let clip = made(&format!("{name}.mkv"), &options);
    let footage = Footage::open(&clip).expect("it opens");
    assert!(footage.facts().notes.contains(&Note::ToneMapped), "{name}: it is said");
    let png = still(&footage, 0, None).expect("a still");
    let image = image::load_from_memory(&png).expect("a PNG").into_rgb8();
    for (patch, (codes, shown)) in patches.iter().enumerate() {
        let found = image.get_pixel(patch as u32 * 16 + 8, 16).0.map(f64::from);
        for (found, shown) in found.iter().zip(shown) {
            let difference = (found - shown).abs();
            assert!(difference <= most, "{name}: {codes:?} is {found}, not {shown}");
        }
    }
}

#[test]
fn grays_of_hlg_and_pq_are_shown_by_the_formula() {
    check("hlg_grays", "arib-std-b67", &HLG_GRAYS, 1.0);
    check("pq_grays", "smpte2084", &PQ_GRAYS, 1.0);
    check("pq_top", "smpte2084", &PQ_TOP, 1.0);
}

/// Saturated bars leave the smaller set of primaries; what is left of a colour there is next to
/// nothing, so that a rounded code may show as a few steps above black.
#[test]
fn bars_of_hlg_and_pq_are_shown_by_the_formula() {
    check("hlg_bars", "arib-std-b67", &HLG_BARS, 1.0);
    check("pq_bars", "smpte2084", &PQ_BARS, 1.0);
}
