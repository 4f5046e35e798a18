//! The rows of the index: what files say, written into tables.

use std::{
    collections::BTreeMap,
    fs,
    path::{Path, PathBuf},
    time::{SystemTime, UNIX_EPOCH},
};

use jiff::civil::Date;
use rusqlite::params;

use crate::{
    judged::{JudgedError, Judging, is_watched},
    library::consent::{
        gate::{Asked, Use, gate},
        sidecar::{Agreed, Purpose, Sidecar, Standing},
        sidecar_file::{SidecarFile, sidecar_path},
    },
    marks::{self, Sheaf},
    rulebook::Edition,
    store::about_to_read,
};

use super::{
    database::{Index, IndexError},
    entry::{Entry, entry},
    walk::Seen,
};

/// Reads one marks file into the index; returns what a person should know of it.
pub(crate) fn take_marks(
    index: &Index,
    seen: &Seen,
    judging: &mut Judging,
) -> Result<Option<String>, IndexError> {
    let path = seen.path.to_string_lossy();
    forget_marks(index, &path)?;
    let marked = match judging.read(&seen.path) {
        Ok(marked) => marked,
        Err(error) => {
            index.change(
                "INSERT INTO routines(marks, size, modified, watched, problem)
                 VALUES (?1, ?2, ?3, 1, ?4)",
                params![path, seen.size, seen.modified, error.to_string()],
            )?;
            return Ok(Some(error.to_string()));
        }
    };
    let (ruled, unscored) = match judging.book_of(&marked) {
        // What nobody watched comes to nothing.
        _ if !marked.is_watched() => (None, None),
        Ok(ruled) => (Some(ruled), None),
        Err(JudgedError::NoBook { .. }) => (None, None),
        Err(error) => (None, Some(error.to_string())),
    };
    let sheet = ruled.as_ref().map(|ruled| marked.sheet(ruled, None));
    let told = sheet.as_ref().and_then(|sheet| sheet.unscored.as_ref());
    let unscored = unscored.or_else(|| Some(format!("{path}: {}", told?.said())));
    let entry = entry(&marked.sheaf, sheet.as_ref());
    let id = insert_routine(index, seen, &marked.sheaf, &entry, unscored.as_deref())?;
    insert_details(index, id, &entry)?;
    // Under the text that the marks name, though it is not the newest, all is well.
    let other = ruled.filter(|ruled| matches!(ruled.edition, Edition::Missing { .. }));
    let other = other.and_then(|ruled| ruled.said_of(&seen.path));
    Ok(unscored.or(other))
}

/// Takes a marks file out of the index.
pub(crate) fn forget_marks(index: &Index, path: &str) -> Result<(), IndexError> {
    let id: Option<i64> = index.one("SELECT id FROM routines WHERE marks = ?1", [path])?;
    id.map_or(Ok(()), |id| forget_routine(index, id))
}

/// Takes a routine out of the index.
pub(crate) fn forget_routine(index: &Index, id: i64) -> Result<(), IndexError> {
    index.change("DELETE FROM words WHERE rowid = ?1", [id])?;
    index.change("DELETE FROM routines WHERE id = ?1", [id])
}

fn insert_routine(
    index: &Index,
    seen: &Seen,
    sheaf: &Sheaf,
    entry: &Entry,
    problem: Option<&str>,
) -> Result<i64, IndexError> {
    let routine = &sheaf.routine;
    index.change(
        "INSERT INTO routines(marks, size, modified, quick_id, routine, event, division, athlete,
             judge, date, book, edition, score, void, close, problem, watched, low, high, may_be_void,
             seal)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12, ?13, ?14, ?15, ?16, ?17, ?18,
             ?19, ?20, ?21)",
        params![
            seen.path.to_string_lossy(),
            seen.size,
            seen.modified,
            sheaf.clip.as_ref().map(|clip| &clip.quick_id),
            routine.id,
            routine.event,
            routine.division,
            routine.athlete,
            routine.judge,
            routine.date,
            routine.book,
            routine.edition,
            entry.score,
            entry.void,
            entry.close as i64,
            problem,
            is_watched(sheaf),
            entry.range.map(|range| range.low.0),
            entry.range.map(|range| range.high.0),
            entry.range.is_some_and(|range| range.may_be_void),
            marks::seal(sheaf),
        ],
    )?;
    Ok(index.connection.last_insert_rowid())
}

