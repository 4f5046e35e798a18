//! The athlete's own list of elements.

use std::path::{Path, PathBuf};

use super::JudgedError;
use crate::{
    marks::Routine,
    sheet::Skills,
    store::{about_to_read, read_text},
};

/// Returns the list of the routine's athlete that lies beside its marks, where there is one.
pub fn list_of(routine: &Routine, marks: &Path) -> Result<Option<Skills>, JudgedError> {
    beside(routine, marks).as_deref().map(read_list).transpose()
}

/// Reads such a list.
pub fn read_list(list: &Path) -> Result<Skills, JudgedError> {
    let text = read_text(list)
        .map_err(|cause| JudgedError::ListUnreadable { list: list.to_owned(), cause })?;
    let read = Skills::read(&text, &list.display().to_string());
    read.map_err(|error| JudgedError::List(error.to_string()))
}

fn beside(Routine { athlete, .. }: &Routine, marks: &Path) -> Option<PathBuf> {
    // The code is part of a file's name here, so it must not lead out of the folder.
    let plain = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
    let is_plain = !athlete.is_empty() && athlete.chars().all(plain);
    let list = marks.with_file_name(format!("{athlete}.skills.toml"));
    about_to_read(&list);
    (is_plain && list.is_file()).then_some(list)
}
