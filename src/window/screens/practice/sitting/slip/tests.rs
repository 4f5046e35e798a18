use crate::window::typing::Selecting;

use super::*;

fn question(ask: Ask) -> Question {
    Question {
        id: "1".into(),
        ask,
        of: String::new(),
        reference: None,
        close: false,
        within: 0.0,
        still_ms: None,
        number: String::new(),
        line: String::new(),
        why: String::new(),
    }
}

fn slip(asks: &[Ask], mode: Mode) -> Slip {
    let word = |id: &str| Word { id: id.into(), name: id.into(), shorthand: String::new() };
    let words = |_| vec![word("cast"), word("cartwheel")];
    let asked: Vec<Question> = asks.iter().map(|ask| question(*ask)).collect();
    Slip::blank(&asked, mode, &words)
}

fn text(text: &str) -> Typed {
    Typed::Text(text.to_owned())
}

#[test]
fn a_letter_or_an_arrow_takes_a_word() {
    let mut slip = slip(&[Ask::Compare], Mode::Person);
    slip.take(&text("W"));
    assert_eq!(slip.answer(0), Some(Answer::Word("worse".into())));
    slip.take(&Typed::Move { to: Reach::Before, select: Selecting::No });
    assert_eq!(slip.answer(0), Some(Answer::Word("same".into())));
    slip.take(&text("x"));
    assert_eq!(slip.answer(0), Some(Answer::Word("same".into())), "no such word");
    slip.take(&Typed::Erase(Reach::Before));
    assert_eq!(slip.answer(0), None);
}

#[test]
fn what_cannot_be_read_is_told_and_found() {
    let mut slip = slip(&[Ask::Credited, Ask::Elements], Mode::Person);
    slip.turn(1);
    slip.take(&text("ca"));
    assert_eq!(slip.answer(1), None, "one of two");
    assert_eq!(slip.entries()[1].offers().len(), 2);
    slip.turn(1);
    assert!(slip.is_at_end());
    assert!(slip.find_unreadable());
    assert_eq!(slip.question(), Some(1));
    slip.complete("cartwheel");
    assert_eq!(slip.answer(1), Some(Answer::Words(vec!["cartwheel".into()])));
    assert!(!slip.find_unreadable());
}

#[test]
fn hands_have_a_field_for_each_word_and_none_counted_is_none() {
    let mut slip = slip(&[Ask::Credited, Ask::Compare], Mode::Group);
    assert_eq!((slip.entries()[1].first, slip.answer(0)), (2, None));
    slip.turn(1);
    slip.take(&text("4"));
    assert_eq!(slip.answer(0), Some(Answer::Hands(vec![0, 4])));
    slip.go_to(4);
    slip.take(&text("1"));
    assert_eq!((slip.question(), slip.answer(1)), (Some(1), Some(Answer::Hands(vec![0, 0, 1]))));
}
