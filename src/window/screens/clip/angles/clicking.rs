//! How well the person at work clicks: learnt from what she keeps, used for what she begins, forgotten
//! when she says so.

use crate::{
    marks::{Clicking, How, Quantity, Reading},
    window::{
        memory::change_clicks,
        placing::{Measuring, Placing},
        screens::clip::Clip,
    },
};

impl Clip {
    /// Returns how a reading is clicked that begins now, as far as enough is known of it.
    pub(super) fn clicked_as_known(&self, quantity: Quantity) -> How {
        let person = self.routine().map(|routine| routine.judge.as_str()).unwrap_or_default();
        let [_, rows] = self.sight().upright.shown_size();
        let own = self.clicking.of(person, quantity, rows).filter(|own| own.is_enough());
        How {
            click: own.map(|own| own.s),
            click_freedom: own.map(crate::marks::OwnClicks::freedom),
            ..How::default()
        }
    }

    /// Learns from a reading that was kept.
    pub(super) fn learn_clicks(&mut self, reading: &Reading) {
        let Some(sheaf) = self.session.sheaf() else { return };
        let Some(repeats) = Clicking::repeats(sheaf, reading) else { return };
        self.clicking.take(repeats.clone());
        change_clicks(|known| known.take(repeats));
    }

    /// Forgets what is known of the person at work, also for what she is placing.
    pub(super) fn forget_clicks(&mut self) {
        let Some(person) = self.routine().map(|routine| routine.judge.clone()) else { return };
        self.clicking.forget(&person);
        change_clicks(move |known| known.forget(&person));
        let change = self.mode.placing().and_then(Placing::measuring).and_then(Measuring::as_usual);
        self.store(change);
    }
}
