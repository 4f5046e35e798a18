//! The gate's answer for a clip on disk.

use std::{
    collections::BTreeSet,
    path::{Path, PathBuf},
};

use crate::{
    library::quick_id::quick_id,
    marks::{self, StateFolder},
};

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
    let judged = Judged::on(clip);
    let athletes = judged.athletes.iter().map(String::as_str);
    let athletes = athletes.chain(asked.athletes.iter().copied());
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
    let unread = judged.unreadable.into_iter();
    ruling.against.extend(
        unread
            .map(|why| Reason::Unclear(format!("it is not known who is judged on it, for {why}"))),
    );
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
    noted.chain(Judged::on(clip).athletes).filter(|code| !code.is_empty()).collect()
}

/// Who is judged on a clip.
struct Judged {
    /// Codes of the athletes.
    athletes: BTreeSet<String>,
    /// What is wrong with marks beside it that cannot be read.
    unreadable: Vec<String>,
}

impl Judged {
    fn on(clip: &Path) -> Self {
        let state = StateFolder::of_user();
        let (athletes, unreadable) = Default::default();
        let mut judged = Self { athletes, unreadable };
        for path in marks::beside(clip) {
            // What is on the screen stands in the journal first, and in the file a little later.
            let ways = [marks::load(&path, None), marks::load(&path, state.as_ref())];
            for way in ways {
                match way {
                    Ok(sheaf) => drop(judged.athletes.insert(sheaf.routine.athlete)),
                    Err(error) => {
                        judged.unreadable = vec![error.to_string()];
                    }
                }
            }
        }
        judged
    }
}
