//! Pictures of every screen for docs, made of the demo: `make screenshots`.

use std::{
    path::{Path, PathBuf},
    process::Command,
};

use image::{ExtendedColorType, ImageEncoder as _, codecs::png};
use stillcall::window::harness::Harness;

use crate::clips;

const SIZE: [u32; 2] = [1280, 800];

/// Draws the demo's clips, which takes a while the first time.
fn demo() -> PathBuf {
    let folder = clips::folder("demo");
    let status = Command::new(env!("CARGO_BIN_EXE_stillcall"))
        .args(["demo", "--no-window", "--out"])
        .arg(&folder)
        .env("STILLCALL_STATE", folder.join("state"))
        .status()
        .unwrap();
    assert!(status.success());
    folder
}

fn keep(window: &mut Harness, name: &str) {
    let shot = window.shot();
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/screens");
    let file = std::fs::File::create(folder.join(format!("{name}.png"))).unwrap();
    let (best, filter) = (png::CompressionType::Best, png::FilterType::Adaptive);
    let encoder = png::PngEncoder::new_with_quality(file, best, filter);
    let rgb: Vec<u8> = shot.rgba.chunks_exact(4).flat_map(|pixel| pixel[..3].to_vec()).collect();
    let [w, h] = shot.size;
    encoder.write_image(&rgb, w, h, ExtendedColorType::Rgb8).unwrap();
}

#[test]
#[ignore = "writes docs/screens; make screenshots"]
fn pictures_of_every_screen() {
    clips::own_state();
    let demo = demo();
    let mut start = Harness::open(None, SIZE, "wgpu").unwrap();
    keep(&mut start, "start");
    // A copy, so that the demo's own marks stay as they are.
    let folder = clips::folder("pictures");
    for name in ["bars-routine.mp4", "bars-routine.mp4.1.J-2.marks.json"] {
        std::fs::copy(demo.join(name), folder.join(name)).unwrap();
    }
    let mut window = Harness::open(Some(&folder.join("bars-routine.mp4")), SIZE, "wgpu").unwrap();
    window.press(&["Down", "Down"]);
    keep(&mut window, "clip");
    window.press(&["Return"]);
    window.write("sw");
    keep(&mut window, "write-line");
    window.press(&["Escape", "F2"]);
    keep(&mut window, "line-anew");
    window.press(&["Escape", "i", "i"]);
    keep(&mut window, "guide");
    let over = [("k", "card"), ("e", "elements"), ("?", "keys"), ("ctrl+r", "header")];
    for (key, name) in over.into_iter().chain([("ctrl+l", "routines")]) {
        window.press(&["Escape", key]);
        keep(&mut window, name);
        window.press(&["Escape"]);
    }
    window.press(&["ctrl+t"]);
    keep(&mut window, "dark");
    window.press(&["ctrl+t"]);
    keep(&mut window, "high-contrast");
    window.press(&["ctrl+t", "ctrl+=", "ctrl+=", "ctrl+=", "ctrl+="]);
    keep(&mut window, "large");
}
