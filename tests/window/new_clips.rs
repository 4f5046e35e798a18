//! A clip that this computer never opened before is decoded in processes of its own, and in this one
//! once all of it went well there.

use std::{
    env, fs,
    path::Path,
    process::Command,
    sync::atomic::{AtomicBool, Ordering},
    thread,
    time::{Duration, Instant},
};

use stillcall::{marks::StateFolder, window::Harness};

use crate::clips;

/// Long enough for a loaded machine; a test that waits so long has failed.
const LONG: Duration = Duration::from_secs(60);

/// In a process of its own, because who decodes is told once for all clips of one.
#[test]
fn a_new_clip_is_stepped_apart_and_then_here() {
    let ran = Command::new(env::current_exe().unwrap())
        .args(["--exact", "new_clips::a_new_clip", "--ignored", "--nocapture"])
        .env("STATE_OF_NEW_CLIPS", clips::folder("new-clips-state"))
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&ran.stdout);
    let why = String::from_utf8_lossy(&ran.stderr);
    assert!(ran.status.success() && said.contains("1 passed"), "{said}{why}");
}

#[test]
#[ignore = "run by the test above"]
fn a_new_clip() {
    let Some(state) = env::var_os("STATE_OF_NEW_CLIPS") else { return };
    let state = Path::new(&state);
    fs::remove_dir_all(state).unwrap();
    StateFolder::use_in_this_process(state);
    clips::apart().use_in_this_process();
    let clip = clips::fresh("new-clip");
    let known = state.join("known-clips.json");
    assert!(cfg!(not(target_os = "linux")) || watched(&clip, step), "it is new");
    // The proof in idle time decodes all of it.
    let mut window = Harness::open(Some(&clip), [1280, 800], "tiny-skia").unwrap();
    let end = Instant::now() + LONG;
    while !known.exists() {
        assert!(Instant::now() < end, "it is never known");
        thread::sleep(Duration::from_millis(20));
        window.settle();
    }
    drop(window);
    assert!(!watched(&clip, step), "it is known");
}

/// Returns whether a process of its own decoded the clip at any moment while something was done: it
/// ends as soon as the clip is proved.
fn watched(clip: &Path, what: impl FnOnce(&Path)) -> bool {
    let is_done = AtomicBool::new(false);
    thread::scope(|scope| {
        let watching = scope.spawn(|| {
            let (mut seen, end) = (false, Instant::now() + LONG);
            // Where the other one panics it never says that it is done.
            while !seen && !is_done.load(Ordering::Relaxed) && Instant::now() < end {
                seen = is_decoded_apart(clip);
                thread::sleep(Duration::from_millis(1));
            }
            seen
        });
        what(clip);
        is_done.store(true, Ordering::Relaxed);
        watching.join().unwrap()
    })
}

/// Opens the clip and looks whether each step shows another picture.
fn step(clip: &Path) {
    let mut window = Harness::open(Some(clip), [1280, 800], "tiny-skia").unwrap();
    let mut shots = Vec::new();
    for key in ["Home", "Right", "Right", "Left"] {
        window.press(&[key]);
        assert!(window.is_picture_shown());
        let shot = window.shot();
        // Where the picture lies; that its frame is not yet proved stands below it for a while.
        let line = shot.size[0] as usize * 4;
        let rows = shot.rgba.chunks(line).take(500);
        shots.push(rows.flat_map(|row| row[..line / 2].to_vec()).collect::<Vec<_>>());
    }
    assert!(shots[0] != shots[1] && shots[1] != shots[2]);
    let differs = shots[1].iter().zip(&shots[3]).position(|(one, other)| one != other);
    let last = shots[1].iter().zip(&shots[3]).rposition(|(one, other)| one != other);
    let place = |at: Option<usize>| at.map(|at| (at / 2560, at % 2560 / 4));
    let (first, last) = (place(differs), place(last));
    assert!(first.is_none(), "one on and one back is the same picture: {first:?} to {last:?}");
}

/// Returns whether some process of this program decodes the clip.
fn is_decoded_apart(clip: &Path) -> bool {
    let processes = fs::read_dir("/proc").into_iter().flatten().flatten();
    let words = processes.filter_map(|process| fs::read(process.path().join("cmdline")).ok());
    words.map(|words| words.split(|&byte| byte == 0).map(<[u8]>::to_vec).collect()).any(
        |words: Vec<Vec<u8>>| {
            words.get(1).is_some_and(|word| word == b"decode-apart")
                && words.contains(&clip.to_str().unwrap().as_bytes().to_vec())
        },
    )
}
