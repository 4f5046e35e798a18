//! Marks follow their clip: moved, renamed, or coded again.

use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

use stillcall::{
    footage::{Decoder, Footage},
    marks::{
        At, ClickedPoint, ClipFacts, Desk, How, Id, Kin, Mark, Quantity, Reading, Routine, Seen,
        Sheaf, StateFolder, Step, What, kin,
    },
    units::{Coded, Magnitude},
};

use crate::{
    clips::{H264, base, derived, scratch},
    oracle,
};

/// A fresh folder with the base clip and marks on two of its frames.
struct Case {
    folder: PathBuf,
    marks: PathBuf,
}

const MARKED: [usize; 2] = [60, 97];
const CLICKED: Coded = Coded([64.0, 36.0]);

fn facts(footage: &Footage, name: &str) -> ClipFacts {
    let facts = footage.facts();
    ClipFacts {
        name: name.to_owned(),
        quick_id: footage.content_id().expect("an id"),
        content_hash: None,
        time_base: facts.time_base,
        upright: facts.upright,
        orientation_override: None,
        assumed_times: false,
        unknown: stillcall::marks::model::Unknown::new(),
    }
}

impl Case {
    fn new(name: &str) -> Self {
        let folder = scratch("copies").join(name);
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(folder.join("state")).expect("a place for marks");
        let footage = Footage::open(&base()).expect("it opens");
        let at = |k: usize| At::Frame(footage.table().frame_ref(k).expect("a frame"));
        let mark = |(k, id): (usize, u64)| Mark {
            id: Id(id),
            at: at(k),
            what: What::Element { element: "kip".to_owned() },
            seen: Seen::Yes,
            of: None,
            note: String::new(),
        };
        let reading = Reading {
            id: Id(3),
            of: Id(1),
            quantity: Quantity::Kick,
            value: Magnitude(50.0),
            u: Magnitude(2.0),
            at: at(MARKED[0]),
            points: vec![ClickedPoint { name: "hip".into(), coded: CLICKED, frame: None }],
            how: How::default(),
        };
        let sheaf = Sheaf {
            clip: Some(facts(&footage, "meet.mp4")),
            routine: Routine::default(),
            marks: MARKED.into_iter().zip(1..).map(mark).collect(),
            readings: vec![reading],
            ..Sheaf::default()
        };
        let marks = folder.join("meet.mp4.1.J-2.marks.json");
        Desk::create(&marks, sheaf, &StateFolder::at(folder.join("state"))).expect("marks");
        Self { folder, marks }
    }

    fn attach(&self, clip: &Path, more: &[&str]) -> Result<String, String> {
        let output = Command::new(env!("CARGO_BIN_EXE_stillcall"))
            .arg("attach")
            .args([self.marks.as_path(), clip])
            .args(more)
            .env("STILLCALL_STATE", self.folder.join("state"))
            .output()
            .expect("the program starts");
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("plain words");
        if output.status.success() { Ok(text(output.stdout)) } else { Err(text(output.stderr)) }
    }

    fn sheaf(&self) -> Sheaf {
        let state = StateFolder::at(self.folder.join("state"));
        stillcall::marks::load(&self.marks, Some(&state)).expect("marks")
    }
}

/// Returns the numbers that the pictures show on which the marks stand.
fn numbers(sheaf: &Sheaf, clip: &Path) -> Vec<u32> {
    let footage = Footage::open(clip).expect("it opens");
    let mut decoder = Decoder::new(&footage, 1);
    let number = |mark: &Mark| {
        let frame = mark.at.frame().expect("a frame");
        assert_eq!(footage.table().at(frame.ticks), usize::from(frame.index));
        oracle::bars(&decoder.picture(frame.index.into()).expect("a picture"))
    };
    sheaf.marks.iter().map(number).collect()
}

#[test]
fn a_moved_clip_is_the_same_clip() {
    let case = Case::new("moved");
    let elsewhere = case.folder.join("elsewhere.mp4");
    fs::copy(base(), &elsewhere).expect("a copy");
    let said = case.attach(&elsewhere, &[]).expect("it is the same clip");
    assert!(said.contains("3 marks, readings and calls"), "{said}");
    let sheaf = case.sheaf();
    assert_eq!(sheaf.clip.as_ref().map(|clip| clip.name.as_str()), Some("elsewhere.mp4"));
    let hash = blake3::hash(&fs::read(&elsewhere).expect("the clip")).to_hex().to_string();
    assert_eq!(sheaf.clip.as_ref().and_then(|clip| clip.content_hash.clone()), Some(hash));
    assert_eq!(numbers(&sheaf, &elsewhere), [60, 97]);
}

/// Half as large, half a second shorter at its beginning, with another clock.
#[test]
fn marks_move_to_a_copy_that_was_coded_again() {
    let case = Case::new("copy");
    let options =
        format!("-ss 0.5 {{}} -vf scale=128:72:flags=neighbor {H264} -video_track_timescale 90000");
    let copy = derived("coded_again.mp4", &base(), &options);
    let before = case.sheaf();
    let refused = case.attach(&copy, &[]).expect_err("another file");
    assert!(refused.contains("say --copy"), "{refused}");
    assert_eq!(case.sheaf(), before, "nothing changes without a word");
    case.attach(&copy, &["--copy", "--offset", "-0.5"]).expect("it moves");
    let after = case.sheaf();
    assert_eq!(numbers(&after, &copy), [60, 97]);
    assert_eq!(after.readings[0].points[0].coded, Coded([32.0, 18.0]));
    // What was seen between 59/30 and 61/30 s is seen half a second earlier.
    let frame = after.marks[0].at.frame().expect("a frame");
    assert_eq!([frame.lo.0, frame.ticks.0, frame.hi.0], [44 * 3000, 45 * 3000, 46 * 3000]);
    let footage = Footage::open(&copy).expect("it opens");
    let found = facts(&footage, "any.mp4");
    assert_eq!(kin(after.clip.as_ref().expect("a clip"), &found), Kin::Same);
    assert_eq!(kin(before.clip.as_ref().expect("a clip"), &found), Kin::Other);
    // One undo brings everything back.
    let state = StateFolder::at(case.folder.join("state"));
    let mut desk = Desk::open(&case.marks, &state).expect("marks");
    assert!(desk.take(Step::Undo).expect("an undo"));
    assert_eq!(*desk.sheaf(), before);
}

#[test]
fn a_copy_that_does_not_hold_the_marks_is_refused() {
    let case = Case::new("refused");
    let before = case.sheaf();
    let short = derived("short_copy.mp4", &base(), "-c copy -t 3");
    let refused = case.attach(&short, &["--copy"]).expect_err("too short");
    assert!(refused.contains("1 of the frames"), "{refused}");
    let cropped = derived("cropped_copy.mp4", &base(), &format!("-vf crop=144:144 {H264}"));
    let refused = case.attach(&cropped, &["--copy"]).expect_err("another shape");
    assert!(refused.contains("proportions of 256 x 144"), "{refused}");
    let refused = case.attach(Path::new("missing.mp4"), &["--copy"]).expect_err("no clip");
    assert!(refused.contains("there is no such file"), "{refused}");
    assert_eq!(case.sheaf(), before);
}
