//! Pictures of every screen for docs, made of the demo: `make screenshots`.

use std::{
    fs,
    io::Write as _,
    path::{Path, PathBuf},
    process::{Command, Stdio},
};

use iced::Point;
use stillcall::{
    library::{Home, Shelf},
    practice::{gather, sitting::Mode},
    window::{EyeWanted, Harness, OpensOn, SetWanted},
};

use crate::clips;

const SIZE: [u32; 2] = [1280, 800];
const BACKEND: &str = "wgpu";

/// Draws the demo's clips, which takes a while the first time.
fn demo() -> PathBuf {
    let folder = clips::folder("demo");
    let status = Command::new(env!("CARGO_BIN_EXE_stillcall"))
        .args(["demo", "--no-window", "--out"])
        .arg(&folder)
        .env("STILLCALL_STATE", folder.join("state"))
        .stdout(Stdio::null())
        .status()
        .unwrap();
    assert!(status.success());
    folder
}

/// Goes into an empty folder with copies of these files of the demo, so that its own stay as they
/// are.
fn copies(name: &str, files: &[&str]) -> PathBuf {
    let folder = clips::folder("pictures").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    for file in files {
        fs::copy(clips::folder("demo").join(file), folder.join(file)).unwrap();
    }
    // Pictures for docs show no machine's folders.
    std::env::set_current_dir(&folder).unwrap();
    folder
}

/// Writes the picture with a table of its commonest colours: a third of the bytes.
fn keep(window: &mut Harness, name: &str) {
    let shot = window.shot();
    let [w, h] = shot.size;
    let file = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("docs/screens/{name}.png"));
    let filter = "split[a][b];[a]palettegen=max_colors=192[p];[b][p]paletteuse=dither=none";
    let mut child = Command::new("ffmpeg")
        .args(["-loglevel", "error", "-y", "-f", "rawvideo", "-pix_fmt", "rgba"])
        .args(["-s", &format!("{w}x{h}"), "-i", "-", "-vf", filter, "-frames:v", "1"])
        .args(["-compression_level", "9"])
        .arg(file)
        .stdin(Stdio::piped())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(&shot.rgba).unwrap();
    assert!(child.wait().unwrap().success());
}

fn open(clip: &Path) -> Harness {
    Harness::open(Some(clip), SIZE, BACKEND).unwrap()
}

fn open_on(opens_on: OpensOn) -> Harness {
    Harness::open_on(opens_on, SIZE, BACKEND).unwrap()
}

const BARS: &str = "bars-routine.mp4";
const BARS_MARKS: &str = "bars-routine.mp4.1.J-2.marks.json";
const BARS_RECORD: &str = "bars-routine.mp4.clip.json";

fn start_screens() {
    let mut window = Harness::open(None, SIZE, BACKEND).unwrap();
    keep(&mut window, "start");
    window.write("/clips/cast-of-today.mp4");
    window.press(&["Return"]);
    keep(&mut window, "start-error");
}

/// A rule book of one's own: begun, filled in, and with rows of a spreadsheet about to be taken in.
fn book() {
    copies("book", &[]);
    let mut window = Harness::open(None, SIZE, BACKEND).unwrap();
    window.press(&["ctrl+r"]);
    keep(&mut window, "book-begin");
    window.write("my-league.toml");
    window.press(&["Return", "Page_Down"]);
    for name in ["Plover", "Gull"] {
        window.press(&["ctrl+n"]);
        for value in [name.to_lowercase(), name.to_owned()] {
            window.write(&value);
            window.press(&["Return"]);
        }
    }
    window.press(&["Page_Down", "Page_Down", "Page_Down"]);
    window
        .put_on_clipboard("No\tElement\tLetter\tPage\n1\tSplit leap\tA\t12\n2\tTuck jump\tA\t12\n");
    assert!(window.click("Paste rows …"));
    keep(&mut window, "book-paste");
    window.press(&["Escape"]);
    assert!(window.click("Value parts"));
    window.press(&["Tab"]);
    keep(&mut window, "book");
}

