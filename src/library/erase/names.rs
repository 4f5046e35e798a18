//! What the name of a file tells of where it belongs.

use std::path::{Path, PathBuf};

/// Returns the clip beside which a marks file lies by its name.
pub(crate) fn clip_of_marks(path: &Path) -> Option<PathBuf> {
    let name = name(path);
    let clip = name.strip_suffix(".marks.json")?.rsplitn(3, '.').nth(2)?;
    Some(path.with_file_name(clip))
}

/// Returns the clip of a record, or of a second copy of one, by its name.
pub(crate) fn clip_of_record(path: &Path) -> Option<PathBuf> {
    let name = name(path);
    let at = name.rfind(".clip")?;
    let is_record = path.extension().is_some_and(|it| it == "json") && at > 0;
    is_record.then(|| path.with_file_name(&name[..at]))
}

/// Returns a path as text, whatever it is.
pub(crate) fn as_text(path: &Path) -> PathBuf {
    PathBuf::from(path.to_string_lossy().into_owned())
}

pub(crate) fn name(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}
