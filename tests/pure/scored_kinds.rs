//! What the newer kinds of rule bring, each under its example book. Where a test names no source,
//! the amounts are the example's own and the rule is common practice, no source.

use stillcall::{
    marks::{
        Facing::Away,
        LandingOn::Feet,
        Quantity::{Split, Turn},
        Sheaf, What,
    },
    rulebook::{BonusLimit, Book},
    sheet::{Combined, ScoreSheet, Status, combine, score},
    units::Points,
};

use crate::books::{
    ask::{example, off, points, took},
    write::{Writer, lasting, write},
};

fn under(book: &str, writer: Writer) -> ScoreSheet {
    score(&example(book), &writer.done())
}

#[test]
fn a_compulsory_routine_is_held_against_its_text() {
    // What is left out costs an amount and a multiple of its worth, what is added costs an amount
    // (compulsory texts of two programmes, second-hand and a stored copy): 0.5 + 2 x 0.1 here.
    let text = ["kip", "cast", "hip-circle", "circle-dismount"];
    let costs = |elements: &[&str]| {
        took(&under("compulsory", write("bars", "low").does(elements)), "bars-text")
    };
    assert_eq!(costs(&text), None);
    assert_eq!(costs(&["kip", "hip-circle", "circle-dismount"]), Some(points("0.7")));
    assert_eq!(costs(&[&text[..], &["sole-circle"]].concat()), Some(points("0.3")));
    assert_eq!(costs(&["kip", "hip-circle", "cast", "circle-dismount"]), Some(points("0.1")));
    // Four elements: 4 x 0.5 and twice 0.3 + 3 x 0.1.
    assert_eq!(costs(&[]), Some(points("3.2")));
}

#[test]
fn half_of_an_elements_worth_is_taken() {
    // Half the value of an element (compulsory text errors, second-hand).
    let half = under("compulsory", write("bars", "low").does(&["kip"]).fault("half-done", None));
    assert_eq!(took(&half, "half-done"), Some(points("0.15")));
}

#[test]
fn what_is_neutral_is_not_halved() {
    // Start value minus half of the execution minus what is neutral (a schools' programme, stored
    // copy): 10.0 - 0.8 / 2 - 0.5.
    let mut sheaf = write("bars", "low").does(&["kip"]).seen(What::Fall).done();
    sheaf.routine.facts.insert("signal".into(), "none".into());
    let sheet = score(&example("neutral"), &sheaf);
    assert_eq!(sheet.score, Some(points("9.1")));
    assert_eq!(sheet.start_value.unwrap() - off(&sheet), points("9.1"));
}

#[test]
fn each_phase_of_a_vault_has_its_own_limit() {
    // Up to 0.3 in each phase (a development programme, second-hand).
    let pike = |writer: Writer, amount| writer.fault("pike", Some(amount));
    let first = pike(pike(write("vault", "low"), "0.3"), "0.2").hands(0);
    let sheet = under("phases", pike(first.seen(What::HandRelease), "0.3").lands(Feet, Away, 0));
    assert_eq!(off(&sheet), points("0.6"));
    let head = |writer: Writer| writer.fault("head", None).fault("head", None);
    let twice = head(head(write("vault", "low")).hands(0)).lands(Feet, Away, 0);
    assert_eq!(off(&under("phases", twice)), points("0.2"));
}

#[test]
fn an_element_costs_at_most_its_worth_and_a_half() {
    // Execution of one element at most its value + 0.5 (compulsory general faults, second-hand).
    let fallen = |element| {
        let writer = write("bars", "low").does(&[element]).fault("legs", Some("0.3"));
        off(&under("cap-per-element", writer.seen(What::Fall)))
    };
    assert_eq!((fallen("kip"), fallen("cast")), (points("0.8"), points("0.6")));
}

#[test]
fn mats_outside_their_window_cost() {
    // 0.3 where the stack is not within 2 of 8 inches (a regional notice, stored copy); in cm here.
    let mats = |height: &str| {
        let mut sheaf = write("vault", "low").hands(0).lands(Feet, Away, 0).done();
        sheaf.routine.facts.insert("mat".into(), height.into());
        took(&score(&example("equipment"), &sheaf), "mat-height")
    };
    assert_eq!(["14.9", "25.1"].map(mats), [Some(points("0.3")); 2]);
    assert_eq!(["15", "20", "25", "soft"].map(mats), [None; 4]);
}

