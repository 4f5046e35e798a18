//! Everything below a club's folder, and whether it is whole.

use std::{
    collections::{BTreeMap, BTreeSet},
    fs,
    io::{Cursor, Read as _},
    path::Path,
};

use serde_json::Value;
use stillcall::store::{TEMPORARY, checked_lines};

use crate::command::leaving::Club;

/// Files by their name below the folder.
pub(super) struct Tree(BTreeMap<String, Vec<u8>>);

impl Tree {
    pub(super) fn of(club: &Club) -> Self {
        let (root, mut files) = (club.path(""), BTreeMap::new());
        read_below(&root, &root, &mut files);
        Self(files)
    }

    /// Makes the folder what it was.
    pub(super) fn put_back(&self, club: &Club) {
        let root = club.path("");
        for entry in fs::read_dir(&root).unwrap().flatten() {
            let path = entry.path();
            if path.is_dir() { fs::remove_dir_all(path) } else { fs::remove_file(path) }.unwrap();
        }
        for (name, bytes) in &self.0 {
            let path = root.join(name);
            fs::create_dir_all(path.parent().unwrap()).unwrap();
            fs::write(path, bytes).unwrap();
        }
    }

    /// Returns the names of what counts: neither the index, which is made anew from the files, nor
    /// what is being made, nor what begins with chance.
    pub(super) fn names(&self) -> BTreeSet<String> {
        let names = self.0.keys().filter(|name| !is_made_anew(name) && !is_being_made(name));
        names.map(|name| name.split("withdrawn-").next().unwrap().to_owned()).collect()
    }

    /// Checks that each file is as it was before or after, or at least whole, and that what the
    /// command does not touch is as it was.
    pub(super) fn is_whole(&self, before: &Self, after: &Self, told: &str) {
        for (name, was) in before.0.iter().filter(|(name, _)| !is_made_anew(name)) {
            let (is, now) = (after.0.get(name), self.0.get(name));
            assert!(now.is_some() || is.is_none(), "{told}: {name} is lost");
            if is == Some(was) {
                assert!(now == Some(was), "{told}: {name} was changed");
            }
        }
        for (name, bytes) in self.0.iter().filter(|(name, _)| !is_made_anew(name)) {
            let is_known = [before, after].iter().any(|tree| tree.0.get(name) == Some(bytes));
            let whole = is_known || is_being_made(name) || is_whole(name, bytes);
            let text = String::from_utf8_lossy(&bytes[bytes.len().saturating_sub(300)..]);
            assert!(whole, "{told}: {name} is half made: {text}");
        }
    }

    pub(super) fn has_nothing_unfinished(&self, told: &str) {
        let is_left = |name: &&String| is_being_made(name) || name.contains("/erasing/");
        let left: Vec<&String> = self.0.keys().filter(is_left).collect();
        assert!(left.is_empty(), "{told}: {left:?} is left over");
    }
}

fn read_below(root: &Path, folder: &Path, files: &mut BTreeMap<String, Vec<u8>>) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let path = entry.path();
        if path.is_dir() {
            read_below(root, &path, files);
        } else if let Ok(bytes) = fs::read(&path) {
            files.insert(path.strip_prefix(root).unwrap().display().to_string(), bytes);
        }
    }
}

/// Returns whether it is a file that is not in its place yet, or a note of one.
fn is_being_made(name: &str) -> bool {
    let hidden = name.split('/').any(|part| part.starts_with(TEMPORARY));
    hidden || name.starts_with("state/library/unfinished/")
}

fn is_made_anew(name: &str) -> bool {
    name.starts_with("state/library/index") || name == "state/library/latest-day"
}

/// Returns whether a file holds all that one of its name has to.
fn is_whole(name: &str, bytes: &[u8]) -> bool {
    let text = || std::str::from_utf8(bytes).ok();
    match Path::new(name).extension().and_then(|it| it.to_str()).unwrap_or_default() {
        "json" => serde_json::from_slice::<Value>(bytes).is_ok(),
        "toml" => text().is_some_and(|text| text.parse::<toml::Table>().is_ok()),
        "html" => text().is_some_and(|text| text.trim_end().ends_with("</html>")),
        "csv" => text().is_some_and(|text| text.ends_with('\n')),
        "png" => image::load_from_memory(bytes).is_ok(),
        "zip" => is_whole_zip(bytes),
        "mp4" => is_whole_clip(bytes),
        "jsonl" | "eye" => text().is_some_and(|text| {
            let whole = |line: &str| serde_json::from_str::<Value>(line).is_ok();
            text.lines().all(whole) && (text.is_empty() || text.ends_with('\n'))
        }),
        "journal" | "sitting" => checked_lines(bytes).all(|line| line.is_some()),
        _ => false,
    }
}

fn is_whole_zip(bytes: &[u8]) -> bool {
    let Ok(mut archive) = zip::ZipArchive::new(Cursor::new(bytes)) else { return false };
    (0..archive.len()).all(|place| {
        let entry = archive.by_index(place);
        entry.is_ok_and(|mut entry| entry.read_to_end(&mut Vec::new()).is_ok())
    })
}

/// The index of a clip is written last; without it nothing opens it.
fn is_whole_clip(bytes: &[u8]) -> bool {
    bytes.windows(4).any(|window| window == b"moov")
}
