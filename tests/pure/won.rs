//! What each way of winning back changes, call by call, and what it then wins. Books and amounts
//! are invented; every score is worked out by hand.

use stillcall::{
    marks::{
        CallAnswer::{self, Met, NotMet},
        Quantity::{Bend, OffVertical, Split},
        Sheaf, What,
    },
    report::score_sheet,
    rulebook::Book,
    sheet::{Skills, WinBack, score, score_with},
    units::Points,
};

use crate::books::{
    ask::{like_base, like_base_with, points},
    write::{Writer, write},
};

fn ways(book: &Book, sheaf: &Sheaf, list: &str) -> Vec<WinBack> {
    let skills = Skills::read(list, "list").unwrap();
    score_with(book, sheaf, Some(&skills)).win_back
}

fn said(ways: &[WinBack]) -> Vec<&str> {
    ways.iter().map(|way| way.change.strip_suffix('.').unwrap()).collect()
}

/// The calls of a changed routine: mark, rule, answer.
fn calls(way: &WinBack) -> Vec<(u64, &str, CallAnswer)> {
    way.changed.calls.iter().map(|call| (call.of.0, call.asks.as_str(), call.answer)).collect()
}

/// An angle rule of these elements of the beam that costs so much when missed.
fn rule(id: &str, elements: &str, quantity: &str, cost: &str) -> String {
    format!(
        "[[angle]]\nid = \"{id}\"\nlabel = \"{id}\"\nevents = \"beam\"\nelements = [{elements}]\n\
         quantity = \"{quantity}\"\ntarget = 10\nside = \"at-most\"\n\
         bands = [{{ amount = {cost} }}]\n\n"
    )
}

#[test]
fn one_angle_is_reached_and_every_other_call_stands() {
    let book = like_base(
        &(rule("line", "\"handstand\", \"roll\"", "off-vertical", "0.3")
            + &rule("bent", "\"handstand\"", "bend", "0.2")),
    );
    let missed = |routine: Writer| routine.does(&["handstand"]).not_met("line").not_met("bent");
    let sheaf = missed(write("beam", "low")).does(&["roll"]).not_met("line").done();
    let found = ways(&book, &sheaf, "has = []");
    assert_eq!(
        said(&found),
        [
            "Handstand: reach \"line\", at most 10°",
            "Handstand: reach \"bent\", at most 10°",
            "Roll: reach \"line\", at most 10°",
        ]
    );
    // 10.0 - 0.3 - 0.2 - 0.3 as it is.
    let scores: Vec<i64> = found.iter().map(|way| way.score.unwrap().0).collect();
    assert_eq!(scores, [9_500, 9_400, 9_500]);
    assert_eq!(calls(&found[0]), [(1, "bent", NotMet), (4, "line", NotMet), (1, "line", Met)]);
    assert_eq!(calls(&found[2]), [(1, "line", NotMet), (1, "bent", NotMet), (4, "line", Met)]);
    let wins: Vec<&str> = found.iter().flat_map(|way| &way.wins).map(String::as_str).collect();
    assert_eq!(wins, ["no line", "no bent", "no line"]);
    let printed = "Start value 10.000, score 9.500. Wins no line.";
    assert!(score_sheet(&score_with(&book, &sheaf, None)).html().contains(printed));
}

#[test]
fn an_element_in_the_place_of_another_is_shown_as_asked_and_nothing_else_changes() {
    // The division may not use class B.
    let division = "[[division]]\nid = \"low\"\nname = \"Low\"\nhighest_class = \"a\"\n\n\
                    [[scoring]]\nformula = \"start-minus\"\nstart = 10.0\nnot_allowed = \"amount\"\n\
                    not_allowed_amount = 0.5\n\n";
    let book = like_base(
        &(division.to_owned()
            + &rule("line", "\"half-turn\", \"handstand\"", "off-vertical", "0.3")
            + &rule("bent", "\"handstand\", \"full-turn\"", "bend", "0.2")),
    );
    let routine = write("beam", "low").does(&["handstand"]).reads(OffVertical, 14.0, 0.0);
    let routine = routine.not_met("bent").does(&["full-turn"]).reads(Bend, 5.0, 0.0).met("bent");
    let sheaf = routine.fault("feet", None).done();
    let found = ways(&book, &sheaf, "has = [\"half-turn\", \"leap\"]");
    let way = found.iter().find(|way| way.change.starts_with("Replace")).unwrap();
    assert_eq!(way.change, "Replace Full turn, which this division may not use, by Leap.");
    let way = &ways(&book, &sheaf, "has = [\"half-turn\"]")
        .into_iter()
        .find(|way| way.change.contains("by Half turn."))
        .unwrap();
    // 10.0 - 0.3 - 0.2 - 0.1 without the 0.5.
    assert_eq!(way.score, Some(points("9.4")));
    assert_eq!(calls(way), [(1, "bent", NotMet), (4, "line", Met)]);
    // What can be replaced is not left out as well.
    assert!(!found.iter().any(|way| way.change.starts_with("Leave out Full turn")), "{found:?}");
    let readings: Vec<u64> = way.changed.readings.iter().map(|reading| reading.of.0).collect();
    assert_eq!(readings, [1]);
    let element = |id: u64| match &way.changed.marks.iter().find(|mark| mark.id.0 == id)?.what {
        What::Element { element } => Some(element.clone()),
        _ => None,
    };
    assert_eq!((element(1), element(4)), (Some("handstand".into()), Some("half-turn".into())));
    assert_eq!(way.changed.marks.len(), sheaf.marks.len());
}

