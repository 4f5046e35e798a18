//! The order in which amounts are settled, as the guide lists it: for each two neighbouring steps
//! a routine whose score would be another one if they changed places. All amounts are invented;
//! both scores are worked by hand beside each case.

use stillcall::{marks::What, sheet::score};

use crate::books::{
    ask::{like_base, points},
    write::{Writer, write},
};

const HALF: &str = "[[scoring]]\nformula = \"start-minus-half\"\nstart = 10.0\n\n";
const BEND: &str = "[[fault]]\nid = \"bend\"\nlabel = \"Bend\"\nup_to = 0.8\ngroup = \"bend\"\n\n";
const BONUS: &str = "[[bonus]]\nid = \"wheel\"\nlabel = \"Wheel\"\nevents = \"beam\"\n\
                     elements = \"wheel\"\namount = 0.3\n\n";

fn cap(id: &str, rest: &str) -> String {
    format!("[[cap]]\nid = \"{id}\"\nlabel = \"{id}\"\n{rest}\n\n")
}

/// Asserts the score of the routine; `swapped` is what the steps would make the other way round.
fn settles(tables: &str, routine: Writer, makes: &str, swapped: &str) {
    assert_ne!(makes, swapped, "the case tells nothing");
    assert_eq!(score(&like_base(tables), &routine.done()).score, Some(points(makes)), "{tables}");
}

fn beam(elements: &[&str]) -> Writer {
    write("beam", "low").does(elements)
}

#[test]
fn an_amount_is_settled_by_its_own_rule_before_small_ones_are_merged() {
    // 0.5 was written twice where 0.3 is the most: two of 0.3 make 0.8. Merged first, two of 0.5
    // are no two of 0.3, and twice 0.3 is 0.6.
    let tables = "[[fault]]\nid = \"legs\"\nlabel = \"Legs\"\nup_to = 0.3\n\n\
                  [[merge]]\nrule = \"legs\"\nof = 0.3\ncount = 2\ninto = 0.8\n";
    let routine = beam(&["wheel"]).fault("legs", Some("0.5")).fault("legs", Some("0.5"));
    settles(tables, routine, "9.2", "9.4");
}

#[test]
fn small_ones_are_merged_before_what_counts_once_is_left_to_its_first_time() {
    // Two of 0.1 make 0.4, which counts once. Counted first, one 0.1 is left.
    let tables = "[[fault]]\nid = \"knees\"\nlabel = \"Knees\"\namount = 0.1\n\
                  counts = \"once-per-element\"\n\n\
                  [[merge]]\nrule = \"knees\"\nof = 0.1\ncount = 2\ninto = 0.4\n";
    let routine = beam(&["wheel"]).fault("knees", None).fault("knees", None);
    settles(tables, routine, "9.6", "9.9");
}

#[test]
fn what_counts_once_is_counted_before_another_rule_takes_its_place() {
    // A hop at two elements counts at the first, where a fall of 0.8 takes its place. Replaced
    // first, the second hop would be the first that is left: 0.8 + 0.2.
    let tables = "[[fault]]\nid = \"hop\"\nlabel = \"Hop\"\namount = 0.2\ncounts = \"once\"\n\n\
                  [[replace]]\nrule = \"fall\"\ndrops = \"hop\"\n";
    let routine = beam(&["walkover"]).fault("hop", None).seen(What::Fall).does(&["wheel"]);
    settles(tables, routine.fault("hop", None), "9.2", "9.0");
}

#[test]
fn what_is_replaced_no_longer_fills_a_cap() {
    // A fall of 0.8 in the place of five steps of 0.1. Capped first, 0.5 - 0.3 is given back:
    // 0.8 - 0.2.
    let tables = format!(
        "[[replace]]\nrule = \"fall\"\ndrops = \"step\"\n\n{}",
        cap("landing", "group = \"landing\"\nat_most = 0.3\nper = \"element\"")
    );
    let steps = (0..5).fold(beam(&["wheel"]), |routine, _| routine.fault("step", None));
    settles(&tables, steps.seen(What::Fall), "9.2", "9.4");
}

