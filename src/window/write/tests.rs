use std::collections::BTreeMap;

use super::{
    vocabulary::{Amounts, ElementWord, FaultWord},
    *,
};
use crate::{
    marks::{BodyPart, CallAnswer, Contact, Facing, LandingOn, Manner, Phase, Quantity, What},
    units::{Magnitude, Points},
};

fn element(id: &str, name: &str, shorthand: &str, allowed: bool) -> ElementWord {
    ElementWord {
        id: id.into(),
        name: name.into(),
        shorthand: shorthand.into(),
        code: format!("{}01", &id[..1].to_uppercase()),
        class: "low".into(),
        allowed,
    }
}

fn words() -> Vocabulary {
    Vocabulary {
        elements: vec![
            element("giant", "Long swing forward", "LS", false),
            element("cast", "Cast to horizontal", "C", true),
            element("pullover", "Pull-over", "PO", true),
            element("bhc", "Back hip circle", "BHC", true),
            element("tap-swing", "Tap swing", "TS", true),
        ],
        faults: vec![
            FaultWord {
                id: "legs-apart".into(),
                name: "Legs apart".into(),
                shorthand: "la".into(),
                amounts: Amounts::UpTo { max: Points(300), grid: Points(100) },
            },
            FaultWord {
                id: "bent-legs".into(),
                name: "Bent legs".into(),
                shorthand: "bl".into(),
                amounts: Amounts::Choice(vec![Points(100), Points(200)]),
            },
            FaultWord {
                id: "feet".into(),
                name: "Relaxed feet".into(),
                shorthand: "rf".into(),
                amounts: Amounts::Flat(Points(50)),
            },
        ],
    }
}

fn asked() -> Vec<Asked> {
    vec![Asked {
        rule: "cast-line".into(),
        label: "Cast at horizontal".into(),
        quantity: Quantity::BodyLine,
        waiting: true,
    }]
}

fn read_with(text: &str, asked: &[Asked]) -> Result<Vec<Offer>, Hint> {
    read_used(text, asked, &BTreeMap::new())
}

fn read_used(
    text: &str,
    asked: &[Asked],
    used: &BTreeMap<String, u32>,
) -> Result<Vec<Offer>, Hint> {
    read(text, Context { words: &words(), asked, phase: Phase::SecondFlight, used })
}

fn first(text: &str) -> Entry {
    read_with(text, &asked()).unwrap().remove(0).entry
}

fn mark(what: What) -> Entry {
    Entry::Mark(what, String::new())
}

fn of(id: &str) -> Entry {
    mark(What::Element { element: id.into() })
}

#[test]
fn part_of_a_name_a_shorthand_or_a_code_finds_the_element() {
    for text in ["cast", "Cast to", "to hor", "horiz", "C", "c01", "  cast   hor "] {
        assert_eq!(first(text), of("cast"), "{text}");
    }
    assert_eq!(first("bhc"), of("bhc"));
    assert_eq!(first("circle"), of("bhc"));
    assert_eq!(first("over"), of("pullover"));
}

#[test]
fn elements_of_the_division_come_first() {
    let offers = read_with("swing", &[]).unwrap();
    assert_eq!(offers[0].entry, mark(What::Swing));
    assert_eq!(offers[1].entry, of("tap-swing"));
    assert_eq!(offers.last().unwrap().entry, of("giant"));
    assert!(offers.last().unwrap().aside.contains("not in this division"));
}

#[test]
fn a_fault_takes_an_amount_before_or_behind_it() {
    let fault = |id: &str, amount| mark(What::Fault { fault: id.into(), amount });
    assert_eq!(first("0.3 legs"), fault("legs-apart", Some(Points(300))));
    assert_eq!(first("legs apart 0.2"), fault("legs-apart", Some(Points(200))));
    assert_eq!(first("0,2 bent"), fault("bent-legs", Some(Points(200))));
    assert_eq!(first("feet"), fault("feet", None));
    assert_eq!(first("0.05 feet"), fault("feet", None));
}

#[test]
fn an_amount_that_the_book_does_not_take_says_which_it_takes() {
    assert_eq!(
        read_with("0.4 apart", &[]),
        Err("Legs apart takes up to 0.3 in steps of 0.1.".into())
    );
    assert_eq!(read_with("0.15 bent", &[]), Err("Bent legs takes 0.1 or 0.2.".into()));
    assert_eq!(read_with("0.15 bent legs", &[]), Err("Bent legs takes 0.1 or 0.2.".into()));
}

#[test]
fn a_fault_without_an_amount_is_offered_with_each() {
    let offers = read_with("bent", &[]).unwrap();
    let asides: Vec<&str> = offers.iter().map(|offer| offer.aside.as_str()).collect();
    assert_eq!(asides, ["0.1", "0.2"]);
}

