//! What the second evaluator found about requirements and connections, as the smallest routine for each,
//! worked by hand. All amounts are invented; the rules are the sentences of `docs/rulebook-guide.md`.

use std::fmt::Write as _;

use stillcall::{
    marks::What::{Stop, Swing},
    sheet::{ScoreSheet, score},
    units::Points,
};

use crate::books::{
    ask::{points, took},
    book,
    write::{Writer, write},
};

/// An element is called by its tags: `xy` has the tags x and y.
const ELEMENTS: [&str; 7] = ["x", "y", "z", "xy", "xz", "yz", "xyz"];

fn sheet(sharing: &str, rules: &[String], routine: Writer) -> ScoreSheet {
    let mut text =
        "[book]\nid = \"t\"\ntitle = \"T\"\nedition = \"1\"\n\n[[division]]\nid = \"d\"\n\
                    name = \"D\"\n\n[[event]]\nid = \"beam\"\nname = \"Beam\"\n\n[[scoring]]\n\
                    formula = \"start-minus\"\nstart = 10.0\n"
            .to_owned();
    let _ = write!(text, "sharing = \"{sharing}\"\n\n");
    for id in ELEMENTS {
        let tags: Vec<String> = id.chars().map(|tag| tag.to_string()).collect();
        text += "[[element]]\nevent = \"beam\"\n";
        let _ = write!(text, "id = \"{id}\"\nname = \"{id}\"\ntags = {tags:?}\n\n");
    }
    text += &rules.concat();
    score(&book(&text), &routine.done())
}

fn requirement(id: &str, price: &str, tags: &str, rest: &str) -> String {
    let tags: Vec<String> = tags.chars().map(|tag| tag.to_string()).collect();
    format!(
        "[[requirement]]\nid = \"{id}\"\nlabel = \"{id}\"\nprice = {price}\ntags = {tags:?}\n{rest}\n\n"
    )
}

fn beam(elements: &[&str]) -> Writer {
    write("beam", "d").does(elements)
}

/// What all requirements miss together.
fn missing(sheet: &ScoreSheet) -> Points {
    sheet.requirements.iter().map(|line| line.amount).sum()
}

#[test]
fn one_of_several_groups_leaves_the_other_element_its_requirement() {
    // `b` takes xz alone, `a` is served by y: nothing is missing.
    let a = requirement("a", "0.1", "xy", "each_tag = true");
    let b = requirement("b", "0.3", "z", "with = [\"x\"]");
    assert_eq!(missing(&sheet("one", &[a, b], beam(&["xz", "y", "z"]))), points("0.0"));
}

#[test]
fn of_several_elements_that_may_come_with_one_those_are_taken_that_nobody_needs() {
    // `b` takes yz and one y, and the other y goes with xz: nothing is missing.
    let a = requirement("a", "0.1", "xy", "count = 2\nwith = [\"x\"]");
    let b = requirement("b", "0.3", "y", "count = 2");
    assert_eq!(missing(&sheet("one", &[a, b], beam(&["xz", "yz", "y", "y"]))), points("0.0"));
}

#[test]
fn a_series_passes_over_an_element_that_another_requirement_needs() {
    // `b` needs z; x and x follow one another with z between: nothing is missing.
    let rest = "count = 2\nconnected = true\nlinks = \"z\"\ndistinct = false";
    let a = requirement("a", "0.3", "xz", rest);
    let b = requirement("b", "0.5", "z", "");
    assert_eq!(missing(&sheet("one", &[a, b], beam(&["x", "z", "x"]))), points("0.0"));
}

#[test]
fn an_element_stands_in_one_unfinished_series_alone() {
    // x begins one of the two series of two: three of four are missing, 0.3.
    let rest = "count = 2\nconnected = true\neach = true";
    let a = requirement("a", "0.1", "x", rest);
    let b = requirement("b", "0.1", "xy", rest);
    assert_eq!(missing(&sheet("one", &[a, b], beam(&["x"]))), points("0.3"));
}

#[test]
fn an_unfinished_requirement_leaves_an_element_to_another() {
    // `b` takes one xy, `a` misses one of two at 0.2, and nobody shows `c`: 0.4.
    let a =
        requirement("a", "0.2", "xy", "count = 2\neach_tag = true\neach = true\ndistinct = false");
    let b = requirement("b", "0.3", "xy", "each_tag = true");
    let c = requirement("c", "0.2", "z", "count = 2\nconnected = true");
    assert_eq!(missing(&sheet("one", &[a, b, c], beam(&["xy", "xy"]))), points("0.4"));
}

