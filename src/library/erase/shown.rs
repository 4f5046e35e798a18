//! Who is seen on which content, wherever copies of it lie.

use std::{
    collections::{BTreeMap, BTreeSet},
    path::Path,
};

use super::{
    plan::ErasedContent,
    seek::{Sight, Sighted},
};
use crate::{
    library::{
        index::database::{Index, IndexError},
        quick_id::quick_id,
    },
    store::open_file,
    units,
};

/// One content with its copies and everybody who is noted or judged on it.
#[derive(Debug, Default)]
pub(crate) struct ShownOn {
    /// Codes in small letters.
    pub athletes: BTreeSet<String>,
    /// A file that has it.
    pub copy: Option<Sight>,
}

/// Returns the contents of clips by quick id.
///
/// What the index knows of a file with the same time and length is believed here, because this
/// only finds clips to which marks far from them belong; what goes is looked at byte by byte.
pub(crate) fn shown_on(
    sighted: &Sighted,
    index: &Index,
) -> Result<BTreeMap<String, ShownOn>, IndexError> {
    let known = known(index)?;
    let mut all: BTreeMap<String, ShownOn> = BTreeMap::new();
    let mut beside: BTreeMap<&Path, String> = BTreeMap::new();
    for sight in sighted.files.iter().filter(|it| it.length > 0 && units::is_clip_name(&it.path)) {
        let Some(quick) = quick_of(sight, &known) else { continue };
        all.entry(quick.clone()).or_default().copy = Some(sight.clone());
        beside.insert(&sight.path, quick);
    }
    for record in &sighted.records {
        let ids = [beside.get(record.clip.as_path()), record.quick_id.as_ref()];
        for id in ids.into_iter().flatten() {
            let on_it = &mut all.entry(id.clone()).or_default().athletes;
            on_it.extend(record.athletes.iter().map(|code| code.to_lowercase()));
        }
    }
    for marks in &sighted.marks {
        let Some(id) = &marks.quick_id else { continue };
        all.entry(id.clone()).or_default().athletes.insert(marks.athlete.to_lowercase());
    }
    for shown in all.values_mut() {
        shown.athletes.remove("");
    }
    Ok(all)
}

/// Returns the files that have one of the contents, each read from end to end.
pub(crate) fn copies_of<'a>(
    sighted: &'a Sighted,
    contents: &'a [ErasedContent],
) -> impl Iterator<Item = (&'a Sight, &'a ErasedContent)> {
    sighted.files.iter().filter_map(move |sight| {
        let of_length = || contents.iter().filter(|content| content.length == sight.length);
        of_length().next()?;
        let quick = quick_id(&sight.path).ok()?;
        let mut alike = of_length().filter(|content| content.quick_id == quick).peekable();
        alike.peek()?;
        let hash = content_of(&sight.path)?.hash;
        alike.find(|content| content.hash == hash).map(|content| (sight, content))
    })
}

/// Returns the content of a file; nothing where it cannot be read or is empty.
pub(crate) fn content_of(path: &Path) -> Option<ErasedContent> {
    let mut file = open_file(path).ok()?;
    let length = file.metadata().ok()?.len();
    let quick_id = units::quick_id(&mut file, length).ok()?;
    let mut file = open_file(path).ok()?;
    let hash = units::content_hash(&mut file).ok()?;
    (length > 0).then_some(ErasedContent { length, quick_id, hash })
}

/// By path: length, time of the last change, quick id.
type Known = BTreeMap<String, (i64, i64, String)>;

fn known(index: &Index) -> Result<Known, IndexError> {
    let rows: Vec<(String, (i64, i64, String))> = index
        .list("SELECT path, size, modified, quick_id FROM clips", |row| {
            Ok((row.get(0)?, (row.get(1)?, row.get(2)?, row.get(3)?)))
        })?;
    Ok(rows.into_iter().collect())
}

fn quick_of(sight: &Sight, known: &Known) -> Option<String> {
    let known = known.get(&*sight.path.to_string_lossy());
    match known {
        Some((length, modified, id))
            if *length == sight.length as i64 && *modified == sight.modified =>
        {
            Some(id.clone())
        }
        _ => quick_id(&sight.path).ok(),
    }
}
