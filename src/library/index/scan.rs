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

use rusqlite::OptionalExtension as _;

use crate::{
    judged::Judging,
    library::home::{folder::Home, shelf::Shelf},
    marks::StateFolder,
};

use super::{
    database::{Index, IndexError},
    missing::Missing,
    progress::{ScanProgress, Told},
    rows, thumbs,
    turn::{Turn, is_wanted, yielding},
    walk::{Files, Seen, sort_in, walk},
};

/// Files in one transaction.
pub(super) const BATCH: usize = 500;

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
        let told = &mut yielding(self.home, told);
        self.index.check()?;
        let mut found = Scanned::default();
        let Some(mut files) = self.look(&mut found) else {
            found.stopped = true;
            return Ok(found);
        };
        let missing = self.clips(&files, &mut found, told)?;
        for path in &found.followed {
            sort_in(path.clone(), &mut files);
        }
        if let Some(missing) = missing
            && self.marks(&files, &missing, &mut found, told)?.is_continue()
        {
            self.settle(&files)?;
        } else {
            found.stopped = true;
        }
        self.sum_up(&mut found)?;
        Ok(found)
    }

    /// Returns the files below all folders that are there. Nothing where somebody asked to give way
    /// meanwhile: what was not walked to must not be taken for gone.
    fn look(&self, found: &mut Scanned) -> Option<Files> {
        let mut files = Files::default();
        let stopped = Cell::new(false);
        let stops = || {
            stopped.set(stopped.get() || is_wanted(self.home));
            stopped.get()
        };
        for folder in self.shelf.folders.iter().filter(|folder| folder.is_dir()) {
            walk(folder, &mut files, &stops);
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
        Some(files)
    }

    fn marks(
        &mut self,
        files: &Files,
        missing: &Missing,
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
            if !missing.is_out_of_reach(Path::new(path)) {
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

    pub(super) fn known(&self, sql: &str) -> Result<Known, IndexError> {
        let rows: Vec<(String, (i64, i64, i64))> = self
            .index
            .list(sql, |row| Ok((row.get(0)?, (row.get(1)?, row.get(2)?, row.get(3)?))))?;
        Ok(rows.into_iter().collect())
    }
}

/// By path: id, size, time of the last change.
pub(super) type Known = BTreeMap<String, (i64, i64, i64)>;

pub(super) fn is_known(known: &Known, seen: &Seen) -> bool {
    let stamp = known.get(&text(&seen.path)).map(|&(_, size, modified)| (size, modified));
    stamp == Some((seen.size, seen.modified))
}

pub(super) fn text(path: &Path) -> String {
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