#[test]
fn what_is_apart_and_unfinished_leaves_an_element_to_the_other() {
    // `a` takes xy; `b` has xyz and misses one of two: 0.2.
    let a = requirement("a", "0.3", "xy", "each = true\nconnected = true\nonly_last = [\"z\"]");
    let b = requirement("b", "0.2", "yz", "count = 2\neach = true\napart_from = \"a\"");
    assert_eq!(missing(&sheet("one", &[a, b], beam(&["xy", "xyz"]))), points("0.2"));
}

#[test]
fn each_group_is_shown_by_elements_that_follow_one_another() {
    // x and y with z between are no series; the two of `a` cost 0.2.
    let a = requirement("a", "0.2", "xy", "count = 2\neach_tag = true\nconnected = true");
    assert_eq!(missing(&sheet("many", &[a], beam(&["x", "z", "y"]))), points("0.2"));
}

#[test]
fn any_element_of_the_groups_may_be_the_one_that_is_asked_for() {
    // xz has the tag z that is asked for, xy has not.
    let a = requirement("a", "0.5", "xy", "each_tag = true\nwith = [\"z\"]");
    assert_eq!(missing(&sheet("many", &[a], beam(&["xy", "xz"]))), points("0.0"));
}

#[test]
fn a_series_is_as_long_as_it_can_be() {
    // z, z and z follow one another with xy between, which only ends a series: nothing is missing.
    let rest = "count = 3\ndistinct = false\nconnected = true\nlinks = \"y\"\nonly_last = [\"x\"]";
    let a = requirement("a", "0.5", "xz", rest);
    assert_eq!(missing(&sheet("many", &[a], beam(&["z", "xy", "z", "z"]))), points("0.0"));
}

#[test]
fn what_might_be_a_link_breaks_a_series_of_its_own_where_it_lost_its_connection() {
    // The loss at xy, of the series itself, takes the connection: 0.5.
    let loss = "[[fault]]\nid = \"loss\"\nlabel = \"Loss\"\namount = 0.0\n\
                removes = \"connection\"\n\n";
    let rest = "count = 2\nconnected = true\nlinks = \"x\"";
    let a = requirement("a", "0.5", "y", rest);
    let routine = beam(&["xy"]).fault("loss", None).does(&["y"]);
    assert_eq!(missing(&sheet("many", &[a, loss.to_owned()], routine)), points("0.5"));
}

#[test]
fn another_pass_passes_over_elements_of_the_first() {
    // `b` passes over z and takes y and y; `a` takes z and z. None serves both.
    let a = requirement("a", "0.3", "z", "count = 2\ndistinct = false\nconnected = true");
    let rest = "count = 2\ndistinct = false\nconnected = true\nlinks = \"z\"\napart_from = \"a\"";
    let b = requirement("b", "0.5", "yz", rest);
    assert_eq!(missing(&sheet("many", &[a, b], beam(&["y", "z", "z", "y"]))), points("0.0"));
}

fn connection(series: &str, rest: &str) -> String {
    let series: Vec<String> = series.chars().map(|tag| tag.to_string()).collect();
    format!(
        "[[connection]]\nid = \"con\"\nlabel = \"Con\"\namount = 0.1\nseries = {series:?}\n{rest}\n\n"
    )
}

#[test]
fn as_many_connections_are_given_as_there_are() {
    // xyz and xz, then xyz and xyz: two. Over xz as a link, the first and the second xyz leave the
    // third alone.
    let con = connection("zy", "any_order = true\nlinks = \"x\"");
    let routine = beam(&["xyz", "xz", "xyz", "xyz"]);
    assert_eq!(took(&sheet("many", &[con], routine), "con"), Some(points("-0.2")));
}

#[test]
fn a_time_between_marks_is_not_counted_over_a_link() {
    // Each mark comes a third of a second after the one before: no two are half a second apart.
    let rest = "count = 2\ndistinct = false\nconnected = true\nlinks = \"z\"\ngap = 0.5";
    let a = requirement("a", "0.5", "y", rest);
    assert_eq!(missing(&sheet("many", &[a], beam(&["y", "z", "y"]))), points("0.0"));
}

#[test]
fn what_breaks_a_series_is_what_the_book_says() {
    let rest = "count = 2\ndistinct = false\nconnected = true\nbreaks = \"swing\"";
    let a = || vec![requirement("a", "0.5", "y", rest)];
    let stopped = beam(&["y"]).seen(Stop).does(&["y"]);
    assert_eq!(missing(&sheet("many", &a(), stopped)), points("0.0"));
    let swung = beam(&["y"]).seen(Swing).does(&["y"]);
    assert_eq!(missing(&sheet("many", &a(), swung)), points("0.5"));
}
