//! Times, bonuses, attempts, limits of the best and books like others, under test book R.

use stillcall::{
    marks::{Sheaf, What},
    rulebook::{ReadBook, Take, read, read_like},
    sheet::{Combined, ScoreSheet, Status, attempts, beside_reference, score},
    units::Points,
};

use crate::books::{
    R,
    ask::{self, but, took},
    book,
    write::{at, lasting, write},
};

fn sheet(sheaf: &Sheaf) -> ScoreSheet {
    ask::sheet(R, sheaf)
}

#[test]
fn a_floor_exercise_under_30_seconds_costs_two_points() {
    // A school programme's rule, stored copy: shorter than 30 s costs 2.00.
    let floor = |ticks: i64| {
        let mut sheaf = write("floor", "one").done();
        sheaf.routine.span = Some([at(90), at(90 + ticks)]);
        took(&sheet(&sheaf), "short")
    };
    assert_eq!(floor(30 * 900), None);
    assert_eq!(floor(30 * 900 - 1), Some(Points(2_000)));
}

#[test]
fn a_fall_on_beam_lasts_10_seconds_at_most() {
    // 10 s on beam (second-hand); that it is void beyond is this test book's own.
    let fall =
        |ticks| sheet(&lasting(write("beam", "one").does(&["roll"]).seen(What::Fall), ticks)).void;
    assert!(!fall(9_000));
    assert!(fall(9_001));
}

#[test]
fn a_pause_over_2_seconds_costs_a_tenth() {
    // More than 2 s: 0.1 (a college programme's rule, stored copy).
    let stop = |ticks| {
        let sheaf = lasting(write("beam", "one").does(&["roll"]).seen(What::Stop), ticks);
        took(&sheet(&sheaf), "pause")
    };
    assert_eq!((stop(1_800), stop(1_801)), (None, Some(Points(100))));
}

#[test]
fn a_hold_is_two_seconds_long() {
    // 2 s (a general-levels rule set, stored copy); the amount is this test book's own.
    let hold =
        |ticks| took(&sheet(&lasting(write("beam", "one").does(&["handstand"]), ticks)), "hold");
    assert_eq!((hold(1_799), hold(1_800)), (Some(Points(300)), None));
    // Marked on one frame it has no length, and none is guessed.
    assert_eq!(took(&sheet(&write("beam", "one").does(&["handstand"]).done()), "hold"), None);
}

#[test]
fn six_elements_and_a_repeat_are_six() {
    // International steps, from memory: 7 or more 0, 5 or 6 4.0, 3 or 4 6.0, 1 or 2 8.0, 0 10.0.
    let off = |elements: &[&str]| {
        took(&sheet(&write("floor", "one").does(elements).done()), "short-exercise")
    };
    let all = ["t1", "t2", "t3", "t4", "t5", "t6", "l1", "l2"];
    assert_eq!(off(&[&all[..6], &["t1"]].concat()), Some(Points(4_000)));
    assert_eq!(off(&all[..7]), None);
    assert_eq!(off(&all[..4]), Some(Points(6_000)));
    assert_eq!(off(&all[..1]), Some(Points(8_000)));
    assert_eq!(off(&[]), Some(Points(10_000)));
}

#[test]
fn of_eight_elements_five_may_be_acrobatic_and_three_places_are_for_dance() {
    // At most 5 acrobatic, at least 3 dance (second-hand): six of 0.4 and two of 0.1 make
    // 5 x 0.4 + 2 x 0.1, and the third place for dance stays empty.
    let all = ["t1", "t2", "t3", "t4", "t5", "t6", "l1", "l2"];
    let sheet = sheet(&write("floor", "one").does(&all).done());
    assert_eq!(sheet.start_value.unwrap(), Points(12_200));
}

#[test]
fn a_dismount_bonus_is_given_unless_she_fell() {
    // 0.20 for a D dismount without a fall (second-hand).
    let dismount = || write("beam", "one").does(&["roll", "walkover", "double"]);
    let clean = sheet(&dismount().fault("rhythm", Some("0.2")).done());
    assert_eq!(took(&clean, "dismount"), Some(Points(-200)));
    assert_eq!(clean.score, Some(Points(10_000)));
    let fallen = sheet(&dismount().seen(What::Fall).done());
    assert_eq!((took(&fallen, "dismount"), fallen.score), (None, Some(Points(9_000))));
}

