//! The words of a search: offered while they are written, put in and taken out by buttons.

use crate::library::{FORMS, KnownNames, OUTCOMES};

/// Returns what may be meant by the last word, the most likely first.
pub(crate) fn offers(words: &str, known: &KnownNames) -> Vec<String> {
    let mut said = words.rsplit(' ');
    let last = said.next().unwrap_or_default().to_lowercase();
    if last.is_empty() {
        return Vec::new();
    }
    let [before, two_before] = [said.next(), said.next()].map(Option::unwrap_or_default);
    let names = known.after(before);
    let names: Vec<&str> = if names.is_empty() {
        let mut all: Vec<&str> = FORMS.iter().map(|form| form.word).collect();
        all.extend(["not", "and", "or"]);
        if two_before == "requirement" {
            let outcomes = OUTCOMES.map(|(word, _)| word);
            all.retain(|word| !outcomes.contains(word));
            all.splice(..0, outcomes);
        }
        all
    } else {
        names.iter().map(String::as_str).collect()
    };
    // What holds a space would be read as two words.
    let begins = |name: &&str| name.to_lowercase().starts_with(&last) && !name.contains(' ');
    let meant = names.into_iter().filter(begins).filter(|&name| name != last);
    meant.map(str::to_owned).take(6).collect()
}

/// Returns the words with the last one completed, and a space after it.
pub(crate) fn completed(words: &str, name: &str) -> String {
    let before = words.rsplit_once(' ').map(|(before, _)| format!("{before} ")).unwrap_or_default();
    format!("{before}{name} ")
}

/// Returns whether a condition stands among the words by itself.
pub(crate) fn has(words: &str, condition: &str) -> bool {
    format!(" {} ", words.trim()).contains(&format!(" {condition} "))
}

/// Returns the words with a condition put in, or taken out where it is there; one about the same
/// thing (another event) makes way.
pub(crate) fn turned(words: &str, condition: &str, others: &[String]) -> String {
    let mut left = format!(" {} ", words.trim());
    let was = has(words, condition);
    for other in others.iter().map(String::as_str).chain([condition]) {
        left = left.replace(&format!(" {other} "), " ");
    }
    let left = left.trim();
    match (was, left.is_empty()) {
        (true, _) => left.to_owned(),
        (false, true) => condition.to_owned(),
        (false, false) => format!("{left} {condition}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn known() -> KnownNames {
        KnownNames::from([
            ("athlete", &["SC-07", "SC-12"][..]),
            ("element", &["cast", "clear hip", "cartwheel"]),
            ("event", &["bars", "beam"]),
            ("requirement", &["cast-line"]),
            ("sets", &["training"]),
        ])
    }

    #[test]
    fn what_is_being_written_is_offered() {
        assert_eq!(offers("ev", &known()), ["event"]);
        assert_eq!(offers("event b", &known()), ["bars", "beam"]);
        assert_eq!(offers("event beam di", &known()), ["division"]);
        assert_eq!(offers("sets tr", &known()), ["training"]);
        assert_eq!(offers("element c", &known()), ["cast", "cartwheel"]);
        assert_eq!(offers("not requirement ca", &known()), ["cast-line"]);
        assert_eq!(
            offers("requirement cast-line m", &known()),
            ["met", "missed", "moment", "marked"]
        );
        assert_eq!(offers("requirement cast-line c", &known()), ["close"]);
        assert_eq!(offers("athlete sc-1", &known()), ["SC-12"]);
        assert_eq!(offers("event ", &known()), Vec::<String>::new());
        assert_eq!(completed("event b", "beam"), "event beam ");
        assert_eq!(completed("ev", "event"), "event ");
    }

    #[test]
    fn buttons_put_conditions_in_and_take_them_out() {
        let events = ["event bars".to_owned(), "event beam".to_owned()];
        let words = turned("leap above 100", "event beam", &events);
        assert_eq!(words, "leap above 100 event beam");
        assert_eq!(turned(&words, "event bars", &events), "leap above 100 event bars");
        assert_eq!(turned(&words, "event beam", &events), "leap above 100");
        assert_eq!(turned("", "void", &[]), "void");
        // A part of another word is left alone.
        assert!(!has("avoid", "void") && has("not void", "void"));
    }
}