fn insert_details(index: &Index, id: i64, entry: &Entry) -> Result<(), IndexError> {
    for (element, label) in &entry.elements {
        let sql = "INSERT INTO elements VALUES (?1, ?2, ?3)";
        index.change(sql, params![id, element, label])?;
    }
    for moment in &entry.moments {
        index.change("INSERT INTO moments VALUES (?1, ?2)", params![id, moment])?;
    }
    for (element, label, quantity, value) in &entry.readings {
        let sql = "INSERT INTO readings VALUES (?1, ?2, ?3, ?4, ?5)";
        index.change(sql, params![id, element, label, quantity.words(), value])?;
    }
    for (requirement, label, status) in &entry.requirements {
        let sql = "INSERT INTO requirements VALUES (?1, ?2, ?3, ?4)";
        index.change(sql, params![id, requirement, label, status])?;
    }
    for (rule, label, amount) in &entry.faults {
        index.change(
            "INSERT INTO faults VALUES (?1, ?2, ?3, ?4)",
            params![id, rule, label, amount],
        )?;
    }
    index.change("INSERT INTO words(rowid, text) VALUES (?1, ?2)", params![id, entry.words])
}

/// Reads every sidecar that was changed, or is new or gone, into the index; what is noted of clips
/// out of reach stays as it was.
pub(crate) fn take_sidecars(index: &Index, noted: &BTreeMap<&Path, i64>) -> Result<(), IndexError> {
    let clips: Vec<(i64, String, i64)> = index
        .list("SELECT id, path, noted FROM clips WHERE NOT away", |row| {
            Ok((row.get(0)?, row.get(1)?, row.get(2)?))
        })?;
    for (id, path, known) in clips {
        let clip = PathBuf::from(path);
        let now = noted.get(sidecar_path(&clip).as_path()).copied().unwrap_or_default();
        // What is known of a clip on a disk that is not there is kept.
        if now != known && (now != 0 || clip.exists()) {
            take_sidecar(index, id, &clip, now)?;
        }
    }
    Ok(())
}

/// Reads every sidecar that was changed since it was read, so that nobody is told what was noted
/// before. It looks at each clip's sidecar and at no other file.
pub(crate) fn renew_sidecars(index: &Index) -> Result<(), IndexError> {
    let clips: Vec<(String, i64)> =
        index.list("SELECT path, noted FROM clips", |row| Ok((row.get(0)?, row.get(1)?)))?;
    let seen = clips.into_iter().map(|(path, known)| {
        let sidecar = sidecar_path(Path::new(&path));
        about_to_read(&sidecar);
        let changed = fs::metadata(&sidecar).and_then(|facts| facts.modified());
        (sidecar, changed.map_or(0, nanoseconds), known)
    });
    let seen: Vec<(PathBuf, i64, i64)> = seen.collect();
    if seen.iter().all(|(_, now, known)| now == known) {
        return Ok(());
    }
    let noted = seen.iter().map(|(path, now, _)| (path.as_path(), *now)).collect();
    index.change("BEGIN IMMEDIATE", [])?;
    take_sidecars(index, &noted)?;
    index.change("COMMIT", [])
}

fn nanoseconds(at: SystemTime) -> i64 {
    at.duration_since(UNIX_EPOCH).unwrap_or_default().as_nanos() as i64
}

/// Returns what to remember of a file's time: nothing to go by where it was changed so lately that
/// a second change could bear the same time.
fn settled(modified: i64) -> i64 {
    let apart = nanoseconds(SystemTime::now()).saturating_sub(modified);
    if modified != 0 && apart < COARSEST { -1 } else { modified }
}

/// Nanoseconds that two changes of a file may lie apart with the same time, on the coarsest of
/// usual file systems.
const COARSEST: i64 = 2_000_000_000;

fn take_sidecar(index: &Index, id: i64, clip: &Path, modified: i64) -> Result<(), IndexError> {
    let (noted, problem) = match SidecarFile::open(clip) {
        Ok(file) => (file.sidecar, None),
        Err(error) => (Sidecar::default(), Some(error.to_string())),
    };
    let day = |day: Option<Date>| day.map(|day| day.to_string());
    index.change(
        "UPDATE clips SET noted = ?2, filmed = ?3, delete_by = ?4, taken_from = ?5, text = ?6,
             problem = ?7, noted_of = ?8 WHERE id = ?1",
        params![
            id,
            settled(modified),
            day(noted.filmed),
            day(noted.delete_by),
            noted.taken_from.as_ref().map(|from| &from.content_hash),
            format!("{}\n{}", noted.source, noted.notes),
            problem,
            noted.clip.as_ref().map(|clip| &clip.quick_id),
        ],
    )?;
    index.change("DELETE FROM filmed WHERE clip = ?1", [id])?;
    for athlete in &noted.athletes {
        index.change("INSERT INTO filmed VALUES (?1, ?2)", params![id, athlete.code])?;
    }
    index.change("DELETE FROM allowed WHERE clip = ?1", [id])?;
    if modified != 0 && problem.is_none() {
        insert_allowed(index, id, &noted)?;
    }
    index.change("UPDATE routines SET agreed = 0 WHERE clip = ?1", [id])?;
    for agreed in &noted.agreed {
        take_agreed(index, id, clip, agreed)?;
    }
    Ok(())
}

