//! Bringing the index up to date with the files: what is new, moved, altered or gone.
//!
//! Each batch is one transaction, and what is done is remembered file by file, so that a scan
//! that was cut short goes on where it was.

use std::{
    cell::Cell,
    collections::{BTreeMap, BTreeSet},
    ops::ControlFlow,
    path::{Path, PathBuf},
};

use rusqlite::{OptionalExtension as _, params};

use crate::{
    judged::Judging,
    library::{
        home::{folder::Home, shelf::Shelf},
        quick_id::quick_id,
    },
    marks::StateFolder,
};

use super::{
    database::{Index, IndexError},
    follow::{Followed, follow},
    rows, thumbs,
    turn::{Turn, hash_unless_wanted, is_wanted},
    walk::{Files, Seen, sort_in, walk},
};

/// Files in one transaction.
const BATCH: usize = 500;

/// How far a scan is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ScanProgress {
    /// Looking at clips: so many of so many.
    Clips(usize, usize),
    /// Reading marks files.
    Marks(usize, usize),
    /// Reading whole clips to name them by their content.
    Hashing(usize, usize),
}

/// What a scan found.
#[derive(Debug, Default)]
pub struct Scanned {
    /// Clips in the index now.
    pub clips: usize,
    /// Marks files in the index now.
    pub marks: usize,
    /// Clips that were not there before.
    pub new: Vec<PathBuf>,
    /// Clips that lie elsewhere now: from, to.
    pub moved: Vec<(PathBuf, PathBuf)>,
    /// Marks files and sidecars that were moved along with their clip.
    pub followed: Vec<PathBuf>,
    /// Clips whose content is no longer what it was.
    pub altered: Vec<PathBuf>,
    /// Clips that are gone.
    pub gone: Vec<PathBuf>,
    /// Clips with the same content.
    pub duplicates: Vec<Vec<PathBuf>>,
    /// What could not be looked at or needs a person, in words.
    pub problems: Vec<String>,
    /// Whether it was stopped before its end.
    pub stopped: bool,
}

/// Who is told how far it is, and may stop it.
pub(crate) type Told<'a> = &'a mut dyn FnMut(ScanProgress) -> ControlFlow<()>;

/// What a scan works with.
pub struct Scan<'a> {
    /// The index.
    pub index: &'a mut Index,
    /// The library's own folder, for the lock.
    pub home: &'a Home,
    /// The folders.
    pub shelf: &'a Shelf,
    /// Where journals and editions are.
    pub state: Option<&'a StateFolder>,
}

