//! What the table of containers names is a clip everywhere.

use std::{fs, fs::File, io::Write as _};

use serde_json::json;
use stillcall::{library::import, units::CONTAINERS};
use zip::{CompressionMethod, ZipWriter, write::SimpleFileOptions};

use super::library_club::Club;

/// Every ending, as it is and as cameras write it.
fn names() -> Vec<String> {
    let endings = CONTAINERS.iter().flat_map(|row| row.endings);
    let written = endings.flat_map(|it| [(*it).to_owned(), it.to_uppercase()]);
    written.enumerate().map(|(number, ending)| format!("clip{number}.{ending}")).collect()
}

#[test]
fn the_library_finds_clips_of_every_container() {
    let club = Club::new();
    let names = names();
    assert!(names.len() > 50, "{names:?}");
    for name in &names {
        club.clip(name, name);
    }
    for other in ["list.m3u8", "sound.ogg", "drawing.gif", "notes.txt", "mp4"] {
        club.clip(other, other);
    }
    let scanned = club.scan();
    let mut found: Vec<String> = scanned
        .new
        .iter()
        .map(|path| path.file_name().unwrap().to_string_lossy().into_owned())
        .collect();
    let mut expected = names;
    found.sort();
    expected.sort();
    assert_eq!(found, expected);
}

#[test]
fn a_bundle_may_hold_clips_of_every_container() {
    let folder = tempfile::tempdir().unwrap();
    let names = names();
    let listed: Vec<_> = names
        .iter()
        .map(|name| {
            let hash = blake3::hash(name.as_bytes()).to_hex().to_string();
            json!({"name": format!("files/{name}"), "bytes": name.len(), "hash": hash})
        })
        .collect();
    let manifest = json!({
        "format": "stillcall bundle", "version": 1, "made": "2026-11-25", "files": listed,
    });
    let bundle = folder.path().join("bundle.zip");
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    let mut archive = ZipWriter::new(File::create(&bundle).unwrap());
    archive.start_file("manifest.json", stored).unwrap();
    archive.write_all(manifest.to_string().as_bytes()).unwrap();
    for name in &names {
        archive.start_file(format!("files/{name}"), stored).unwrap();
        archive.write_all(name.as_bytes()).unwrap();
    }
    archive.finish().unwrap();
    let into = folder.path().join("into");
    let imported = import(&bundle, &into, (None, None)).unwrap();
    assert_eq!(imported.new.len(), names.len());
    for name in &names {
        assert_eq!(fs::read_to_string(into.join(name)).unwrap(), *name);
    }
}
