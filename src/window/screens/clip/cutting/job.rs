//! Cutting itself: it reads and writes disks, so none of it is for the window's thread.

use std::path::PathBuf;

use crate::{
    copies::{self, Cut, CutError, CutWish},
    footage::Footage,
    library::{Home, LeaveError, Purpose},
    marks::StateFolder,
    units::{Ticks, counted},
    window::{screens::underway::Underway, words::sentence},
};

/// What is to be cut.
pub(super) struct CutJob {
    pub footage: Footage,
    pub span: [Ticks; 2],
    pub sound: bool,
    pub purpose: Purpose,
    pub out: PathBuf,
}

/// What came of it.
#[derive(Clone, Debug)]
pub(crate) enum CutEnd {
    Made(Box<CutMade>),
    /// What is noted of the clip does not allow it.
    Refused(Vec<String>),
    Stopped,
    Failed(String),
}

/// A new clip.
#[derive(Clone, Debug)]
pub(crate) struct CutMade {
    pub(super) path: PathBuf,
    /// What it holds, line by line.
    pub(super) said: Vec<String>,
}

impl CutJob {
    /// Cuts. Slow.
    pub(super) fn run(self, underway: &Underway) -> CutEnd {
        let (home, state) = (Home::of_user(), StateFolder::of_user());
        let (stop, out) = (&|| underway.is_stopped(), &*self.out);
        let wish = CutWish { span: self.span, sound: self.sound, out, purpose: self.purpose };
        // Nobody should wait for an answer that is known.
        if let Err(error) = copies::may_cut(&self.footage, &wish, home.as_ref()) {
            return error.into();
        }
        let name = self.footage.path().file_name().unwrap_or_default().to_string_lossy();
        let told = |proving| underway.proving(&name, proving);
        let Some(footage) = self.footage.proved_telling(stop, &told) else {
            return if underway.is_stopped() {
                CutEnd::Stopped
            } else {
                CutEnd::Failed("The clip cannot be read to its end any more.".to_owned())
            };
        };
        underway.turn_to("Writing the new clip, and looking whether it shows the same pictures …");
        match copies::cut(&footage, &wish, (home.as_ref(), state.as_ref()), stop) {
            Ok(cut) => CutEnd::Made(Box::new(CutMade { said: in_words(&cut), path: self.out })),
            Err(error) => error.into(),
        }
    }
}

impl From<CutError> for CutEnd {
    fn from(error: CutError) -> Self {
        match error {
            CutError::Leave(LeaveError::Refused(refused)) => {
                let reasons = refused.reasons.iter();
                Self::Refused(reasons.map(|reason| sentence(&reason.to_string())).collect())
            }
            error if error.is_stopped() => Self::Stopped,
            error => Self::Failed(sentence(&error.to_string())),
        }
    }
}

fn in_words(cut: &Cut) -> Vec<String> {
    let [first, last] = cut.frames;
    let earlier = (cut.earlier > 0).then(|| {
        let frames = counted(cut.earlier as usize, "frame");
        format!("It begins {frames} earlier than asked for, where decoding can begin.")
    });
    let marks = match cut.carried.marks.len() {
        0 => "No marks stand within it.".to_owned(),
        count => format!("{} went along.", counted(count, "marks file")),
    };
    let beyond = (!cut.carried.beyond.is_empty()).then(|| {
        let files = counted(cut.carried.beyond.len(), "marks file");
        format!("{files} did not: marks in it stand on frames beyond this part.")
    });
    let record =
        "Its record says what the clip's says: note who is filmed in this part.".to_owned();
    let frames = format!("It holds frames {first} to {last} of the clip.");
    let said = [Some(frames), earlier, Some(marks), beyond, Some(record)];
    said.into_iter().flatten().collect()
}
