//! Angles worked out anew when marks are opened.

use crate::{
    marks::{Edit, Item, Outcome, Step, camera_since, remeasure},
    window::screens::clip::Clip,
};

impl Clip {
    /// Takes what the points of the readings give now where it differs from what was last shown, as
    /// one step that undo takes back, and tells it.
    pub(crate) fn work_out_anew(&mut self) {
        let Some(sheaf) = self.session.sheaf() else { return };
        let (mut told, mut edits) = (Vec::new(), Vec::new());
        for (reading, again) in sheaf.readings.iter().zip(remeasure(sheaf)) {
            let (Some(change), Outcome::Measured(measured)) = (again.change(), &again.outcome)
            else {
                continue;
            };
            let mut after = reading.clone();
            after.take(measured, camera_since(sheaf, reading));
            told.push(format!("{} {change}", reading.quantity.words()));
            edits.push(Edit::change(sheaf, Item::Reading(after)));
        }
        if edits.is_empty() {
            return;
        }
        self.take(Step::Do(Edit::Together(edits)), None);
        if self.complaint.is_none() {
            let told = told.join("; ");
            self.complain(&format!("Worked out anew from its points: {told}. Undo takes it back."));
        }
    }
}
