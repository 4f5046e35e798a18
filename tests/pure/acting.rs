//! Whether each key that is typed in a book changes a score. The book is invented.

use stillcall::{
    rulebook::{shipped, shipped_text},
    trials::{Checked, check},
};

use crate::{guide, programmes::PROGRAMMES};

/// One fault at one element, and a way to count how often it is taken.
const BOOK: &str = "[book]\nid = \"t\"\ntitle = \"T\"\nedition = \"1\"\n\n\
    [[division]]\nid = \"low\"\nname = \"Low\"\n\n[[event]]\nid = \"beam\"\nname = \"Beam\"\n\n\
    [[class]]\nid = \"a\"\nname = \"A\"\n\n\
    [[scoring]]\nformula = \"start-minus\"\nstart = 10.0\n\n\
    [[element]]\nid = \"hop\"\nname = \"Hop\"\nevent = \"beam\"\n\n\
    [[fault]]\nid = \"feet\"\nlabel = \"Feet\"\namount = 0.1\n";

fn tried(text: &str) -> Checked {
    check(text, &|_| None)
}

fn told(text: &str) -> Vec<String> {
    tried(text).warnings.into_iter().map(|one| one.message).collect()
}

#[test]
fn what_acts_is_not_told() {
    assert_eq!(told(BOOK), [""; 0]);
    assert!(tried(BOOK).acting >= 2);
}

#[test]
fn a_worth_that_nothing_adds_is_told_at_its_line() {
    // No value part asks for the class, no cap adds its worth, and no elements are added up.
    let text = BOOK.replace("name = \"A\"\n", "name = \"A\"\nvalue = 0.3\n");
    assert_eq!(
        told(&text),
        ["no routine that was tried shows that this changes a score: \"value\""]
    );
    let found = tried(&text).warnings;
    assert_eq!(text.lines().nth(found[0].line - 1), Some("value = 0.3"));
    assert_eq!(tried(&text).warnings, found, "the same every time");
}

#[test]
fn a_book_with_errors_is_not_tried() {
    assert_eq!(tried(&BOOK.replace("amount = 0.1", "amuont = 0.1")).acting, 0);
}

/// Every key is seen to act, and none was left untried.
fn all_act(name: &str, text: &str) {
    let tried = check(text, &|base| shipped_text(base).map(str::to_owned));
    let told: Vec<String> =
        tried.warnings.iter().map(|one| format!("{name}:{} {}", one.line, one.message)).collect();
    assert_eq!(told, [""; 0]);
    assert_eq!(tried.open, 0, "{name}");
    assert!(tried.acting > 0, "{name}");
}

#[test]
fn every_key_of_the_shipped_books_is_seen_to_act() {
    for name in shipped() {
        all_act(name, shipped_text(name).unwrap());
    }
}

#[test]
fn every_key_of_the_guide_is_seen_to_act() {
    all_act("guide", &guide::examples());
}

#[test]
fn every_key_of_the_invented_programmes_is_seen_to_act() {
    for programme in &PROGRAMMES {
        all_act(programme.name, programme.book);
    }
}

/// A group keeps nothing where the only cap on it leaves the rule out: neither of the two alone acts.
#[test]
fn what_another_key_keeps_from_counting_is_told() {
    let text = format!(
        "{BOOK}group = \"shape\"\n\n[[fault]]\nid = \"legs\"\nlabel = \"Legs\"\namount = 0.1\n\
         group = \"shape\"\n\n[[cap]]\nid = \"shape\"\nlabel = \"Shape\"\ngroup = \"shape\"\n\
         except = [\"feet\"]\nat_most = 0.3\n"
    );
    assert_eq!(
        told(&text),
        ["no routine that was tried shows that this changes a score: \"group\""]
    );
    assert_eq!(told(&text.replace("except = [\"feet\"]\n", "")), [""; 0]);
}
