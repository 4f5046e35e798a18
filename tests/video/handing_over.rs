//! Clips that leave a club in a bundle, and parts of clips that become clips of their own: which
//! pictures marks stand on is read from the pictures themselves.

use std::{
    fs,
    path::{Path, PathBuf},
    process::{Command, Output},
};

use base64::Engine as _;
use image::RgbImage;
use stillcall::{
    footage::{Decoder, Footage},
    marks::{At, ClipFacts, Desk, Id, Mark, Routine, Seen, Sheaf, StateFolder, What},
};

use crate::{
    clips::scratch,
    excerpts::{phone, probed},
    oracle,
};

const CLIP: &str = "clips/Anna bars.mp4";

/// A club with one clip and the marks of one routine, at these frames.
struct Club(PathBuf);

impl Club {
    fn empty(name: &str) -> Self {
        let folder = scratch("handing-over").join(name);
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(folder.join("clips")).expect("a place for clips");
        let club = Self(folder);
        club.says(&["library", "add", "clips"]);
        club
    }

    fn with(name: &str, frames: &[usize]) -> Self {
        Self::with_clip(name, &phone(), frames)
    }

    /// The clip keeps its ending.
    fn with_clip(name: &str, clip: &Path, frames: &[usize]) -> Self {
        let club = Self::empty(name);
        let from = clip;
        let clip = club.0.join(CLIP).with_extension(from.extension().expect("an ending"));
        fs::copy(from, &clip).expect("a copy");
        let footage = Footage::open_proved(&clip, None, &|_| ()).expect("it opens");
        let at = |k: usize| footage.table().frame_ref(k).expect("a frame");
        let mark = |(&k, id): (&usize, u64)| Mark {
            id: Id(id),
            at: At::Frame(at(k)),
            what: What::Element { element: "cast".to_owned() },
            seen: Seen::Yes,
            of: None,
            note: String::new(),
        };
        let routine = Routine {
            id: "1".to_owned(),
            event: "bars".to_owned(),
            division: "redshank".to_owned(),
            athlete: "SC-07".to_owned(),
            judge: "J-2".to_owned(),
            book: "saltmarsh".to_owned(),
            span: Some([at(frames[0]), at(frames[frames.len() - 1])]),
            ..Routine::default()
        };
        let facts = ClipFacts {
            name: clip.file_name().expect("a name").to_string_lossy().into_owned(),
            quick_id: footage.content_id().expect("an id"),
            content_hash: None,
            time_base: footage.facts().time_base,
            upright: footage.facts().upright,
            orientation_override: None,
            assumed_times: false,
            unknown: stillcall::marks::model::Unknown::new(),
        };
        let marks = frames.iter().zip(1..).map(mark).collect();
        let sheaf = Sheaf { clip: Some(facts), routine, marks, ..Sheaf::default() };
        let path = stillcall::marks::path_for(&clip, "1", "J-2");
        Desk::create(&path, sheaf, &StateFolder::at(club.0.join("state"))).expect("marks");
        club.says(&["library", "scan"]);
        club
    }

    fn agree(&self) {
        self.agree_to(CLIP);
    }

    fn agree_to(&self, clip: &str) {
        let noted = "--others none --athlete SC-07 --consent both --by office --for course";
        let noted = noted.split(' ').chain(["--source", "phone of the east hall"]);
        let arguments: Vec<&str> = ["library", "note", clip].into_iter().chain(noted).collect();
        self.says(&arguments);
        self.says(&["library", "scan"]);
    }

    fn run(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_stillcall"))
            .args(arguments)
            .current_dir(&self.0)
            .env("STILLCALL_STATE", self.0.join("state"))
            .output()
            .expect("the program starts")
    }

    fn says(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        assert!(output.status.success(), "{arguments:?}: {output:?}");
        String::from_utf8(output.stdout).expect("text")
    }

    fn refuses(&self, arguments: &[&str]) -> String {
        let output = self.run(arguments);
        assert_eq!(output.status.code(), Some(1), "{arguments:?}: {output:?}");
        String::from_utf8(output.stderr).expect("text")
    }