#[test]
fn an_element_that_is_added_is_shown_as_asked() {
    let book = like_base(
        &(rule("line", "\"handstand\"", "off-vertical", "0.3")
            .replace("bands", "gates = [\"value-part\"]\nbands")
            + "[[value_parts]]\nevents = \"beam\"\n\
             need = [{ class = \"a\", count = 2, price = 0.4 }]\n"),
    );
    let sheaf = write("beam", "low").does(&["roll"]).reads(Split, 90.0, 0.0).done();
    let found = ways(&book, &sheaf, "has = [\"handstand\"]");
    assert_eq!(said(&found), ["Add Handstand"]);
    assert_eq!((found[0].start_value, found[0].score), (points("10.0"), Some(points("10.0"))));
    assert_eq!(found[0].wins, ["value part, A"]);
    assert_eq!(calls(&found[0]), [(3, "line", Met)]);
    // The changed routine scores what was promised.
    assert_eq!(score(&book, &found[0].changed).score, found[0].score);
    assert_eq!(Points(400), found[0].start_value - score(&book, &sheaf).start_value.unwrap());
}

#[test]
fn a_missing_part_is_filled_by_its_own_class_or_by_a_higher_one_where_it_may() {
    let added = |need: &str, replaces: bool, has: &str| -> Vec<String> {
        let book = like_base(&format!(
            "[[value_parts]]\nevents = \"bars\"\nhigher_replaces = {replaces}\n\
             need = [{{ class = \"{need}\", count = 1, price = 0.3 }}]\n"
        ));
        let found = ways(&book, &write("bars", "low").done(), &format!("has = [{has}]"));
        said(&found).into_iter().map(str::to_owned).collect()
    };
    assert_eq!(added("a", false, "\"cast\""), ["Add Cast"]);
    assert_eq!(added("a", true, "\"kip\""), ["Add Kip"]);
    assert_eq!(added("a", false, "\"kip\""), [""; 0]);
    assert_eq!(added("b", true, "\"cast\""), [""; 0]);
}

#[test]
fn an_element_is_put_beside_its_like_only_where_they_must_follow_one_another() {
    let added = |connected: bool| -> Vec<String> {
        let book = like_base(&format!(
            "[[requirement]]\nid = \"two\"\nlabel = \"Two\"\nevents = \"floor\"\nprice = 0.5\n\
             tags = \"dance\"\ncount = 2\nconnected = {connected}\n"
        ));
        let sheaf = write("floor", "low").does(&["hop", "salto"]).done();
        let found = ways(&book, &sheaf, "has = [\"split-leap\"]");
        said(&found).into_iter().map(str::to_owned).collect()
    };
    assert_eq!(added(false), ["Add Split leap"]);
    assert_eq!(added(true), ["Add Split leap directly after Hop"]);
}

#[test]
fn what_is_tried_for_one_part_must_win_that_part() {
    // A full turn would fill a lower place too, but here fills its own; the handstand fills the
    // lower one.
    let book = like_base(
        "[[value_parts]]\nevents = \"beam\"\nhigher_replaces = true\n\
         need = [{ class = \"a\", count = 1, price = 0.1 }, \
         { class = \"b\", count = 1, price = 0.3 }]\n",
    );
    let sheaf = write("beam", "low").done();
    let found = ways(&book, &sheaf, "has = [\"full-turn\", \"handstand\"]");
    assert_eq!(said(&found), ["Add Handstand", "Add Full turn"]);
}

#[test]
fn nothing_is_won_back_at_the_cost_of_the_start_value() {
    // A leap that misses its split counts as a jump. Of two leaps one misses it: a leap and a
    // jump fill both places, and the band takes 0.5. With the split there would be one leap twice:
    // a place empty at 0.4, and a score of 9.6 in the place of 9.5.
    let book = like_base(
        "[[element]]\nid = \"leap\"\nname = \"Leap\"\nevent = \"beam\"\nclass = \"a\"\n\
         becomes = \"jump\"\n\n\
         [[angle]]\nid = \"split\"\nlabel = \"Split\"\nevents = \"beam\"\nelements = \"leap\"\n\
         quantity = \"split\"\ntarget = 90\nside = \"at-least\"\ngates = [\"value-part\"]\n\
         bands = [{ amount = 0.5 }]\n\n\
         [[value_parts]]\nevents = \"beam\"\nneed = [{ class = \"a\", count = 2, price = 0.4 }]\n",
    );
    let missed = |routine: Writer| routine.does(&["leap"]).not_met("split");
    let alone = missed(write("beam", "low")).done();
    assert_eq!(said(&ways(&book, &alone, "has = []")), ["Leap: reach \"Split\", at least 90°"]);
    let sheaf = missed(write("beam", "low").does(&["leap"]).met("split")).done();
    let sheet = score(&book, &sheaf);
    assert_eq!((sheet.start_value.unwrap(), sheet.score), (points("10.0"), Some(points("9.5"))));
    assert_eq!(said(&ways(&book, &sheaf, "has = []")), [""; 0]);
}

