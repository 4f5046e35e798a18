//! Long clips are stepped before they are counted.

use std::{
    path::PathBuf,
    time::{Duration, Instant},
};

use stillcall::footage::{Footage, Note, Reader};

use crate::{
    clips::{H264, derived, made, source},
    exact::bars,
    oracle,
};

/// Four minutes at 30 frames a second: 7200 frames, more than are read while opening.
fn long() -> PathBuf {
    let fast = H264.replace("veryfast", "ultrafast").replace("-g 24 -keyint_min 24", "-g 60");
    made("long.mp4", &format!("{} {fast}", source(240, "64x48", "30")))
}

fn read_to_its_end(clip: &std::path::Path) {
    let footage = Footage::open_beginning(clip).expect("it opens");
    assert!(!footage.is_whole() && !footage.is_counted());
    assert!(footage.facts().notes.contains(&Note::Counting), "{:?}", footage.facts().notes);
    assert!((1000..7200).contains(&footage.table().len()), "{}", footage.table().len());
    let reader = Reader::spawn(footage, || {});
    let wait = |k: usize| {
        reader.want(k);
        let end = Instant::now() + Duration::from_secs(120);
        loop {
            match reader.latest() {
                Some(picture) if picture.frame == k => break oracle::bars(&picture),
                _ => assert!(Instant::now() < end, "frame {k}: {:?}", reader.trouble()),
            }
            std::thread::sleep(Duration::from_millis(1));
        }
    };
    // Stepping works at once, and while packets are counted.
    for k in [0, 1, 2, 500, 499, 498] {
        assert_eq!(wait(k), k as u32);
    }
    let end = Instant::now() + Duration::from_secs(120);
    while !reader.footage().is_counted() {
        assert!(Instant::now() < end, "nobody counts");
        std::thread::sleep(Duration::from_millis(5));
    }
    assert_eq!(reader.footage().table().len(), 7200);
    for k in [7199, 7198, 3600, 499] {
        assert_eq!(wait(k), k as u32);
    }
}

#[test]
fn a_long_clip_is_stepped_while_it_is_counted() {
    read_to_its_end(&long());
}

/// A container that is not trusted is numbered by its time stamps until a full decode has
/// confirmed them.
#[test]
fn a_long_stream_is_stepped_while_it_is_proved() {
    read_to_its_end(&derived("long.ts", &long(), "-c copy"));
}

#[test]
fn opening_to_the_end_counts_at_once() {
    let footage = Footage::open(&long()).expect("it opens");
    assert!(footage.is_whole() && footage.is_counted());
    assert_eq!(footage.table().len(), 7200);
    let beginning = Footage::open_beginning(&long()).expect("it opens");
    let counted = beginning.counted(&|| false).expect("nobody stops it").expect("it is read");
    assert_eq!(counted.table().entries(), footage.table().entries());
    assert!(beginning.counted(&|| true).is_none(), "it can be stopped");
}

#[test]
fn a_short_clip_is_counted_whichever_way_it_is_opened() {
    let clip = crate::clips::base();
    let footage = Footage::open_beginning(&clip).expect("it opens");
    assert!(footage.is_whole() && footage.is_counted());
    assert_eq!(bars(&footage), (0..120).collect::<Vec<_>>());
}
