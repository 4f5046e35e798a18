//! What is asked, and how far it is.

use std::path::PathBuf;

use crate::{
    library::{Hit, Purpose},
    window::{keymap::HandCommand, screens::underway::Underway, typing::Line},
};

/// Something that is to be handed out.
pub(in crate::window::screens::library) struct HandOut {
    /// Which of all it is: what ends for another one is not for it.
    pub(super) number: u64,
    pub(super) of: HandOf,
    /// For whom, by club or role.
    pub(super) to: Line,
    /// What the clips go along for; nothing where only marks go.
    pub(super) purpose: Option<Purpose>,
    pub(super) sound: bool,
    pub(super) stage: HandStage,
    /// What is wrong.
    pub(super) complaint: Option<String>,
}

/// What is handed out.
#[derive(Clone, Debug)]
pub(in crate::window::screens::library) enum HandOf {
    /// Everything of one clip.
    Clip(Box<Hit>),
    /// All that these words find, so many routines.
    Found(String, u32),
}

/// How far it is.
pub(super) enum HandStage {
    Asked,
    /// It is found out what would go.
    Looking,
    /// This would go.
    Shown(Box<WouldGo>),
    /// It goes.
    Going(Underway),
    /// It went.
    Gone(Box<Handed>),
}

/// What would go.
#[derive(Clone, Debug, Default)]
pub(crate) struct WouldGo {
    pub(super) marks: Vec<PathBuf>,
    /// How many clips.
    pub(super) clips: usize,
    /// Clips that stay behind, with the reasons.
    pub(super) stay: Vec<Stays>,
}

/// A clip that stays behind, and why.
#[derive(Clone, Debug)]
pub(crate) struct Stays {
    pub(super) clip: PathBuf,
    pub(super) why: String,
}

/// What went.
#[derive(Clone, Debug)]
pub(crate) struct Handed {
    pub(super) path: PathBuf,
    /// In one line.
    pub(super) said: String,
    /// What stayed behind, with the reasons.
    pub(super) stayed: Vec<Stays>,
}

/// How it ended.
#[derive(Clone, Debug)]
pub(crate) enum HandEnd {
    Gone(Box<Handed>),
    Stopped,
    Failed(String),
}

/// What happened.
#[derive(Clone, Debug)]
pub(crate) enum HandMessage {
    Asked(HandCommand),
    Purpose(Option<Purpose>),
    WouldGo(u64, Box<Result<WouldGo, String>>),
    Chosen(u64, Option<PathBuf>),
    Over(u64, HandEnd),
}

impl HandOut {
    pub(in crate::window::screens::library) fn new(number: u64, of: HandOf) -> Self {
        let (to, stage) = (Line::default(), HandStage::Asked);
        Self { number, of, to, purpose: None, sound: false, stage, complaint: None }
    }

    /// Returns whether letters are written into the field.
    pub(in crate::window::screens::library) const fn is_written(&self) -> bool {
        matches!(self.stage, HandStage::Asked | HandStage::Shown(_))
    }

    /// Takes the next purpose, or the one before; marks alone are one of them.
    pub(super) fn choose(&mut self, by: i8) {
        let all: Vec<Option<Purpose>> = [None].into_iter().chain(Purpose::ALL.map(Some)).collect();
        let here = all.iter().position(|it| *it == self.purpose).unwrap_or(0) as isize;
        let next = (here + isize::from(by)).rem_euclid(all.len() as isize);
        self.change(all[next as usize]);
    }

    /// Takes another purpose; what was shown would go for the one before.
    pub(super) fn change(&mut self, purpose: Option<Purpose>) {
        self.purpose = purpose;
        self.ask_anew();
    }

    /// Asks once more, for something is otherwise than it was when it was shown what would go.
    pub(in crate::window::screens::library) fn ask_anew(&mut self) {
        self.complaint = None;
        if matches!(self.stage, HandStage::Shown(_) | HandStage::Looking) {
            self.stage = HandStage::Asked;
        }
    }
}

impl Drop for HandOut {
    fn drop(&mut self) {
        // Nobody would be told what came of it.
        if let HandStage::Going(underway) = &self.stage {
            underway.stop();
        }
    }
}