#[test]
fn the_score_stops_at_its_ceiling_and_the_lines_still_add_up() {
    // 10.0 + 0.2 stops at 10.0 (a national programme caps the total at 10.0, stored copy).
    let sheet = sheet(&write("beam", "one").does(&["roll", "walkover", "double"]).done());
    assert_eq!(sheet.score, Some(Points(10_000)));
    let off: Points = sheet.deductions.iter().map(|line| line.amount).sum();
    assert_eq!(sheet.start_value.unwrap() - off, Points(10_000));
}

#[test]
fn a_slow_series_is_connected_and_costs_its_rhythm() {
    // Slow without a stop: connected, rhythm up to 0.2 (an explanation by a judge, second-hand).
    let slow = write("beam", "one").does(&["roll", "walkover"]).fault("rhythm", Some("0.2"));
    let slow = sheet(&slow.done());
    assert_eq!(slow.requirements[0].status, Status::Met);
    assert_eq!(slow.score, Some(Points(9_800)));
}

#[test]
fn a_handstand_begins_a_series_and_a_jump_ends_it() {
    // A handstand only as the first of a series (a regional notice, stored copy); the jump as the
    // last is the same kind turned round.
    let status = |elements: &[&str]| {
        sheet(&write("beam", "one").does(elements).done()).requirements[0].status
    };
    assert_eq!(status(&["handstand", "roll"]), Status::Met);
    assert_eq!(status(&["roll", "handstand"]), Status::Missed);
    assert_eq!(status(&["roll", "jump"]), Status::Met);
    assert_eq!(status(&["jump", "roll"]), Status::Missed);
}

#[test]
fn a_part_that_counts_nothing_leaves_the_other_part() {
    // Two-part vault 5.0 + 5.0, the first stepped up onto the mat: 0, the second as judged.
    let book = book(R);
    let rule = book.attempts_of("vault", "one").unwrap();
    assert_eq!(attempts(rule, &[None, Some(Points(4_200))]), Some(Points(4_200)));
    assert_eq!(attempts(rule, &[None, None]), None);
    // Best of two, and the mean of two cut after three decimals.
    let take = |take| stillcall::rulebook::Attempts { take, ..rule.clone() };
    let two = [Some(Points(9_101)), Some(Points(9_350))];
    assert_eq!(attempts(&take(Take::Best), &two), Some(Points(9_350)));
    assert_eq!(attempts(&take(Take::Mean), &two), Some(Points(9_225)));
}

#[test]
fn a_panel_too_far_from_the_reference_is_averaged_with_it() {
    // Reference 8.45, panel 8.10: 0.35 is more than 0.30, so (8.45 + 8.10) / 2 = 8.275
    // (international tolerances of 2017 to 2021, second-hand).
    let book = book(R);
    let panel = book.panel_of("beam", "one").unwrap();
    let score = |score| Combined::Score { score: Points(score) };
    assert_eq!(beside_reference(panel, Points(8_100), Points(8_450)), score(8_275));
    assert_eq!(beside_reference(panel, Points(8_150), Points(8_450)), score(8_150));
}

#[test]
fn an_omitted_element_costs_its_worth_and_its_place() {
    // 0.5 + 2.00 = 2.50 (a national development programme, stored copy): a value part and a
    // requirement are missing.
    let text = R.replace(
        "[[fault]]",
        "[[value_parts]]\nevents = \"vault\"\nneed = [{ class = \"a\", count = 1, price = 0.5 }]\n\n\
         [[requirement]]\nid = \"roll\"\nlabel = \"Roll\"\nevents = \"vault\"\nprice = 2.0\n\
         tags = \"forward\"\n\n[[fault]]",
    );
    let sheet = score(&book(&text), &write("vault", "one").done());
    assert_eq!(Points(10_000) - sheet.start_value.unwrap(), Points(2_500));
}

/// Returns a book that is like R, with these lines after its head.
fn like_r(rest: &str) -> ReadBook {
    let text = format!("[book]\nid = \"s\"\ntitle = \"S\"\nedition = \"2\"\nlike = \"r\"\n{rest}");
    read_like(&text, "s.toml", &|name| (name == "r").then(|| R.to_owned()))
}