#[test]
fn a_hold_that_is_too_short_loses_its_credit() {
    let held = |ticks| {
        let sheaf = lasting(write("beam", "low").does(&["handstand"]), ticks);
        let sheet = score(&example("hold"), &sheaf);
        (off(&sheet), sheet.elements[0].reason.contains("takes its credit"))
    };
    assert_eq!(held(1_800), (points("0.0"), false));
    assert_eq!(held(900), (points("0.1"), false));
    assert_eq!(held(899), (points("0.1"), true));
}

#[test]
fn of_seven_judges_the_middle_three_count() {
    // Mean of the middle three of seven (international panels from 2022, second-hand).
    let book = example("panel");
    let panel = book.panel_of("beam", "low").unwrap();
    let of = |scores: &[i64]| {
        combine(panel, &scores.iter().map(|score| Some(Points(*score))).collect::<Vec<_>>())
    };
    let seven = [7_000, 7_900, 8_200, 8_300, 8_400, 8_800, 9_900];
    assert_eq!(of(&seven), Combined::Score { score: Points(8_300) });
    // Of six no three lie in the middle.
    assert_eq!(of(&seven[..6]), Combined::TooFew);
}

#[test]
fn judges_too_far_apart_are_averaged_with_those_left_out() {
    // If the middle two of four differ by too much, the mean of all counts (rules of a sister
    // discipline, stored copy): (7.0 + 8.0 + 8.6 + 9.0) / 4.
    let book = example("panel");
    let panel = book.panel_of("bars", "low").unwrap();
    let four = [7_000, 8_000, 8_600, 9_000].map(|score| Some(Points(score)));
    assert_eq!(combine(panel, &four), Combined::Score { score: Points(8_150) });
}

#[test]
fn the_same_element_counts_again_in_another_connection() {
    // Twice at most, if in another connection (course slides of a programme, second-hand).
    let counted = |elements: &[&str]| -> Vec<bool> {
        let sheet = under("same-again", write("bars", "low").does(elements));
        let casts = sheet.elements.iter().filter(|line| line.element == "cast");
        casts.map(|line| !line.reason.contains("counted before")).collect()
    };
    assert_eq!(counted(&["kip", "cast", "hip-circle", "cast", "sole-circle"]), [true, true]);
    let same = ["kip", "cast", "hip-circle", "kip", "cast", "hip-circle"];
    assert_eq!(counted(&same), [true, false]);
    assert_eq!(counted(&["cast", "kip", "cast", "hip-circle", "cast"]), [true, true, false]);
    // The same before and another after, and the other way round.
    assert_eq!(counted(&["kip", "cast", "hip-circle", "kip", "cast", "sole-circle"]), [true; 2]);
    assert_eq!(counted(&["hip-circle", "cast", "kip", "sole-circle", "cast", "kip"]), [true; 2]);
}

#[test]
fn an_element_far_too_hard_voids_and_a_selected_one_is_allowed() {
    // An element of a class far above voids the exercise (a state programme, second-hand);
    // selected elements of a higher class are allowed (a provincial chart, stored copy).
    let salto = |division| under("forbidden", write("floor", division).does(&["salto"])).void;
    assert!(salto("low") && !salto("high"));
    let bars = under("forbidden", write("bars", "low").does(&["kip"]));
    assert_eq!(bars.deductions, []);
    let beam = under("forbidden", write("beam", "low").does(&["full-turn"]));
    assert_eq!(took(&beam, "not-allowed"), Some(points("0.5")));
}

#[test]
fn an_angle_is_rounded_first_where_the_book_says_so() {
    // Printed tables with whole degrees, "1 to 20" and "21 to 45", leave a gap at 20.5; rounded
    // to whole degrees first it is 21 short, halves of the angle up: 159.5 is 160.
    let split = |degrees| {
        let writer = write("beam", "low").does(&["leap"]).reads(Split, degrees, 0.0);
        off(&under("angle-bands", writer))
    };
    assert_eq!((split(159.5), split(159.4)), (points("0.1"), points("0.3")));
    assert_eq!((split(179.5), split(179.4)), (points("0.0"), points("0.1")));
    assert_eq!((split(134.5), split(134.4)), (points("0.3"), points("0.5")));
}

#[test]
fn a_rounded_angle_near_its_edge_is_a_close_call() {
    let near = write("beam", "low").does(&["leap"]).reads(Split, 159.6, 0.3);
    let range = under("angle-bands", near).score_range;
    assert_eq!((range.low, range.high), (points("9.7"), points("9.9")));
}

#[test]
fn a_turn_read_after_the_first_heel_drop_is_told() {
    // The dropped heel ends the turn (from memory).
    let said = |writer: Writer| {
        let sheet = under("turn", writer);
        sheet.remarks.iter().any(|line| line.reason.contains("the first heel drop ends the turn"))
    };
    let turn = || write("beam", "low").does(&["half-turn"]);
    assert!(!said(turn().reads(Turn, 180.0, 0.0).seen(What::HeelDrop)));
    assert!(said(turn().seen(What::HeelDrop).reads(Turn, 180.0, 0.0).seen(What::HeelDrop)));
}

