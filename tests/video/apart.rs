//! Clips decoded in a process of their own: the pictures are the same, and what a decoder with a
//! flaw might try ends that process and nothing else.

use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
    time::{Duration, Instant},
};

use image::{RgbaImage, imageops::thumbnail};
use stillcall::{
    footage::{ApartDecoder, ApartError, Decoder, Footage, SmallPicture, SmallWish},
    units::Orientation,
};

use crate::{
    clips::{base, scratch},
    excerpts::phone,
    mutations::{corpus, damaged},
};

const HEIGHT: u32 = 150;
const FIRST: SmallWish = SmallWish { frame: 0, height: HEIGHT, turn: None };

fn apart() -> ApartDecoder {
    ApartDecoder::with(env!("CARGO_BIN_EXE_stillcall").into())
}

/// The same picture, decoded here.
fn here(clip: &Path, wish: SmallWish) -> RgbaImage {
    let footage = Footage::open(clip).unwrap();
    let full = Decoder::new(&footage, 1).picture(wish.frame).unwrap().to_rgba_turned(wish.turn);
    let width = f64::from(full.width()) * f64::from(wish.height) / f64::from(full.height());
    thumbnail(&full, width.round() as u32, wish.height)
}

#[test]
fn pictures_are_the_same_as_decoded_here() {
    let folder = scratch("apart");
    // It tells when it was filmed, and where.
    let phone = ("phone.mp4".to_owned(), fs::read(phone()).unwrap());
    for (name, bytes) in corpus().into_iter().chain([phone]) {
        let clip = folder.join(&name);
        fs::write(&clip, bytes).unwrap();
        let small = apart().small(&clip, FIRST).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(small.image, here(&clip, FIRST), "{name}");
        let footage = Footage::open(&clip).unwrap();
        assert_eq!(small.clip.upright, footage.facts().upright, "{name}");
        assert_eq!(small.clip.time_base, footage.facts().time_base, "{name}");
    }
}

/// Far into a clip memory is made ready by a thread.
#[test]
fn a_later_frame_is_turned_as_asked() {
    let turn = Some(Orientation { quarter_turns: 1, mirrored: true });
    for frame in [1, 70, 119] {
        let wish = SmallWish { frame, height: 90, turn };
        let small = apart().small(&base(), wish).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(small.image, here(&base(), wish), "frame {frame}");
    }
}

/// Returns a picture, or nothing where this system cannot lock a process in.
fn locked_in() -> Option<SmallPicture> {
    let small = apart().small(&base(), FIRST).unwrap_or_else(|error| panic!("{error}"));
    let missing = small.locks.missing();
    if !missing.is_empty() {
        println!(
            "SKIPPED: this system does not keep a process from {}",
            missing.join(", nor from ")
        );
        return None;
    }
    Some(small)
}

#[test]
fn what_no_decoder_needs_ends_the_process() {
    let Some(before) = locked_in() else { return };
    let tried = [
        ("socket", "it asked for what no decoder needs and was ended"),
        ("file", "it asked for what no decoder needs and was ended"),
        ("program", "it asked for what no decoder needs and was ended"),
        // Without the filter of calls the lock on files refuses it.
        ("file-alone", "it failed: exit status: 1"),
        ("memory", "for want of memory"),
    ];
    for (what, how) in tried {
        told_as_unsafe(&apart().trying(what), how);
        let after = apart().small(&base(), FIRST).unwrap();
        assert_eq!(after.image, before.image, "the next clip, after {what}");
    }
}

/// A trial that does nothing must go well, or the others would show nothing.
#[test]
fn to_try_nothing_is_fine() {
    assert!(apart().trying("nothing").small(&base(), FIRST).is_ok());
}

#[test]
fn a_process_that_takes_too_long_is_ended() {
    for what in ["busy", "asleep"] {
        let begun = Instant::now();
        let patient = apart().trying(what).patient_for(Duration::from_secs(2));
        told_as_unsafe(&patient, "it took longer than 2 s");
        assert!(begun.elapsed() < Duration::from_secs(20), "{:?}", begun.elapsed());
    }
}

