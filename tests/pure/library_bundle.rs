//! Bundles: what goes out, and what is not let in.

use std::{
    fs::{self, File},
    io::{Read as _, Write as _},
    path::{Path, PathBuf},
};

use serde_json::{Value, json};
use stillcall::library::{ImportError, import};
use zip::{CompressionMethod, ZipArchive, ZipWriter, write::SimpleFileOptions};

use super::library_club::{Club, Marked, quick_id};

fn club() -> Club {
    let club = Club::new();
    club.clip("Anna beam.mp4", "a");
    club.mark_with(&Marked::of("Anna beam.mp4", "SC-07"), |file| {
        let book = stillcall::rulebook::load("saltmarsh").unwrap();
        file["routine"]["book_hash"] = json!(book.hash);
    });
    club.says(&[
        "library",
        "note",
        "clips/Anna beam.mp4",
        "--source",
        "phone of the east hall",
        "--notes",
        "camera by the door",
        "--others",
        "none",
        "--athlete",
        "SC-07",
        "--consent",
        "both",
        "--by",
        "office",
        "--for",
        "course",
    ]);
    club.says(&["library", "scan"]);
    club
}

fn export(club: &Club) -> PathBuf {
    club.says(&["library", "export", "event bars", "--out", "b.zip", "--to", "Dunlin club"]);
    club.folder.path().join("b.zip")
}

fn unpacked(bundle: &Path) -> Vec<(String, Vec<u8>)> {
    let mut archive = ZipArchive::new(File::open(bundle).unwrap()).unwrap();
    (0..archive.len())
        .map(|at| {
            let mut entry = archive.by_index(at).unwrap();
            let mut bytes = Vec::new();
            entry.read_to_end(&mut bytes).unwrap();
            (entry.name().unwrap().into_owned(), bytes)
        })
        .collect()
}

#[test]
fn a_bundle_carries_codes_and_hashes_and_no_names_places_or_pictures() {
    let club = club();
    let bundle = export(&club);
    let quick = quick_id(&club.clips().join("Anna beam.mp4"));
    let files = unpacked(&bundle);
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(names[0], "manifest.json");
    assert!(names.contains(&format!("files/{quick}.1.J-2.marks.json").as_str()), "{names:?}");
    assert!(names.contains(&format!("files/{quick}.clip.json").as_str()), "{names:?}");
    for (name, bytes) in &files {
        let text = format!("{name}{}", String::from_utf8_lossy(bytes));
        for secret in ["Anna", "east hall", "door"] {
            assert!(!text.contains(secret), "{secret} in {name}");
        }
    }
    // Every file is listed with the hash that the reference program of BLAKE3's authors gives: the
    // crate itself, called here on the bytes as they were unpacked.
    let manifest: Value = serde_json::from_slice(&files[0].1).unwrap();
    let listed = manifest["files"].as_array().unwrap();
    assert_eq!(listed.len(), files.len() - 1);
    for file in listed {
        let (_, bytes) = files.iter().find(|(name, _)| file["name"] == **name).unwrap();
        assert_eq!(file["hash"], blake3::hash(bytes).to_hex().as_str());
        assert_eq!(file["bytes"], bytes.len());
    }
}

#[test]
fn another_club_takes_it_in_and_scores_the_same() {
    let club = club();
    let bundle = export(&club);
    let other = Club::new();
    let bundle = bundle.display().to_string();
    let said = other.says(&["library", "import", &bundle, "--into", "clips"]);
    assert!(said.contains("were there already"), "{said}");
    other.says(&["library", "scan"]);
    assert_eq!(other.who("event bars"), ["SC-07"]);
    assert_eq!(other.find("")[0].score, club.find("marked")[0].score);
    let again = other.says(&["library", "import", &bundle, "--into", "clips"]);
    assert!(again.contains("0 new"), "{again}");
    // What the other club changed is not written over.
    let mut marks = fs::read_dir(other.clips()).unwrap().flatten().map(|entry| entry.path());
    let marks = marks.find(|path| path.to_string_lossy().ends_with("marks.json")).unwrap();
    fs::write(&marks, "changed").unwrap();
    let error = other.refuses(&["library", "import", &bundle, "--into", "clips"]);
    assert!(error.contains("left as it is"), "{error}");
    assert_eq!(fs::read_to_string(&marks).unwrap(), "changed");
}

#[test]
fn a_bundle_is_not_written_over_and_an_empty_one_not_made() {
    let club = club();
    export(&club);
    let again = club.refuses(&["library", "export", "event bars", "--out", "b.zip", "--to", "X"]);
    assert!(again.contains("b.zip"), "{again}");
    let empty = club.refuses(&["library", "export", "event floor", "--out", "c.zip", "--to", "X"]);
    assert!(empty.contains("nothing to put"), "{empty}");
    assert!(!club.folder.path().join("c.zip").exists());
}

