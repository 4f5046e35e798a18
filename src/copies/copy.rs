use std::{io, path::Path};

use crate::{
    footage::{ClipTold, Copied, CopyError, CopyWishes, Footage},
    library::ClipCopy,
    marks::{self, ClipFacts},
    units::Ticks,
};

/// Why a clip was not copied into a bundle.
#[derive(Debug, thiserror::Error)]
pub enum NotCopied {
    /// It could not be copied, or that was stopped.
    #[error(transparent)]
    Copy(#[from] CopyError),
    /// The copy was there and is not any more.
    #[error("the copy cannot be read ({0})")]
    Unreadable(#[from] io::Error),
}

/// Copies a clip into a folder for a bundle.
pub fn copy_for_bundle(
    footage: &Footage,
    folder: &Path,
    sound: bool,
    stop: &dyn Fn() -> bool,
) -> Result<ClipCopy, NotCopied> {
    let target = folder.join(format!("clip.{}", footage.ending_of_copy()));
    let done = footage.copy_to(&target, CopyWishes { frames: None, sound }, stop)?;
    Ok(clip_copy(footage, done, &target)?)
}

pub(super) fn clip_copy(of: &Footage, done: Copied, path: &Path) -> io::Result<ClipCopy> {
    let facts = facts_of(&done.footage, path)?;
    let later = of.facts().time_base.seconds(done.offset);
    let offset = facts.time_base.ticks_at(later);
    let frame_at = move |instant: Ticks| {
        let table = done.footage.table();
        table.frame_ref(table.nearest(instant)?)
    };
    Ok(ClipCopy { path: path.to_owned(), facts, offset, frame_at: Box::new(frame_at) })
}

/// Returns what marks keep of an open clip.
pub fn facts_of(footage: &Footage, path: &Path) -> io::Result<ClipFacts> {
    let names = (footage.content_id()?, footage.content_hash()?);
    Ok(facts_told(ClipTold::of(footage), path, names))
}

/// Returns what marks keep of a clip of which this was told.
pub fn facts_told(
    told: ClipTold,
    path: &Path,
    (quick_id, content_hash): (String, String),
) -> ClipFacts {
    ClipFacts {
        name: path.file_name().unwrap_or_default().to_string_lossy().into_owned(),
        quick_id,
        content_hash: Some(content_hash),
        time_base: told.time_base,
        upright: told.upright,
        orientation_override: None,
        assumed_times: told.assumed_times,
        unknown: marks::model::Unknown::new(),
    }
}
