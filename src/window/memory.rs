//! What the program remembers from one time to the next: recent clips, the last settings, the
//! look, and which clips were decoded to their end. Apart from that it keeps nothing but marks,
//! their journals and the answers of practice.

mod clicks;
mod known;
mod uses;

use std::{
    path::{Path, PathBuf},
    sync::{Mutex, PoisonError},
    thread::JoinHandle,
};

use serde::{Deserialize, Serialize};

use super::theme::Look;
use crate::{
    marks::{self, Routine, StateFolder, model::Unknown},
    store::{own_folder, read_text, replace_private},
};

pub(crate) use clicks::{change_clicks, clicks};
pub(crate) use known::KnownHere;
pub(crate) use uses::Uses;

/// How many clips are remembered.
const MOST: usize = 8;
/// Sizes that everything may be shown in, in hundredths of the usual.
const SIZES: [u16; 7] = [80, 100, 115, 130, 150, 175, 200];

/// What is still being written down.
static UNDER_WAY: Mutex<Vec<JoinHandle<()>>> = Mutex::new(Vec::new());

/// Waits for what is still being written down: the program ends then.
pub(super) fn finish() {
    let under_way = std::mem::take(&mut *UNDER_WAY.lock().unwrap_or_else(PoisonError::into_inner));
    for writing in under_way {
        // It said itself what went wrong.
        let _ = writing.join();
    }
}

/// What is remembered.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct Memory {
    /// Clips opened last, the newest first.
    pub recent: Vec<PathBuf>,
    /// Whether clips are remembered at all.
    pub recent_kept: Kept,
    /// Colours.
    pub look: Look,
    /// Size of everything in hundredths of the usual.
    pub text_size: u16,
    /// What was judged last.
    pub last: LastRoutine,
    /// Rule books of one's own that were opened last, the newest first.
    pub books: Vec<PathBuf>,
    /// How often each element was written.
    pub uses: Uses,
    /// Size of the window in logical pixels; nothing until it was changed.
    pub window: Option<[f32; 2]>,
    /// Whether the window fills the screen.
    pub maximized: bool,
    /// Keys of later versions.
    #[serde(flatten)]
    unknown: Unknown,
    /// Where it is kept; nowhere, and then only until the program ends.
    #[serde(skip)]
    file: Option<PathBuf>,
}

/// Whether recent clips are remembered.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub(super) enum Kept {
    /// They are.
    #[default]
    Yes,
    /// They are not: on a computer that several people use.
    No,
}

/// The settings of a routine that are offered for the next one.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default)]
pub(super) struct LastRoutine {
    /// Id of the rule book, or the file it is in.
    pub book: String,
    /// Id of the event.
    pub event: String,
    /// Id of the division.
    pub division: String,
    /// Code of the judge.
    pub judge: String,
}

impl Default for Memory {
    fn default() -> Self {
        Self {
            recent: Vec::new(),
            recent_kept: Kept::Yes,
            look: Look::default(),
            text_size: 100,
            last: LastRoutine::default(),
            books: Vec::new(),
            uses: Uses::default(),
            window: None,
            maximized: false,
            unknown: Unknown::new(),
            file: None,
        }
    }
}

impl From<&Routine> for LastRoutine {
    fn from(routine: &Routine) -> Self {
        let own = Clone::clone;
        Self {
            book: own(&routine.book),
            event: own(&routine.event),
            division: own(&routine.division),
            judge: own(&routine.judge),
        }
    }
}

impl Memory {
    /// Returns what is remembered; what cannot be read is as good as nothing.
    pub(super) fn load() -> Self {
        let file = StateFolder::of_user().map(|state| state.path().join("window.json"));
        let text = file.as_ref().and_then(|file| read_text(file).ok());
        let read = text.and_then(|text| serde_json::from_str(&text).ok()).unwrap_or_default();
        Self { file, ..read }
    }

    /// Writes it down on a thread of its own. It is a convenience: where it cannot be kept,
    /// everything else still works.
    pub(super) fn keep(&self) {
        let memory = self.clone();
        let writing = std::thread::spawn(move || {
            if let Some(error) = memory.write().err() {
                tracing::warn!("recent clips and settings could not be kept: {error}");
            }
        });
        let mut under_way = UNDER_WAY.lock().unwrap_or_else(PoisonError::into_inner);
        under_way.retain(|writing| !writing.is_finished());
        under_way.push(writing);
    }

