//! The sidecar beside a clip, and the gate's answer for a clip on disk.

use std::{fs, path::PathBuf};

use serde_json::{Value, json};
use stillcall::{
    library::{Asked, Others, Purpose, Shows, SidecarFile, Use, ask, copies, sidecar_path, today},
    store::DocumentError,
};
use tempfile::TempDir;

struct Place {
    folder: TempDir,
}

impl Place {
    fn new() -> Self {
        let place = Self { folder: tempfile::tempdir().unwrap() };
        fs::write(place.clip(), b"the bytes of a clip").unwrap();
        place
    }

    fn clip(&self) -> PathBuf {
        self.folder.path().join("meet.mp4")
    }

    fn open(&self) -> SidecarFile {
        SidecarFile::begin(&self.clip()).unwrap()
    }

    /// Notes that nobody is filmed, which opens everything.
    fn note_nobody(&self) {
        let mut file = self.open();
        file.sidecar.shows = Shows::Nobody;
        file.save().unwrap();
    }

    fn refusal(&self) -> Option<String> {
        let what = Use::Pictures(Purpose::Training);
        let ruling = ask(&self.clip(), &Asked { what, athletes: &[], routine: "", today: today() });
        (!ruling.is_allowed()).then(|| ruling.against[0].to_string())
    }
}

fn edit(path: &PathBuf, change: impl FnOnce(&mut Value)) {
    let mut value = serde_json::from_slice(&fs::read(path).unwrap()).unwrap();
    change(&mut value);
    fs::write(path, value.to_string()).unwrap();
}

#[test]
fn is_named_after_the_clip_and_read_again() {
    let place = Place::new();
    assert_eq!(sidecar_path(&place.clip()).file_name().unwrap(), "meet.mp4.clip.json");
    let mut file = place.open();
    assert!(!file.exists());
    file.sidecar.others = Others::Covered;
    file.sidecar.delete_by = Some("2027-07-31".parse().unwrap());
    file.save().unwrap();
    assert_eq!(place.open().sidecar, file.sidecar);
}

#[test]
fn keys_of_later_versions_are_kept() {
    let place = Place::new();
    place.note_nobody();
    let path = sidecar_path(&place.clip());
    edit(&path, |value| value["lens"] = json!({"turns": 3}));
    let mut file = place.open();
    file.sidecar.source = "camera 2".to_owned();
    file.save().unwrap();
    let value: Value = serde_json::from_slice(&fs::read(&path).unwrap()).unwrap();
    assert_eq!(value["lens"], json!({"turns": 3}));
    assert_eq!(value["source"], "camera 2");
}

#[test]
fn a_newer_or_broken_file_is_left_as_it_is() {
    let place = Place::new();
    place.note_nobody();
    let path = sidecar_path(&place.clip());
    edit(&path, |value| value["version"] = json!(2));
    let newer = fs::read(&path).unwrap();
    assert!(matches!(SidecarFile::open(&place.clip()), Err(DocumentError::Newer { found: 2, .. })));
    assert!(place.refusal().unwrap().contains("newer version"));
    assert_eq!(fs::read(&path).unwrap(), newer);
    for broken in ["", "{", "[]", "{\"format\": \"other\"}"] {
        fs::write(&path, broken).unwrap();
        let error = SidecarFile::open(&place.clip()).unwrap_err();
        assert!(matches!(error, DocumentError::Malformed { .. }), "{broken}: {error}");
        assert!(place.refusal().is_some());
        assert_eq!(fs::read_to_string(&path).unwrap(), broken);
    }
}

#[test]
fn what_somebody_else_wrote_is_shown_and_not_overwritten() {
    let place = Place::new();
    place.note_nobody();
    let (mut first, mut second) = (place.open(), place.open());
    first.sidecar.others = Others::Recognisable;
    first.save().unwrap();
    second.sidecar.others = Others::None;
    let error = second.save().unwrap_err().to_string();
    assert!(error.contains("others: here \"none\", in the file \"recognisable\""), "{error}");
    assert_eq!(place.open().sidecar.others, Others::Recognisable);
    // Also where there was none when it was read.
    let other = Place::new();
    let (mut first, mut second) = (other.open(), other.open());
    first.save().unwrap();
    assert!(matches!(second.save(), Err(DocumentError::Changed { .. })));
}

#[test]
fn a_second_copy_closes_the_gate_until_it_is_settled() {
    let place = Place::new();
    place.note_nobody();
    assert_eq!(place.refusal(), None);
    for name in ["meet.mp4.clip (copy of J-2).json", "meet.mp4.clip.conflict-20261125.json"] {
        let copy = place.folder.path().join(name);
        fs::write(&copy, "{}").unwrap();
        assert_eq!(copies(&place.clip()), std::slice::from_ref(&copy));
        assert!(place.refusal().unwrap().contains(name));
        fs::remove_file(copy).unwrap();
    }
    assert_eq!(place.refusal(), None);
}

#[test]
fn what_was_noted_of_other_content_does_not_count() {
    let place = Place::new();
    place.note_nobody();
    fs::write(place.clip(), b"the bytes of another clip").unwrap();
    assert!(place.refusal().unwrap().contains("of other content"));
}

#[test]
fn whoever_is_judged_on_the_clip_is_asked_for_though_nobody_noted_her() {
    let place = Place::new();
    let mut file = place.open();
    file.sidecar.athlete_mut("SC-07").consents_alone = true;
    file.sidecar.others = Others::None;
    file.save().unwrap();
    let marks = json!({
        "format": "stillcall marks", "version": 1, "document": "d",
        "routine": { "id": "1", "athlete": "SC-08" },
    });
    let path = place.folder.path().join("meet.mp4.1.J-2.marks.json");
    fs::write(path, marks.to_string()).unwrap();
    let what = Use::Set(Purpose::Training);
    let ruling = ask(&place.clip(), &Asked { what, athletes: &[], routine: "", today: today() });
    let said: Vec<String> = ruling.against.iter().map(ToString::to_string).collect();
    assert!(said.iter().any(|reason| reason.contains("SC-08")), "{said:?}");
}

#[test]
fn a_clip_that_cannot_be_written_beside_says_so() {
    let place = Place::new();
    let mut file = place.open();
    // A folder in the file's place cannot be replaced by a file.
    fs::create_dir(sidecar_path(&place.clip())).unwrap();
    let error = file.save().unwrap_err().to_string();
    assert!(error.contains("meet.mp4.clip.json"), "{error}");
}
