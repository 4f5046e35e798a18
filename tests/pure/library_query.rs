//! The language of searches. Its words are the program's own, so the checks are its manual's.

use proptest::prelude::*;
use stillcall::library::{
    Edge, FORMS, Query, QueryField, QueryFlag, QueryOutcome, QueryRange, Term, parse,
};

fn term(text: &str) -> Term {
    match parse(text) {
        Ok(Query::Term(term)) => term,
        other => panic!("{text}: {other:?}"),
    }
}

#[test]
fn every_example_of_the_manual_is_understood() {
    let manual = include_str!("../../docs/library.md");
    for form in FORMS {
        assert!(parse(form.example).is_ok(), "{}", form.example);
        assert!(manual.contains(&format!("`{}`", form.example)), "in no manual: {}", form.example);
    }
}

#[test]
fn what_was_seen_is_asked_for_with_a_range() {
    let cast = Term::Angle("cast".to_owned(), QueryRange::Within(5.0, Edge::Horizontal));
    assert_eq!(term("cast within 5 of horizontal"), cast);
    assert_eq!(
        term("leap 110 to 125"),
        Term::Angle("leap".to_owned(), QueryRange::Between(110.0, 125.0))
    );
    assert_eq!(
        term("\"switch leap\" at least 120°"),
        Term::Angle("switch leap".to_owned(), QueryRange::AtLeast(120.0))
    );
    assert_eq!(
        term("split within 10 of 180"),
        Term::Angle("split".to_owned(), QueryRange::Within(10.0, Edge::Number(180.0)))
    );
    assert_eq!(term("fault above 0.3"), Term::Fault(None, QueryRange::Above(0.3)));
    assert_eq!(term("fault step"), Term::Fault(Some("step".to_owned()), QueryRange::Any));
    assert_eq!(term("score 8.5 to 9"), Term::Score(QueryRange::Between(8.5, 9.0)));
}

#[test]
fn conditions_are_joined_by_and_or_not_and_brackets() {
    let bars = || Query::Term(Term::Is(QueryField::Event, "bars".to_owned()));
    let void = || Query::Term(Term::Flag(QueryFlag::Void));
    let close = || Query::Term(Term::Flag(QueryFlag::Close));
    let all = |parts| Query::All(parts);
    assert_eq!(parse("event bars void").unwrap(), all(vec![bars(), void()]));
    assert_eq!(parse("event bars and void").unwrap(), all(vec![bars(), void()]));
    let either = Query::Any(vec![all(vec![bars(), void()]), close()]);
    assert_eq!(parse("event bars void or close").unwrap(), either);
    let inner = all(vec![bars(), Query::Any(vec![void(), close()])]);
    assert_eq!(parse("event bars (void or close)").unwrap(), inner);
    assert_eq!(parse("not void").unwrap(), Query::Not(Box::new(void())));
    assert_eq!(parse("").unwrap(), all(Vec::new()));
    // A word in quotation marks is only a word.
    assert_eq!(term("\"void\""), Term::Words("void".to_owned()));
    let missed = Term::Requirement("cast".to_owned(), Some(QueryOutcome::Missed));
    assert_eq!(
        parse("requirement cast missed close").unwrap(),
        all(vec![Query::Term(missed), close()])
    );
}

#[test]
fn a_month_and_a_year_are_spans_of_days() {
    let span = |from: &str, to: &str| Term::Date(from.parse().ok(), to.parse().ok());
    assert_eq!(term("date 2028-02"), span("2028-02-01", "2028-02-29"));
    assert_eq!(term("date 2026"), span("2026-01-01", "2026-12-31"));
    assert_eq!(term("date 2026-10 to 2026-11"), span("2026-10-01", "2026-11-30"));
    assert_eq!(term("date before 2026-10-17"), Term::Date(None, "2026-10-16".parse().ok()));
    assert_eq!(term("date after 2026-10"), Term::Date("2026-11-01".parse().ok(), None));
}

#[test]
fn what_is_not_understood_is_told_with_its_place_and_what_to_write() {
    for (text, at, message, help) in [
        ("cast within 5 horizontal", 14, "\"of\" is missing", "within 5 of horizontal"),
        ("moment fal", 7, "\"fal\" is not known here", "did you mean fall?"),
        ("pictures corse", 9, "\"corse\"", "did you mean course?"),
        ("event", 5, "is missing", "--help-words"),
        ("(void", 0, "a ( that is not closed", "put a )"),
        ("void)", 4, "a ) without its (", "take it away"),
        ("leap 110 to", 11, "a number is missing", "--help-words"),
        ("leap above far", 11, "\"far\" is no number", "a range is written"),
        ("date 2026-13", 5, "is no date", "2026-10-17"),
        ("score", 5, "a range is missing", "a range is written"),
        ("\"switch leap", 0, "not closed", "put another"),
        ("void or", 7, "a condition is missing", "--help-words"),
    ] {
        let error = parse(text).unwrap_err();
        assert_eq!(error.at, at, "{text}: {error}");
        assert!(error.message.contains(message) && error.help.contains(help), "{text}: {error}");
        let caret = error.to_string();
        let caret = caret.lines().nth(2).unwrap();
        assert_eq!(caret.find('^'), Some(at + 2), "{text}");
    }
}

proptest! {
    #[test]
    fn no_text_makes_the_reader_fall_over(text in "\\PC{0,60}") {
        let _ = parse(&text);
    }

    #[test]
    fn no_line_of_known_words_makes_the_reader_fall_over(
        words in prop::collection::vec(0_usize..40, 0..12)
    ) {
        let known: Vec<&str> = FORMS.iter().map(|form| form.word)
            .chain(["and", "or", "not", "(", ")", "to", "within", "of", "above", "5", "\"a b\"",
                "at", "least", "horizontal", "2026-10", "leap"]).collect();
        let text: Vec<&str> = words.iter().map(|&word| known[word % known.len()]).collect();
        let _ = parse(&text.join(" "));
    }
}

/// A search may come from a file or a script; none takes the stack or the database down.
#[test]
fn a_search_without_end_is_told() {
    for (search, says) in [
        ("(".repeat(100_000), "400 words"),
        ("(".repeat(33), "brackets"),
        (format!("{}marked", "not ".repeat(33)), "brackets"),
        ("marked ".repeat(401), "400 words"),
    ] {
        let told = parse(&search).unwrap_err().to_string();
        assert!(told.contains(says), "{}", &told[..200.min(told.len())]);
    }
    assert!(parse(&format!("{}marked", "not ".repeat(31))).is_ok());
}
