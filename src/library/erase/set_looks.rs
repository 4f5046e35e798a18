//! Taking looks out of a set: the rest of its text stays as somebody wrote it.

use toml::{Table, Value};

/// What is left of a set.
#[derive(Debug, PartialEq)]
pub(crate) enum SetLeft {
    /// Nothing was to be taken out.
    Whole,
    /// This text.
    Text(String),
    /// No look.
    Nothing,
}

/// Takes out the looks of which `goes` says so, by the clip's name and hash.
pub(crate) fn without(text: &str, goes: impl Fn(&str, &str) -> bool) -> SetLeft {
    let Ok(mut set) = text.parse::<Table>() else { return SetLeft::Whole };
    let Some(Value::Array(looks)) = set.get_mut("look") else { return SetLeft::Whole };
    let word = |look: &Value, key| look.get(key).and_then(Value::as_str).map(str::to_owned);
    let is_gone = |look: &Value| {
        goes(
            &word(look, "clip").unwrap_or_default(),
            &word(look, "clip_hash").unwrap_or_default().to_lowercase(),
        )
    };
    let gone: Vec<bool> = looks.iter().map(is_gone).collect();
    if !gone.contains(&true) {
        return SetLeft::Whole;
    }
    let mut keeps = gone.iter().map(|gone| !gone);
    looks.retain(|_| keeps.next().unwrap_or(true));
    if looks.is_empty() {
        return SetLeft::Nothing;
    }
    let cut = cut(text, &gone);
    // However it is written, what is left says the same.
    let is_right = cut.parse::<Table>().is_ok_and(|cut| cut == set);
    SetLeft::Text(if is_right { cut } else { toml::to_string(&set).unwrap_or_default() })
}

/// Returns the text without the blocks of the looks that go.
fn cut(text: &str, gone: &[bool]) -> String {
    let mut looks = gone.iter();
    let mut keeps = true;
    let mut kept = String::new();
    for line in text.split_inclusive('\n') {
        let head = line.trim();
        if head == "[[look]]" {
            keeps = !looks.next().copied().unwrap_or(false);
        } else if head.starts_with('[') && !head.starts_with("[[look.") {
            keeps = true;
        }
        if keeps {
            kept.push_str(line);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    const SET: &str = "\
# Made for the autumn course.
[set]
id = \"bars\"

[[look]]
id = \"1\"
clip = \"a.mp4\"
clip_hash = \"AA\"
[[look.question]]
ask = \"void\"

[[look]] # the hard one
id = \"2\"
clip = \"b.mp4\"
";

    #[test]
    fn the_rest_stays_as_it_was_written() {
        let left = without(SET, |_, hash| hash == "aa");
        let SetLeft::Text(text) = left else { panic!("{left:?}") };
        assert!(text.starts_with("# Made for the autumn course.\n[set]"), "{text}");
        assert!(!text.contains("a.mp4") && text.contains("id = \"2\""), "{text}");
    }

    #[test]
    fn whatever_the_writing_the_look_is_gone() {
        // The head of this look bears a remark, so that it is not found by its line.
        let left = without(SET, |clip, _| clip == "b.mp4");
        let SetLeft::Text(text) = left else { panic!("{left:?}") };
        assert!(!text.contains("b.mp4") && text.contains("a.mp4"), "{text}");
    }

    #[test]
    fn a_set_without_looks_is_no_set() {
        assert_eq!(without(SET, |_, _| true), SetLeft::Nothing);
        assert_eq!(without(SET, |_, _| false), SetLeft::Whole);
        assert_eq!(without("no set = [", |_, _| true), SetLeft::Whole);
    }
}
