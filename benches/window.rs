//! How fast the window is, on the headless renderers: from a key to the new picture for a cached
//! step, and one turn (update and view) with 5,000 marks on a clip of two hours.
//!
//! Medians and 95th percentiles in milliseconds. Numbers of one machine, no test.

#![allow(clippy::expect_used, clippy::print_stdout, reason = "a benchmark prints and may fail")]

use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
    time::{Duration, Instant},
};

use sample_clips_generator::{Options, generate};
use stillcall::{
    footage::Footage,
    marks::{At, Desk, Edit, Id, Item, Mark, Routine, Seen, Sheaf, StateFolder, Step, What},
    window::Harness,
};

const SIZE: [u32; 2] = [1440, 880];
const MARKS: u64 = 5000;
const TWO_HOURS: &str = "7200";

fn main() {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("bench-window");
    fs::create_dir_all(&folder).expect("a folder for clips");
    StateFolder::use_in_this_process(folder.join("state"));
    cached_steps(&routine(&folder));
    long_clip(&two_hours(&folder));
}

/// From a key to the new picture, drawn and read back.
fn cached_steps(clip: &Path) {
    for backend in ["wgpu", "tiny-skia"] {
        let mut window = match Harness::open(Some(clip), SIZE, backend) {
            Ok(window) => window,
            Err(missing) => {
                println!("{backend}: left out: {missing}");
                continue;
            }
        };
        // There and back once, so that every picture of the way back is cached.
        for _ in 0..40 {
            window.press(&["Right"]);
            window.shot();
        }
        let (mut whole, mut turn) = (Vec::new(), Vec::new());
        for _ in 0..40 {
            let begun = Instant::now();
            window.press_at_once("Left");
            while !window.is_picture_shown() {
                std::thread::yield_now();
            }
            turn.push(begun.elapsed());
            window.shot();
            whole.push(begun.elapsed());
        }
        report(&format!("{backend}: key to picture at hand, cached step"), &mut turn);
        report(&format!("{backend}: key to new window, drawn and read back"), &mut whole);
    }
}

/// One turn of the window with many marks: a step, and a further mark with what follows from it.
fn long_clip(clip: &Path) {
    let marks = many_marks(clip);
    let opened = Instant::now();
    let mut window = Harness::open(Some(clip), SIZE, "tiny-skia")
        .expect("the software renderer is always there");
    println!("two hours, {marks} marks: opened in {:.1} s", opened.elapsed().as_secs_f64());
    window.view();
    let mut timed = |name: &str, key: &str| {
        let mut times = Vec::new();
        for _ in 0..30 {
            let begun = Instant::now();
            window.press_at_once(key);
            window.view();
            times.push(begun.elapsed());
        }
        report(&format!("{marks} marks, update and view: {name}"), &mut times);
    };
    timed("a step", "Right");
    timed("the next line", "Down");
    timed("a fall put down and scored", "f");
}

fn report(name: &str, times: &mut [Duration]) {
    times.sort_unstable();
    let at = |share: f64| {
        let place = ((times.len() - 1) as f64 * share).round() as usize;
        times[place].as_secs_f64() * 1000.0
    };
    println!("{name}: median {:.2} ms, 95 % {:.2} ms", at(0.5), at(0.95));
}

fn routine(folder: &Path) -> PathBuf {
    let options = Options::new("bars-routine", folder.join("routine.mp4"));
    if !options.out.exists() {
        generate(&options).expect("the ffmpeg program is installed");
    }
    options.out
}

fn two_hours(folder: &Path) -> PathBuf {
    let clip = folder.join("bars-two-hours.mp4");
    if !clip.exists() {
        let source = format!("testsrc2=s=128x72:r=30:d={TWO_HOURS}");
        let status = Command::new("ffmpeg")
            .args(["-loglevel", "error", "-y", "-f", "lavfi", "-i", &source])
            .args(["-c:v", "libx264", "-preset", "ultrafast", "-g", "60"])
            .arg(&clip)
            .status();
        assert!(status.expect("the ffmpeg program is installed").success());
    }
    clip
}

/// Writes a marks file with elements, swings and falls all over the clip.
fn many_marks(clip: &Path) -> u64 {
    let path = stillcall::marks::path_for(clip, "1", "J");
    // Of the run before.
    let _ = fs::remove_file(&path);
    let footage = Footage::open(clip).expect("the clip was just made");
    let table = footage.table();
    let routine = Routine {
        id: "1".to_owned(),
        event: "bars".to_owned(),
        division: "redshank".to_owned(),
        judge: "J".to_owned(),
        book: "saltmarsh".to_owned(),
        ..Routine::default()
    };
    let mut sheaf = Sheaf { routine, ..Sheaf::default() };
    let elements = ["cast", "back-hip-circle", "tap-swing", "squat-on"];
    for id in 1..=MARKS {
        let frame = (id as usize * table.len()) / (MARKS as usize + 1);
        let at = At::Frame(table.frame_ref(frame).expect("within the clip"));
        let what = match id % 5 {
            0 => What::Element { element: elements[(id / 5) as usize % 4].to_owned() },
            1 => What::Fault { fault: "feet".to_owned(), amount: None },
            _ => What::Swing,
        };
        let mark = Mark { id: Id(id), at, what, seen: Seen::Yes, of: None, note: String::new() };
        sheaf.marks.push(mark);
    }
    let state = StateFolder::of_user().expect("told above");
    let mut desk = Desk::create(&path, sheaf, &state).expect("a folder that can be written to");
    let note = Mark {
        id: desk.fresh_id(),
        at: At::Frame(table.frame_ref(0).expect("a first frame")),
        what: What::Note,
        seen: Seen::Yes,
        of: None,
        note: "a benchmark".to_owned(),
    };
    desk.take(Step::Do(Edit::add(Item::Mark(note)))).expect("a journal that can be written to");
    desk.save().expect("a file that can be written to");
    MARKS
}
