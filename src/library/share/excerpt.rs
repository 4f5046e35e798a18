//! What goes along with a part of a clip that becomes a clip of its own.

use std::path::{Path, PathBuf};

use crate::{
    library::consent::{
        sidecar::{MovedMarks, SealedMarks, TakenFrom},
        sidecar_file::SidecarFile,
    },
    marks::{self, OtherCopy, StateFolder, file::Stored},
    store::{DocumentError, Replacing},
};

use super::outgoing::ClipCopy;

/// What went along.
#[derive(Debug)]
pub struct Carried {
    /// Marks files of the excerpt.
    pub marks: Vec<PathBuf>,
    /// Marks files of the clip that stand on frames beyond the excerpt.
    pub beyond: Vec<PathBuf>,
    /// The excerpt's record.
    pub record: PathBuf,
}

/// Writes beside an excerpt the marks that stand within it, and its record: who is filmed and what
/// was agreed to hold for it as for the whole clip. The record comes last: an excerpt without one
/// was cut short.
pub fn carry_over(
    clip: &Path,
    excerpt: &ClipCopy,
    taken_from: TakenFrom,
    state: Option<&StateFolder>,
) -> Result<Carried, DocumentError> {
    let mut record = SidecarFile::begin(&excerpt.path)?;
    let (marks, beyond) = Default::default();
    let mut carried = Carried { marks, beyond, record: record.path().to_owned() };
    let of_clip = SidecarFile::open(clip)?.sidecar;
    let tied = record.sidecar.clip.take();
    record.sidecar = of_clip;
    record.sidecar.clip = tied;
    record.sidecar.taken_from = Some(taken_from);
    let agreed = std::mem::take(&mut record.sidecar.agreed);
    let mut moved = Vec::new();
    for path in marks::beside(clip) {
        let document = marks::file::read(&path)?.document;
        let sheaf = marks::load(&path, state)?;
        let copy = OtherCopy {
            facts: excerpt.facts.clone(),
            offset: excerpt.offset,
            frame_at: &*excerpt.frame_at,
        };
        let was = SealedMarks::of(&path, &sheaf);
        let Ok(sheaf) = marks::move_to(&sheaf, &copy) else {
            carried.beyond.push(path);
            continue;
        };
        let target = marks::path_for(&excerpt.path, &sheaf.routine.id, &sheaf.routine.judge);
        moved.push(MovedMarks { was, is: SealedMarks::of(&target, &sheaf) });
        let stored = Stored::copy_of(&document, sheaf);
        // It is there where the same excerpt was cut short before.
        if !marks::file::read(&target).is_ok_and(|there| there == stored) {
            marks::file::write(&target, &marks::file::text(&stored), Replacing::Never)?;
        }
        carried.marks.push(target);
    }
    record.sidecar.agreed = agreed.iter().filter_map(|agreed| agreed.carried(&moved)).collect();
    record.save()?;
    Ok(carried)
}