#[test]
fn a_connection_adds_to_the_score_as_often_as_it_may() {
    // 0.1 or 0.2 for a connection in its order (international code, stored copy).
    let adds = |writer: Writer| took(&under("place-in-series", writer), "flight-to-dance");
    let floor = |elements: &[&str]| write("floor", "low").does(elements);
    assert_eq!(adds(floor(&["round-off", "split-leap"])), Some(points("-0.1")));
    assert_eq!(adds(floor(&["split-leap", "round-off"])), None);
    assert_eq!(adds(floor(&["round-off"]).seen(What::Stop).does(&["hop"])), None);
    let thrice = ["round-off", "hop", "salto", "split-leap", "handspring", "hop"];
    assert_eq!(adds(floor(&thrice)), Some(points("-0.2")));
}

/// 0.3 for the wheel, 0.2 for the turn, and 0.2 for the leap after it: 0.7, and at most 0.6 counts.
#[test]
fn bonuses_together_stop_at_their_limit() {
    let beam = |elements: &[&str]| under("bonus-limit", write("beam", "low").does(elements));
    let sheet = beam(&["wheel", "full-turn", "leap"]);
    let line = sheet.deductions.iter().find(|line| line.rule == "up-to-ten").unwrap();
    assert_eq!(line.amount, points("0.1"));
    assert_eq!(line.reason, "Together they add 0.7, and at most 0.6 counts.");
    assert_eq!(sheet.start_value.unwrap() - off(&sheet), points("10.0"));
    assert_eq!(sheet.score, Some(points("10.0")));
    // 0.5 is within it, and nothing is said.
    assert_eq!(took(&beam(&["wheel", "full-turn"]), "up-to-ten"), None);
}

/// 0.3 added; limits of 0.2 and 0.1, the second lower: 10.0 + 0.1.
#[test]
fn of_several_limits_on_bonuses_the_lowest_holds() {
    let mut book = example("bonus-limit");
    let limit = book.bonus_limits[0].clone();
    let with = |id: &str, most: &str| BonusLimit {
        id: id.to_owned(),
        at_most: points(most),
        ..limit.clone()
    };
    book.bonus_limits = vec![with("wide", "0.2"), with("narrow", "0.1")];
    let sheet = score(&book, &write("beam", "low").does(&["wheel"]).done());
    assert_eq!((took(&sheet, "wide"), took(&sheet, "narrow")), (None, Some(points("0.2"))));
    assert_eq!(sheet.score, Some(points("9.5")));
    // Just as much as the limit is within it, and nothing is said.
    book.bonus_limits = vec![with("just", "0.3")];
    let sheet = score(&book, &write("beam", "low").does(&["wheel"]).done());
    assert_eq!((took(&sheet, "just"), sheet.score), (None, Some(points("9.7"))));
}

#[test]
fn two_vaults_of_different_direction_earn_their_bonus() {
    // 0.2 where the two vaults land in different directions (a draft of 2025, second-hand).
    let vault = |directions: &str| -> Sheaf {
        let mut sheaf = write("vault", "low").hands(0).lands(Feet, Away, 0).done();
        sheaf.routine.facts.insert("directions".into(), directions.into());
        sheaf
    };
    let adds = |sheaf: &Sheaf| took(&score(&example("bonus"), sheaf), "two-directions");
    assert_eq!(adds(&vault("different")), Some(points("-0.2")));
    assert_eq!(adds(&vault("same")), None);
}

#[test]
fn elements_and_requirements_together_stop_at_their_limit() {
    // Difficulty at most 4.0 (national grades, stored copy).
    let mut book: Book = example("floor-and-ceiling");
    let routine = write("floor", "low").does(&["salto", "handspring"]).done();
    assert_eq!(score(&book, &routine).start_value.unwrap(), points("10.4"));
    for class in &mut book.classes {
        class.value = points("3.0");
    }
    assert_eq!(score(&book, &routine).start_value.unwrap(), points("14.0"));
}

#[test]
fn a_fault_that_voids_leaves_no_score() {
    let vault = |writer: Writer| under("void", writer.hands(0).lands(Feet, Away, 0));
    let void = vault(write("vault", "low").fault("not-through-vertical", None));
    assert_eq!((void.score, void.void_reasons[0].rule.as_str()), (None, "not-through-vertical"));
    assert!(vault(write("vault", "low")).score.is_some());
}