impl Scan<'_> {
    /// Brings the index up to date, without reading whole clips.
    pub fn run(&mut self, told: Told<'_>) -> Result<Scanned, IndexError> {
        let _turn = Turn::of_scan(self.home)?;
        self.index.check()?;
        let mut found = Scanned::default();
        let Some((mut files, present)) = self.look(&mut found) else {
            found.stopped = true;
            return Ok(found);
        };
        let going = self.clips(&files, &present, &mut found, told)?;
        for path in &found.followed {
            sort_in(path.clone(), &mut files);
        }
        if going.is_continue() && self.marks(&files, &mut found, told)?.is_continue() {
            self.settle(&files)?;
        } else {
            found.stopped = true;
        }
        self.sum_up(&mut found)?;
        Ok(found)
    }

    /// Names every clip by its whole content; returns whether it came to the end.
    pub fn hash(&mut self, told: Told<'_>) -> Result<bool, IndexError> {
        let _turn = Turn::of_scan(self.home)?;
        let waiting: Vec<(i64, String)> = self
            .index
            .list("SELECT id, path FROM clips WHERE content_hash IS NULL ORDER BY id", |row| {
                Ok((row.get(0)?, row.get(1)?))
            })?;
        for (at, (id, path)) in waiting.iter().enumerate() {
            if told(ScanProgress::Hashing(at, waiting.len())).is_break() {
                return Ok(false);
            }
            // A clip that went away meanwhile is left to the next scan.
            if let Ok(hash) = hash_unless_wanted(Path::new(path), self.home) {
                let Some(hash) = hash else { return Ok(false) };
                let sql = "UPDATE clips SET content_hash = ?1 WHERE id = ?2";
                self.index.change(sql, params![hash, id])?;
            }
        }
        Ok(true)
    }

    /// Returns the files below all folders, and the folders that are there. Nothing where somebody
    /// asked to give way meanwhile: what was not walked to must not be taken for gone.
    fn look(&self, found: &mut Scanned) -> Option<(Files, Vec<PathBuf>)> {
        let (mut files, mut present) = (Files::default(), Vec::new());
        let stopped = Cell::new(false);
        let stops = || {
            stopped.set(stopped.get() || is_wanted(self.home));
            stopped.get()
        };
        for folder in &self.shelf.folders {
            if folder.is_dir() {
                walk(folder, &mut files, &stops);
                present.push(folder.clone());
            } else {
                found.problems.push(format!(
                    "{} is not there now; what is known of its clips is kept",
                    folder.display()
                ));
            }
        }
        if stops() {
            return None;
        }
        for (path, reason) in &files.unreadable {
            found.problems.push(format!("{} was passed over: {reason}", path.display()));
        }
        for copy in &files.copies {
            found.problems.push(format!(
                "{} looks like a second copy of what is noted of a clip; settle which one holds \
                 and take the other away",
                copy.display()
            ));
        }
        Some((files, present))
    }

    fn clips(
        &mut self,
        files: &Files,
        present: &[PathBuf],
        found: &mut Scanned,
        told: Told<'_>,
    ) -> Result<ControlFlow<()>, IndexError> {
        let known = self.known("SELECT path, id, size, modified FROM clips")?;
        let here: BTreeSet<&Path> = files.clips.iter().map(|seen| seen.path.as_path()).collect();
        let is_lost = |path: &Path| {
            !here.contains(path)
                && (present.iter().any(|folder| path.starts_with(folder))
                    || !self.shelf.folders.iter().any(|folder| path.starts_with(folder)))
        };
        let lost: BTreeSet<PathBuf> =
            known.keys().map(PathBuf::from).filter(|path| is_lost(path)).collect();
        let mut lost = lost;
        let fresh: Vec<&Seen> = files.clips.iter().filter(|seen| !is_known(&known, seen)).collect();
        for (at, batch) in fresh.chunks(BATCH).enumerate() {
            if told(ScanProgress::Clips(at * BATCH, fresh.len())).is_break() {
                return Ok(ControlFlow::Break(()));
            }
            self.index.change("BEGIN IMMEDIATE", [])?;
            let mut going = ControlFlow::Continue(());
            for seen in batch {
                going = self.clip(seen, &known, &mut lost, found)?;
                if going.is_break() {
                    break;
                }
            }
            self.index.change("COMMIT", [])?;
            if going.is_break() {
                return Ok(going);
            }
        }
        for path in lost {
            self.index.change("DELETE FROM clips WHERE path = ?1", [text(&path)])?;
            found.gone.push(path);
        }
        Ok(ControlFlow::Continue(()))
    }

    /// Takes in one clip that is new here or was changed, unless somebody asks to give way.
    fn clip(
        &self,
        seen: &Seen,
        known: &Known,
        lost: &mut BTreeSet<PathBuf>,
        found: &mut Scanned,
    ) -> Result<ControlFlow<()>, IndexError> {
        const DONE: ControlFlow<()> = ControlFlow::Continue(());
        if is_wanted(self.home) {
            return Ok(ControlFlow::Break(()));
        }
        let quick = match quick_id(&seen.path) {
            Ok(quick) => quick,
            Err(error) => {
                found.problems.push(format!("{} was passed over: {error}", seen.path.display()));
                return Ok(DONE);
            }
        };
        let (path, stamp) = (text(&seen.path), (seen.size, seen.modified));
        if let Some(&(id, ..)) = known.get(&path) {
            let Some(is_altered) = self.is_altered(id, &quick, &seen.path)? else {
                return Ok(ControlFlow::Break(()));
            };
            if is_altered {
                found.altered.push(seen.path.clone());
                self.index.change("UPDATE routines SET clip = NULL WHERE clip = ?1", [id])?;
            }
            self.index.change(
                "UPDATE clips SET size = ?2, modified = ?3, quick_id = ?4, content_hash = NULL
                 WHERE id = ?1",
                params![id, stamp.0, stamp.1, quick],
            )?;
            return Ok(DONE);
        }
        if let Some((id, from)) = self.where_it_was(&quick, seen.size, lost)? {
            self.index.change(
                "UPDATE clips SET path = ?2, size = ?3, modified = ?4, noted = 0 WHERE id = ?1",
                params![id, path, stamp.0, stamp.1],
            )?;
            lost.remove(&from);
            self.follow(&from, &seen.path, found);
            found.moved.push((from, seen.path.clone()));
            return Ok(DONE);
        }
        found.new.push(seen.path.clone());
        self.index.change(
            "INSERT INTO clips(path, size, modified, quick_id) VALUES (?1, ?2, ?3, ?4)",
            params![path, stamp.0, stamp.1, quick],
        )?;
        Ok(DONE)
    }

    /// Returns whether a clip that was touched has other content now; where the ends are the same,
    /// only the whole tells. Nothing where somebody asked to give way meanwhile.
    fn is_altered(&self, id: i64, quick: &str, path: &Path) -> Result<Option<bool>, IndexError> {
        let sql = "SELECT quick_id FROM clips WHERE id = ?1";
        if self.index.one::<String>(sql, [id])?.as_deref() != Some(quick) {
            return Ok(Some(true));
        }
        let sql = "SELECT content_hash FROM clips WHERE id = ?1";
        let Some(before) = self.index.one::<Option<String>>(sql, [id])?.flatten() else {
            return Ok(Some(false));
        };
        let Ok(now) = hash_unless_wanted(path, self.home) else { return Ok(Some(false)) };
        Ok(now.map(|now| now != before))
    }

    /// Returns a clip of the same content whose file is no longer where it was. A clip in a folder
    /// that was taken out of the library, or that cannot be looked into, may still be there.
    fn where_it_was(
        &self,
        quick: &str,
        size: i64,
        lost: &BTreeSet<PathBuf>,
    ) -> Result<Option<(i64, PathBuf)>, IndexError> {
        let sql = "SELECT id, path FROM clips WHERE quick_id = ?1 AND size = ?2 ORDER BY id";
        let same: Vec<(i64, String)> = self
            .index
            .list_with(sql, params![quick, size], |row| Ok((row.get(0)?, row.get(1)?)))?;
        let mut same = same.into_iter().map(|(id, path)| (id, PathBuf::from(path)));
        Ok(same.find(|(_, path)| lost.contains(path) && matches!(path.try_exists(), Ok(false))))
    }

    fn follow(&self, from: &Path, to: &Path, found: &mut Scanned) {
        for followed in follow(from, to, self.state) {
            match followed {
                Followed::Moved(path) => found.followed.push(path),
                Followed::Left(path, reason) => {
                    found
                        .problems
                        .push(format!("{} stayed where it was: {reason}", path.display()));
                }
            }
        }
    }

    fn marks(
        &mut self,
        files: &Files,
        found: &mut Scanned,
        told: Told<'_>,
    ) -> Result<ControlFlow<()>, IndexError> {
        // What could not be read or scored is tried again each time.
        let known = self.known(
            "SELECT marks, id, CASE WHEN problem IS NULL THEN size ELSE -1 END, modified
             FROM routines WHERE marks IS NOT NULL",
        )?;
        // What followed its clip is no longer where it was seen a moment ago.
        let there: Vec<&Seen> = files.marks.iter().filter(|seen| seen.path.exists()).collect();
        let here: BTreeSet<String> = there.iter().map(|seen| text(&seen.path)).collect();
        for path in known.keys().filter(|path| !here.contains(*path)) {
            if !self.is_in_absent_folder(Path::new(path)) {
                rows::forget_marks(self.index, path)?;
            }
        }
        let fresh: Vec<&&Seen> = there.iter().filter(|seen| !is_known(&known, seen)).collect();
        let mut judging = Judging::new(self.state);
        for (at, batch) in fresh.chunks(BATCH).enumerate() {
            if told(ScanProgress::Marks(at * BATCH, fresh.len())).is_break() {
                return Ok(ControlFlow::Break(()));
            }
            self.index.change("BEGIN IMMEDIATE", [])?;
            for seen in batch {
                if is_wanted(self.home) {
                    self.index.change("COMMIT", [])?;
                    return Ok(ControlFlow::Break(()));
                }
                let problem = rows::take_marks(self.index, seen, &mut judging)?;
                found.problems.extend(problem);
            }
            self.index.change("COMMIT", [])?;
        }
        Ok(ControlFlow::Continue(()))
    }

    fn is_in_absent_folder(&self, path: &Path) -> bool {
        self.shelf.folders.iter().any(|folder| path.starts_with(folder) && !folder.is_dir())
    }

    /// Ties clips, marks files and sidecars together.
    fn settle(&mut self, files: &Files) -> Result<(), IndexError> {
        let sidecars = files.sidecars.iter().filter(|seen| seen.path.exists());
        let noted: BTreeMap<&Path, i64> =
            sidecars.map(|seen| (seen.path.as_path(), seen.modified)).collect();
        self.index.change("BEGIN IMMEDIATE", [])?;
        rows::settle(self.index)?;
        rows::take_sidecars(self.index, &noted)?;
        rows::tell_altered(self.index)?;
        self.index.change("COMMIT", [])?;
        thumbs::prune(self.home, self.index)
    }

    fn sum_up(&self, found: &mut Scanned) -> Result<(), IndexError> {
        let count = |sql: &str| -> Result<i64, IndexError> {
            Ok(self.index.one(sql, [])?.unwrap_or_default())
        };
        found.clips = count("SELECT count(*) FROM clips")? as usize;
        found.marks = count("SELECT count(*) FROM routines WHERE marks IS NOT NULL")? as usize;
        found.duplicates = duplicates(self.index)?;
        let altered: Vec<String> = self
            .index
            .list("SELECT path FROM clips WHERE altered ORDER BY path", |row| row.get(0))?;
        found.altered.extend(altered.into_iter().map(PathBuf::from));
        found.altered.sort();
        found.altered.dedup();
        Ok(())
    }

    fn known(&self, sql: &str) -> Result<Known, IndexError> {
        let rows: Vec<(String, (i64, i64, i64))> = self
            .index
            .list(sql, |row| Ok((row.get(0)?, (row.get(1)?, row.get(2)?, row.get(3)?))))?;
        Ok(rows.into_iter().collect())
    }
}

