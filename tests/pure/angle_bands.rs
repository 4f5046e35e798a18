//! What an angle short of its target costs, at the edges and between them, and how it is said. The
//! book and its amounts are invented; every value is worked out by hand beside its case.

use stillcall::{
    marks::{
        CallAnswer,
        Quantity::{OffVertical, Split},
    },
    sheet::{Decision, Line, ScoreSheet, Status, score},
    units::Points,
};

use crate::books::{
    ask::{like_base, off, points},
    write::{Writer, write},
};

/// A handstand held against a rule of these keys.
fn under(keys: &str, with: impl Fn(Writer) -> Writer) -> ScoreSheet {
    let rule = "[[angle]]\nid = \"line\"\nlabel = \"Line\"\nevents = \"beam\"\n\
                elements = \"handstand\"\nquantity = \"off-vertical\"\n";
    let sheaf = with(write("beam", "low").does(&["handstand"])).done();
    score(&like_base(&format!("{rule}{keys}\n")), &sheaf)
}

fn read(keys: &str, value: f64, u: f64) -> ScoreSheet {
    under(keys, |routine| routine.reads(OffVertical, value, u))
}

/// What a value costs that is known exactly.
fn costs(keys: &str, value: f64) -> Points {
    off(&read(keys, value, 0.0))
}

/// The least and the most that a value of this uncertainty may cost.
fn between(keys: &str, value: f64, u: f64) -> [Points; 2] {
    let sheet = read(keys, value, u);
    let range = sheet.score_range;
    [range.high, range.low].map(|score| Points(10_000) - score)
}

fn line(sheet: &ScoreSheet) -> &Line {
    &sheet.deductions[0]
}

fn decision(sheet: &ScoreSheet) -> &Decision {
    &sheet.elements[0].decisions[0]
}

const SMALL: Points = Points(100);
const LARGE: Points = Points(300);

#[test]
fn what_may_be_at_most_so_much_is_short_by_what_lies_above() {
    let keys =
        "target = 10\nside = \"at-most\"\nbands = [{ up_to = 5, amount = 0.1 }, { amount = 0.3 }]";
    assert_eq!(costs(keys, 10.0), Points::ZERO);
    // 14 is 4 above 10, 16 is 6 above.
    assert_eq!(costs(keys, 14.0), SMALL);
    assert_eq!(costs(keys, 15.0), SMALL, "the end of a band belongs to it");
    assert_eq!(costs(keys, 16.0), LARGE);
}

#[test]
fn between_two_bands_an_edge_belongs_to_one_of_them() {
    let gap = "target = 0\nside = \"at-most\"\nbands = [{ over = 6, up_to = 18, inclusive = false, amount = 0.1 }, { amount = 0.3 }]";
    assert_eq!(costs(gap, 6.0), Points::ZERO, "more than 6 is asked for");
    assert_eq!(costs(gap, 6.1), SMALL);
    assert_eq!(costs(gap, 17.9), SMALL);
    assert_eq!(costs(gap, 18.0), LARGE, "the first band leaves its end to the second");
    let apart = "target = 0\nside = \"at-most\"\nbands = [{ up_to = 6, amount = 0.1 }, { over = 8, amount = 0.3 }]";
    assert_eq!(costs(apart, 8.0), Points::ZERO);
    assert_eq!(costs(apart, 8.1), LARGE);
    // Short by nothing and still not met.
    let below = "target = 20\nside = \"below\"\nbands = [{ amount = 0.1 }]";
    assert_eq!(costs(below, 20.0), SMALL);
    assert_eq!(costs(below, 19.9), Points::ZERO);
}

/// From 12 to 40 short the amount grows from 0.1 to 0.3: by 0.1 in 14, so that 0.15 is reached
/// at 12 + 7 = 19 and 0.25 at 12 + 21 = 33.
#[test]
fn a_reading_near_half_a_step_leaves_both_amounts_open() {
    let keys = "target = 0\nside = \"at-most\"\nbands = [{ up_to = 12, amount = 0 }, \
                { up_to = 40, proportional = { from = 0.1, to = 0.3, grid = 0.1 } }, { amount = 0.5 }]";
    let tenths = |least: i64, most: i64| [Points(100 * least), Points(100 * most)];
    // u = 1 reaches 1.96 to either side.
    assert_eq!(between(keys, 14.5, 1.0), tenths(1, 1));
    assert_eq!(between(keys, 18.0, 1.0), tenths(1, 2));
    assert_eq!(between(keys, 26.0, 1.0), tenths(2, 2));
    assert_eq!(between(keys, 32.0, 1.0), tenths(2, 3));
    assert_eq!(between(keys, 36.0, 1.0), tenths(3, 3));
    assert_eq!(between(keys, 39.0, 1.0), tenths(3, 5));
    assert_eq!(between(keys, 11.0, 1.0), tenths(0, 1));
    // Half a step itself belongs to the larger amount.
    assert_eq!([18.9, 19.0, 32.9, 33.0].map(|value| costs(keys, value).0), [100, 200, 200, 300]);
    let suggested = |value| decision(&read(keys, value, 1.0)).suggested;
    assert_eq!(suggested(18.0), Some(tenths(1, 2)));
}

/// One element of class A is asked for, 0.4 if missing; credit is kept up to 10 off. Nobody can
/// tell: 0.1 for what is off by less, and 0.1 and 0.4 for what is off by more.
#[test]
fn what_nobody_can_tell_reaches_to_the_loss_of_credit() {
    let keys = "target = 0\nside = \"at-most\"\ngates = [\"value-part\"]\ngate_within = 10\n\
                bands = [{ amount = 0.1 }]\n\n[[value_parts]]\nevents = \"beam\"\n\
                need = [{ class = \"a\", count = 1, price = 0.4 }]";
    let sheet = under(keys, |routine| routine.call("line", CallAnswer::CantTell));
    let range = sheet.score_range;
    assert_eq!([range.high, range.low], [points("10.0"), points("9.5")]);
}

