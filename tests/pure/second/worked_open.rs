//! What the second evaluator found about questions that are left open, as the smallest routine for each,
//! worked by hand. All amounts are invented; the rules are the sentences of `docs/rulebook-guide.md`: the
//! range shows both ways, and the score takes each question by itself for the athlete.

use stillcall::{
    marks::What::{Element, Fall, Fault},
    sheet::score,
    units::Points,
};

use crate::books::{
    ask::{like_base, points},
    write::{Writer, write},
};

fn shows(tables: &str, routine: Writer, [low, high]: [&str; 2], own: &str) {
    let sheet = score(&like_base(tables), &routine.done());
    let range = (sheet.score_range.low, sheet.score_range.high, sheet.score);
    assert_eq!(range, (points(low), points(high), Some(points(own))));
}

fn fault(id: &str, amount: i64) -> stillcall::marks::What {
    Fault { fault: id.to_owned(), amount: Some(Points(amount)) }
}

#[test]
fn a_small_one_that_may_have_come_first_takes_the_place_of_a_large_one() {
    // Rhythm counts once, the first time: 0.1 if the first was one, else 0.3.
    let tables = "[[fault]]\nid = \"rhythm\"\nlabel = \"Rhythm\"\nup_to = 0.3\ncounts = \"once\"\n";
    let routine = write("beam", "low").does(&["wheel"]).maybe(fault("rhythm", 100));
    shows(tables, routine.does(&["roll"]).seen(fault("rhythm", 300)), ["9.7", "9.9"], "9.7");
}

#[test]
fn what_may_stand_for_more_than_it_costs_is_open_to_both_sides() {
    // Twelve steps are 1.2; a fall of 0.8 would stand for them.
    let tables = "[[replace]]\nrule = \"fall\"\ndrops = \"step\"\n";
    let steps = |routine: Writer, _| routine.fault("step", None);
    let routine = (0..12).fold(write("beam", "low").does(&["wheel"]), steps);
    shows(tables, routine.maybe(Fall), ["8.8", "9.2"], "8.8");
}

#[test]
fn an_angle_that_only_costs_is_met_until_somebody_calls_it() {
    // Nobody read the leap, and no credit hangs on it: it costs nothing.
    let tables = "[[angle]]\nid = \"split\"\nlabel = \"Split\"\nevents = \"beam\"\ntags = \"leap\"\n\
                  quantity = \"split\"\ntarget = 160\nside = \"at-least\"\nbands = [{ amount = 0.3 }]\n";
    shows(tables, write("beam", "low").does(&["leap"]), ["10.0", "10.0"], "10.0");
}

#[test]
fn an_angle_that_counts_once_may_be_short_by_little_the_first_time() {
    // The second leap is 0.5 short for sure. If the first was short by little, that counts: 0.1. If it
    // was not short, the second one counts: 0.5.
    let tables = "[[angle]]\nid = \"split\"\nlabel = \"Split\"\nevents = \"beam\"\ntags = \"leap\"\n\
                  quantity = \"split\"\ntarget = 160\nside = \"at-least\"\ncounts = \"once\"\n\
                  gates = \"value-part\"\nbands = [{ up_to = 20, amount = 0.1 }, { amount = 0.5 }]\n\n\
                  [[value_parts]]\nevents = \"beam\"\nneed = [{ class = \"b\", count = 0, price = 0.1 }]\n";
    let routine = write("beam", "low").does(&["leap", "leap"]);
    let routine = routine.reads(stillcall::marks::Quantity::Split, 100.0, 0.0);
    shows(tables, routine, ["9.5", "9.9"], "9.5");
}

#[test]
fn an_element_that_may_lose_its_credit_may_leave_its_place_to_the_same_one() {
    // Full and half turn are one element here and count once. If the full turn has no credit, the half
    // turn fills the place of the class a, and 0.5 less is missing.
    let tables = "[[element]]\nid = \"full-turn\"\nname = \"Full turn\"\nevent = \"beam\"\nclass = \"b\"\n\
                  family = \"turn\"\n\n[[element]]\nid = \"half-turn\"\nname = \"Half turn\"\n\
                  event = \"beam\"\nclass = \"a\"\nfamily = \"turn\"\n\n\
                  [[value_parts]]\nevents = \"beam\"\nhigher_replaces = false\n\
                  need = [{ class = \"a\", count = 1, price = 0.5 }]\n\n\
                  [[fault]]\nid = \"half-done\"\nlabel = \"Half done\"\namount = 0.0\n\
                  removes = \"value-part\"\n";
    let routine = write("beam", "low").does(&["full-turn"]).maybe(fault("half-done", 0));
    let routine = routine.seen(Element { element: "half-turn".to_owned() });
    shows(tables, routine, ["9.5", "10.0"], "9.5");
}
