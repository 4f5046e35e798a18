use std::{borrow::Cow, fmt::Write as _};

/// Returns a text in which whatever would steer a terminal, or turn the text after it round, stands
/// as its number, `\u202e`. Line ends and tabs stay.
///
/// Names of files and remarks come from anywhere; read beside a score they must say what they are.
pub fn visible(text: &str) -> Cow<'_, str> {
    if !text.contains(steers) {
        return Cow::Borrowed(text);
    }
    let mut plain = String::with_capacity(text.len() + 8);
    for letter in text.chars() {
        if steers(letter) {
            // Writing into a text cannot fail.
            let _ = write!(plain, "\\u{:04x}", u32::from(letter));
        } else {
            plain.push(letter);
        }
    }
    Cow::Owned(plain)
}

/// Controls, among them those of C1, and the marks, embeddings, overrides and isolates of Unicode's
/// bidirectional algorithm (its annex 9, table 4).
pub(crate) fn steers(letter: char) -> bool {
    let is_control = letter.is_control() && !matches!(letter, '\n' | '\t');
    let turns = matches!(letter, '\u{61c}' | '\u{200e}' | '\u{200f}')
        || ('\u{202a}'..='\u{202e}').contains(&letter)
        || ('\u{2066}'..='\u{2069}').contains(&letter);
    is_control || turns
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_steers_a_terminal_is_written_out() {
        assert_eq!(visible("a\u{1b}[2Jb"), "a\\u001b[2Jb");
        assert_eq!(visible("c\u{9b}31m\r\u{7}"), "c\\u009b31m\\u000d\\u0007");
        assert_eq!(visible("mp4.\u{202e}gpj"), "mp4.\\u202egpj");
        // Letters of every script, line ends and tabs stay as they are.
        let plain = "שלום Žofia ア\n\t0.3 − 45°";
        assert!(matches!(visible(plain), Cow::Borrowed(same) if same == plain));
    }
}
