//! Every generated clip, stepped every way: the number read from the pixels is the one asked for.
//!
//! The clips come from the sample clips generator and the `ffmpeg` program, so our reader is not
//! tested on our own writer; the number is drawn into the picture, so nothing can agree by
//! accident.

use std::path::{Path, PathBuf};

use sample_clips_generator::{
    Codec, Groups, Options, Strip, Timing, Truth, generate, motions, read_strip, truth_path,
};
use stillcall::footage::{Decoder, Footage, Picture};

use crate::numbers;

/// Motions are drawn small: the number strip needs no more, and the figure is not looked at here.
const SIZE: (u32, u32) = (480, 270);

type Change = fn(&mut Options);

fn folder() -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("generated");
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

fn made(name: &str, change: impl FnOnce(&mut Options)) -> (PathBuf, Truth) {
    let mut options = Options::new("turn-half", folder().join(name));
    options.size = SIZE;
    change(&mut options);
    let truth = generate(&options).unwrap();
    assert!(truth_path(&options).exists());
    (options.out, truth)
}

fn number_of(picture: &Picture, strip: Strip) -> u64 {
    let luma = picture.plane(0).unwrap();
    let [width, height] = picture.plane_size(0);
    let rows: Vec<u8> = (0..height).flat_map(|y| luma.row(y).unwrap()[..width].to_vec()).collect();
    read_strip(strip, &rows, width as u32, width).unwrap()
}

/// Asks for every frame forwards, every frame backwards, and for 200 jumps.
fn walk(clip: &Path, truth: &Truth) {
    let footage = Footage::open(clip).unwrap();
    let count = truth.frames.len();
    assert_eq!(footage.table().len(), count, "{}", clip.display());
    let forwards = 0..count;
    let backwards = (0..count).rev();
    // A stride that shares no factor with the count jumps near and far and comes everywhere.
    let jumps = (0..200).map(|i| (i * 7919 + 31) % count);
    let mut decoder = Decoder::new(&footage, 2);
    for k in forwards.chain(backwards).chain(jumps) {
        let picture = decoder.picture(k).unwrap();
        assert_eq!(number_of(&picture, truth.clip.strip), k as u64, "{}", clip.display());
        assert_eq!(picture.frame, k);
        let first = truth.frames[0].ticks;
        assert_eq!(picture.ticks.0, truth.frames[k].ticks - first, "time of frame {k}");
    }
}

/// Compares the list that the program prints, and its stills.
fn list(clip: &Path, truth: &Truth) {
    let listed = numbers::check(clip);
    let first = truth.frames[0].ticks;
    let expected = truth.frames.iter().map(|frame| frame.ticks - first);
    assert_eq!(listed, expected.collect::<Vec<_>>(), "{}", clip.display());
}

#[test]
fn every_motion_steps_exactly() {
    for motion in motions::ALL {
        let (clip, truth) = made(&format!("{}.mp4", motion.name), |options| {
            options.motion = motion.name.to_owned();
        });
        walk(&clip, &truth);
        list(&clip, &truth);
    }
}

#[test]
fn every_way_of_coding_steps_exactly() {
    let ways: [(&str, Change); 8] = [
        ("hevc-open.mp4", |o| (o.codec, o.groups, o.b_frames) = (Codec::Hevc, Groups::Open, 3)),
        ("open.mkv", |o| (o.groups, o.b_frames, o.gop) = (Groups::Open, 3, 24)),
        ("long.mov", |o| (o.gop, o.b_frames) = (9999, 5)),
        ("no-b.mp4", |o| (o.gop, o.b_frames) = (12, 0)),
        ("uneven.mp4", |o| o.timing = Timing::Uneven),
        ("late.mp4", |o| o.start_at = 4500),
        ("turned.mp4", |o| (o.rotate, o.size) = (90, (270, 480))),
        ("ntsc.mkv", |o| o.rate = (60000, 1001)),
    ];
    for (name, change) in ways {
        let (clip, truth) = made(name, change);
        walk(&clip, &truth);
        list(&clip, &truth);
    }
}
