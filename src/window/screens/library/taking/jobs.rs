//! Taking it in, which reads and writes disks.

use std::{ops::ControlFlow, path::PathBuf};

use crate::{
    library::{self, ImportError, Imported, Pace, Records},
    marks::StateFolder,
    units::{counted, is_clip_name},
    window::{
        screens::{library::jobs::Kept, underway::Underway},
        words::sentence,
    },
};

use super::form::{TakeEnd, Taken};

/// What is taken in, and where.
pub(super) struct TakeJob {
    pub kept: Kept,
    pub bundle: PathBuf,
    pub into: PathBuf,
    pub records: Records,
}

impl TakeJob {
    /// Takes it in. Slow.
    pub(super) fn run(self, underway: &Underway) -> TakeEnd {
        let (state, pace) = (StateFolder::of_user(), Pace::default());
        let mut told = |done, of| {
            underway.tell(|| format!("Checking it and taking it in, {} …", pace.words(done, of)));
            if underway.is_stopped() { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        };
        let own = (state.as_ref(), self.kept.as_ref());
        let places = (&*self.bundle, &*self.into);
        match library::import_telling(places, own, self.records, &mut told) {
            Ok(done) => TakeEnd::Taken(Box::new(in_words(done))),
            Err(ImportError::Opens { says, .. }) => TakeEnd::Says(says),
            Err(error) => TakeEnd::Failed(format!("{}.", sentence(&error.to_string()))),
        }
    }
}

fn in_words(done: Imported) -> Taken {
    let mut said = vec![match (done.new.len(), done.known) {
        (0, 0) => "There is nothing in it.".to_owned(),
        (0, _) => "All of it was here already.".to_owned(),
        (new, 0) => format!("{} taken in.", counted(new, "file")),
        (new, known) => format!("{} taken in, {known} were here already.", counted(new, "file")),
    }];
    if done.refused > 0 {
        said.push(format!(
            "{} stayed outside: somebody who withdrew is on it. Ask whoever sent it to delete that.",
            counted(done.refused, "file")
        ));
    }
    let clips = done.new.into_iter().filter(|path| is_clip_name(path)).collect();
    Taken { said, clips }
}