    /// Names of the files beside the clips, sorted.
    fn files(&self) -> Vec<String> {
        let entries = fs::read_dir(self.0.join("clips")).expect("the folder").flatten();
        let mut names: Vec<String> =
            entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }

    fn file(&self, ending: &str) -> PathBuf {
        let found = self.files().into_iter().find(|name| name.ends_with(ending));
        self.0.join("clips").join(found.unwrap_or_else(|| panic!("no {ending}")))
    }
}

/// Returns the pictures of a page about marks on these frames of a clip, in their order.
pub(crate) fn stills_of_page(name: &str, clip: &Path, frames: &[usize]) -> Vec<RgbImage> {
    let club = Club::with_clip(name, clip, frames);
    let ending = clip.extension().expect("an ending").to_string_lossy();
    club.agree_to(&format!("clips/Anna bars.{ending}"));
    let marks = club.file(".1.J-2.marks.json").display().to_string();
    club.says(&["score", &marks, "--html", "s.html", "--stills", "--for", "course"]);
    let page = fs::read_to_string(club.0.join("s.html")).expect("a page");
    let pictures = page.split("data:image/png;base64,").skip(1);
    let pictures = pictures.map(|rest| rest.split('"').next().expect("an end"));
    let decoded = |text: &str| {
        let png = base64::engine::general_purpose::STANDARD.decode(text).expect("base 64");
        image::load_from_memory(&png).expect("a PNG").into_rgb8()
    };
    pictures.map(decoded).collect()
}

/// Returns the numbers that the pictures show on which the marks stand.
fn numbers(marks: &Path, clip: &Path) -> Vec<u32> {
    let footage = Footage::open(clip).expect("it opens");
    let mut decoder = Decoder::new(&footage, 1);
    let sheaf = stillcall::marks::load(marks, None).expect("marks");
    let of = sheaf.clip.as_ref().expect("a clip");
    assert_eq!(of.quick_id, footage.content_id().expect("an id"));
    let number = |mark: &Mark| {
        let frame = mark.at.frame().expect("a frame");
        assert_eq!(footage.table().at(frame.ticks), usize::from(frame.index));
        oracle::bars(&decoder.picture(frame.index.into()).expect("a picture"))
    };
    sheaf.marks.iter().map(number).collect()
}

const EXPORT: [&str; 7] =
    ["library", "export", "event bars", "--out", "b.zip", "--to", "Dunlin club"];

#[test]
fn a_clip_leaves_with_its_pictures_and_nothing_else() {
    let club = Club::with("from", &[10, 60, 97]);
    club.agree();
    let said = club.says(&[&EXPORT[..], &["--clips-for", "course"]].concat());
    assert!(said.contains("1 clip;"), "{said}");
    let bytes = fs::read(club.0.join("b.zip")).expect("the bundle");
    for secret in ["Anna", "51.5000", "Phonemaker", "east hall", "EastHall"] {
        let there = bytes.windows(secret.len()).any(|window| window == secret.as_bytes());
        assert!(!there, "{secret} leaves with the bundle");
    }
    let other = Club::empty("to");
    let bundle = club.0.join("b.zip").display().to_string();
    other.says(&["library", "import", &bundle, "--into", "clips"]);
    let (clip, marks) = (other.file(".mp4"), other.file(".marks.json"));
    assert_eq!(numbers(&marks, &clip), [10, 60, 97]);
    let footage = Footage::open(&phone()).expect("it opens");
    assert_eq!(oracle::linear(&clip, &footage), oracle::linear(&phone(), &footage));
    assert!(!probed(&clip).contains("codec_type=audio"));
    // The other club finds it, with what was agreed to.
    other.says(&["library", "scan"]);
    let name = clip.display().to_string();
    assert!(other.says(&["library", "find", "event bars"]).contains("SC-07"));
    assert!(other.says(&["library", "find", "pictures course"]).contains("SC-07"));
    assert!(other.says(&["library", "info", &name]).contains("SC-07"));
    let again = other.says(&["library", "import", &bundle, "--into", "clips"]);
    assert!(again.starts_with("0 new"), "{again}");
    // A withdrawal names the bundle, with its pictures.
    let gone = club.says(&["library", "withdraw", "SC-07", "--by", "J-2", "--witness", "office"]);
    assert!(gone.contains("b.zip") && gone.contains("Dunlin club"), "{gone}");
}

