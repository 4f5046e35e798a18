//! The table as a page to print.

use std::fmt::Write as _;

use super::{
    binding::{Binding, Group},
    names::name_of,
    tables::{aside, clip, erase, library, pair, points, practice::SITTING_KEYS, start},
};

/// Returns the page of keys in Markdown.
#[cfg_attr(not(test), allow(dead_code, reason = "the page is written and held by a test"))]
pub(super) fn page() -> String {
    let mut page = "# Keys\n\nMade from the program's own table by `make keys`; do not edit. \
                    In the window, `?` shows the same.\n"
        .to_owned();
    for group in Group::ALL {
        let _ = write!(page, "\n## {}\n\n| key | does |\n|---|---|\n", group.title());
        for (keys, says) in lines(group) {
            let keys = keys.iter().map(|key| format!("`{key}`")).collect::<Vec<_>>().join(" ");
            let _ = writeln!(page, "| {keys} | {says} |");
        }
    }
    page.push_str(WRITING);
    page
}

/// Returns the keys of a group with what they do; several that do the same share a line.
///
/// What keys do while the eye is trained and on a report is among what they do in a sitting.
pub(crate) fn lines(group: Group) -> Vec<(Vec<String>, &'static str)> {
    [
        lines_in(clip::KEYS, group),
        lines_in(start::KEYS, group),
        lines_in(library::KEYS, group),
        lines_in(erase::KEYS, group),
        lines_in(aside::KEYS, group),
        lines_in(points::KEYS, group),
        lines_in(pair::KEYS, group),
        lines_in(SITTING_KEYS, group),
    ]
    .concat()
}

fn lines_in<C: Copy + PartialEq>(
    table: &[Binding<C>],
    group: Group,
) -> Vec<(Vec<String>, &'static str)> {
    let mut lines: Vec<(C, Vec<String>, &str)> = Vec::new();
    for binding in table.iter().filter(|binding| binding.group == group) {
        match lines.iter_mut().find(|(command, ..)| *command == binding.command) {
            Some((_, keys, _)) => keys.push(name_of(binding)),
            None => lines.push((binding.command, vec![name_of(binding)], binding.says)),
        }
    }
    lines.into_iter().map(|(_, keys, says)| (keys, says)).collect()
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
