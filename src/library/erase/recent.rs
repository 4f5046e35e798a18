//! The clips that the window remembers to have been opened last, by their paths.

use std::{io, path::PathBuf};

use serde_json::Value;

use crate::{
    marks::StateFolder,
    store::{read_file, replace_private},
};

/// Returns whether one of them is meant.
pub(crate) fn remembers(state: &StateFolder, is_meant: &dyn Fn(&str) -> bool) -> bool {
    let memory = read(state);
    let recent = memory.as_ref().and_then(|memory| memory.get("recent")).and_then(Value::as_array);
    recent.is_some_and(|recent| recent.iter().filter_map(Value::as_str).any(is_meant))
}

/// Takes those that are meant out, and keeps everything else. A window that is open remembers them
/// until it is closed.
pub(crate) fn forget_recent(
    state: &StateFolder,
    is_meant: &dyn Fn(&str) -> bool,
) -> io::Result<()> {
    let Some(mut memory) = read(state) else { return Ok(()) };
    if let Some(recent) = memory.get_mut("recent").and_then(Value::as_array_mut) {
        recent.retain(|path| !path.as_str().is_some_and(is_meant));
    }
    replace_private(&place(state), serde_json::to_string_pretty(&memory)?.as_bytes())
}

fn read(state: &StateFolder) -> Option<Value> {
    serde_json::from_slice(&read_file(&place(state)).ok()?).ok()
}

fn place(state: &StateFolder) -> PathBuf {
    state.path().join("window.json")
}