    fn write(&self) -> std::io::Result<()> {
        let Some(path) = &self.file else { return Ok(()) };
        let folder = path.parent().unwrap_or(Path::new("."));
        own_folder(folder)?;
        replace_private(path, serde_json::to_string_pretty(self)?.as_bytes())
    }

    /// Puts a clip on top of those remembered.
    pub(super) fn opened(&mut self, clip: &Path) {
        if self.recent_kept == Kept::No {
            return;
        }
        let clip = std::path::absolute(clip).unwrap_or_else(|_| clip.to_owned());
        self.recent.retain(|other| *other != clip);
        self.recent.insert(0, clip);
        self.recent.truncate(MOST);
    }

    /// Puts a rule book on top of those remembered.
    pub(super) fn opened_book(&mut self, book: &Path) {
        self.books.retain(|other| other != book);
        self.books.insert(0, book.to_owned());
        self.books.truncate(MOST);
    }

    /// Forgets all clips.
    pub(super) fn forget(&mut self) {
        self.recent.clear();
    }

    /// Begins or stops to remember clips; stopping forgets them too.
    pub(super) fn turn_recent(&mut self) {
        self.recent_kept = match self.recent_kept {
            Kept::Yes => Kept::No,
            Kept::No => Kept::Yes,
        };
        self.recent.clear();
    }

    /// Makes everything so many steps larger; 0 is the usual size.
    pub(super) fn resize(&mut self, steps: i8) {
        let here = SIZES.iter().position(|size| *size == self.text_size).unwrap_or(1);
        let there = match steps {
            0 => 1,
            by => here.saturating_add_signed(by.into()).min(SIZES.len() - 1),
        };
        self.text_size = SIZES[there];
    }

    /// Returns the factor by which everything is shown larger.
    pub(super) fn scale(&self) -> f32 {
        f32::from(self.text_size.clamp(SIZES[0], 200)) / 100.0
    }
}

/// Returns the folder for marks of clips beside which nothing can be written.
pub(super) fn marks_elsewhere() -> Option<PathBuf> {
    StateFolder::of_user().map(|state| state.marks())
}

/// Returns the marks files of a clip: those beside it, and those kept elsewhere because nothing
/// could be written there.
pub(super) fn marks_of(clip: &Path) -> Vec<PathBuf> {
    let mut found = marks::beside(clip);
    if let (Some(folder), Some(name)) = (marks_elsewhere(), clip.file_name()) {
        found.extend(marks::beside(&folder.join(name)));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_newest_clip_is_on_top_and_each_is_there_once() {
        let mut memory = Memory::default();
        for number in 0..12 {
            memory.opened(Path::new(&format!("/clips/{number}.mp4")));
        }
        memory.opened(Path::new("/clips/9.mp4"));
        let names: Vec<String> = memory
            .recent
            .iter()
            .map(|path| path.file_stem().unwrap().to_string_lossy().into_owned())
            .collect();
        assert_eq!(names, ["9", "11", "10", "8", "7", "6", "5", "4"]);
        memory.turn_recent();
        memory.opened(Path::new("/clips/1.mp4"));
        assert!(memory.recent.is_empty());
    }

    #[test]
    fn sizes_go_up_to_twice_the_usual_and_back() {
        let mut memory = Memory::default();
        for _ in 0..20 {
            memory.resize(1);
        }
        assert_eq!(memory.scale(), 2.0);
        memory.resize(0);
        assert_eq!(memory.scale(), 1.0);
        memory.resize(-1);
        memory.resize(-1);
        assert_eq!(memory.scale(), 0.8);
    }

    #[test]
    fn a_memory_of_another_version_is_read_as_far_as_it_goes() {
        let read: Memory = serde_json::from_str(r#"{"look": "dark", "new": 1}"#).unwrap();
        assert_eq!((read.look, read.text_size), (Look::Dark, 100));
        let written = serde_json::to_value(&read).unwrap();
        assert_eq!(written["new"], 1, "what a later version remembers is kept");
    }
}