/// Notes on which marks a reference stands, as long as none of them was changed since.
fn take_agreed(index: &Index, id: i64, clip: &Path, agreed: &Agreed) -> Result<(), IndexError> {
    let rows: Vec<(String, String, String)> = index.list_with(
        "SELECT marks, judge, seal FROM routines
         WHERE clip = ?1 AND routine = ?2 AND watched AND marks IS NOT NULL",
        params![id, agreed.routine],
        |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)),
    )?;
    let path = |name: &str| clip.with_file_name(name).to_string_lossy().into_owned();
    let seal_of = |name: &str| {
        let path = path(name);
        rows.iter().find(|(marks, ..)| *marks == path).map(|(.., seal)| seal.clone())
    };
    if agreed.standing(seal_of) != Standing::Holds {
        return Ok(());
    }
    // An earlier version did not write down whose marks stood in which file.
    let by_judge = |judge: &String| agreed.of.is_empty() && agreed.by.contains(judge);
    let own: Vec<String> = agreed
        .of
        .iter()
        .map(|then| &then.marks)
        .chain([&agreed.marks])
        .map(|it| path(it))
        .collect();
    let how = if agreed.is_of_several() { 2 } else { 1 };
    for (marks, judge, _) in &rows {
        if own.contains(marks) || by_judge(judge) {
            index
                .change("UPDATE routines SET agreed = ?2 WHERE marks = ?1", params![marks, how])?;
        }
    }
    Ok(())
}

fn insert_allowed(index: &Index, id: i64, noted: &Sidecar) -> Result<(), IndexError> {
    let judged: Vec<String> = index.list_with(
        "SELECT DISTINCT athlete FROM routines WHERE clip = ?1 AND athlete <> ''",
        [id],
        |row| row.get(0),
    )?;
    let judged: Vec<&str> = judged.iter().map(String::as_str).collect();
    for purpose in Purpose::ALL {
        for (word, what) in [("pictures", Use::Pictures(purpose)), ("sets", Use::Set(purpose))] {
            if let Some(until) = last_day(noted, what, &judged) {
                let until = (until != Date::MAX).then(|| until.to_string());
                index.change(
                    "INSERT INTO allowed VALUES (?1, ?2, ?3, ?4)",
                    params![id, word, purpose.word(), until],
                )?;
            }
        }
    }
    Ok(())
}

/// Returns the last day on which the gate allows `what`; it only ever closes with time.
fn last_day(noted: &Sidecar, what: Use, athletes: &[&str]) -> Option<Date> {
    let consents = noted.athletes.iter().flat_map(|athlete| &athlete.consents);
    let ends = consents.filter_map(|consent| consent.until).chain(noted.delete_by);
    let mut days: Vec<Date> = ends.chain([Date::MAX]).collect();
    days.sort_unstable_by(|a, b| b.cmp(a));
    days.into_iter().find(|&today| {
        gate(Some(noted), &Asked { what, athletes, routine: "", today }).is_allowed()
    })
}

/// Ties marks files to clips and gives each clip without marks a row of its own.
pub(crate) fn settle(index: &Index) -> Result<(), IndexError> {
    index
        .connection
        .execute_batch(
            // The clip beside the marks is meant where several have the same content.
            "UPDATE clips SET noted = -1 WHERE quick_id IN (
             SELECT quick_id FROM routines WHERE marks IS NOT NULL AND clip IS NULL);
         UPDATE routines SET clip = (
             SELECT c.id FROM clips c WHERE c.quick_id = routines.quick_id
             ORDER BY substr(routines.marks, 1, length(c.path) + 1) = c.path || '.' DESC, c.id)
         WHERE marks IS NOT NULL AND quick_id IS NOT NULL AND clip IS NULL;
         DELETE FROM routines WHERE marks IS NULL AND (clip IS NULL OR EXISTS (
             SELECT 1 FROM routines r WHERE r.clip = routines.clip AND r.marks IS NOT NULL));
         INSERT INTO routines(clip, date) SELECT id, coalesce(filmed, '') FROM clips c
             WHERE NOT EXISTS (SELECT 1 FROM routines r WHERE r.clip = c.id);",
        )
        .map_err(|error| index.error(&error))
}

/// Tells clips whose content is not what their marks or their sidecar are about.
pub(crate) fn tell_altered(index: &Index) -> Result<(), IndexError> {
    index.change(
        // A marks file of a clip is named after it: its path, then a full stop. `/` follows `.`.
        "UPDATE clips SET altered = coalesce(noted_of <> quick_id, 0) OR EXISTS (
             SELECT 1 FROM routines r WHERE r.marks > clips.path || '.'
                 AND r.marks < clips.path || '/' AND r.quick_id <> clips.quick_id)",
        [],
    )
}
