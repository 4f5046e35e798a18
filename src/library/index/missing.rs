//! Clips that were not found where they were: lost, or only out of reach.
//!
//! A disk that is not plugged in leaves an empty folder, no folder, or another disk in its place;
//! nothing that is known of its clips is given up for that.

use std::{
    collections::{BTreeMap, BTreeSet},
    path::{Path, PathBuf},
};

use crate::units::counted;

use super::walk::Files;

/// What became of the clips that were not found where they were.
#[derive(Debug, Default)]
pub(crate) struct Missing {
    /// Their files are no longer there.
    pub lost: BTreeSet<PathBuf>,
    /// They cannot be looked at now.
    pub away: BTreeMap<PathBuf, Away>,
    /// Folders and files that cannot be looked at, with what is in the way.
    unread: BTreeMap<PathBuf, &'static str>,
    /// Where clips are out of reach, and how many.
    places: BTreeMap<PathBuf, usize>,
}

/// Why a clip is out of reach.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Away {
    /// What is in the way.
    place: PathBuf,
    why: &'static str,
    /// Its disk is there, so that it may have been moved.
    may_have_moved: bool,
}

const ABSENT: &str = "is not there now";
const EMPTY: &str = "is empty now";
const UNREADABLE: &str = "cannot be read now";
const OTHER: &str = "is on another disk now";

/// Asks on which disk a file or folder lies; nothing where it is not there or the system does not
/// tell.
pub(crate) type DiskOf<'a> = &'a dyn Fn(&Path) -> Option<i64>;

impl Missing {
    /// Sorts the known clips, each with its disk, that are not among the files found in `folders`.
    pub(crate) fn among(
        known: &[(&Path, Option<i64>)],
        files: &Files,
        folders: &[PathBuf],
        disk_of: DiskOf<'_>,
    ) -> Self {
        let here: BTreeSet<&Path> = files.clips.iter().map(|seen| seen.path.as_path()).collect();
        let folder_of = |path: &Path| folders.iter().find(|folder| path.starts_with(folder));
        // A disk of which some clip is there is there.
        let there: BTreeSet<(Option<&PathBuf>, i64)> = known
            .iter()
            .filter(|(path, _)| here.contains(path))
            .filter_map(|(path, disk)| Some((folder_of(path), (*disk)?)))
            .collect();
        let mut missing = Self { unread: unread(files, folders), ..Self::default() };
        for (path, disk) in known.iter().filter(|(path, _)| !here.contains(path)) {
            let folder = folder_of(path);
            let is_other = |disk: i64| {
                !there.contains(&(folder, disk)) && nearest(path, disk_of) != Some(disk)
            };
            let unread = path.ancestors().find_map(|place| missing.unread.get_key_value(place));
            let (place, why) = match (folder, unread) {
                (Some(_), Some((place, why))) => (place.clone(), *why),
                (Some(folder), None) if disk.is_some_and(is_other) => {
                    (path.parent().unwrap_or(folder).to_owned(), OTHER)
                }
                _ => {
                    missing.lost.insert(path.to_path_buf());
                    continue;
                }
            };
            let may_have_moved = why == EMPTY && disk.is_some() && disk_of(&place) == *disk;
            *missing.places.entry(place.clone()).or_default() += 1;
            missing.away.insert(path.to_path_buf(), Away { place, why, may_have_moved });
        }
        missing
    }

    /// Returns whether the clip may lie elsewhere now.
    pub(crate) fn may_have_moved(&self, path: &Path) -> bool {
        self.lost.contains(path) || self.away.get(path).is_some_and(|away| away.may_have_moved)
    }

    /// Takes note that the clip was found elsewhere.
    pub(crate) fn found(&mut self, path: &Path) {
        self.lost.remove(path);
        if let Some(away) = self.away.remove(path)
            && let Some(count) = self.places.get_mut(&away.place)
        {
            *count -= 1;
        }
    }

    /// Returns whether a file that was not found may still be there.
    pub(crate) fn is_out_of_reach(&self, path: &Path) -> bool {
        let is_empty = |place: &Path| self.unread.get(place) == Some(&EMPTY);
        path.ancestors().any(|place| {
            self.unread.contains_key(place) && !is_empty(place)
                || self.places.get(place).is_some_and(|count| *count > 0)
        })
    }

