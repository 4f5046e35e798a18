//! Which vault it was by what is known of it, and what stays open. The vaults and their values are
//! invented; each answer is read off them.

use stillcall::{
    marks::{
        Facing::Away,
        LandingOn::{Body, Feet},
        What,
    },
    sheet::{ScoreSheet, Status, score},
    units::Points,
};

use crate::books::{
    ask::{like_base, points},
    write::{Writer, write},
};

/// Two half on, straight off or half off; one with a whole turn on for the high division. The base
/// book has one without a turn before the hands, worth 10.0.
const VAULTS: &str = "
[[element]]
id = \"straight-off\"
name = \"Straight off\"
event = \"vault\"
vault = { value = 9.0, before = 180, after = 0 }

[[element]]
id = \"half-off\"
name = \"Half off\"
event = \"vault\"
vault = { value = 8.0, before = 180, after = 180 }

[[element]]
id = \"half-off-again\"
name = \"Half off again\"
event = \"vault\"
vault = { value = 7.0, before = 180, after = 180 }

[[element]]
id = \"whole-on\"
name = \"Whole on\"
event = \"vault\"
divisions = \"high\"
vault = { value = 6.0, before = 360 }
";

fn sheet(routine: Writer) -> ScoreSheet {
    score(&like_base(VAULTS), &routine.done())
}

fn low() -> Writer {
    write("vault", "low")
}

/// Lands on the feet, with what is known of turn and facing.
fn landed(routine: Writer, turn: Option<u16>, is_facing_told: bool) -> Writer {
    routine.seen(What::Landing { on: Feet, facing: is_facing_told.then_some(Away), turn })
}

fn names(sheet: &ScoreSheet) -> Vec<&str> {
    sheet.elements.iter().map(|line| line.label.as_str()).collect()
}

fn range(sheet: &ScoreSheet) -> [Points; 2] {
    [sheet.score_range.low, sheet.score_range.high]
}

#[test]
fn what_is_not_marked_leaves_every_vault_open_that_fits() {
    // The turn after the hands is not known: 9.0, or 8.0 or 7.0.
    let open = [points("7.0"), points("9.0")];
    for is_facing_told in [false, true] {
        let sheet = sheet(landed(low().hands(180), None, is_facing_told));
        assert_eq!(range(&sheet), open, "facing told: {is_facing_told}");
        assert_eq!(names(&sheet), ["Straight off"]);
    }
    // Only the turn after the hands is known, and the base book's vault takes any.
    let after = sheet(landed(low().seen(What::HandContact { turn: None }), Some(180), false));
    assert_eq!(range(&after), [points("7.0"), points("10.0")]);
    // All is known, and the first of two that are listed alike is meant.
    let known = sheet(landed(low().hands(180), Some(180), true));
    assert_eq!(range(&known), [points("8.0"); 2]);
    // Nothing else has no turn before the hands.
    let only = sheet(landed(low().hands(0), None, false));
    assert_eq!(range(&only), [points("10.0"); 2]);
    assert!(only.close_calls.is_empty());
}

#[test]
fn the_first_hands_on_tell_the_turn_before() {
    let twice = sheet(landed(low().hands(180).hands(0), Some(0), true));
    assert_eq!(names(&twice), ["Straight off"]);
}

#[test]
fn before_anything_is_known_no_vault_is_named() {
    assert_eq!(names(&sheet(low())), [""; 0]);
}

#[test]
fn a_vault_that_was_written_down_stands_until_its_marks_say_otherwise() {
    let high = sheet(write("vault", "high").does(&["whole-on"]));
    assert_eq!((names(&high), high.start_value.unwrap()), (vec!["Whole on"], points("6.0")));
    let allowed = sheet(low().does(&["half-off"]));
    assert_eq!((names(&allowed), allowed.start_value.unwrap()), (vec!["Half off"], points("8.0")));
    let unlisted_said = |sheet: &ScoreSheet| {
        let lines = sheet.deductions.iter().chain(&sheet.void_reasons).chain(&sheet.remarks);
        lines.filter(|line| line.rule == "unlisted-vault").count()
    };
    assert_eq!(unlisted_said(&allowed), 0);
    // The low division's list does not have it.
    let unlisted = sheet(low().does(&["whole-on"]));
    assert_eq!((names(&unlisted), unlisted_said(&unlisted)), (vec!["Whole on"], 1));
}

/// What the high division counts and the low one does not is told, where the mark is one of its
/// sort.
fn told(rule: &str, routine: Writer) -> usize {
    let when = format!(
        "[[when]]\nid = \"high-only\"\nlabel = \"High only\"\nevents = \"vault\"\n\
         divisions = \"high\"\namount = 0.3\n{rule}\n"
    );
    let sheet = score(&like_base(&when), &routine.done());
    let lines = sheet.deductions.iter().filter(|line| line.rule == "high-only");
    lines.filter(|line| line.status == Status::NotCounted).count()
}

#[test]
fn a_contact_that_another_division_counts_is_told() {
    use stillcall::marks::{
        BodyPart::{Back, Head},
        Manner::{Brush, CantTell, Support as Bears},
        Phase::{SecondFlight, Support},
    };
    let touched = |part, phase, manner| low().hands(0).touches(part, phase, manner);
    let rule = "mark = \"contact\"\nparts = \"head\"\nphases = \"support\"\nmanners = \"brush\"";
    assert_eq!(told(rule, touched(Head, Support, Brush)), 1);
    assert_eq!(told(rule, touched(Head, Support, CantTell)), 1);
    assert_eq!(told(rule, touched(Head, Support, Bears)), 0);
    assert_eq!(told(rule, touched(Back, Support, Brush)), 0);
    assert_eq!(told(rule, touched(Head, SecondFlight, Brush)), 0);
    // No contact at all.
    assert_eq!(told(rule, low().hands(0)), 0);
}

#[test]
fn a_landing_that_another_division_counts_is_told() {
    let landed = |on| low().hands(0).lands(on, Away, 0);
    assert_eq!(told("mark = \"landing\"\non = \"body\"", landed(Body)), 1);
    assert_eq!(told("mark = \"landing\"\non = \"body\"", landed(Feet)), 0);
    // Every vault lands: a rule about any landing is not worth a line.
    assert_eq!(told("mark = \"landing\"", landed(Feet)), 0);
}