#[test]
fn a_clip_that_nobody_agreed_to_stays_and_its_marks_go() {
    let club = Club::with("unasked", &[10, 60]);
    let said = club.says(&[&EXPORT[..], &["--clips-for", "course"]].concat());
    assert!(said.contains("stays behind") && said.contains("has not agreed to a course"), "{said}");
    assert!(said.contains("1 marks files") && said.contains("no pictures"), "{said}");
    club.agree();
    let again = ["library", "export", "event bars", "--out", "c.zip", "--to", "X"];
    let said = club.says(&[&again[..], &["--clips-for", "publication"]].concat());
    assert!(said.contains("has not agreed to publication"), "{said}");
}

#[test]
fn a_part_becomes_a_clip_with_its_marks_and_record() {
    let club = Club::with("cut", &[52, 60, 70]);
    club.agree();
    let said = club.says(&["library", "cut", CLIP, "--routine", "1", "--out", "clips/part.mp4"]);
    assert!(said.contains("frames 48 to 7") && said.contains("begins 4 frames earlier"), "{said}");
    assert!(said.contains("--keep-excerpts"), "{said}");
    let part = club.0.join("clips/part.mp4");
    assert_eq!(numbers(&club.file("part.mp4.1.J-2.marks.json"), &part), [52, 60, 70]);
    let info = club.says(&["library", "info", "clips/part.mp4"]);
    assert!(info.contains("SC-07"), "{info}");
    club.says(&["library", "scan"]);
    assert!(club.says(&["library", "find", "pictures course"]).contains("part.mp4"));
    // Only the excerpt is kept; deleting a clip without a word takes its excerpts along.
    let twice = Club::with("cut-twice", &[52, 60, 70]);
    twice.says(&[
        "library",
        "cut",
        CLIP,
        "--from",
        "1.7",
        "--to",
        "2.4",
        "--out",
        "clips/part.mp4",
    ]);
    twice.says(&["library", "scan"]);
    let witness = ["--by", "J-2", "--witness", "office"];
    club.says(&[&["library", "delete", CLIP, "--keep-excerpts"][..], &witness].concat());
    assert!(club.files().iter().all(|name| name.starts_with("part.mp4")), "{:?}", club.files());
    assert_eq!(club.files().len(), 3);
    twice.says(&[&["library", "delete", CLIP][..], &witness].concat());
    assert_eq!(twice.files(), Vec::<String>::new());
}

#[test]
fn a_page_has_pictures_only_where_they_are_asked_for_and_may_leave() {
    let club = Club::with("stills", &[10, 20]);
    let marks = club.file("Anna bars.mp4.1.J-2.marks.json").display().to_string();
    let page = || fs::read_to_string(club.0.join("s.html")).expect("a page");
    let plain = ["score", &*marks, "--html", "s.html"];
    let asked = [&plain[..], &["--stills", "--for", "course"]].concat();
    club.says(&plain);
    assert!(page().contains("<html") && !page().contains("data:image"));
    let told = club.refuses(&asked);
    assert!(told.contains("may not leave with pictures for a course"), "{told}");
    assert!(!page().contains("data:image"));
    club.agree();
    club.says(&plain);
    assert!(!page().contains("data:image"), "also where they might be");
    club.says(&asked);
    assert!(page().contains("data:image"));
}