#[test]
fn a_book_is_like_another_except_for_what_it_says() {
    let changed = "\
without = [\"dismount\"]

[[when]]
id = \"fall\"
label = \"Fall\"
mark = \"fall\"
amount = 0.6

[[element]]
id = \"scale\"
name = \"Scale\"
event = \"beam\"
class = \"a\"
";
    let (s, _) = like_r(changed).unwrap();
    let r = book(R);
    assert_eq!((s.id.as_str(), s.edition.as_str()), ("s", "2"));
    assert_eq!(s.elements.len(), r.elements.len() + 1);
    assert_eq!(s.whens.len(), 1);
    assert!(s.bonuses.is_empty());
    let fallen = write("beam", "one").does(&["roll", "walkover", "double"]).seen(What::Fall);
    assert_eq!(score(&s, &fallen.done()).score, Some(Points(9_400)));
}

#[test]
fn what_is_left_out_together_with_all_that_names_it_is_no_error() {
    // The bonus names the fall, which takes it away.
    let (s, _) = like_r("without = [\"fall\", \"dismount\"]\n").unwrap();
    assert!(s.whens.is_empty() && s.bonuses.is_empty());
}

#[test]
fn the_hash_of_a_book_changes_with_the_one_it_is_like() {
    let text = "[book]\nid = \"s\"\ntitle = \"S\"\nedition = \"2\"\nlike = \"r\"\n";
    let hash = |base: String| read_like(text, "s", &|_| Some(base.clone())).unwrap().0.hash;
    assert_ne!(hash(R.to_owned()), hash(R.replace("amount = 1.0", "amount = 0.9")));
}

#[test]
fn what_is_wrong_about_being_like_another_is_said_at_its_line() {
    let message = |found: ReadBook| {
        let errors = found.unwrap_err();
        (errors[0].line, errors[0].message.clone())
    };
    let head = "[book]\nid = \"s\"\ntitle = \"S\"\nedition = \"2\"\nlike = \"r\"\n";
    assert_eq!(message(read(head, "s")), (5, "there is no rule book \"r\"".to_owned()));
    let itself = read_like(head, "s", &|_| Some(head.to_owned()));
    let ring = "this book is like itself in the end: \"r\" like \"r\"";
    assert_eq!(message(itself), (5, ring.to_owned()));
    let broken = read_like(head, "s", &|_| Some("[book]\nid = 1".to_owned()));
    assert_eq!(message(broken), (5, "the book \"r\" has errors of its own".to_owned()));
    let without = like_r("without = [\"dismuont\"]\n");
    assert_eq!(message(without), (6, "unknown id \"dismuont\"".to_owned()));
    // What still names what was left out is an error, not a rule that silently does nothing.
    let fall = like_r("without = [\"fall\"]\n");
    assert_eq!(message(fall), (5, "unknown rule \"fall\"".to_owned()));
}

#[test]
fn what_does_not_fit_the_new_kinds_is_an_error() {
    for (old, new, said) in [
        ("at_least = 30\n", "", "one of the keys at_least and at_most is missing"),
        ("at_least = 30", "at_least = \"thirty\"", "unknown number \"thirty\""),
        ("at_most = 10\n", "at_most = -10\n", "a time is not negative"),
        (
            "of = \"fall\"",
            "of = \"fall\"\ntags = \"hold\"",
            "\"tags\" says nothing about the time of \"fall\"",
        ),
        ("{ below = 5, amount = 6.0 }", "{ below = 8, amount = 6.0 }", "the steps do not go down"),
        (
            "tags = \"high-dismount\"\namount",
            "amount",
            "one of the keys elements, tags and fact is missing",
        ),
        ("take = \"sum\"", "take = \"total\"", "unknown word \"total\""),
        ("unless = \"fall\"", "unless = \"fal\"", "unknown rule \"fal\""),
        (
            "ceiling = 10.0",
            "ceiling = 10.0\nlimits = [{ tags = \"acro\", at_most = 5 }]",
            "limits belong to a score that adds elements up",
        ),
        ("only_first = \"handstand\"", "only_first = \"headstand\"", "unknown tag \"headstand\""),
        ("beyond = \"average\"", "beyond = \"avrage\"", "unknown word \"avrage\""),
    ] {
        ask::error(&but(R, old, new), said);
    }
}
