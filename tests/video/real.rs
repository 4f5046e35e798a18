//! Clips from real cameras, which `tests/fetch-real-clips.sh` takes out of Debian's packages.

use std::path::Path;

use crate::{exact, numbers};

/// Compares every picture of a fetched clip with `ffmpeg`'s linear decode, or says why not.
fn check(name: &str, frames: usize) {
    let clip = Path::new(env!("CARGO_TARGET_TMPDIR")).join("real").join(name);
    if !clip.exists() {
        println!("SKIPPED {name}: run tests/fetch-real-clips.sh first (needs Debian's archive)");
        return;
    }
    let footage = exact::check_sound(&clip);
    assert_eq!(footage.table().len(), frames, "{name}: number of frames");
    numbers::check(&clip);
}

// Numbers of frames as counted by FFmpeg 5.1's linear decode.

#[test]
fn a_phone_clip() {
    check("VID_20191220_170832.mp4", 41);
}

#[test]
fn web_cameras_with_uneven_times_and_a_packet_without_a_picture() {
    check("box.mp4", 455);
    check("cup.mp4", 217);
}

#[test]
fn one_scene_in_four_containers() {
    check("movie-hello.mp4", 249);
    check("movie-hello.avi", 208);
    check("movie-hello.mpeg", 249);
    check("movie-hello.ogg", 242);
}

#[test]
fn a_fixed_camera_with_long_runs() {
    check("vtest.avi", 795);
}

#[test]
fn a_turntable_in_a_codec_of_the_nineties() {
    check("tree.avi", 68);
}

#[test]
fn a_street_and_a_caller() {
    check("bikes.mp4", 250);
    check("carphone_pristine.mp4", 120);
    check("carphone_distorted.mp4", 120);
    check("bigbuckbunny.mp4", 132);
}

#[test]
fn odd_matroska_files() {
    check("hdr.mkv", 2);
    check("no_cluster_position.mkv", 24);
    check("multi_seekhead.mkv", 24);
}