    /// Returns in words what is out of reach, place by place.
    pub(crate) fn words(&self) -> Vec<String> {
        let mut places: BTreeMap<(&Path, &str), usize> = BTreeMap::new();
        for (place, why) in self.unread.iter().filter(|(_, why)| **why == ABSENT) {
            places.insert((place, why), 0);
        }
        for away in self.away.values() {
            *places.entry((&away.place, away.why)).or_default() += 1;
        }
        let words = |((place, why), count): ((&Path, &str), usize)| {
            let are = if count == 1 { "is" } else { "are" };
            let clips = counted(count, "clip");
            format!(
                "{} {why}: {clips} {are} out of reach, and what is known of them is kept",
                place.display()
            )
        };
        places.into_iter().map(words).collect()
    }
}

/// Returns what cannot be looked at: files and folders that cannot be read, folders of the library
/// that are not there, and those in which nothing is.
fn unread(files: &Files, folders: &[PathBuf]) -> BTreeMap<PathBuf, &'static str> {
    let unreadable = files.unreadable.iter().map(|(path, _)| (path.clone(), UNREADABLE));
    let mut unread: BTreeMap<PathBuf, &'static str> = unreadable.collect();
    for folder in folders {
        let all = files.clips.iter().chain(&files.marks).chain(&files.sidecars);
        if !folder.is_dir() {
            unread.insert(folder.clone(), ABSENT);
        } else if all.map(|seen| &seen.path).all(|path| !path.starts_with(folder)) {
            unread.entry(folder.clone()).or_insert(EMPTY);
        }
    }
    unread
}

/// Returns the disk of the nearest folder above the path that is there.
fn nearest(path: &Path, disk_of: DiskOf<'_>) -> Option<i64> {
    path.ancestors().skip(1).find_map(disk_of)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

    use super::*;
    use crate::library::index::walk::Seen;

    /// The club's disk, and the one that it is mounted on.
    const CLUB: i64 = 7;
    const SYSTEM: i64 = 1;

    fn seen(path: &Path) -> Seen {
        Seen { path: path.to_owned(), size: 1, modified: 1, disk: Some(SYSTEM) }
    }

    /// Of two clips on a disk below a folder of the library, and of one beside it that was deleted.
    #[test]
    fn a_disk_below_a_folder_is_known_by_its_number() {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path().to_owned();
        let [one, two, deleted, other] =
            ["usb/a.mp4", "usb/b.mp4", "old/d.mp4", "old/c.mp4"].map(|it| root.join(it));
        let known: Vec<(&Path, Option<i64>)> = vec![
            (&one, Some(CLUB)),
            (&two, Some(CLUB)),
            (&deleted, Some(SYSTEM)),
            (&other, Some(SYSTEM)),
        ];
        let usb = root.join("usb");
        let folders = [root.clone()];
        // Unplugged: the folder that it was mounted on lies on the system's disk, or is not there.
        for is_there in [true, false] {
            let disk = |path: &Path| (is_there || !path.starts_with(&usb)).then_some(SYSTEM);
            let files = Files { clips: vec![seen(&other)], ..Files::default() };
            let missing = Missing::among(&known, &files, &folders, &disk);
            assert_eq!(missing.away.keys().collect::<Vec<_>>(), [&one, &two]);
            assert_eq!(missing.lost.iter().collect::<Vec<_>>(), [&deleted]);
            assert!(missing.is_out_of_reach(&root.join("usb/a.mp4.1.J-2.marks.json")));
            assert!(!missing.is_out_of_reach(&root.join("old/d.mp4.1.J-2.marks.json")));
            assert!(!missing.may_have_moved(&one));
            let said = missing.words();
            assert!(said[0].contains("usb is on another disk now: 2 clips are out of"), "{said:?}");
        }
        // Plugged in again the system may number it otherwise; one clip tells that it is there.
        let disk = |_: &Path| Some(CLUB + 1);
        let files = Files { clips: vec![seen(&one), seen(&other)], ..Files::default() };
        let missing = Missing::among(&known, &files, &folders, &disk);
        assert_eq!(missing.lost.iter().collect::<Vec<_>>(), [&deleted, &two]);
    }

    #[test]
    fn what_cannot_be_read_is_not_lost() {
        let folder = tempfile::tempdir().unwrap();
        let root = folder.path().to_owned();
        let [closed, other] = ["closed/a.mp4", "b.mp4"].map(|it| root.join(it));
        let files = Files {
            clips: vec![seen(&other)],
            unreadable: vec![(root.join("closed"), "no permission".to_owned())],
            ..Files::default()
        };
        let known: [(&Path, Option<i64>); 2] = [(&closed, Some(SYSTEM)), (&other, Some(SYSTEM))];
        let missing = Missing::among(&known, &files, &[root], &|_| Some(SYSTEM));
        assert!(missing.lost.is_empty() && missing.away.contains_key(&closed));
    }
}