fn clip_screens() {
    copies("clip", &[BARS, BARS_MARKS]);
    let mut window = open(Path::new(BARS));
    window.press(&["Down", "Down"]);
    keep(&mut window, "clip");
    window.press(&["Return"]);
    window.write("sw");
    keep(&mut window, "write-line");
    window.press(&["Escape", "F2"]);
    keep(&mut window, "line-anew");
    window.press(&["Escape", "i", "i"]);
    keep(&mut window, "guide");
    window.press(&["Escape"]);
    let over = [("k", "card"), ("e", "chart"), ("?", "keys"), ("ctrl+r", "header")];
    for (key, name) in over.into_iter().chain([("ctrl+l", "routines"), ("w", "plane-form")]) {
        window.press(&[key]);
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

/// The clip without marks, with more than the paper holds, and with something wrong.
fn clip_states() {
    copies("empty", &[BARS]);
    let mut window = open(Path::new(BARS));
    keep(&mut window, "clip-empty");
    drop(window);
    let folder = copies("full", &[BARS, BARS_MARKS]);
    let mut window = open(Path::new(BARS));
    for _ in 0..40 {
        window.press(&["shift+Right", "s", "Right", "f"]);
    }
    window.press(&["Up", "Up"]);
    keep(&mut window, "clip-full");
    window.save();
    // Another program writes the same file.
    let marks = folder.join(BARS_MARKS);
    let text = fs::read_to_string(&marks).unwrap().replace("SC-07", "SC-08");
    fs::write(&marks, text).unwrap();
    window.press(&["s"]);
    window.save();
    keep(&mut window, "clip-error");
}

/// The leap's split, clicked as it is asked for: hip and ankle of one leg, then of the other.
fn measuring() {
    let leap = "beam-leap.mp4";
    let marks = "beam-leap.mp4.1.J-2.marks.json";
    copies("leap", &[leap, marks]);
    let mut window = open(Path::new(leap));
    window.press(&["Down"]);
    window.shot();
    window.press(&["a"]);
    window.shot();
    for (x, y) in [(407.0, 187.5), (318.0, 254.5), (409.0, 187.5)] {
        window.click_at(Point::new(x, y));
    }
    keep(&mut window, "measuring");
    window.click_at(Point::new(508.0, 253.5));
    window.press(&["Return"]);
    window.shot();
    keep(&mut window, "measured");
}

fn two_clips() {
    let clean = "bars-routine-clean.mp4";
    let clean_marks = "bars-routine-clean.mp4.1.J-2.marks.json";
    copies("pair", &[BARS, BARS_MARKS, clean, clean_marks]);
    let mut window = open(Path::new(BARS));
    window.press(&["Down", "Down", "ctrl+b"]);
    keep(&mut window, "two-clips-asked");
    window.write("/clips/last-month.mp4");
    window.press(&["Return"]);
    keep(&mut window, "two-clips-error");
    window.press(&["ctrl+a"]);
    window.write(clean);
    window.press(&["Return"]);
    keep(&mut window, "two-clips");
    window.press(&["End"]);
    keep(&mut window, "two-clips-no-frame");
}

const SET: &str = r#"
[set]
id = "casts"
title = "Casts"
book = "saltmarsh"

[[look]]
id = "cast"
clip = "bars-routine.mp4"
from = 4
to = 5
event = "bars"
division = "redshank"
cue = "Watch only the hips."

[[look.question]]
ask = "credited"
of = "the cast"
answer = "no"
still = 4.6
number = "-7° ± 2.9°"
line = "Cast, body line"
why = "The hips stay below the bar."

[[look.question]]
ask = "start-value"
answer = 10.7
"#;

/// The demo's clips as a club's library, before and after they are taken in.
fn library() {
    let folder = clips::folder("pictures").join("library");
    let _ = fs::remove_dir_all(&folder);
    let home = Home::at(folder.join("home"));
    let wall = || open_on(OpensOn::Library(Some(home.clone()), String::new(), clips::apart()));
    keep(&mut wall(), "library-empty");
    let mut shelf = Shelf::default();
    shelf.add(&clips::folder("demo")).unwrap();
    shelf.searches.insert("Casts".to_owned(), "element cast".to_owned());
    shelf.write(&home).unwrap();
    let mut window = wall();
    // Thumbnails are made for what is in sight, which is known once it was drawn.
    for _ in 0..40 {
        window.shot();
    }
    window.press(&["Down"]);
    keep(&mut window, "library");
    window.press(&["ctrl+e"]);
    keep(&mut window, "record");
    window.press(&["Escape"]);
    window.write("event be");
    keep(&mut window, "library-words");
    window.press(&["ctrl+a"]);
    window.write("score above much");
    window.press(&["Return"]);
    keep(&mut window, "library-error");
    window.press(&["ctrl+a"]);
    window.write("event bars");
    window.press(&["Return", "ctrl+m"]);
    keep(&mut window, "library-set");
    judges(&home);
}

/// Another judge saw no fault.
fn judges(home: &Home) {
    let folder = copies("judges", &[BARS, BARS_MARKS]);
    let text = fs::read_to_string(BARS_MARKS).unwrap();
    let mut file: serde_json::Value = serde_json::from_str(&text).unwrap();
    file["routine"]["judge"] = "J-5".into();
    file["document"] = "another".into();
    file["marks"].as_array_mut().unwrap().retain(|mark| mark["kind"] != "fault");
    fs::write(BARS_MARKS.replace("J-2", "J-5"), file.to_string()).unwrap();
    let mut shelf = Shelf::read(home).unwrap();
    (shelf.folders, shelf.searches) = Default::default();
    shelf.add(&folder).unwrap();
    shelf.write(home).unwrap();
    let mut window = open_on(OpensOn::Library(Some(home.clone()), String::new(), clips::apart()));
    window.shot();
    window.press(&["Down", "ctrl+j"]);
    keep(&mut window, "library-judges");
}

fn practice() {
    copies("set", &[BARS, BARS_RECORD]);
    let set = PathBuf::from("casts.toml");
    fs::write(&set, SET).unwrap();
    let sitting = |person: Option<&str>, mode| {
        let person = person.map(str::to_owned);
        open_on(OpensOn::Set(SetWanted { set: set.clone(), person, mode }))
    };
    keep(&mut sitting(None, Mode::Person), "sitting-who");
    for (person, answers) in [("J-2", ["11", "y"]), ("J-3", ["10.7", "n"])] {
        let mut window = sitting(Some(person), Mode::Person);
        let keeps = |window: &mut Harness, name| {
            if person == "J-2" {
                keep(window, name);
            }
        };
        keeps(&mut window, "sitting-ready");
        window.press(&["Return"]);
        window.write(answers[0]);
        window.press(&["Tab", answers[1]]);
        keeps(&mut window, "sitting-look");
        window.play_out();
        keeps(&mut window, "sitting-answers");
        window.press(&["ctrl+Return", "Return", "Return", "Return"]);
        keeps(&mut window, "sitting-still");
        window.press(&["Return", "Return"]);
        keeps(&mut window, "sitting-why");
        window.press(&["Return"]);
        keeps(&mut window, "sitting-end");
    }
    let others = ["J-2", "J-3"].map(|code| set.with_file_name(format!("casts.{code}.001.sitting")));
    let wanted =
        gather::AgreementWanted { reference: set.clone(), others: others.into(), rulebook: None };
    keep(&mut open_on(OpensOn::Agreement(wanted)), "agreement");
    let mut group = sitting(Some("course"), Mode::Group);
    group.press(&["Return"]);
    group.play_out();
    group.write("7");
    group.press(&["Down"]);
    group.write("13");
    keep(&mut group, "group");
    group.press(&["Return", "Return"]);
    keep(&mut group, "group-still");
}

fn eye() {
    let folder = clips::folder("pictures").join("eye");
    let _ = fs::remove_dir_all(&folder);
    let wanted = |person: &str| EyeWanted {
        person: Some(person.to_owned()),
        folder: Some(folder.clone()),
        seed: 11,
    };
    let mut window = open_on(OpensOn::Eye(wanted("J-2")));
    keep(&mut window, "eye");
    for answer in ["10", "25", "40", "15"] {
        window.write(answer);
        window.press(&["Return", "Return"]);
    }
    window.write("20");
    window.press(&["Return"]);
    keep(&mut window, "eye-answered");
}

#[test]
#[ignore = "writes docs/screens; make screenshots"]
fn pictures_of_every_screen() {
    clips::own_state();
    demo();
    let screens: [(&str, fn()); 9] = [
        ("book", book),
        ("start", start_screens),
        ("library", library),
        ("clip", clip_screens),
        ("states", clip_states),
        ("measuring", measuring),
        ("two-clips", two_clips),
        ("practice", practice),
        ("eye", eye),
    ];
    let wanted = std::env::var("SCREENS").unwrap_or_default();
    for (name, draw) in screens {
        if wanted.is_empty() || wanted == name {
            draw();
        }
    }
}