/// By path: id, size, time of the last change.
type Known = BTreeMap<String, (i64, i64, i64)>;

fn is_known(known: &Known, seen: &Seen) -> bool {
    let stamp = known.get(&text(&seen.path)).map(|&(_, size, modified)| (size, modified));
    stamp == Some((seen.size, seen.modified))
}

fn text(path: &Path) -> String {
    path.to_string_lossy().into_owned()
}

/// Returns the groups of clips with the same content, as far as is known.
pub(crate) fn duplicates(index: &Index) -> Result<Vec<Vec<PathBuf>>, IndexError> {
    let rows: Vec<(String, String)> = index.list(
        "SELECT coalesce(content_hash, quick_id), path FROM clips
         WHERE quick_id IN (SELECT quick_id FROM clips GROUP BY quick_id, size HAVING count(*) > 1)
         ORDER BY 1, 2",
        |row| Ok((row.get(0)?, row.get(1)?)),
    )?;
    let mut groups: BTreeMap<String, Vec<PathBuf>> = BTreeMap::new();
    for (name, path) in rows {
        groups.entry(name).or_default().push(PathBuf::from(path));
    }
    Ok(groups.into_values().filter(|group| group.len() > 1).collect())
}

impl Index {
    /// Runs a statement.
    pub(crate) fn change(
        &self,
        sql: &str,
        values: impl rusqlite::Params,
    ) -> Result<(), IndexError> {
        self.connection.execute(sql, values).map(|_| ()).map_err(|error| self.error(&error))
    }

    /// Returns the first column of the first row.
    pub(crate) fn one<T: rusqlite::types::FromSql>(
        &self,
        sql: &str,
        values: impl rusqlite::Params,
    ) -> Result<Option<T>, IndexError> {
        let first = self.connection.query_row(sql, values, |row| row.get(0)).optional();
        first.map_err(|error| self.error(&error))
    }

    /// Returns all rows of a question without values.
    pub(crate) fn list<T>(
        &self,
        sql: &str,
        read: impl FnMut(&rusqlite::Row<'_>) -> rusqlite::Result<T>,
    ) -> Result<Vec<T>, IndexError> {
        self.list_with(sql, [], read)
    }

    /// Returns all rows of a question.
    pub(crate) fn list_with<T>(
        &self,
        sql: &str,
        values: impl rusqlite::Params,
        read: impl FnMut(&rusqlite::Row<'_>) -> rusqlite::Result<T>,
    ) -> Result<Vec<T>, IndexError> {
        let rows = || -> rusqlite::Result<Vec<T>> {
            self.connection.prepare(sql)?.query_map(values, read)?.collect()
        };
        rows().map_err(|error| self.error(&error))
    }
}
