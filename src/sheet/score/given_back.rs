//! Lines that give something back, or take more, by the way a score is built.

use crate::{
    sheet::{
        model::{Line, Status, remark},
        routine::scene::Scene,
    },
    units::Points,
};

/// Returns the line; nothing where nothing changes.
pub(super) fn given_back(scene: &Scene<'_>, name: (&str, &str), amount: Points) -> Option<Line> {
    let reason = "By the way this book builds a score.".to_owned();
    let line = remark(name, reason, scene.frames.span(), None);
    (amount != Points::ZERO).then_some(Line { amount, status: Status::Taken, ..line })
}
