//! Bundles: what goes out, and what is not let in.

use std::{
    fs::{self, File},
    io::{Read as _, Write as _},
    ops::ControlFlow,
    path::{Path, PathBuf},
};

use serde_json::{Value, json};
use stillcall::library::{ImportError, Records, import, import_telling};
use zip::{CompressionMethod, ZipArchive, ZipWriter, write::SimpleFileOptions};

use super::library_club::{Club, Marked, quick_id};

fn club() -> Club {
    let club = Club::new();
    club.clip("Anna beam.mp4", "a");
    club.mark_with(&Marked::of("Anna beam.mp4", "SC-07"), |file| {
        let book = stillcall::rulebook::load("saltmarsh").unwrap();
        file["routine"]["book_hash"] = json!(book.hash);
        file["routine"]["later"] = json!("Anna's sister");
        let marks = file["marks"].as_array_mut().unwrap();
        marks[0]["note"] = json!("Anna was tired");
        let mut remark = marks[0].clone();
        (remark["id"], remark["kind"]) = (json!(99), json!("note"));
        marks.push(remark);
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

    fn write(&self, bundle: &Path, method: CompressionMethod) {
        let manifest = json!({
            "format": "stillcall bundle", "version": 1, "made": "2026-11-25", "files": self.listed,
        });
        let options = SimpleFileOptions::default().compression_method(method);
        let mut archive = ZipWriter::new(File::create(bundle).unwrap());
        archive.start_file("manifest.json", options).unwrap();
        archive.write_all(manifest.to_string().as_bytes()).unwrap();
        for (name, bytes) in &self.files {
            archive.start_file(name.as_str(), options).unwrap();
            archive.write_all(bytes).unwrap();
        }
        archive.finish().unwrap();
    }

    /// Writes it, takes it in, and returns why it was refused; nothing may have been written.
    fn refused(&self) -> ImportError {
        self.refused_when(|_| ())
    }

    /// The same with the bytes of the bundle bent before.
    fn refused_when(&self, bend: impl Fn(&mut [u8])) -> ImportError {
        let folder = tempfile::tempdir().unwrap();
        let bundle = folder.path().join("forged.zip");
        self.write(&bundle, CompressionMethod::Deflated);
        let mut bytes = fs::read(&bundle).unwrap();
        bend(&mut bytes);
        fs::write(&bundle, bytes).unwrap();
        let into = folder.path().join("into");
        let error = import(&bundle, &into, (None, None), Records::Asked).unwrap_err();
        assert!(!into.exists(), "something was written: {error}");
        assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 1, "{error}");
        error
    }
}

/// Remarks stay behind and names become hashes; what was agreed on holds all the same.
#[test]
fn what_was_agreed_on_holds_in_a_bundle() {
    let club = club();
    let file = "clips/Anna beam.mp4.1.J-2.marks.json";
    club.says(&["library", "reference", file, "--record", file]);
    let files = unpacked(&export(&club));
    let folder = tempfile::tempdir().unwrap();
    let mut record = Value::Null;
    for (name, bytes) in files {
        let name = name.rsplit('/').next().unwrap().to_owned();
        fs::write(folder.path().join(&name), &bytes).unwrap();
        if name.ends_with(".clip.json") {
            record = serde_json::from_slice(&bytes).unwrap();
        }
    }
    let then = &record["agreed"][0]["of"][0];
    let marks = folder.path().join(then["marks"].as_str().unwrap());
    assert_eq!(then["marks"], record["agreed"][0]["marks"]);
    let sheaf = stillcall::marks::load(&marks, None).unwrap();
    assert_eq!(then["seal"].as_str().unwrap(), stillcall::marks::seal(&sheaf));
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

/// Two entries over the same bytes would let a small file unpack to any size.
#[test]
fn files_that_share_their_bytes_are_refused() {
    let (first, second) = ("files/x.marks.json", "files/y.marks.json");
    let mut forged = Forged::of(first, b"{}");
    forged.files.push((second.to_owned(), b"{}".to_vec()));
    let other = Forged::of(second, b"{}");
    forged.listed.extend(other.listed);
    // The second entry of the directory is bent to where the first one's bytes lie: the offset of
    // the local header is the four bytes from 42 on of a central header (APPNOTE 6.3.10, 4.3.12).
    let error = forged.refused_when(|bytes| {
        let name_of = |at: usize| &bytes[at + 46..];
        let headers: Vec<usize> =
            (0..bytes.len() - 46).filter(|at| bytes[*at..].starts_with(b"PK\x01\x02")).collect();
        let find =
            |name: &str| headers.iter().find(|at| name_of(**at).starts_with(name.as_bytes()));
        let (from, to) = (*find(first).unwrap(), *find(second).unwrap());
        let offset: [u8; 4] = bytes[from + 42..from + 46].try_into().unwrap();
        bytes[to + 42..to + 46].copy_from_slice(&offset);
    });
    assert!(matches!(error, ImportError::Overlaps { .. }), "{error}");
}

/// Whoever sends a bundle does not decide what may be done with a clip that is here.
#[test]
fn a_record_of_a_clip_that_is_here_is_shown_and_asked_about() {
    let club = club();
    let bundle = export(&club).display().to_string();
    let other = Club::new();
    other.clip("own.mp4", "a");
    let quick = quick_id(&other.clips().join("own.mp4"));
    fs::rename(other.clips().join("own.mp4"), other.clips().join(&quick)).unwrap();
    let told = other.refuses(&["library", "import", &bundle, "--into", "clips"]);
    assert!(told.contains(&quick) && told.contains("SC-07 agreed to a course"), "{told}");
    assert!(told.contains("--records"), "{told}");
    assert_eq!(fs::read_dir(other.clips()).unwrap().count(), 1, "nothing was taken");
    other.says(&["library", "import", &bundle, "--into", "clips", "--records"]);
    assert!(other.clips().join(format!("{quick}.clip.json")).exists());
}

/// A clip with its record and marks.
fn sent() -> Forged {
    let mut sent = Forged::of("files/x.mp4", b"a clip");
    for (name, bytes) in
        [("files/x.mp4.clip.json", &b"{}"[..]), ("files/x.1.J-2.marks.json", b"{}")]
    {
        let other = Forged::of(name, bytes);
        sent.files.extend(other.files);
        sent.listed.extend(other.listed);
    }
    sent
}

/// Killed after any of its files, it asks nothing that it did not ask before.
#[test]
fn an_import_that_was_cut_short_is_gone_on_with() {
    let folder = tempfile::tempdir().unwrap();
    let bundle = folder.path().join("b.zip");
    sent().write(&bundle, CompressionMethod::Stored);
    let taken = |into: &Path| import(&bundle, into, (None, None), Records::Asked);
    let written = taken(&folder.path().join("whole")).unwrap().new;
    assert_eq!(written.len(), 3);
    for there in 0..written.len() {
        let cut = folder.path().join(format!("cut-{there}"));
        fs::create_dir(&cut).unwrap();
        for path in &written[..there] {
            fs::copy(path, cut.join(path.file_name().unwrap())).unwrap();
        }
        let again = taken(&cut).unwrap_or_else(|error| panic!("cut short after {there}: {error}"));
        assert_eq!((again.known, again.new.len()), (there, 3 - there));
    }
}

/// Stopped while it is checked, nothing is written; later, what is written stays and is gone on from.
#[test]
fn an_import_that_is_stopped_is_gone_on_with() {
    let folder = tempfile::tempdir().unwrap();
    let bundle = folder.path().join("b.zip");
    sent().write(&bundle, CompressionMethod::Stored);
    // Ten bytes, each read to be checked and once more to be written; the record's two come first.
    for (bytes, taken) in [(1, 0), (10, 0), (13, 1)] {
        let into = folder.path().join(bytes.to_string());
        let mut told = |done: u64, all: u64| {
            assert_eq!(all, 20);
            if done >= bytes { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        };
        let own = (None, None);
        let stopped = import_telling((&bundle, &into), own, Records::Asked, &mut told);
        let Err(ImportError::Stopped { taken: told }) = stopped else { panic!("{stopped:?}") };
        let written = fs::read_dir(&into).map_or(0, Iterator::count);
        assert_eq!((told, written), (taken, taken), "{bytes}: nothing half made stays");
        let again = import(&bundle, &into, own, Records::Asked).unwrap();
        assert_eq!((again.known, again.new.len()), (taken, 3 - taken), "{bytes}");
    }
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
        let told = import(&file, folder.path(), (None, None), Records::Asked);
        assert!(matches!(told, Err(ImportError::NoBundle { .. })));
    }
    let mut empty = Forged::of("files/x.marks.json", b"{}");
    empty.listed[0]["name"] = json!(7);
    assert!(matches!(empty.refused(), ImportError::NoBundle { .. }));
}
