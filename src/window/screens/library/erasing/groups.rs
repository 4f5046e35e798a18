//! What would go, in groups.

use crate::{
    library::{ErasePlan, EraseStep, EraseWish, Going, HandedOut, Unreached},
    units::counted,
};

/// Things of one kind.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct EraseGroup {
    /// What they are, with how many.
    pub title: String,
    /// What becomes of them.
    pub fate: Fate,
    /// Each of them.
    pub lines: Vec<String>,
}

/// What becomes of something.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Fate {
    /// It goes.
    Goes,
    /// It is changed.
    Changes,
    /// It stays.
    Stays,
    /// Somebody has to see to it.
    Open,
}

/// Returns the groups of a plan: what goes, what is changed, what stays, what is out of reach.
pub(super) fn groups_of(plan: &ErasePlan) -> Vec<EraseGroup> {
    let kinds = [
        (Going::Clip, "clip", Fate::Goes),
        (Going::Picture, "still or small picture", Fate::Goes),
        (Going::Page, "sheet or other page", Fate::Goes),
        (Going::Bundle, "bundle", Fate::Goes),
        (Going::Marks, "marks file", Fate::Goes),
        (Going::History, "undo history", Fate::Goes),
        (Going::Record, "record", Fate::Goes),
        (Going::Proof, "frame proof", Fate::Goes),
        (Going::Unfinished, "unfinished file", Fate::Goes),
    ];
    let files = kinds.into_iter().map(|(kind, name, fate)| {
        let lines = plan.steps.iter().filter_map(|step| match step {
            EraseStep::Unlink { what, path, .. } if *what == kind => {
                Some(path.display().to_string())
            }
            _ => None,
        });
        named(name, fate, lines.collect())
    });
    let all = files.chain(changed(plan)).chain(left(plan));
    let mut all: Vec<EraseGroup> = all.filter(|group| !group.lines.is_empty()).collect();
    // What a person has to see to stands where nobody has to look for it.
    all.sort_by_key(|group| group.fate != Fate::Open);
    all
}

/// Returns bundles that were handed out, each with who has it.
pub(super) fn handed_out(bundles: &[HandedOut]) -> EraseGroup {
    let lines = bundles.iter().map(|bundle| {
        let pictures = if bundle.pictures { "with" } else { "without" };
        let (on, to, path) = (bundle.on, &bundle.to, bundle.path.display());
        format!("{to}, on {on}, {pictures} pictures: ask for its deletion ({path})")
    });
    group("Handed out", Fate::Open, lines.collect())
}

/// Returns what is out of reach, each with what to do.
pub(super) fn unreached(all: &[Unreached]) -> EraseGroup {
    group("Out of reach: what to do", Fate::Open, all.iter().map(ToString::to_string).collect())
}

pub(super) fn group(title: &str, fate: Fate, lines: Vec<String>) -> EraseGroup {
    EraseGroup { title: format!("{title} ({})", lines.len()), fate, lines }
}

fn named(name: &str, fate: Fate, lines: Vec<String>) -> EraseGroup {
    EraseGroup { title: plural(lines.len(), name), fate, lines }
}

/// "1 sheet or other page", "2 sheets or other pages".
fn plural(count: usize, name: &str) -> String {
    let many = match name {
        "still or small picture" => "stills and small pictures",
        "sheet or other page" => "sheets and other pages",
        "undo history" => "undo histories",
        _ => return counted(count, name),
    };
    format!("{count} {}", if count == 1 { name } else { many })
}

/// What is changed and stays.
fn changed(plan: &ErasePlan) -> impl Iterator<Item = EraseGroup> {
    let steps = |told: &dyn Fn(&EraseStep) -> Option<String>| -> Vec<String> {
        plan.steps.iter().filter_map(told).collect()
    };
    let sets = steps(&|step| match step {
        EraseStep::TakeOutOfSet { set } => Some(set.display().to_string()),
        _ => None,
    });
    let histories = steps(&|step| match step {
        EraseStep::ForgetHistory { marks, journal } => {
            Some(marks.as_ref().unwrap_or(journal).display().to_string())
        }
        _ => None,
    });
    let closed = steps(&|step| match step {
        EraseStep::Close { clip, .. } => Some(clip.display().to_string()),
        _ => None,
    });
    let lists = steps(&|step| match step {
        EraseStep::Forget(list) => Some(list.to_string()),
        _ => None,
    });
    let told = steps(&|step| match step {
        EraseStep::Tell { file } => Some(file.display().to_string()),
        _ => None,
    });
    [
        group("Sets that lose their looks at it", Fate::Changes, sets),
        group("Marks that lose their undo history", Fate::Changes, histories),
        group(
            "Clips that show others as well: closed for every use but watching",
            Fate::Changes,
            closed,
        ),
        group("Lists that it goes out of", Fate::Changes, lists),
        group("Word for other computers, by a hash of the code", Fate::Changes, told),
    ]
    .into_iter()
}

/// What stays, and what somebody has to see to.
fn left(plan: &ErasePlan) -> impl Iterator<Item = EraseGroup> {
    let stays = plan.stays.iter().map(|path| path.display().to_string());
    let stays = group("Stays: other files with the same content", Fate::Stays, stays.collect());
    let is_shared = matches!(plan.wish, EraseWish::Athlete { .. });
    let shared = plan.closed_clips.iter().filter(|_| is_shared);
    let shared = shared.map(|clip| format!("{}: cut or cover it", clip.display()));
    let shared = group("Stays: clips that show others as well", Fate::Stays, shared.collect());
    [stays, shared, unreached(&plan.unreached), handed_out(&plan.handed_out)].into_iter()
}