/// A bundle made by somebody with other things in mind.
struct Forged {
    listed: Vec<Value>,
    files: Vec<(String, Vec<u8>)>,
}

impl Forged {
    fn of(name: &str, bytes: &[u8]) -> Self {
        let hash = blake3::hash(bytes).to_hex().to_string();
        let listed = vec![json!({"name": name, "bytes": bytes.len(), "hash": hash})];
        Self { listed, files: vec![(name.to_owned(), bytes.to_vec())] }
    }

    /// Writes it, takes it in, and returns why it was refused; nothing may have been written.
    fn refused(&self) -> ImportError {
        let folder = tempfile::tempdir().unwrap();
        let bundle = folder.path().join("forged.zip");
        let manifest = json!({
            "format": "stillcall bundle", "version": 1, "made": "2026-11-25", "files": self.listed,
        });
        let options = SimpleFileOptions::default().compression_method(CompressionMethod::Deflated);
        let mut archive = ZipWriter::new(File::create(&bundle).unwrap());
        archive.start_file("manifest.json", options).unwrap();
        archive.write_all(manifest.to_string().as_bytes()).unwrap();
        for (name, bytes) in &self.files {
            archive.start_file(name.as_str(), options).unwrap();
            archive.write_all(bytes).unwrap();
        }
        archive.finish().unwrap();
        let into = folder.path().join("into");
        let error = import(&bundle, &into, (None, None)).unwrap_err();
        assert!(!into.exists(), "something was written: {error}");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "{error}");
        error
    }
}

#[test]
fn names_that_lead_elsewhere_are_refused() {
    for name in [
        "files/../../out.marks.json",
        "../out.marks.json",
        "/out.marks.json",
        "files//out.marks.json",
        "files/a/b.marks.json",
        "files/.hidden.marks.json",
        "files\\..\\out.marks.json",
        "files/C:out.marks.json",
        "files/run.sh",
        "editions/x.marks.json",
        "other/x.marks.json",
        "files/x\u{0}.marks.json",
    ] {
        let error = Forged::of(name, b"{}").refused();
        assert!(matches!(error, ImportError::BadName { .. }), "{name:?}: {error}");
    }
}

#[test]
fn what_is_not_listed_listed_twice_or_missing_is_refused() {
    let name = "files/x.marks.json";
    let mut hidden = Forged::of(name, b"{}");
    hidden.files.push(("files/y.marks.json".to_owned(), b"{}".to_vec()));
    assert!(matches!(hidden.refused(), ImportError::BadName { .. }));
    let mut twice = Forged::of(name, b"{}");
    twice.listed.push(json!({"name": "files/X.marks.json", "bytes": 2, "hash": ""}));
    assert!(matches!(twice.refused(), ImportError::BadName { .. }), "the same on some systems");
    let mut missing = Forged::of(name, b"{}");
    missing.files.clear();
    assert!(matches!(missing.refused(), ImportError::Differs { .. }));
    let mut changed = Forged::of(name, b"{}");
    changed.files[0].1 = b"[]".to_vec();
    assert!(matches!(changed.refused(), ImportError::Differs { .. }));
}

/// A clip in a bundle is stored as it is; packed, it could unpack to anything.
#[test]
fn a_packed_clip_is_refused() {
    let packed = Forged::of("files/x.mp4", &vec![0; 40 << 20]);
    assert!(matches!(packed.refused(), ImportError::TooLarge { .. }));
}

#[test]
fn size_bombs_are_refused_whatever_they_claim() {
    let zeros = vec![0; 40 << 20];
    let honest = Forged::of("files/x.marks.json", &zeros);
    assert!(matches!(honest.refused(), ImportError::TooLarge { .. }));
    // It claims to be small.
    let mut lying = Forged::of("files/x.marks.json", &zeros);
    lying.listed[0]["bytes"] = json!(10);
    assert!(matches!(lying.refused(), ImportError::Differs { .. }));
    let mut many = Forged::of("files/x.marks.json", b"{}");
    many.listed[0]["bytes"] = json!(u64::MAX);
    assert!(matches!(many.refused(), ImportError::TooLarge { .. }));
}

#[test]
fn what_is_no_bundle_is_told() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("x.zip");
    for bytes in [&b""[..], b"PK\x05\x06", b"not a zip at all"] {
        fs::write(&file, bytes).unwrap();
        assert!(matches!(
            import(&file, folder.path(), (None, None)),
            Err(ImportError::NoBundle { .. })
        ));
    }
    let mut empty = Forged::of("files/x.marks.json", b"{}");
    empty.listed[0]["name"] = json!(7);
    assert!(matches!(empty.refused(), ImportError::NoBundle { .. }));
}