#[test]
fn caps_for_phases_come_before_those_for_elements_wherever_they_stand() {
    // 0.1 in the first flight, 0.5 in support, which counts 0.3: 0.4 is within the vault's 0.4.
    // The element first: 0.6 gives 0.2 back, and support another 0.2: 0.2.
    let tables = [
        BEND,
        &cap("vault", "at_most = 0.4\nper = \"element\""),
        &cap("phases", "group = \"bend\"\nat_most = 0.3\nper = \"phase\""),
    ];
    let vault = write("vault", "low").fault("bend", Some("0.1")).hands(0);
    settles(&tables.concat(), vault.fault("bend", Some("0.5")), "9.6", "9.8");
}

#[test]
fn caps_for_elements_come_before_those_for_the_exercise_wherever_they_stand() {
    // 0.6 at one element counts 0.3, 0.1 at the next: 0.4 is within the exercise's 0.5. The
    // exercise first: 0.7 gives 0.2 back, and the element another 0.3: 0.2.
    let tables = [
        BEND,
        &cap("all", "group = \"bend\"\nat_most = 0.5"),
        &cap("each", "group = \"bend\"\nat_most = 0.3\nper = \"element\""),
    ];
    let routine = beam(&["walkover"]).fault("bend", Some("0.6")).does(&["wheel"]);
    settles(&tables.concat(), routine.fault("bend", Some("0.1")), "9.6", "9.8");
}

#[test]
fn a_cap_that_is_just_reached_gives_nothing_back() {
    let sheet = score(
        &like_base(&[BEND, &cap("bends", "group = \"bend\"\nat_most = 0.6")].concat()),
        &beam(&["wheel"]).fault("bend", Some("0.6")).done(),
    );
    assert_eq!(sheet.deductions.len(), 1, "{:?}", sheet.deductions);
}

#[test]
fn caps_of_one_kind_come_in_the_order_of_the_file() {
    // Bends of 0.6 and feet of 0.1. Bends first: 0.3, and 0.4 is within 0.5. All first: of 0.7 the first
    // 0.5 count, all of them bends, of which 0.3 count.
    let (bends, all) =
        (cap("bends", "group = \"bend\"\nat_most = 0.3"), cap("all", "at_most = 0.5"));
    let routine = || beam(&["wheel"]).fault("bend", Some("0.6")).fault("feet", None);
    settles(&[BEND, &bends, &all].concat(), routine(), "9.6", "9.7");
    settles(&[BEND, &all, &bends].concat(), routine(), "9.7", "9.6");
}

#[test]
fn caps_come_before_half_of_the_deductions() {
    // 0.8 counts 0.6, half of it 0.3. Halved first: 0.4 is within 0.6.
    let tables = [HALF, BEND, &cap("bends", "group = \"bend\"\nat_most = 0.6")];
    settles(&tables.concat(), beam(&["wheel"]).fault("bend", Some("0.8")), "9.7", "9.6");
}

#[test]
fn bonuses_are_added_after_half_of_the_deductions_and_fill_no_bucket() {
    // Half of 0.8 is 0.4, less 0.3. Added first: half of 0.8 - 0.3 is 0.25.
    let tables = [HALF, BEND, BONUS];
    settles(&tables.concat(), beam(&["wheel"]).fault("bend", Some("0.8")), "9.9", "9.75");
    // 0.8 empties an execution bucket of 0.5: 9.0 + 0.0 + 0.3. Added first: 0.8 - 0.3 is just 0.5,
    // and 9.0 is left.
    let buckets = "[[scoring]]\nformula = \"buckets\"\nbuckets = { value_parts = 5.0, \
                   requirements = 3.0, artistry = 1.0, execution = 0.5 }\n\n";
    let tables = [buckets, BEND, BONUS];
    settles(&tables.concat(), beam(&["wheel"]).fault("bend", Some("0.8")), "9.3", "9.0");
}

