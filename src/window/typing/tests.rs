use iced::keyboard::{
    Event, Key, Location, Modifiers,
    key::{Named, Physical},
};
use proptest::prelude::*;

use super::*;

fn press(key: Key, text: Option<&str>, modifiers: Modifiers) -> Event {
    Event::KeyPressed {
        key: key.clone(),
        modified_key: key,
        physical_key: Physical::Unidentified(iced::keyboard::key::NativeCode::Unidentified),
        location: Location::Standard,
        modifiers,
        text: text.map(Into::into),
        repeat: false,
    }
}

fn written(text: &str) -> Line {
    let mut line = Line::default();
    line.take(&Typed::Text(text.to_owned()));
    line
}

const fn go(to: Reach) -> Typed {
    Typed::Move { to, select: Selecting::No }
}

const fn select(to: Reach) -> Typed {
    Typed::Move { to, select: Selecting::Yes }
}

#[test]
fn letters_and_words_come_and_go() {
    let mut line = written("back hip é");
    line.take(&Typed::Erase(Reach::Before));
    assert_eq!(line.text(), "back hip ");
    line.take(&Typed::Erase(Reach::WordBefore));
    assert_eq!(line.text(), "back ");
    line.take(&Typed::Erase(Reach::WordBefore));
    line.take(&Typed::Erase(Reach::Before));
    assert_eq!(line.text(), "");
}

#[test]
fn what_is_written_goes_to_the_cursor_and_replaces_what_is_selected() {
    let mut line = written("hip circle");
    line.take(&go(Reach::Start));
    line.take(&Typed::Text("back ".to_owned()));
    assert_eq!(line.text(), "back hip circle");
    line.take(&select(Reach::WordAfter));
    line.take(&Typed::Text("knee".to_owned()));
    assert_eq!(line.text(), "back knee circle");
    line.take(&Typed::SelectAll);
    assert_eq!(line.take(&Typed::Cut), Wish::Give("back knee circle".to_owned()));
    assert_eq!(line.text(), "");
}

/// A letter made of several code points (here e with an accent of its own, and a flag) is one
/// step for the cursor and one press of Backspace.
#[test]
fn a_letter_is_what_a_person_takes_for_one() {
    let mut line = written("e\u{301}🇳🇴x");
    line.take(&go(Reach::Before));
    line.take(&Typed::Erase(Reach::Before));
    assert_eq!(line.text(), "e\u{301}x");
    line.take(&Typed::Erase(Reach::Before));
    assert_eq!(line.text(), "x");
}

#[test]
fn an_arrow_lets_go_of_a_selection_at_its_edge() {
    let mut line = written("abcd");
    line.take(&go(Reach::Place(1)));
    line.take(&select(Reach::Place(3)));
    line.take(&go(Reach::Before));
    line.take(&Typed::Text("_".to_owned()));
    assert_eq!(line.text(), "a_bcd");
}

#[test]
fn what_is_pasted_stays_one_line() {
    let mut line = written("note ");
    line.take(&Typed::Text("late\tarms\r\nand feet\n".to_owned()));
    assert_eq!(line.text(), "note late arms  and feet");
}

#[test]
fn what_is_being_composed_is_shown_but_is_no_text_until_it_is_given() {
    let mut line = written("ab");
    line.take(&go(Reach::Before));
    line.take(&Typed::Composing("に".to_owned()));
    assert_eq!((line.text(), line.shown().0.as_str()), ("ab", "aにb"));
    line.take(&Typed::Text("日".to_owned()));
    assert_eq!((line.text(), line.shown().0.as_str()), ("a日b", "a日b"));
}

#[test]
fn keys_mean_what_they_mean_everywhere() {
    let letter = |c: &str, modifiers| press(Key::Character(c.into()), Some(c), modifiers);
    let none = Modifiers::empty();
    assert_eq!(typed(&letter("z", none)), Some(Typed::Text("z".to_owned())));
    assert_eq!(typed(&letter("v", Modifiers::COMMAND)), Some(Typed::Paste));
    assert_eq!(typed(&letter("z", Modifiers::COMMAND)), None);
    let at_sign = Modifiers::CTRL | Modifiers::ALT;
    assert_eq!(typed(&letter("@", at_sign)), Some(Typed::Text("@".to_owned())));
    assert_eq!(typed(&letter("x", Modifiers::ALT)), None);
    let named = |key, modifiers| typed(&press(Key::Named(key), None, modifiers));
    assert_eq!(named(Named::ArrowLeft, Modifiers::SHIFT), Some(select(Reach::Before)));
    assert_eq!(named(Named::Backspace, Modifiers::COMMAND), Some(Typed::Erase(Reach::WordBefore)));
    assert_eq!(named(Named::Enter, none), None);
}

fn anything_typed() -> impl Strategy<Value = Typed> {
    let reach = prop_oneof![
        Just(Reach::Before),
        Just(Reach::After),
        Just(Reach::WordBefore),
        Just(Reach::WordAfter),
        Just(Reach::Start),
        Just(Reach::End),
        (0usize..9).prop_map(Reach::Place),
    ];
    prop_oneof![
        "\\PC{0,3}".prop_map(Typed::Text),
        "\\PC{0,2}".prop_map(Typed::Composing),
        reach.clone().prop_map(Typed::Erase),
        reach.clone().prop_map(go),
        reach.prop_map(select),
        Just(Typed::SelectAll),
        Just(Typed::Cut),
        Just(Typed::Copy),
    ]
}

proptest! {
    /// Whatever is done, cursor and selection lie within the text and nothing panics.
    #[test]
    fn the_cursor_never_leaves_the_text(typed in prop::collection::vec(anything_typed(), 0..40)) {
        let mut line = Line::default();
        for typed in typed {
            line.take(&typed);
            let letters = iced::widget::text_input::Value::new(line.text()).len();
            let (from, to) = line.selection();
            prop_assert!(from <= to && to <= letters, "{line:?}");
        }
    }
}
