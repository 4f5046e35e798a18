//! The gate's answer for a clip on disk.

use std::path::{Path, PathBuf};

use crate::{library::quick_id::quick_id, marks};

use super::{
    gate::{Asked, Reason, Ruling, Use, gate},
    sidecar_file::{SidecarFile, copies},
};

/// A use of a clip that its sidecar does not allow.
#[derive(Debug, thiserror::Error)]
#[error("{} {what}: {}", .clip.display(), words(.reasons))]
pub struct NotPermitted {
    /// The clip.
    pub clip: PathBuf,
    /// What was to be done.
    pub what: Use,
    /// Every reason against it.
    pub reasons: Vec<Reason>,
}

fn words(reasons: &[Reason]) -> String {
    let reasons: Vec<String> = reasons.iter().map(Reason::to_string).collect();
    reasons.join("; ")
}

/// Returns whether the clip may be used as asked, by the sidecar that lies beside it.
///
/// A sidecar that cannot be read, is there twice or was noted of other content allows nothing but
/// watching and scoring.
pub fn ask(clip: &Path, asked: &Asked<'_>) -> Ruling {
    let file = SidecarFile::open(clip);
    let noted = file.as_ref().ok().filter(|file| file.exists());
    // Whoever is judged on the clip is on it, also when nobody noted it.
    let judged = athletes_beside(clip);
    let athletes = judged.iter().map(String::as_str).chain(asked.athletes.iter().copied());
    let athletes: Vec<&str> = athletes.collect();
    let asked = Asked { athletes: &athletes, ..*asked };
    let mut ruling = gate(noted.map(|file| &file.sidecar), &asked);
    if matches!(asked.what, Use::Watch | Use::Score) {
        return ruling;
    }
    match &file {
        Ok(file) => ruling.against.extend(unclear(clip, file).map(Reason::Unclear)),
        Err(error) => ruling.against = vec![Reason::Unclear(error.to_string())],
    }
    ruling
}

/// Fails with every reason where the clip may not be used as asked.
pub fn permit(clip: &Path, asked: &Asked<'_>) -> Result<(), NotPermitted> {
    let ruling = ask(clip, asked);
    if ruling.is_allowed() {
        return Ok(());
    }
    Err(NotPermitted { clip: clip.to_owned(), what: asked.what, reasons: ruling.against })
}

/// Returns what makes a readable sidecar doubtful.
fn unclear(clip: &Path, file: &SidecarFile) -> Option<String> {
    if let Some(copy) = copies(clip).first() {
        return Some(format!(
            "there is another copy of what is noted, {}; settle which one holds and take the \
             other away",
            copy.display()
        ));
    }
    if !file.exists() {
        return None;
    }
    let Some(noted) = &file.sidecar.clip else {
        return Some(format!("{} does not say of which content it is", file.path().display()));
    };
    match quick_id(clip) {
        Ok(id) if id == noted.quick_id => None,
        Ok(_) => Some(format!(
            "what is noted in {} is of other content: the clip was altered or replaced; look at \
             it and note it anew",
            file.path().display()
        )),
        Err(error) => Some(format!("the clip cannot be read ({error})")),
    }
}

/// Returns the codes of everybody who is noted or judged on a clip.
pub(crate) fn filmed(clip: &Path) -> Vec<String> {
    let noted = SidecarFile::open(clip).map(|file| file.sidecar.athletes).unwrap_or_default();
    let noted = noted.into_iter().map(|athlete| athlete.code);
    noted.chain(athletes_beside(clip)).filter(|code| !code.is_empty()).collect()
}

/// Returns the codes in the marks files beside a clip.
fn athletes_beside(clip: &Path) -> Vec<String> {
    let files = marks::beside(clip);
    let read = files.iter().filter_map(|path| marks::file::read(path).ok());
    read.map(|stored| stored.sheaf.routine.athlete).collect()
}