const LIMIT: &str = "[[bonus_limit]]\nid = \"limit\"\nlabel = \"Limit\"\nat_most = 0.1\n\n";

#[test]
fn bonuses_are_limited_after_half_of_the_deductions_and_before_the_highest_score() {
    // Half of 0.8 is 0.4; 0.3 counts 0.1. Halved with the deductions, the 0.2 above the limit would
    // take 0.1: 10.0 - 0.4 + 0.3 - 0.1.
    let tables = [HALF, BEND, BONUS, LIMIT];
    settles(&tables.concat(), beam(&["wheel"]).fault("bend", Some("0.8")), "9.7", "9.8");
    // 10.0 - 0.1 + 0.1 is just 10.0. Stopped at 10.0 first, with 0.2 too much, and then limited: 9.8.
    let ends = "[[scoring]]\nformula = \"start-minus\"\nstart = 10.0\nceiling = 10.0\n\n";
    let tables = [ends, BONUS, LIMIT];
    settles(&tables.concat(), beam(&["wheel"]).fault("feet", None), "10.0", "9.8");
}

#[test]
fn the_highest_and_the_lowest_score_come_last() {
    // 10.0 - 0.1 + 0.3 stops at 10.0. Stopped before the bonus: 9.9 + 0.3.
    let ends =
        "[[scoring]]\nformula = \"start-minus\"\nstart = 10.0\nfloor = 9.5\nceiling = 10.0\n\n";
    let tables = [ends, BEND, BONUS].concat();
    settles(&tables, beam(&["wheel"]).fault("feet", None), "10.0", "10.2");
    // 10.0 - 0.8 - 0.1 + 0.3 = 9.4 is lifted to 9.5. Lifted before the bonus: 9.5 + 0.3.
    let low = beam(&["wheel"]).fault("bend", Some("0.8")).fault("feet", None);
    settles(&tables, low, "9.5", "9.8");
}

/// Execution of 0.5 cannot lose more than itself: 0.8 of faults leave difficulty whole, 0.1 leaves
/// 0.4 of execution.
#[test]
fn what_execution_has_lost_is_not_taken_from_difficulty() {
    let open = "[[scoring]]\nformula = \"open\"\nexecution = 0.5\nbest = 4\n\n";
    let book = like_base(&[open, BEND].concat());
    let lost = |amount: &str| {
        let sheet = score(&book, &beam(&["wheel"]).fault("bend", Some(amount)).done());
        sheet.start_value.unwrap() - sheet.score.unwrap()
    };
    assert_eq!(lost("0.8"), points("0.5"));
    assert_eq!(lost("0.5"), points("0.5"));
    assert_eq!(lost("0.1"), points("0.1"));
}

/// Each bucket loses no more than is in it: artistry 1.0, execution 0.5.
#[test]
fn buckets_are_emptied_each_by_itself() {
    let buckets = "[[scoring]]\nformula = \"buckets\"\nbuckets = { value_parts = 5.0, \
                   requirements = 3.0, artistry = 1.0, execution = 0.5 }\n\n";
    let poise =
        "[[fault]]\nid = \"poise\"\nlabel = \"Poise\"\nup_to = 1.4\ngroup = \"artistry\"\n\n";
    let book = like_base(&[buckets, BEND, poise].concat());
    let lost = |poise: &str, bend: &str| {
        let routine = beam(&["wheel"]).fault("poise", Some(poise)).fault("bend", Some(bend));
        let sheet = score(&book, &routine.done());
        sheet.start_value.unwrap() - sheet.score.unwrap()
    };
    // 0.4 of artistry; 0.6 empties execution.
    assert_eq!(lost("0.4", "0.6"), points("0.9"));
    // 1.4 empties artistry; 0.2 of execution.
    assert_eq!(lost("1.4", "0.2"), points("1.2"));
    assert_eq!(lost("1.4", "0.8"), points("1.5"));
    assert_eq!(lost("0.4", "0.2"), points("0.6"));
}
