//! What was erased, in words.

use crate::{
    library::{EraseWish, Erased},
    units::counted,
};

use super::groups::{EraseGroup, Fate, group, handed_out, unreached};

/// What came of it.
#[derive(Clone, Debug)]
pub(crate) struct EraseOutcome {
    /// In one line.
    pub(super) title: String,
    /// What remains to be done by the program, in one sentence.
    pub(super) remains: String,
    pub(super) groups: Vec<EraseGroup>,
    /// Whether it was stopped: a look through the folders would go on with it.
    pub(super) is_stopped: bool,
}

impl EraseOutcome {
    /// Returns what came of it; `others` are what was begun before and finished on the way.
    pub(super) fn of(erased: &Erased, others: &[Erased]) -> Self {
        let plan = &erased.plan;
        let files = counted(erased.gone.len(), "file");
        let (title, remains) = if erased.is_finished() {
            let looked = counted(erased.looked_at, "file");
            let remains =
                format!("Looked at {looked} afterwards; the log of deletions says what was found.");
            (format!("✓ {files} deleted"), remains)
        } else {
            let remains = "Not finished: see to what is out of reach. Each look through the \
                           folders tries again (F5).";
            (format!("{files} deleted, not finished"), remains.to_owned())
        };
        let paths = |paths: &[std::path::PathBuf]| -> Vec<String> {
            paths.iter().map(|path| path.display().to_string()).collect()
        };
        let closed: &[_] = match plan.wish {
            EraseWish::Athlete { .. } => &plan.closed_clips,
            EraseWish::Clip { .. } | EraseWish::BroughtBack => &[],
        };
        let before = others.iter().map(|other| {
            let what = if other.is_finished() { "finished" } else { "not finished yet" };
            format!("{what}: {}", other.plan.in_words())
        });
        let groups = [
            unreached(&erased.unreached),
            group("Still shows her beside others: cut or cover it", Fate::Open, paths(closed)),
            group("Still names her: look at each", Fate::Open, paths(&erased.still_named)),
            handed_out(&plan.handed_out),
            group("Stays: other files with the same content", Fate::Stays, paths(&plan.stays)),
            group("Begun before", Fate::Stays, before.collect()),
            group("Deleted", Fate::Goes, paths(&erased.gone)),
        ];
        let groups = groups.into_iter().filter(|group| !group.lines.is_empty()).collect();
        Self { title, remains, groups, is_stopped: false }
    }

    /// Returns that it was stopped.
    pub(super) fn stopped() -> Self {
        Self {
            title: "Stopped before its end".to_owned(),
            remains: "What was begun is finished at the next look through the folders (F5)."
                .to_owned(),
            groups: Vec::new(),
            is_stopped: true,
        }
    }
}
