//! Books change: a sheet reopens under the edition it was scored with, and a file that is typed
//! on is read anew.

use std::fs;

use stillcall::{
    rulebook::{Edition, Editions, LoadError, Watch, blank, load},
    sheet::score,
    units::Points,
};
use tempfile::TempDir;

use crate::books::write::write;

/// A folder with a blank book, and one that is like it.
struct Shelf(TempDir);

impl Shelf {
    fn new() -> Self {
        let shelf = Self(tempfile::tempdir().unwrap());
        shelf.put("base.toml", blank());
        shelf.put(
            "own.toml",
            "[book]\nid = \"own\"\ntitle = \"Own\"\nedition = 1\nlike = \"base.toml\"\n",
        );
        shelf
    }

    fn put(&self, name: &str, text: &str) {
        fs::write(self.0.path().join(name), text).unwrap();
    }

    fn path(&self, name: &str) -> String {
        self.0.path().join(name).display().to_string()
    }

    fn editions(&self) -> Editions {
        Editions::in_folder(Some(self.0.path()))
    }
}

#[test]
fn a_sheet_reopens_under_the_edition_it_was_scored_with() {
    let shelf = Shelf::new();
    let own = shelf.path("own.toml");
    let first = shelf.editions().load(&own, "").unwrap();
    assert_eq!((first.edition.clone(), first.said()), (Edition::Current, None));
    // Next season a fall costs 0.5 more, in the book that this one is like.
    shelf.put(
        "base.toml",
        &blank().replace("mark = \"fall\"\namount = 0.5", "mark = \"fall\"\namount = 1.0"),
    );
    let fallen = write("beam", "first").seen(stillcall::marks::What::Fall).done();
    let cost = |hash: &str| {
        let scored = shelf.editions().load(&own, hash).unwrap();
        let off = score(&scored.book, &fallen).deductions[0].amount;
        (off, scored.edition)
    };
    let kept = Edition::Kept { now: Some("1".into()) };
    assert_eq!(cost(&first.book.hash), (Points(500), kept));
    assert_eq!(cost(""), (Points(1_000), Edition::Current));
    // The book itself may be gone.
    fs::remove_file(&own).unwrap();
    assert_eq!(cost(&first.book.hash), (Points(500), Edition::Kept { now: None }));
    assert!(matches!(shelf.editions().load(&own, ""), Err(LoadError::Unknown { .. })));
}

#[test]
fn an_edition_that_is_not_kept_here_is_told() {
    let shelf = Shelf::new();
    for hash in ["00ff", "../../own", ".", "own"] {
        let scored = shelf.editions().load(&shelf.path("own.toml"), hash).unwrap();
        assert_eq!(scored.edition, Edition::Missing { asked: hash.into() });
        assert!(scored.said().unwrap().contains("not kept on this computer"));
    }
}

#[test]
fn a_kept_text_that_somebody_changed_is_not_that_edition() {
    let shelf = Shelf::new();
    let own = shelf.path("own.toml");
    let hash = shelf.editions().load(&own, "").unwrap().book.hash;
    let kept = shelf.0.path().join("editions").join(format!("{hash}.toml"));
    let text = fs::read_to_string(&kept).unwrap();
    fs::write(&kept, text.replace("Own", "Other")).unwrap();
    fs::remove_file(&own).unwrap();
    assert!(shelf.editions().load(&own, &hash).is_err());
}

#[test]
fn a_kept_text_is_made_whole_and_a_changed_book_of_one_edition_is_told() {
    let shelf = Shelf::new();
    let own = shelf.path("own.toml");
    let first = shelf.editions().load(&own, "").unwrap().book.hash;
    let kept = shelf.0.path().join("editions").join(format!("{first}.toml"));
    let text = fs::read_to_string(&kept).unwrap();
    fs::write(&kept, "spoilt").unwrap();
    shelf.editions().load(&own, "").unwrap();
    assert_eq!(fs::read_to_string(&kept).unwrap(), text);
    // The same edition with another text, then another edition.
    shelf.put("own.toml", &text.replace("Own", "Other"));
    let said = || shelf.editions().load(&own, &first).unwrap().said().unwrap();
    assert_eq!(said(), "scored under the kept text of Own, edition 1: the book was changed since");
    shelf.put("own.toml", &text.replace("edition = 1", "edition = 2"));
    assert_eq!(said(), "scored under the kept Own, edition 1; the book is now edition 2");
}

