//! What forms of it share, and how far it is.

use std::{
    path::PathBuf,
    sync::atomic::{AtomicU64, Ordering},
};

use iced::Task;

use crate::{
    library::{LeaveError, Purpose},
    window::{
        screens::{
            record::{RecordAction, RecordForm, RecordMessage},
            underway::Underway,
        },
        words::sentence,
    },
};

/// Of all forms: what ends for one that is closed is for no other.
static FORMS: AtomicU64 = AtomicU64::new(0);

/// What every form of it has.
#[derive(Debug)]
pub(crate) struct Errand {
    /// Which of all forms it is: what ends for another one is not for it.
    pub(super) number: u64,
    pub(in crate::window::screens::clip) purpose: Purpose,
    pub(in crate::window::screens::clip) stage: Stage,
    /// What is noted of the clip, while it is looked at.
    pub(super) record: Option<RecordForm>,
    pub(super) words: &'static Words,
}

/// What a form says of itself.
#[derive(Debug)]
pub(crate) struct Words {
    pub title: &'static str,
    pub about: &'static str,
    /// On the button that asks where it goes.
    pub go: &'static str,
    /// Above what it may be for.
    pub consent: &'static str,
    /// Above the reasons against it, and under them.
    pub refused: [&'static str; 2],
    /// On the button that asks once more where it goes.
    pub again: &'static str,
}

/// How far it is.
#[derive(Debug)]
pub(crate) enum Stage {
    /// It is being filled in; something may be wrong with what is written.
    Asked(Option<String>),
    /// It is being made.
    Underway(Underway),
    /// What is noted of the clip does not allow it, for these reasons.
    Refused(Vec<String>),
    /// It is there.
    Made(Box<Made>),
}

/// What came of it.
#[derive(Clone, Debug)]
pub(crate) enum End {
    Made(Box<Made>),
    /// What is noted of the clip does not allow it.
    Refused(Vec<String>),
    Stopped,
    Failed(String),
}

/// A new file.
#[derive(Clone, Debug)]
pub(crate) struct Made {
    pub path: PathBuf,
    /// What it holds, line by line.
    pub said: Vec<String>,
    /// Whether it is a clip, which can be opened here.
    pub is_clip: bool,
}

/// What happened.
#[derive(Clone, Debug)]
pub(crate) enum ErrandMessage {
    Purpose(Purpose),
    /// All is filled in; where it goes is asked next.
    Ask,
    /// It goes there, or nowhere.
    Chosen(u64, Option<PathBuf>),
    Over(u64, End),
    /// What is noted of the clip is wanted.
    ShowRecord,
    Record(RecordMessage),
    /// The new clip is wanted.
    Open,
    Leave,
}

impl Errand {
    pub(in crate::window::screens::clip) fn new(words: &'static Words) -> Self {
        Self {
            number: FORMS.fetch_add(1, Ordering::Relaxed),
            purpose: Purpose::Training,
            stage: Stage::Asked(None),
            record: None,
            words,
        }
    }

    /// Says what is wrong with what is written; what is under way goes on.
    pub(in crate::window::screens::clip) fn complain(&mut self, why: Option<String>) {
        if self.is_asked() {
            self.stage = Stage::Asked(why);
        }
    }

    /// Returns whether it is still being filled in.
    pub(super) const fn is_asked(&self) -> bool {
        matches!(self.stage, Stage::Asked(_) | Stage::Refused(_))
    }

    pub(super) fn take(&mut self, end: End) {
        self.stage = match end {
            End::Made(made) => Stage::Made(made),
            End::Refused(reasons) => Stage::Refused(reasons),
            End::Stopped => Stage::Asked(Some("Stopped; nothing was kept.".to_owned())),
            End::Failed(why) => Stage::Asked(Some(why)),
        };
    }

    /// Does what is asked for in what is noted of the clip.
    pub(super) fn noted(&mut self, message: RecordMessage) -> Option<Task<RecordMessage>> {
        match self.record.as_mut()?.update(message) {
            RecordAction::None => {}
            RecordAction::Run(task) => return Some(task),
            RecordAction::Leave => self.record = None,
            RecordAction::Done => {
                self.record = None;
                // It was refused by what was noted before.
                self.complain(None);
            }
        }
        None
    }
}

impl Drop for Errand {
    fn drop(&mut self) {
        // Nobody would be told what came of it.
        if let Stage::Underway(underway) = &self.stage {
            underway.stop();
        }
    }
}

impl From<LeaveError> for End {
    fn from(error: LeaveError) -> Self {
        match error {
            LeaveError::Refused(refused) => {
                let reasons = refused.reasons.iter();
                Self::Refused(reasons.map(|reason| sentence(&reason.to_string())).collect())
            }
            error => Self::Failed(sentence(&error.to_string())),
        }
    }
}
