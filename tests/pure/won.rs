//! What each way of winning back changes, call by call, and what it then wins. Books and amounts
//! are invented; every score is worked out by hand.

use stillcall::{
    marks::{
        Answer::{self, Met, NotMet},
        Quantity::{Bend, OffVertical, Split},
        Sheaf, What,
    },
    rulebook::Book,
    sheet::{Skills, WinBack, score, score_with, text},
    units::Points,
};

use crate::books::{
    ask::{like_base, points},
    write::{Writer, write},
};

fn ways(book: &Book, sheaf: &Sheaf, list: &str) -> Vec<WinBack> {
    let skills = Skills::read(list, "list").unwrap();
    score_with(book, sheaf, Some(&skills)).win_back
}

fn said(ways: &[WinBack]) -> Vec<&str> {
    ways.iter()
        .map(|way| way.change.strip_suffix("; a coach decides readiness.").unwrap())
        .collect()
}

/// The calls of a changed routine: mark, rule, answer.
fn calls(way: &WinBack) -> Vec<(u64, &str, Answer)> {
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
    let printed = "      start value 10.000, score 9.500, wins no line\n";
    assert!(text(&score_with(&book, &sheaf, None)).contains(printed));
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
    assert_eq!(
        way.change,
        "Replace Full turn, which this division may not use, by Leap; a coach decides readiness."
    );
    let way = &ways(&book, &sheaf, "has = [\"half-turn\"]")
        .into_iter()
        .find(|way| way.change.contains("by Half turn;"))
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
    assert_eq!(Points(400), found[0].start_value - score(&book, &sheaf).start_value);
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