/// A part would have a record of its own, in which no doubt is left.
#[test]
fn nothing_is_cut_while_the_record_is_in_doubt() {
    let club = Club::with("doubt", &[10, 20]);
    club.agree();
    let cut = ["library", "cut", CLIP, "--from", "1", "--to", "2", "--out"];
    let record = club.file("Anna bars.mp4.clip.json");
    let copy = club.0.join("clips/Anna bars.mp4.clip (1).json");
    fs::copy(&record, &copy).expect("a copy");
    let told = club.refuses(&[&cut[..], &["clips/x.mp4"]].concat());
    assert!(told.contains("may not be cut") && told.contains("another copy"), "{told}");
    assert!(!club.0.join("clips/x.mp4").exists());
    fs::remove_file(&copy).expect("it goes");
    club.says(&[&cut[..], &["clips/x.mp4"]].concat());
}

/// What leaves the club's folders is pictures that leave.
#[test]
fn a_part_goes_elsewhere_only_where_pictures_may() {
    let club = Club::with("elsewhere", &[10, 20]);
    let cut = ["library", "cut", CLIP, "--from", "1", "--to", "2", "--for", "course", "--out"];
    fs::create_dir(club.0.join("stick")).expect("a folder");
    let out = [&cut[..], &["stick/x.mp4"]].concat();
    let told = club.refuses(&out);
    assert!(told.contains("may not leave with pictures for a course"), "{told}");
    assert_eq!(fs::read_dir(club.0.join("stick")).expect("a folder").count(), 0);
    club.agree();
    club.says(&out);
    assert!(club.0.join("stick/x.mp4").exists());
}

#[test]
fn what_cannot_be_cut_is_told() {
    fn cut<'a>(more: &[&'a str]) -> Vec<&'a str> {
        [&["library", "cut", CLIP][..], more].concat()
    }
    let club = Club::with("no-cut", &[10, 100]);
    let unknown = club.refuses(&cut(&["--routine", "7", "--out", "clips/x.mp4"]));
    assert!(unknown.contains("\"7\"") && unknown.contains("there are: 1"), "{unknown}");
    let ending = club.refuses(&cut(&["--from", "1", "--to", "2", "--out", "clips/x.avi"]));
    assert!(ending.contains(".mp4"), "{ending}");
    let taken = club.refuses(&cut(&["--from", "1", "--to", "2", "--out", CLIP]));
    assert!(taken.contains("is there already"), "{taken}");
    let turned = club.refuses(&cut(&["--from", "3", "--to", "2", "--out", "clips/x.mp4"]));
    assert!(turned.contains("the earlier first"), "{turned}");
    // Marks beyond the part are not bent to fit it.
    let said = club.says(&cut(&["--from", "1", "--to", "2", "--out", "clips/x.mp4"]));
    assert!(said.contains("not carried over"), "{said}");
    assert!(!club.files().contains(&"x.mp4.1.J-2.marks.json".to_owned()));
}

#[test]
fn clips_of_a_meet_are_given_to_a_judge_all_at_once() {
    let club = Club::empty("meet");
    for name in ["clips/one.mp4", "clips/two.mp4"] {
        fs::copy(phone(), club.0.join(name)).expect("a copy");
    }
    club.says(&["library", "scan"]);
    let settings =
        "--judge J-9 --rulebook saltmarsh --event bars --division redshank --date 2026-11-20";
    let arguments: Vec<&str> =
        ["library", "assign", "not marked"].into_iter().chain(settings.split(' ')).collect();
    let said = club.says(&arguments);
    assert!(said.contains("begun: ") && said.contains("2 changed"), "{said}");
    let begun = stillcall::marks::load(&club.file("one.mp4.1.J-9.marks.json"), None);
    let begun = begun.expect("marks");
    let footage = Footage::open(&club.0.join("clips/one.mp4")).expect("it opens");
    let of = begun.clip.expect("a clip");
    assert_eq!(of.quick_id, footage.content_id().expect("an id"));
    assert_eq!(begun.routine.date, "2026-11-20");
    assert!(club.says(&["library", "find", "judge J-9 division redshank"]).contains("2 found"));
}