#[test]
fn moments_go_by_their_names() {
    assert_eq!(first("swing"), mark(What::Swing));
    assert_eq!(first("fall"), mark(What::Fall));
    assert_eq!(first("release"), mark(What::HandRelease));
    assert_eq!(first("heel drop"), mark(What::HeelDrop));
    assert_eq!(first("heel"), mark(What::HeelLift));
    assert_eq!(first("contact"), mark(What::HandContact { turn: None }));
    assert_eq!(first("hands 180"), mark(What::HandContact { turn: Some(180) }));
}

#[test]
fn contacts_take_part_manner_and_phase_in_any_order() {
    let contact = |part, phase, manner| mark(What::Contact(Contact { part, phase, manner }));
    let second = Phase::SecondFlight;
    assert_eq!(first("contact head brush"), contact(BodyPart::Head, second, Manner::Brush));
    assert_eq!(first("contact support back"), contact(BodyPart::Back, second, Manner::Support));
    assert_eq!(first("brush hips"), contact(BodyPart::Hips, second, Manner::Brush));
    assert_eq!(
        first("contact seat first flight"),
        contact(BodyPart::Seat, Phase::FirstFlight, Manner::CantTell)
    );
}

#[test]
fn landings_take_what_on_which_way_and_how_far_round() {
    let landing = |on, facing, turn| mark(What::Landing { on, facing, turn });
    assert_eq!(first("landing feet away"), landing(LandingOn::Feet, Some(Facing::Away), None));
    assert_eq!(first("landing stack"), landing(LandingOn::Apparatus, None, None));
    assert_eq!(
        first("landing towards 180"),
        landing(LandingOn::Feet, Some(Facing::Towards), Some(180))
    );
}

#[test]
fn a_value_goes_to_the_rule_that_asks() {
    let reading = |value, u| Entry::Reading {
        quantity: Quantity::BodyLine,
        value: Magnitude(value),
        u: Magnitude(u),
    };
    assert_eq!(first("angle -3"), reading(-3.0, 0.0));
    assert_eq!(first("angle 78 ±2"), reading(78.0, 2.0));
    assert_eq!(first("angle 78.5+-1.5"), reading(78.5, 1.5));
    assert_eq!(first("-3°"), reading(-3.0, 0.0));
    assert!(read_with("angle steep", &asked()).is_err());
    assert!(read_with("angle NaN", &asked()).is_err());
    assert!(read_with("angle 3", &[]).unwrap_err().contains("Choose an element"));
}

#[test]
fn a_decision_goes_to_the_rule_that_asks() {
    let call = |answer| Entry::Call { rule: "cast-line".into(), answer };
    assert_eq!(first("met"), call(CallAnswer::Met));
    assert_eq!(first("not met"), call(CallAnswer::NotMet));
    assert_eq!(first("can't tell"), call(CallAnswer::CantTell));
    assert!(read_with("met", &[]).is_err());
}

#[test]
fn a_remark_keeps_its_words() {
    let note = Entry::Mark(What::Note, "Toes LATE".into());
    assert_eq!(first("note Toes LATE"), note);
}

#[test]
fn what_is_nothing_says_what_to_do() {
    assert!(read_with("flic", &[]).unwrap_err().contains("note"));
}

fn labels(offers: &[Offer]) -> Vec<&str> {
    offers.iter().map(|offer| offer.label.as_str()).collect()
}

#[test]
fn before_anything_is_written_everything_is_offered_the_most_used_first() {
    let used = BTreeMap::from([("bhc".to_owned(), 3), ("tap-swing".to_owned(), 5)]);
    let offers = read_used(" ", &[], &used).unwrap();
    let elements = ["Tap swing", "Back hip circle", "Cast to horizontal", "Pull-over"];
    // Legs apart up to 0.3 in steps of 0.1, bent legs 0.1 or 0.2, relaxed feet always 0.05.
    let faults = ["Legs apart"; 3].into_iter().chain(["Bent legs"; 2]).chain(["Relaxed feet"]);
    assert_eq!(labels(&offers), elements.into_iter().chain(faults).collect::<Vec<_>>());
}

#[test]
fn whole_words_come_before_those_that_merely_begin_alike() {
    let mut words = words();
    words.elements = vec![
        element("jumping", "Jumping jack", "JJ", true),
        element("tuck-jump", "Tuck jump", "TJ", true),
        element("jump-on", "Jump to support", "JS", true),
        element("jump", "Jump", "J", false),
    ];
    let used = BTreeMap::new();
    let context = Context { words: &words, asked: &[], phase: Phase::SecondFlight, used: &used };
    let offers = read("jump", context).unwrap();
    // What is called exactly so comes first though the division may not use it.
    assert_eq!(labels(&offers), ["Jump", "Jump to support", "Tuck jump", "Jumping jack"]);
}
