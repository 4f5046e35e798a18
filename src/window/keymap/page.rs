//! The table as a page to print.

use std::fmt::Write as _;

use super::{
    binding::{Binding, Group},
    names::name_of,
    tables::{
        aside,
        clip::{self, ClipCommand},
        erase, hand, judges, library, pair, points,
        practice::SITTING_KEYS,
        start,
    },
};

/// Returns the page of keys in Markdown.
#[cfg_attr(not(test), allow(dead_code, reason = "the page is written and held by a test"))]
pub(super) fn page() -> String {
    let mut page = "# Keys\n\nMade from the program's own table by `make keys`; do not edit. \
                    In the window, `?` shows the same.\n"
        .to_owned();
    for group in Group::ALL {
        let _ = write!(page, "\n## {}\n\n| key | does |\n|---|---|\n", group.title());
        for Known { keys, says, .. } in known(group) {
            let keys = keys.iter().map(|key| format!("`{key}`")).collect::<Vec<_>>().join(" ");
            let _ = writeln!(page, "| {keys} | {says} |");
        }
    }
    page.push_str(WRITING);
    page
}

/// What can be asked for: its keys and what it does.
pub(crate) struct Known {
    /// The command; nothing where only another screen has it.
    pub command: Option<ClipCommand>,
    /// Its keys.
    pub keys: Vec<String>,
    /// What it does.
    pub says: &'static str,
}

/// Returns what a group has; several keys that do the same share a line.
///
/// What keys do while the eye is trained and on a report is among what they do in a sitting.
pub(crate) fn known(group: Group) -> Vec<Known> {
    [
        known_in(clip::KEYS, group, Some),
        known_in(start::KEYS, group, |_| None),
        known_in(library::KEYS, group, |_| None),
        known_in(erase::KEYS, group, |_| None),
        known_in(judges::KEYS, group, |_| None),
        known_in(hand::KEYS, group, |_| None),
        known_in(aside::KEYS, group, |_| None),
        known_in(points::KEYS, group, |_| None),
        known_in(pair::KEYS, group, |_| None),
        known_in(SITTING_KEYS, group, |_| None),
    ]
    .into_iter()
    .flatten()
    .collect()
}

fn known_in<C: Copy + PartialEq>(
    table: &[Binding<C>],
    group: Group,
    on_clip: impl Fn(C) -> Option<ClipCommand>,
) -> Vec<Known> {
    let mut found: Vec<(C, Known)> = Vec::new();
    for binding in table.iter().filter(|binding| binding.group == group) {
        if let Some((_, known)) = found.iter_mut().find(|(it, _)| *it == binding.command) {
            known.keys.push(name_of(binding));
        } else {
            let (keys, says) = (vec![name_of(binding)], binding.says);
            let command = on_clip(binding.command);
            found.push((binding.command, Known { command, keys, says }));
        }
    }
    found.into_iter().map(|(_, known)| known).collect()
}

/// What keys mean in a field; they are the same in every program.
const WRITING: &str = "
## While you write

| key | does |
|---|---|
| `↓` `↑` | another offer |
| `Enter` | take it |
| `Alt →` `Alt ←` | step a frame, with `Shift` ten; on an empty line the arrows alone do it |
| `Ctrl A` `Ctrl X` `Ctrl C` `Ctrl V` | all, cut, copy, paste |
| `→` `←`, or its first letter | another word, where an answer is one of a few |
| `Esc` | leave without writing |
";
