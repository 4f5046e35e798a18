//! The clip's file, followed while it is open: a sync or another program may change it.

use std::{
    hash::{Hash, Hasher},
    time::Duration,
};

use iced::{Subscription, futures::stream};

use crate::{
    footage::{Footage, SourceState},
    window::{
        screens::clip::{Action, Clip, Complaint, Message, Remedy},
        viewer::arrived::Arrived,
    },
};

use super::wanted::Wanted;

/// How often the file is looked at.
const EVERY: Duration = Duration::from_secs(2);

/// A clip to be followed; told apart by the signal of its pictures, which is its own.
struct Followed {
    arrived: Arrived,
    footage: Footage,
}

impl Hash for Followed {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.arrived.hash(state);
    }
}

impl Clip {
    /// Returns what became of the clip's file.
    #[cfg(feature = "harness")]
    pub(crate) fn file_state(&self) -> SourceState {
        self.viewer.stage().footage().state()
    }

    /// Tells when something became of the clip's file, and when it is as it was again.
    pub(crate) fn clip_changes(&self) -> Subscription<Message> {
        let (arrived, footage) = (self.arrived.clone(), self.viewer.stage().footage());
        Subscription::run_with(Followed { arrived, footage }, |followed| {
            let footage = followed.footage.clone();
            stream::unfold((footage, SourceState::Same), |(footage, known)| async move {
                loop {
                    tokio::time::sleep(EVERY).await;
                    // A share that does not answer must not hold up anything.
                    let looked = footage.clone();
                    let looking = tokio::task::spawn_blocking(move || looked.state());
                    let state = looking.await.ok()?;
                    if state != known {
                        return Some((Message::ClipChanged(state), (footage, state)));
                    }
                }
            })
        })
    }

    pub(crate) fn clip_changed(&mut self, state: SourceState) -> Action {
        let name = self.path().file_name().unwrap_or_default().to_string_lossy();
        let text = match state {
            SourceState::Same => return self.close_complaint(),
            SourceState::Changed => format!(
                "{name} was changed by another program while it was open: frames may no longer be \
                 those that were marked. Open it again before you go on."
            ),
            SourceState::Shorter => format!(
                "{name} was cut short while it was open: what was cut off cannot be shown any \
                 more. Where it is still being copied, wait for the end and open it again."
            ),
            SourceState::Gone => format!(
                "{name} is not in its folder any more. The marks are kept; put the clip back, or \
                 open it where it is now."
            ),
        };
        self.complaint = Some(Complaint::new(text).with(&[Remedy::OpenAgain]));
        Action::None
    }

    /// Opens this clip with these marks once more; where the clip is gone, the marks alone, for
    /// which it is then looked for.
    pub(crate) fn open_again(&mut self) -> Action {
        let (clip, marks) = (self.path().to_owned(), self.session.path().map(Into::into));
        self.beside(
            move || match marks {
                Some(marks) if !clip.exists() => Wanted::of(marks, None),
                marks => Wanted::of(clip, marks),
            },
            |_, wanted| Action::Open(wanted),
        )
    }
}
