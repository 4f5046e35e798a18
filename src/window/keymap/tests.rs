use iced::keyboard::{
    Event, Key, Location, Modifiers,
    key::{Named, Physical},
};

use super::{
    binding::Binding,
    names::name_of,
    tables::{
        aside, clip, erase, hand, judges, library, pair, points,
        practice::{EYE_KEYS, REPORT_KEYS, SITTING_KEYS},
        start,
    },
    *,
};

fn press(key: Key, modified: Key, modifiers: Modifiers) -> Event {
    Event::KeyPressed {
        key,
        modified_key: modified,
        physical_key: Physical::Unidentified(iced::keyboard::key::NativeCode::Unidentified),
        location: Location::Standard,
        modifiers,
        text: None,
        repeat: false,
    }
}

fn letter(c: &str, modifiers: Modifiers) -> Event {
    press(Key::Character(c.into()), Key::Character(c.into()), modifiers)
}

#[test]
fn no_key_means_two_things() {
    no_key_means_two_things_in(clip::KEYS);
    no_key_means_two_things_in(points::KEYS);
    no_key_means_two_things_in(pair::KEYS);
    no_key_means_two_things_in(library::KEYS);
    no_key_means_two_things_in(erase::KEYS);
    no_key_means_two_things_in(hand::KEYS);
    no_key_means_two_things_in(judges::KEYS);
    no_key_means_two_things_in(aside::KEYS);
    no_key_means_two_things_in(start::KEYS);
    no_key_means_two_things_in(SITTING_KEYS);
    no_key_means_two_things_in(EYE_KEYS);
    no_key_means_two_things_in(REPORT_KEYS);
}

fn no_key_means_two_things_in<C: std::fmt::Debug>(table: &[Binding<C>]) {
    for (at, one) in table.iter().enumerate() {
        for other in &table[at + 1..] {
            assert!(
                (one.held, one.cap) != (other.held, other.cap),
                "{} means {:?} and {:?}",
                name_of(one),
                one.command,
                other.command
            );
        }
    }
}

#[test]
fn placing_points_takes_the_arrows_and_leaves_undo() {
    let right = Key::Named(Named::ArrowRight);
    let event = |modifiers| press(right.clone(), right.clone(), modifiers);
    let asked = |event: &Event| while_placing(event);
    assert_eq!(
        asked(&event(Modifiers::empty())),
        Some(ClipCommand::Points(PointCommand::Nudge(10, 0)))
    );
    assert_eq!(
        asked(&event(Modifiers::SHIFT)),
        Some(ClipCommand::Points(PointCommand::Nudge(1, 0)))
    );
    assert_eq!(asked(&letter("z", Modifiers::COMMAND)), Some(ClipCommand::Steady(Steady::Undo)));
    // Nothing of the paper happens by accident meanwhile.
    assert_eq!(asked(&letter("f", Modifiers::empty())), None);
    assert_eq!(asked(&letter("m", Modifiers::empty())), None);
}

#[test]
fn arrows_step_and_shift_makes_ten_and_ctrl_with_it_a_second() {
    let right = Key::Named(Named::ArrowRight);
    let event = |modifiers| press(right.clone(), right.clone(), modifiers);
    assert_eq!(on_clip(&event(Modifiers::empty())), Some(ClipCommand::Going(Going::Step(1))));
    assert_eq!(on_clip(&event(Modifiers::SHIFT)), Some(ClipCommand::Going(Going::Step(10))));
    assert_eq!(on_clip(&event(Modifiers::COMMAND)), Some(ClipCommand::View(View::Pan(1, 0))));
    let both = Modifiers::COMMAND | Modifiers::SHIFT;
    assert_eq!(on_clip(&event(both)), Some(ClipCommand::Going(Going::Seconds(1))));
    assert_eq!(on_clip(&event(Modifiers::ALT)), None);
}

#[test]
fn a_sign_is_what_is_written_whatever_must_be_held_for_it() {
    let question = press(Key::Character("/".into()), Key::Character("?".into()), Modifiers::SHIFT);
    assert_eq!(on_clip(&question), Some(ClipCommand::Steady(Steady::Help)));
    let plain = press(Key::Character("ß".into()), Key::Character("?".into()), Modifiers::SHIFT);
    assert_eq!(on_clip(&plain), Some(ClipCommand::Steady(Steady::Help)));
    assert_eq!(on_clip(&letter("/", Modifiers::empty())), Some(ClipCommand::Work(Work::Write)));
}

#[test]
fn undo_and_redo_differ_by_shift() {
    assert_eq!(on_clip(&letter("z", Modifiers::COMMAND)), Some(ClipCommand::Steady(Steady::Undo)));
    let both = Modifiers::COMMAND | Modifiers::SHIFT;
    assert_eq!(on_clip(&letter("Z", both)), Some(ClipCommand::Steady(Steady::Redo)));
}

#[test]
fn a_held_key_steps_on_but_puts_one_mark() {
    let repeated = |c: &str| match letter(c, Modifiers::empty()) {
        Event::KeyPressed {
            key, modified_key, physical_key, location, modifiers, text, ..
        } => Event::KeyPressed {
            key,
            modified_key,
            physical_key,
            location,
            modifiers,
            text,
            repeat: true,
        },
        other => other,
    };
    assert_eq!(on_clip(&repeated("f")), None);
    assert_eq!(on_clip(&repeated("-")), Some(ClipCommand::View(View::ZoomOut)));
}

/// The page of keys in docs is the table, word for word.
#[test]
fn the_page_of_keys_is_the_table() {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/keys.md");
    if std::env::var_os("STILLCALL_WRITE_DOCS").is_some() {
        std::fs::write(path, page::page()).unwrap();
    }
    let written = std::fs::read_to_string(path).unwrap_or_default();
    assert!(written == page::page(), "docs/keys.md is not the table: run `make keys`");
}
