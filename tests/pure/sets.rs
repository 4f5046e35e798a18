//! Set files and the answers to their questions.

use std::sync::LazyLock;

use stillcall::{
    practice::set::{Answer, AnswerVerdict, Ask, Set, entered, read, vocabulary},
    rulebook::{self, Book, render},
    units::Points,
};

pub(crate) const FIRST: &str = include_str!("sets/first.toml");

fn find(name: &str) -> Result<Book, String> {
    rulebook::load(name).map_err(|error| error.to_string())
}

/// Returns the set of the file, which is read once: a property asks for it thousands of times.
pub(crate) fn first() -> Set {
    static READ: LazyLock<Set> = LazyLock::new(|| {
        let (set, warnings) = read(FIRST, &find).unwrap();
        assert_eq!(warnings.len(), 1, "the flagged look is told");
        set
    });
    READ.clone()
}

#[test]
fn a_set_is_read_as_it_is_written() {
    let set = first();
    assert_eq!((set.id.as_str(), set.seconds, set.looks.len()), ("bars-first", 20, 4));
    let cast = &set.looks[0];
    assert_eq!((cast.from_ms, cast.to_ms, cast.cue.as_str()), (1500, 6000, "Watch only the hips."));
    assert_eq!(set.looks[1].cue, "Watch as at a meet.", "the set's own cue");
    // The start value is asked before the score, however the file has them.
    let asked: Vec<Ask> = cast.questions.iter().map(|question| question.ask).collect();
    assert_eq!(asked, [Ask::StartValue, Ask::Credited, Ask::Score]);
    assert_eq!(cast.questions[1].still_ms, Some(3933));
    assert_eq!(cast.questions[2].reference, Some(Answer::Points(Points(9350))));
    assert!(!set.looks[3].may_be_shown(), "flagged and not on purpose");
}

#[test]
fn all_errors_of_a_set_are_told_at_once_with_place_and_remedy() {
    let text = include_str!("sets/wrong.toml");
    let errors = read(text, &find).unwrap_err();
    let said = render(&errors, text, "wrong.toml");
    for (line, wanted) in [
        (3, "titel"),
        (9, "this is no number"),
        (11, "barz"),
        (15, "creditted"),
        (19, "used twice"),
        (22, "ends before it begins"),
        (24, "redshenk"),
        (28, "casst"),
        (32, "type one of: yes, no"),
        (33, "within_points"),
    ] {
        let found = errors.iter().any(|error| error.line == line && error.message.contains(wanted));
        assert!(found, "line {line}, {wanted}:\n{said}");
    }
    for nearest in
        ["did you mean \"title\"?", "did you mean \"credited\"?", "did you mean \"cast\"?"]
    {
        assert!(said.contains(nearest), "{nearest}:\n{said}");
    }
}

#[test]
fn any_text_is_read_or_refused_and_never_panics() {
    for text in ["", "[set]", "[[look]]\nid = 1", "set = 3", "[set]\nid = [[]]", "\u{feff}[set]\n"]
    {
        assert!(read(text, &find).is_err(), "{text}");
    }
    // Every beginning of a good file.
    for end in (0..FIRST.len()).step_by(37) {
        let _ = read(&FIRST[..end], &find);
    }
}

#[test]
fn answers_are_typed_as_a_judge_would() {
    let book = find("saltmarsh").unwrap();
    let words = |ask| vocabulary(&book, ask, "bars", "redshank");
    let typed = |ask, text: &str| entered(ask, text, &words(ask)).unwrap();
    let word = |word: &str| Some(Answer::Word(word.to_owned()));
    assert_eq!(typed(Ask::Credited, " Y "), word("yes"));
    assert_eq!(typed(Ask::Compare, "w"), word("worse"));
    assert_eq!(typed(Ask::Credited, "  "), None, "nothing typed is no answer");
    let ids = ["pull-over", "cast"].map(str::to_owned).to_vec();
    assert_eq!(typed(Ask::Elements, "pull-over, Cast"), Some(Answer::Words(ids)));
    assert_eq!(typed(Ask::ExtraSwings, "none"), Some(Answer::Words(Vec::new())));
    assert_eq!(typed(Ask::Angle, "82,5°"), Some(Answer::Degrees(82.5)));
    assert_eq!(typed(Ask::Score, "9,35"), Some(Answer::Points(Points(9350))));
    assert_eq!(typed(Ask::ValueParts, "6"), Some(Answer::Count(6)));
    for (ask, text) in [
        (Ask::Credited, "perhaps"),
        (Ask::Elements, "zzz"),
        (Ask::Angle, "NaN"),
        (Ask::Angle, "inf"),
        (Ask::Score, "9.3567"),
        (Ask::ValueParts, "-1"),
    ] {
        let why = entered(ask, text, &words(ask)).unwrap_err().to_string();
        assert!(why.len() > 10, "{text}: {why}");
    }
}

#[test]
fn right_within_the_slack_and_close_calls_either_way() {
    let set = first();
    let verdict = |look: usize, question: usize, answer| {
        set.looks[look].questions[question].verdict(Some(&answer))
    };
    // 9.35 with 0.3 either way, both ends included.
    for (thousandths, expected) in [
        (9650, AnswerVerdict::Right),
        (9050, AnswerVerdict::Right),
        (9651, AnswerVerdict::Wrong),
        (9049, AnswerVerdict::Wrong),
    ] {
        assert_eq!(verdict(0, 2, Answer::Points(Points(thousandths))), expected, "{thousandths}");
    }
    assert_eq!(verdict(1, 1, Answer::Degrees(-1.0)), AnswerVerdict::Right);
    assert_eq!(verdict(1, 1, Answer::Degrees(-0.9)), AnswerVerdict::Wrong);
    let close = &set.looks[2].questions[0];
    for word in ["connected", "broken"] {
        assert_eq!(close.verdict(Some(&Answer::Word(word.into()))), AnswerVerdict::EitherWay);
    }
    assert_eq!(
        set.looks[0].questions[1].verdict(None),
        AnswerVerdict::Wrong,
        "no answer is not right"
    );
}