const FLAT: &str = "target = 10\nside = \"at-most\"\nbands = [{ amount = 0.3 }]";
const CHOSEN: &str = "target = 10\nside = \"at-most\"\n\
                      bands = [{ up_to = 40, proportional = { from = 0.0, to = 0.4, grid = 0.1 } }, { amount = 0.5 }]";

#[test]
fn it_is_said_what_the_amount_was_taken_for() {
    let reason = |sheet: &ScoreSheet| line(sheet).reason.clone();
    assert_eq!(reason(&read(FLAT, 14.0, 0.0)), "Handstand: 14° stated, 4° short of 10°.");
    let called = under(FLAT, |routine| routine.not_met("line"));
    assert_eq!(reason(&called), "Handstand: called not met, short of 10°.");
    // The reading says that it is met; the call counts.
    let both = under(FLAT, |routine| routine.reads(OffVertical, 8.0, 0.0).not_met("line"));
    assert_eq!(reason(&both), "Handstand: 8° stated; taken as short of 10°.");
    // A gate that nobody has answered counts as missed.
    let gated = format!("gates = [\"value-part\"]\n{FLAT}");
    let waiting = under(&gated, |routine| routine);
    assert_eq!(decision(&waiting).status, None);
    assert!(reason(&waiting).starts_with("Handstand: taken as short of 10°."), "{waiting:?}");
}

#[test]
fn an_amount_is_suggested_only_where_one_is_chosen() {
    assert_eq!(decision(&read(FLAT, 14.0, 0.0)).suggested, None);
    // 20 above 10 of 40: half of 0.4.
    assert_eq!(decision(&read(CHOSEN, 30.0, 0.0)).suggested, Some([Points(200); 2]));
    assert_eq!(decision(&read(CHOSEN, 8.0, 0.0)).suggested, None);
}

#[test]
fn what_was_called_not_met_suggests_what_is_left() {
    let suggested = |with: &dyn Fn(Writer) -> Writer| decision(&under(CHOSEN, with)).suggested;
    let all = Some([Points::ZERO, Points(500)]);
    assert_eq!(suggested(&|r| r.not_met("line")), all);
    // A reading that agrees settles it, one that does not leaves all.
    assert_eq!(
        suggested(&|r| r.reads(OffVertical, 30.0, 0.0).not_met("line")),
        Some([Points(200); 2])
    );
    assert_eq!(suggested(&|r| r.reads(OffVertical, 8.0, 0.0).not_met("line")), all);
    assert_eq!(suggested(&|r| r.met("line")), None);
    let cannot = under(CHOSEN, |r| r.call("line", CallAnswer::CantTell));
    assert_eq!(decision(&cannot).suggested, None);
    assert_eq!(decision(&cannot).status, Some(Status::Close));
}

#[test]
fn what_the_book_says_against_a_chosen_amount_is_said() {
    let taken = |amount| {
        let sheet = under(CHOSEN, |r| r.reads(OffVertical, 30.0, 0.0).fault("line", Some(amount)));
        (line(&sheet).reason.clone(), line(&sheet).amount)
    };
    let chosen = |amount| taken(amount).0;
    let says = |rest: &str| format!("Handstand: {rest}");
    assert_eq!(chosen("0.3"), says("0.3 was chosen; the angle suggests 0.2."));
    assert_eq!(chosen("0.5"), says("0.5 was chosen; the angle suggests 0.2."));
    assert_eq!(
        chosen("0.6"),
        says("0.6 was chosen; the angle suggests 0.2. The book takes at most 0.5.")
    );
    assert_eq!(
        chosen("0.25"),
        says(
            "0.25 was chosen; the angle suggests 0.2. It is not taken: the book chooses in steps of \
             0.1. Choose again."
        )
    );
    assert_eq!(
        chosen("-0.1"),
        says(
            "-0.1 was chosen; the angle suggests 0.2. It is no deduction and is not taken; choose \
             again."
        )
    );
    let amounts = ["0.3", "0.6", "0.25", "-0.1"].map(|amount| taken(amount).1);
    assert_eq!(amounts, [Points(300), Points(500), Points::ZERO, Points::ZERO]);
}

/// Two of leap and jump, one of them a leap; the split of 120 is asked of the leap alone where the
/// rule names it, else of both.
#[test]
fn where_one_of_a_tag_must_meet_an_angle_the_others_serve_without() {
    let missing = |with: &str, leap: f64, jump: f64| {
        let tables = format!(
            "[[angle]]\nid = \"split\"\nlabel = \"Split\"\nevents = \"beam\"\n\
             tags = [\"leap\", \"jump\"]\nquantity = \"split\"\ntarget = 120\n\
             side = \"at-least\"\n\n[[requirement]]\nid = \"two\"\nlabel = \"Two\"\n\
             events = \"beam\"\ntags = [\"leap\", \"jump\"]\ncount = 2\nprice = 0.4\n\
             asks = \"split\"\n{with}\n"
        );
        let routine = write("beam", "low").does(&["leap"]).reads(Split, leap, 0.0);
        let routine = routine.does(&["jump"]).reads(Split, jump, 0.0);
        score(&like_base(&tables), &routine.done()).requirements[0].amount
    };
    assert_eq!(missing("with = \"leap\"", 130.0, 90.0), Points::ZERO);
    assert_eq!(missing("with = \"leap\"", 90.0, 130.0), Points(400));
    assert_eq!(missing("", 130.0, 90.0), Points(400));
    assert_eq!(missing("", 130.0, 130.0), Points::ZERO);
}
