//! A search among all commands.

use crate::window::{
    keymap::{self, ClipCommand, Group, Known},
    typing::Line,
};

/// A search among all commands.
#[derive(Debug, Default)]
pub(crate) struct Find {
    pub(super) line: Line,
}

impl Find {
    /// Returns what fits of a group; whether something may be done here is for `may` to say.
    pub(super) fn fitting(&self, group: Group, may: impl Fn(ClipCommand) -> bool) -> Vec<Known> {
        let words: Vec<String> =
            self.line.text().split_whitespace().map(str::to_lowercase).collect();
        let mut found = keymap::known(group);
        found.retain(|known| {
            let said = format!("{} {}", known.says, known.keys.join(" ")).to_lowercase();
            words.iter().all(|word| said.contains(word))
        });
        for known in &mut found {
            known.command = known.command.filter(|command| may(*command));
        }
        found
    }
}
