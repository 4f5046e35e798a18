//! What is known of how well the people of this computer click, in a file of its own.

use std::{
    io,
    path::{Path, PathBuf},
    sync::{Mutex, PoisonError},
    thread,
};

use crate::{
    marks::{Clicking, StateFolder},
    store::{own_folder, read_text, replace_private},
};

/// Whoever learns reads the file, and writes it.
static LEARNING: Mutex<()> = Mutex::new(());

fn file() -> Option<PathBuf> {
    StateFolder::of_user().map(|state| state.path().join("clicks.json"))
}

/// Returns what is known; what cannot be read is as good as nothing.
pub(crate) fn clicks() -> Clicking {
    file().map(|file| read(&file)).unwrap_or_default()
}

fn read(file: &Path) -> Clicking {
    let text = read_text(file).ok();
    let read: Option<Clicking> = text.and_then(|text| serde_json::from_str(&text).ok());
    read.unwrap_or_default().sound()
}

/// Changes what is known, on a thread of its own: another window may have learnt meanwhile. Where it
/// cannot be kept, clicks are as usual the next time.
pub(crate) fn change_clicks(change: impl FnOnce(&mut Clicking) + Send + 'static) {
    thread::spawn(move || {
        let Some(file) = file() else { return };
        if let Err(error) = changed(&file, change) {
            tracing::warn!("how well was clicked could not be kept: {error}");
        }
    });
}

fn changed(file: &Path, change: impl FnOnce(&mut Clicking)) -> io::Result<()> {
    let _one_at_a_time = LEARNING.lock().unwrap_or_else(PoisonError::into_inner);
    let mut clicking = read(file);
    change(&mut clicking);
    own_folder(file.parent().unwrap_or(Path::new(".")))?;
    replace_private(file, serde_json::to_string(&clicking)?.as_bytes())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::marks::Quantity;

    #[test]
    fn what_is_learnt_is_read_again_and_a_damaged_file_is_as_good_as_none() {
        let folder = tempfile::tempdir().unwrap();
        let file = folder.path().join("state").join("clicks.json");
        assert_eq!(read(&file), Clicking::default());
        let learnt = r#"{"repeats":[{"person":"J-2","quantity":"split","of":"q","rows":1080,
            "squares":64.0,"again":8}]}"#;
        let learnt: Clicking = serde_json::from_str(learnt).unwrap();
        let kept = learnt.clone();
        changed(&file, |known| *known = kept).unwrap();
        assert_eq!(read(&file), learnt);
        std::fs::write(&file, "{\"repeats\": [{").unwrap();
        assert_eq!(read(&file).of("J-2", Quantity::Split, 1080), None);
        changed(&file, |known| *known = learnt).unwrap();
        assert!(read(&file).of("J-2", Quantity::Split, 1080).is_some());
    }
}