#[test]
fn only_the_first_step_over_the_line_counts() {
    // One foot 0.1, both 0.3 (international code, second-hand); only the first contact counts.
    let line = |writer: Writer, amount| writer.fault("line", Some(amount));
    let over = line(line(write("floor", "low").does(&["salto"]), "0.1"), "0.3");
    assert_eq!(off(&under("boundary", over)), points("0.1"));
}

#[test]
fn a_dismount_is_not_the_circle_that_is_asked_for() {
    // Mount and dismount do not count as the circle (a programme's page, second-hand).
    let circle = |elements: &[&str]| {
        under("exclusions", write("bars", "low").does(elements)).requirements[0].status
    };
    assert_eq!(circle(&["circle-dismount"]), Status::Missed);
    assert_eq!(circle(&["hip-circle", "circle-dismount"]), Status::Met);
}

#[test]
fn two_of_three_groups_are_asked_for() {
    // "2 of 3 groups: miss one 0.1, miss both 0.2" (flashcards of a programme, second-hand).
    let costs = |elements: &[&str]| {
        let sheet = under("some-of-several", write("beam", "low").does(elements));
        sheet.requirements[0].amount
    };
    assert_eq!(costs(&["roll", "walkover"]), points("0.0"));
    assert_eq!(costs(&["roll", "handstand"]), points("0.1"));
    assert_eq!(costs(&[]), points("0.2"));
}

#[test]
fn one_leap_of_the_passage_must_have_its_split() {
    // Two dance elements, one a leap of at least 120 degrees; an element between breaks the
    // passage (requirements of a programme's floor chapter, stored copy).
    let passage = |writer: Writer| under("all-in-one-passage", writer).requirements[0].status;
    let floor = || write("floor", "low");
    let leap = |degrees| floor().does(&["split-leap"]).reads(Split, degrees, 0.0);
    assert_eq!(passage(leap(120.0).does(&["hop"])), Status::Met);
    assert_eq!(passage(leap(119.0).does(&["hop"])), Status::Missed);
    assert_eq!(passage(floor().does(&["hop", "salto"])), Status::Missed);
    assert_eq!(passage(leap(150.0).does(&["salto", "hop"])), Status::Missed);
}

#[test]
fn one_pass_does_not_serve_for_two_nor_does_the_same_pass_again() {
    // Two different passes; a single pass may not serve both (stored copy); passes of the same
    // elements are the same pass (a regional notice, second-hand).
    let met = |elements: &[&str]| -> Vec<bool> {
        let mut writer = write("floor", "low");
        for element in elements {
            writer = match *element {
                "stop" => writer.seen(What::Stop),
                element => writer.does(&[element]),
            };
        }
        let sheet = under("different-passes", writer);
        sheet.requirements.iter().map(|line| line.status == Status::Met).collect()
    };
    let (pass, other) = (["round-off", "handspring"], ["round-off", "salto"]);
    let two = |a: &[&'static str], b: &[&'static str]| met(&[a, &["stop"], b].concat());
    assert_eq!(two(&pass, &other), [true, true]);
    assert_eq!(two(&pass, &pass), [true, false]);
    assert_eq!(met(&pass), [true, false]);
    // Three in a row are one pass of three, not two passes of two.
    assert_eq!(met(&["round-off", "handspring", "salto"]), [true, false]);
}

#[test]
fn steps_may_stand_between_and_time_may_not() {
    // Direct or with running steps (international code, second-hand); the longest time between
    // is this example's own.
    let passage = |writer: Writer| under("series", writer).requirements[0].status;
    let floor = || write("floor", "low").does(&["split-leap"]);
    assert_eq!(passage(floor().does(&["running-steps", "hop"])), Status::Met);
    assert_eq!(passage(floor().does(&["salto", "hop"])), Status::Missed);
    assert_eq!(passage(floor().seen(What::Swing).does(&["hop"])), Status::Met);
    assert_eq!(passage(floor().seen(What::Fall).does(&["hop"])), Status::Missed);
    // Marks stand a third of a second apart: 1.333 s is still within 1.5 s, 1.667 s is not.
    let noted =
        |count| (0..count).fold(floor(), |writer, _| writer.seen(What::Note)).does(&["hop"]);
    assert_eq!((passage(noted(3)), passage(noted(4))), (Status::Met, Status::Missed));
}

#[test]
fn a_dismount_comes_last() {
    let last = |elements: &[&str]| {
        under("order", write("bars", "low").does(elements)).requirements[0].status
    };
    assert_eq!(last(&["cast", "circle-dismount"]), Status::Met);
    assert_eq!(last(&["circle-dismount", "cast"]), Status::Missed);
}