#[test]
fn two_angles_are_reached_together_where_one_alone_wins_nothing() {
    let gated = |id: &str, quantity: &str| {
        rule(id, "\"handstand\"", quantity, "0.0")
            .replace("bands", "gates = [\"value-part\"]\nbands")
    };
    let book = like_base(
        &(gated("line", "off-vertical")
            + &gated("bent", "bend")
            + &gated("lean", "trunk")
            + "[[value_parts]]\nevents = \"beam\"\nneed = [{ class = \"a\", count = 1, price = 0.4 }]\n"),
    );
    let handstand = || write("beam", "low").does(&["handstand"]);
    let both = handstand().not_met("line").not_met("bent").met("lean").done();
    let found = ways(&book, &both, "has = []");
    assert_eq!(said(&found), ["Handstand: reach \"line\", at most 10° and \"bent\", at most 10°"]);
    assert_eq!(calls(&found[0]), [(1, "lean", Met), (1, "line", Met), (1, "bent", Met)]);
    let one = handstand().not_met("line").met("bent").met("lean").done();
    assert_eq!(said(&ways(&book, &one, "has = []")), ["Handstand: reach \"line\", at most 10°"]);
}

#[test]
fn a_void_exercise_may_still_win_back_its_start_value() {
    let book = like_base(
        "[[fault]]\nid = \"off\"\nlabel = \"Off\"\nvoid = true\n\n\
         [[value_parts]]\nevents = \"beam\"\nneed = [{ class = \"a\", count = 1, price = 0.4 }]\n",
    );
    let sheaf = write("beam", "low").fault("off", None).done();
    let found = ways(&book, &sheaf, "has = [\"handstand\"]");
    assert_eq!(said(&found), ["Add Handstand"]);
    assert_eq!((found[0].start_value, found[0].score), (points("10.0"), None));
    let skills = Skills::read("has = [\"handstand\"]", "list").unwrap();
    let printed = "Start value 10.000, score void. Wins value part, A.";
    assert!(score_sheet(&score_with(&book, &sheaf, Some(&skills))).html().contains(printed));
}

#[test]
fn one_swing_that_two_rules_count_is_left_out_once() {
    let when = |id: &str, amount: &str| {
        format!(
            "[[when]]\nid = \"{id}\"\nlabel = \"{id}\"\nevents = \"bars\"\nmark = \"swing\"\n\
             amount = {amount}\n\n"
        )
    };
    let book = like_base(&(when("Swing", "0.3") + &when("Rhythm", "0.1")));
    let sheaf = write("bars", "low").does(&["kip"]).seen(What::Swing).done();
    let found = ways(&book, &sheaf, "has = []");
    assert_eq!(said(&found), ["Leave out \"Swing\". It follows Kip"]);
    assert_eq!((found[0].score, found[0].changed.marks.len()), (Some(points("10.0")), 1));
}

#[test]
fn each_angle_is_said_with_its_own_side_and_only_missed_ones_are() {
    let least = rule("wide", "\"leap\"", "split", "0.1").replace("at-most", "at-least");
    let book = like_base(&(rule("high", "\"leap\"", "kick", "0.2") + &least));
    let leap = write("beam", "low").does(&["leap"]);
    let both = leap.not_met("wide").not_met("high").done();
    assert_eq!(
        said(&ways(&book, &both, "has = []")),
        ["Leap: reach \"high\", at most 10°", "Leap: reach \"wide\", at least 10°"]
    );
    let open = write("beam", "low").does(&["leap"]).met("high").call("wide", CallAnswer::CantTell);
    assert_eq!(said(&ways(&book, &open.done(), "has = []")), [""; 0]);
}

#[test]
fn what_a_close_reading_cost_as_measured_is_won_back_by_reaching_it() {
    // 12 of 2 to 22 where at most 10 is asked for: as measured it costs 0.3.
    let tables = rule("line", "\"handstand\"", "off-vertical", "0.3");
    let sheaf = write("beam", "low").does(&["handstand"]).reads(OffVertical, 12.0, 5.1).done();
    let measured = like_base_with("open_calls = \"as-measured\"", &tables);
    let found = ways(&measured, &sheaf, "has = []");
    assert_eq!(said(&found), ["Handstand: reach \"line\", at most 10°"]);
    assert_eq!(found[0].score, Some(points("10.0")));
    assert_eq!(said(&ways(&like_base(&tables), &sheaf, "has = []")), [""; 0]);
}
