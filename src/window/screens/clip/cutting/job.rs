//! Cutting itself: it reads and writes disks, so none of it is for the window's thread.

use std::path::PathBuf;

use crate::{
    copies::{self, Cut, CutError, CutWish},
    footage::Footage,
    library::{Home, Purpose},
    marks::StateFolder,
    units::{Ticks, counted},
    window::{
        screens::{
            clip::errand::{End, Made, job},
            underway::Underway,
        },
        words::sentence,
    },
};

/// What is to be cut.
pub(super) struct CutJob {
    pub footage: Footage,
    pub span: [Ticks; 2],
    pub sound: bool,
    pub purpose: Purpose,
    pub out: PathBuf,
}

impl CutJob {
    /// Cuts. Slow.
    pub(super) fn run(self, underway: &Underway) -> End {
        let (home, state) = (Home::of_user(), StateFolder::of_user());
        let (stop, out) = (&|| underway.is_stopped(), &*self.out);
        let wish = CutWish { span: self.span, sound: self.sound, out, purpose: self.purpose };
        // Nobody should wait for an answer that is known.
        if let Err(error) = copies::may_cut(&self.footage, &wish, home.as_ref()) {
            return of(error);
        }
        let footage = match job::proved(&self.footage, underway) {
            Ok(footage) => footage,
            Err(end) => return end,
        };
        underway.turn_to("Writing the new clip, and looking whether it shows the same pictures …");
        match copies::cut(&footage, &wish, (home.as_ref(), state.as_ref()), stop) {
            Ok(cut) => {
                End::Made(Box::new(Made { said: in_words(&cut), path: self.out, is_clip: true }))
            }
            Err(error) => of(error),
        }
    }
}

fn of(error: CutError) -> End {
    match error {
        error if error.is_stopped() => End::Stopped,
        CutError::Leave(error) => error.into(),
        error => End::Failed(sentence(&error.to_string())),
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
