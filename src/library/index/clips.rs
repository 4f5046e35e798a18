//! Bringing the clips of the index up to date: new, moved, altered, gone, or out of reach.

use std::{
    collections::BTreeMap,
    ops::ControlFlow,
    path::{Path, PathBuf},
};

use rusqlite::params;

use crate::library::quick_id::quick_id;

use super::{
    database::IndexError,
    follow::{Followed, follow},
    hashing::hash_of,
    missing::Missing,
    progress::{ScanProgress, Told},
    scan::{BATCH, Known, Scan, Scanned, is_known, text},
    turn::is_wanted,
    walk::{Files, Seen, disk_of},
};

impl Scan<'_> {
    /// Returns which clips are missing; nothing where it was stopped.
    pub(super) fn clips(
        &mut self,
        files: &Files,
        found: &mut Scanned,
        told: Told<'_>,
    ) -> Result<Option<Missing>, IndexError> {
        let known = self.known("SELECT path, id, size, modified FROM clips")?;
        let disks: Vec<(String, Option<i64>)> = self
            .index
            .list("SELECT path, disk FROM clips", |row| Ok((row.get(0)?, row.get(1)?)))?;
        let disks: BTreeMap<&Path, Option<i64>> =
            disks.iter().map(|(path, disk)| (Path::new(path), *disk)).collect();
        let all: Vec<(&Path, Option<i64>)> =
            disks.iter().map(|(path, disk)| (*path, *disk)).collect();
        let mut missing = Missing::among(&all, files, &self.shelf.folders, &disk_of);
        let fresh: Vec<&Seen> = files.clips.iter().filter(|seen| !is_known(&known, seen)).collect();
        for (at, batch) in fresh.chunks(BATCH).enumerate() {
            if told(ScanProgress::Clips(at * BATCH, fresh.len())).is_break() {
                return Ok(None);
            }
            self.index.change("BEGIN IMMEDIATE", [])?;
            let mut going = ControlFlow::Continue(());
            for seen in batch {
                going = self.clip(seen, &known, &mut missing, (&mut *found, &mut *told))?;
                if going.is_break() {
                    break;
                }
            }
            self.index.change("COMMIT", [])?;
            if going.is_break() {
                return Ok(None);
            }
        }
        self.index.change("BEGIN IMMEDIATE", [])?;
        for path in &missing.lost {
            self.index.change("DELETE FROM clips WHERE path = ?1", [text(path)])?;
        }
        found.gone.extend(missing.lost.iter().cloned());
        self.index.change("UPDATE clips SET away = 0 WHERE away", [])?;
        for path in missing.away.keys() {
            self.index.change("UPDATE clips SET away = 1 WHERE path = ?1", [text(path)])?;
        }
        for seen in files.clips.iter().filter(|it| disks.get(&*it.path) != Some(&it.disk)) {
            let sql = "UPDATE clips SET disk = ?2 WHERE path = ?1";
            self.index.change(sql, params![text(&seen.path), seen.disk])?;
        }
        self.index.change("COMMIT", [])?;
        found.problems.extend(missing.words());
        Ok(Some(missing))
    }

    /// Takes in one clip that is new here or was changed. One that is read through to see whether
    /// it was altered may be stopped; the next scan looks at it again.
    fn clip(
        &self,
        seen: &Seen,
        known: &Known,
        missing: &mut Missing,
        (found, told): (&mut Scanned, Told<'_>),
    ) -> Result<ControlFlow<()>, IndexError> {
        let going = ControlFlow::Continue(());
        if is_wanted(self.home) {
            return Ok(ControlFlow::Break(()));
        }
        let quick = match quick_id(&seen.path) {
            Ok(quick) => quick,
            Err(error) => {
                found.problems.push(format!("{} was passed over: {error}", seen.path.display()));
                return Ok(going);
            }
        };
        let (path, stamp) = (text(&seen.path), (seen.size, seen.modified));
        if let Some(&(id, ..)) = known.get(&path) {
            let Some(altered) = self.is_altered(id, &quick, seen, told)? else {
                return Ok(ControlFlow::Break(()));
            };
            if altered {
                found.altered.push(seen.path.clone());
                self.index.change("UPDATE routines SET clip = NULL WHERE clip = ?1", [id])?;
            }
            self.index.change(
                "UPDATE clips SET size = ?2, modified = ?3, quick_id = ?4, content_hash = NULL
                 WHERE id = ?1",
                params![id, stamp.0, stamp.1, quick],
            )?;
            return Ok(going);
        }
        if let Some((id, from)) = self.where_it_was(&quick, seen.size, missing)? {
            self.index.change(
                "UPDATE clips SET path = ?2, size = ?3, modified = ?4, noted = 0 WHERE id = ?1",
                params![id, path, stamp.0, stamp.1],
            )?;
            missing.found(&from);
            self.follow(&from, &seen.path, found);
            found.moved.push((from, seen.path.clone()));
            return Ok(going);
        }
        found.new.push(seen.path.clone());
        self.index.change(
            "INSERT INTO clips(path, size, modified, quick_id) VALUES (?1, ?2, ?3, ?4)",
            params![path, stamp.0, stamp.1, quick],
        )?;
        Ok(going)
    }

    /// Returns whether a clip that was touched has other content now; where the ends are the same,
    /// only the whole tells. Nothing where it was stopped.
    fn is_altered(
        &self,
        id: i64,
        quick: &str,
        seen: &Seen,
        told: Told<'_>,
    ) -> Result<Option<bool>, IndexError> {
        let sql = "SELECT quick_id FROM clips WHERE id = ?1";
        if self.index.one::<String>(sql, [id])?.as_deref() != Some(quick) {
            return Ok(Some(true));
        }
        let sql = "SELECT content_hash FROM clips WHERE id = ?1";
        let Some(before) = self.index.one::<Option<String>>(sql, [id])?.flatten() else {
            return Ok(Some(false));
        };
        let all = seen.size.cast_unsigned();
        let mut on = |read: u64| told(ScanProgress::Hashing(read.min(all), all));
        Ok(match hash_of(&seen.path, &mut on) {
            Ok(Some(now)) => Some(now != before),
            Ok(None) => None,
            Err(_) => Some(false),
        })
    }

    /// Returns a clip of the same content whose file is no longer where it was. A clip in a folder
    /// that was taken out of the library, or that cannot be looked into, may still be there.
    fn where_it_was(
        &self,
        quick: &str,
        size: i64,
        missing: &Missing,
    ) -> Result<Option<(i64, PathBuf)>, IndexError> {
        let sql = "SELECT id, path FROM clips WHERE quick_id = ?1 AND size = ?2 ORDER BY id";
        let same: Vec<(i64, String)> = self
            .index
            .list_with(sql, params![quick, size], |row| Ok((row.get(0)?, row.get(1)?)))?;
        let mut same = same.into_iter().map(|(id, path)| (id, PathBuf::from(path)));
        Ok(same.find(|(_, path)| {
            missing.may_have_moved(path) && matches!(path.try_exists(), Ok(false))
        }))
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
}
