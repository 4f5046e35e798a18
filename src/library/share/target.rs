//! What may be written over: nothing but what the program itself wrote there before.

use std::{fs, path::Path};

use crate::{
    library::{
        home::{
            folder::Home,
            ledger::{FileKind, Ledger, Made},
        },
        quick_id::quick_id,
    },
    store::LogError,
    units,
};

use super::{leave_error::LeaveError, of::Of};

/// What becomes of a file that is there already.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Over {
    /// It stays, and nothing is written.
    Nothing,
    /// It stays. Where the program wrote it and it is the very same, that is as good as written.
    Same,
    /// It is written over where the program wrote it.
    Own,
    /// It is written over where it is no clip and nothing that the program keeps.
    Anything,
}

/// Endings of what the program keeps, which no page ever takes the place of.
const KEPT: [&str; 6] =
    [".marks.json", ".clip.json", ".skills.toml", ".sitting", ".journal", ".jsonl"];

/// Fails where the file may not be written at `out`, and says why.
pub(super) fn check(
    out: &Path,
    (kind, over): (FileKind, Over),
    of: &Of,
    home: Option<&Home>,
) -> Result<(), LeaveError> {
    let path = || out.to_owned();
    if out.file_name().is_none() {
        return Err(LeaveError::NotAFile { path: path() });
    }
    let Ok(facts) = fs::metadata(out) else { return Ok(()) };
    if !facts.is_file() {
        return Err(LeaveError::NotAFile { path: path() });
    }
    let own = || {
        is_own(out, kind, home)
            .map_err(|cause| LeaveError::Ledger { path: path(), cause: Box::new(cause) })
    };
    if over == Over::Nothing || (over == Over::Same && !own()?) {
        return Err(LeaveError::There { path: path() });
    }
    if over == Over::Same {
        return Ok(());
    }
    if quick_id(out).is_ok_and(|there| of.is_of_clip(&there)) {
        return Err(LeaveError::Clip { path: path() });
    }
    if is_kept(out) {
        return Err(LeaveError::Kept { path: path() });
    }
    if over == Over::Own && !own()? {
        return Err(LeaveError::NotOurs { path: path() });
    }
    Ok(())
}

/// Returns whether a file is a clip, or something that the program keeps, by its name.
fn is_kept(out: &Path) -> bool {
    let name = out.file_name().unwrap_or_default().to_string_lossy().to_lowercase();
    units::is_clip_name(out) || KEPT.iter().any(|ending| name.ends_with(ending))
}

/// Returns whether the program wrote a file of this kind there.
fn is_own(out: &Path, kind: FileKind, home: Option<&Home>) -> Result<bool, LogError> {
    let Some(home) = home else { return Ok(false) };
    let out = std::path::absolute(out).unwrap_or_else(|_| out.to_owned());
    let made = Ledger::<Made>::open(home)?.lines()?;
    Ok(made.iter().any(|made| made.path == out && made.kind == kind))
}