#[test]
fn what_is_no_answer_is_not_believed() {
    let with = |program: &str| ApartDecoder::with(PathBuf::from(program));
    told_as_unsafe(&with("true"), "its answer was not understood");
    told_as_unsafe(&with("yes"), "it answered more than it was asked");
    let error = with("/nowhere/stillcall").small(&base(), FIRST).unwrap_err();
    assert!(matches!(error, ApartError::NotStarted { .. }), "{error}");
    assert!(error.to_string().contains("base.mp4"), "{error}");
}

fn told_as_unsafe(apart: &ApartDecoder, how: &str) {
    let error = apart.small(&base(), FIRST).expect_err(how);
    let said = error.to_string();
    assert!(matches!(error, ApartError::Unsafe { .. }), "{said}");
    assert!(said.contains(how) && said.contains("could not be decoded safely"), "{said}");
    assert!(said.starts_with(&base().display().to_string()), "{said}");
}

/// However a clip is damaged, its process gives a picture or says why not: it calls for nothing
/// that is forbidden, and never waits.
#[test]
fn damaged_clips_are_refused_in_words() {
    let (clips, folder) = (corpus(), scratch("apart"));
    for seed in 0..64 {
        let (name, clip) = &clips[seed as usize % clips.len()];
        let copy = folder.join(format!("damaged-{seed}-{name}"));
        fs::write(&copy, damaged(clip, seed)).unwrap();
        match apart().small(&copy, FIRST) {
            Ok(_) => {}
            Err(ApartError::Refused(why)) => assert!(why.contains(name.as_str()), "{why}"),
            Err(error) => panic!("{error}"),
        }
    }
}

#[test]
fn a_clip_that_is_none_is_told_as_ever() {
    let folder = scratch("apart");
    for name in ["empty.mp4", "words.mp4"] {
        let clip = folder.join(name);
        fs::write(&clip, if name == "empty.mp4" { "" } else { "no clip" }).unwrap();
        let said = apart().small(&clip, FIRST).unwrap_err().to_string();
        assert_eq!(said, Footage::open(&clip).unwrap_err().to_string());
    }
    let gone = folder.join("gone.mp4");
    let said = apart().small(&gone, FIRST).unwrap_err().to_string();
    assert_eq!(said, Footage::open(&gone).unwrap_err().to_string());
}

/// A clip that nobody marked yet is given what marks keep of it, as it is decoded apart.
#[test]
fn marks_that_are_begun_for_a_whole_search_know_their_clip() {
    let folder = scratch("apart-assign");
    fs::remove_dir_all(&folder).unwrap();
    fs::create_dir_all(folder.join("clips")).unwrap();
    let clip = folder.join("clips").canonicalize().unwrap().join("new.mp4");
    fs::copy(base(), &clip).unwrap();
    let settings = "--rulebook saltmarsh --event bars --division redshank --judge J-2";
    let assign = format!("library assign not marked {settings}");
    for command in ["library add clips", &assign] {
        let done = Command::new(env!("CARGO_BIN_EXE_stillcall"))
            .args(command.split(' '))
            .current_dir(&folder)
            .env("STILLCALL_STATE", folder.join("state"))
            .output()
            .unwrap();
        assert!(done.status.success(), "{command}: {done:?}");
    }
    let marks = fs::read_to_string(folder.join("clips/new.mp4.1.J-2.marks.json")).unwrap();
    let marks: serde_json::Value = serde_json::from_str(&marks).unwrap();
    let footage = Footage::open(&clip).unwrap();
    let facts = footage.facts();
    assert_eq!(marks["clip"]["time_base"], serde_json::to_value(facts.time_base).unwrap());
    assert_eq!(marks["clip"]["upright"], serde_json::to_value(facts.upright).unwrap());
    assert_eq!(marks["clip"]["content_hash"], footage.content_hash().unwrap());
}
