//! What the second evaluator found about limits, as the smallest routine for each, worked by hand. All
//! amounts are invented; the rules are the sentences of `docs/rulebook-guide.md`.

use stillcall::{marks::What::Fall, sheet::score};

use crate::books::{
    ask::{like_base, points},
    write::{Writer, write},
};

const HALF: &str = "[[scoring]]\nformula = \"start-minus-half\"\nstart = 10.0\n\n";
const BUCKETS: &str = "[[scoring]]\nformula = \"buckets\"\n\
    buckets = { value_parts = 3.0, requirements = 2.0, artistry = 1.0, execution = 4.0 }\n\n";
const OPEN: &str = "[[scoring]]\nformula = \"open\"\nexecution = 2.0\nbest = 3\nfloor = 1.5\n\n";

fn fault(id: &str, rest: &str) -> String {
    format!("[[fault]]\nid = \"{id}\"\nlabel = \"{id}\"\n{rest}\n\n")
}

fn cap(id: &str, rest: &str) -> String {
    format!("[[cap]]\nid = \"{id}\"\nlabel = \"{id}\"\n{rest}\n\n")
}

fn makes(tables: &[&str], routine: Writer, expected: &str) {
    let score = score(&like_base(&tables.concat()), &routine.done()).score;
    assert_eq!(score, Some(points(expected)));
}

fn wheel() -> Writer {
    write("beam", "low").does(&["wheel"])
}

fn often(routine: Writer, fault: &str, times: usize) -> Writer {
    (0..times).fold(routine, |routine, _| routine.fault(fault, None))
}

#[test]
fn a_limit_of_one_element_leaves_alone_what_no_element_took() {
    // Two of three elements are left out of the text at 1.0 each: 10.0 - 2.0. No single element took
    // anything, so its limit of 0.5 holds for none of it.
    let text = "[[text]]\nid = \"words\"\nlabel = \"Text\"\nevents = \"beam\"\n\
                elements = [\"leap\", \"jump\", \"wheel\"]\nleft_out = 1.0\n\n";
    let limit = cap("one", "at_most = 0.5\nper = \"element\"");
    makes(&[text, &limit], wheel(), "8.0");
}

#[test]
fn a_limit_of_one_element_leaves_alone_what_came_before_the_first() {
    // Four faults of 0.1 before the first element: 10.0 - 0.4.
    let limit = cap("one", "at_most = 0.2\nper = \"element\"");
    let routine = often(write("beam", "low"), "feet", 4).does(&["wheel"]);
    makes(&[&limit], routine, "9.6");
}

#[test]
fn artistry_that_counts_once_empties_its_bucket_once() {
    // 3.0 + 2.0 + 1.0 + 4.0, and 0.3 once.
    let dull = fault("dull", "amount = 0.3\ncounts = \"once\"\ngroup = \"artistry\"");
    makes(&[BUCKETS, &dull], often(wheel(), "dull", 4), "9.7");
}

#[test]
fn artistry_that_another_rule_stands_for_empties_no_bucket() {
    // The fall of 0.8 stands in the place of the dull wheel: 10.0 - 0.8.
    let dull = fault("dull", "amount = 0.9\ngroup = \"artistry\"");
    let replace = "[[replace]]\nrule = \"fall\"\ndrops = \"dull\"\n\n";
    makes(&[BUCKETS, &dull, replace], often(wheel(), "dull", 2).seen(Fall), "9.2");
}

#[test]
fn artistry_empties_its_bucket_up_to_its_limit() {
    // Three of 0.4 are 1.2, the limit leaves 0.5: 10.0 - 0.5. The bucket holds 1.0.
    let dull = fault("dull", "amount = 0.4\ngroup = \"artistry\"");
    let limit = cap("art", "at_most = 0.5\ngroup = \"artistry\"");
    makes(&[BUCKETS, &dull, &limit], often(wheel(), "dull", 3), "9.5");
}

#[test]
fn a_limit_of_all_rules_leaves_what_it_leaves_in_the_buckets() {
    // 1.2 of artistry, and 0.5 at most for all: 10.0 - 0.5.
    let dull = fault("dull", "amount = 0.4\ngroup = \"artistry\"");
    makes(&[BUCKETS, &dull, &cap("all", "at_most = 0.5")], often(wheel(), "dull", 3), "9.5");
}

#[test]
fn the_lowest_score_holds_where_the_best_are_added_up() {
    // The wheel's 0.1 and 2.0 - 2 x 0.8 are 0.5; the lowest score is 1.5.
    makes(&[OPEN], wheel().seen(Fall).seen(Fall), "1.5");
}

#[test]
fn the_lowest_score_holds_where_buckets_are_emptied() {
    // Five falls empty the execution of 4.0: 6.0 is left, and the lowest score is 7.0.
    let floor = format!("{}floor = 7.0\n\n", BUCKETS.trim_end_matches('\n').to_owned() + "\n");
    let routine = (0..5).fold(wheel(), |routine, _| routine.seen(Fall));
    makes(&[&floor], routine, "7.0");
}

#[test]
fn two_limits_give_nothing_back_twice() {
    // Two of 0.4 and four of 0.1 are 1.2. The first limit leaves 0.3 of all; of these the second one,
    // 0.5 for the bent arms alone, has nothing more to give back.
    let bent = fault("bent", "amount = 0.4\ngroup = \"bent\"");
    let limits = cap("all", "at_most = 0.3") + &cap("bends", "at_most = 0.5\ngroup = \"bent\"");
    makes(&[&bent, &limits], often(often(wheel(), "bent", 2), "feet", 4), "9.7");
}

#[test]
fn a_limit_of_what_is_off_the_whole_score_is_not_halved() {
    // Three of 0.4 off the whole score, 0.5 at most: 10.0 - 0.5.
    let line = fault("line", "amount = 0.4\nneutral = true\ngroup = \"line\"");
    let limit = cap("lines", "at_most = 0.5\ngroup = \"line\"");
    makes(&[HALF, &line, &limit], often(wheel(), "line", 3), "9.5");
}

#[test]
fn a_limit_of_what_is_off_the_whole_score_fills_no_bucket() {
    // Six falls empty the execution of 4.0; three of 0.4 come off the whole, 0.5 at most: 6.0 - 0.5.
    let line = fault("line", "amount = 0.4\nneutral = true\ngroup = \"line\"");
    let limit = cap("lines", "at_most = 0.5\ngroup = \"line\"");
    let routine = (0..6).fold(often(wheel(), "line", 3), |routine, _| routine.seen(Fall));
    makes(&[BUCKETS, &line, &limit], routine, "5.5");
}

#[test]
fn a_rule_of_two_groups_is_limited_by_either() {
    // Three of 0.3 are 0.9, and the second group's limit leaves 0.4.
    let bent = fault("bent", "amount = 0.3\ngroup = [\"one\", \"other\"]");
    let limit = cap("others", "at_most = 0.4\ngroup = \"other\"");
    makes(&[&bent, &limit], often(wheel(), "bent", 3), "9.6");
}

#[test]
fn a_limit_of_two_groups_limits_both() {
    // Four of 0.1 in one group and three of 0.1 in the other are 0.7, and 0.5 is left.
    let limit = cap("both", "at_most = 0.5\ngroup = [\"shape\", \"landing\"]");
    makes(&[&limit], often(often(wheel(), "feet", 4), "step", 3), "9.5");
}
