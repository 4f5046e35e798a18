//! What is written before its frame is proved.

use crate::window::screens::clip::Clip;

impl Clip {
    /// Remembers the picture on screen, about which something was written just now.
    pub(crate) fn note_unproved(&mut self) {
        if let Some(picture) = self.viewer.stage().latest() {
            self.unproved.note(&picture);
        }
    }

    /// Says where something was written about a picture that its frame proves not to have.
    pub(crate) fn settle_unproved(&mut self) {
        let others = self.unproved.settle(self.viewer.stage());
        if others.is_empty() {
            return;
        }
        let frames: Vec<String> = others.iter().map(ToString::to_string).collect();
        self.complain(&format!(
            "You wrote before the clip was proved, and saw another picture then than it proves to \
             have at frame {}. Look again at what is pinned there.",
            frames.join(", "),
        ));
    }
}