#[test]
fn without_a_folder_nothing_is_kept_and_the_score_is_made() {
    let shelf = Shelf::new();
    let own = shelf.path("own.toml");
    let nowhere = Editions::in_folder(None);
    let first = nowhere.load(&own, "").unwrap();
    assert_eq!((&first.edition, first.said()), (&Edition::Current, None));
    assert_eq!(nowhere.load(&own, &first.book.hash).unwrap().edition, Edition::Current);
    let asked = "00ff".to_owned();
    assert_eq!(nowhere.load(&own, &asked).unwrap().edition, Edition::Missing { asked });
}

#[test]
fn a_file_that_is_no_text_is_told_by_what_it_seems_to_be() {
    let shelf = Shelf::new();
    for (bytes, hint) in [
        (&b"PK\x03\x04\x00\x00"[..], "a spreadsheet or a zip file"),
        (b"\xff\xfeb\x00", "UTF-16"),
        (b"\xfe\xff\x00b", "UTF-16"),
    ] {
        fs::write(shelf.0.path().join("odd.toml"), bytes).unwrap();
        let said = load(&shelf.path("odd.toml")).unwrap_err().to_string();
        assert!(said.contains("from line 1 on") && said.contains(hint), "{said}");
    }
    fs::write(shelf.0.path().join("odd.toml"), b"[book]\nid = \"\xe9\"\n").unwrap();
    let said = load(&shelf.path("odd.toml")).unwrap_err().to_string();
    assert!(said.contains("from line 2 on: save it"), "{said}");
}

#[test]
fn a_folder_that_cannot_be_written_is_told_and_the_score_is_made() {
    let shelf = Shelf::new();
    shelf.put("editions", "a file where the folder should be");
    let scored = shelf.editions().load(&shelf.path("own.toml"), "").unwrap();
    assert_eq!(scored.edition, Edition::Current);
    assert!(scored.said().unwrap().contains("could not be kept"));
}

#[test]
fn a_book_typed_on_while_it_is_open_is_read_anew() {
    let shelf = Shelf::new();
    let own = shelf.path("own.toml");
    let mut watch = Watch::begin(&own);
    assert!(watch.changed().is_none());
    let text = fs::read_to_string(&own).unwrap();
    shelf.put("own.toml", &text.replace("edition = 1", "edition = 2"));
    assert_eq!(watch.changed().unwrap().unwrap().edition, "2");
    assert!(watch.changed().is_none());
    // All errors at once, told once.
    shelf.put("own.toml", &text.replace("edition", "editoin").replace("title", "titel"));
    let Err(LoadError::Invalid { count, report, .. }) = watch.changed().unwrap() else { panic!() };
    assert_eq!(count, 4, "{report}");
    assert!(report.contains("did you mean \"edition\"?"), "{report}");
    assert!(watch.changed().is_none());
    shelf.put("own.toml", &text);
    assert_eq!(watch.changed().unwrap().unwrap().edition, "1");
}

#[test]
fn a_change_of_the_book_that_it_is_like_is_noticed() {
    let shelf = Shelf::new();
    let mut watch = Watch::begin(&shelf.path("own.toml"));
    shelf.put("base.toml", &blank().replace("leap = 100", "leap = 101"));
    assert!(watch.changed().unwrap().is_ok());
    fs::remove_file(shelf.0.path().join("base.toml")).unwrap();
    assert!(watch.changed().unwrap().is_err());
    shelf.put("base.toml", blank());
    assert!(watch.changed().unwrap().is_ok());
}

#[test]
fn a_shipped_book_never_changes() {
    assert!(Watch::begin("saltmarsh").changed().is_none());
    assert!(load("saltmarsh").is_ok());
}
