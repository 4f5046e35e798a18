//! What is told of keys that can never change a score, and how plainly a slip of the hand is told. The
//! books are invented.

use stillcall::rulebook::{Diagnostic, read_beside, read_like, shipped_text};

use crate::books::ask::kinds;

const HEAD: &str = "[book]\nid = \"t\"\ntitle = \"T\"\nedition = \"1\"\nlike = \"base.toml\"\n\n";

fn found(text: &str) -> Vec<Diagnostic> {
    match read_beside(text, kinds("").join("t.toml").to_str().unwrap()) {
        Ok((_, found)) | Err(found) => found,
    }
}

/// Returns what is said of a book of these tables, like the base of the examples.
fn said(tables: &str) -> Vec<String> {
    found(&format!("{HEAD}{tables}")).into_iter().map(|one| one.message).collect()
}

/// Says that the second says something of the kind and the first does not.
fn told(right: &str, wrong: &str, said_of: &str) {
    let (quiet, loud) = (said(right), said(wrong));
    assert!(!quiet.iter().any(|it| it.contains(said_of)), "{right}\n{quiet:?}");
    assert!(loud.iter().any(|it| it.contains(said_of)), "{wrong}\n{loud:?}");
}

/// Says so of a text with one piece in the place of another.
fn told_but(text: &str, right: &str, wrong: &str, said_of: &str) {
    assert!(text.contains(right), "{right}");
    told(text, &text.replace(right, wrong), said_of);
}

#[test]
fn numbers_that_others_always_go_before_are_told() {
    let start =
        "[[scoring]]\nformula = \"start-minus\"\nstart = 10.0\nfloor = 2.0\nceiling = 9.0\n";
    told_but(start, "floor = 2.0", "floor = 9.5", "lies above the highest");
    told_but(start, "start = 10.0", "start = 10.0\nbest = 4", "best belongs to the formula");
    let open = "[[scoring]]\nformula = \"open\"\nexecution = 10.0\nbest = 4\n\
                limits = [{ tags = \"jump\", at_most = 2 }]\n";
    told_but(open, "at_most = 2", "at_most = 4", "limits nothing");
    told_but(open, "at_most = 2", "at_least = 5", "cannot be kept");
    let angle = "[[angle]]\nid = \"x\"\nlabel = \"X\"\nevents = \"beam\"\nelements = \"handstand\"\n\
                 quantity = \"split\"\ntarget = 120\nside = \"at-least\"\nbands = [{ amount = 0.1 }]\n";
    told_but(angle, "target = 120", "target = 1200", "nobody reaches 1200");
}

#[test]
fn a_table_after_one_that_covers_all_of_it_is_told() {
    for (table, keys) in [("panel", "combine = \"mean\""), ("attempts", "take = \"best\"")] {
        let special = format!("[[{table}]]\nevents = \"floor\"\n{keys}\n\n");
        let general = format!("[[{table}]]\n{keys}\n\n");
        let message = format!("this [[{table}]] is never reached");
        told(&(special.clone() + &general), &(general + &special), &message);
    }
    let scoring = "[[scoring]]\nformula = \"start-minus\"\nstart = 10.0\n\n";
    let special = "[[scoring]]\nevents = \"floor\"\nformula = \"start-minus\"\nstart = 9.0\n";
    told(scoring, &format!("{scoring}{special}"), "2 tables [[scoring]] cover");
}

#[test]
fn worths_that_nothing_adds_are_told() {
    let open = "[[scoring]]\nformula = \"open\"\nexecution = 10.0\nbest = 4\n\n";
    let class = |value: &str| {
        format!(
            "{open}[[class]]\nid = \"c\"\nname = \"C\"\n{value}\n\
             [[element]]\nid = \"new\"\nname = \"New\"\nevent = \"floor\"\nclass = \"c\"\n"
        )
    };
    told(&class("value = 0.5\n"), &class(""), "the class \"c\" has no value");
    let element = |class: &str| {
        format!(
            "{open}[[element]]\nid = \"new\"\nname = \"New\"\nevent = \"floor\"\nvalue = 0.4\n{class}"
        )
    };
    told(&element("class = \"a\"\n"), &element(""), "has a value and no class");
}

#[test]
fn amounts_that_never_merge_and_counts_of_none_are_told() {
    let merge = "[[merge]]\nrule = \"squat\"\nof = 0.1\ncount = 2\ninto = 0.3\n";
    told_but(merge, "of = 0.1", "of = 0.2", "\"squat\" never takes 0.2");
    told_but(merge, "into = 0.3", "into = 0.2", "2 of 0.1 are 0.2 without merging");
    let asked = "[[requirement]]\nid = \"x\"\nlabel = \"X\"\nevents = \"beam\"\nprice = 0.5\n\
                 tags = \"jump\"\ncount = 1\n";
    told_but(asked, "count = 1", "count = 0", "count = 0 asks for nothing");
    told_but(asked, "events = \"beam\"", "events = \"vault\"", "carries the tag \"jump\"");
}

#[test]
fn an_element_that_names_itself_is_told() {
    let element = "[[element]]\nid = \"new\"\nname = \"New\"\nevent = \"bars\"\nclass = \"a\"\n\
                   pair = \"kip\"\nbecomes = \"kip\"\n";
    told_but(element, "pair = \"kip\"", "pair = \"new\"", "\"pair\" of \"new\" names itself");
    told_but(
        element,
        "becomes = \"kip\"",
        "becomes = \"new\"",
        "\"becomes\" of \"new\" names itself",
    );
}

#[test]
fn what_no_part_holds_is_told() {
    let parts = "[[scoring]]\nformula = \"parts\"\nparts = [\n\
                 { id = \"start\", label = \"Start\", base = 10.0, holds = [\"requirements\", \"value-parts\", \"bonus\"] },\n\
                 { id = \"shape\", label = \"Shape\", base = 1.0, groups = \"shape\" },\n\
                 { id = \"off\", label = \"Off\", holds = \"faults\" },\n]\n\n\
                 [[bonus]]\nid = \"jump\"\nlabel = \"Jump\"\ntags = \"jump\"\nevents = \"beam\"\namount = 0.1\n\n\
                 [[requirement]]\nid = \"x\"\nlabel = \"X\"\nevents = \"beam\"\nprice = 0.5\ntags = \"jump\"\n\n\
                 [[value_parts]]\nevents = \"beam\"\nneed = [{ class = \"a\", count = 1, price = 0.5 }]\n\n";
    for what in ["requirements", "value-parts", "bonus"] {
        let others: Vec<String> = ["requirements", "value-parts", "bonus"]
            .iter()
            .filter(|it| **it != what)
            .map(|it| format!("\"{it}\""))
            .collect();
        let all = "[\"requirements\", \"value-parts\", \"bonus\"]";
        told_but(
            parts,
            all,
            &format!("[{}]", others.join(", ")),
            &format!("no part holds \"{what}\""),
        );
    }
    let fault = |group: &str| {
        format!(
            "[[scoring]]\nformula = \"buckets\"\n\
             buckets = {{ value_parts = 3.0, requirements = 2.0, artistry = 1.0, execution = 4.0 }}\n\n\
             [[fault]]\nid = \"still\"\nlabel = \"Still\"\namount = 0.1\ngroup = \"{group}\"\n"
        )
    };
    told(&fault("artistry"), &fault("shape"), "taken off the part \"artistry\"");
}

#[test]
fn a_cap_that_limits_nothing_is_told() {
    let cap = "[[cap]]\nid = \"c\"\nlabel = \"C\"\ngroup = \"own\"\nat_most = 0.3\n\n\
               [[fault]]\nid = \"one\"\nlabel = \"One\"\nchoice = [0.1, 0.5]\ncounts = \"once\"\n\
               group = \"own\"\nevents = \"beam\"\n";
    told_but(cap, "at_most = 0.3", "at_most = 0.6", "is never reached");
    told_but(
        cap,
        "group = \"own\"\nat_most",
        "events = \"floor\"\ngroup = \"own\"\nat_most",
        "no rule of the group own",
    );
    // What counts each time may come to anything.
    let again = cap.replace("counts = \"once\"\n", "");
    assert!(!said(&again.replace("0.3", "5.0")).iter().any(|it| it.contains("never reached")));
}

#[test]
fn a_row_of_a_like_book_that_takes_more_away_than_it_says_is_told() {
    let fall = |scope: &str| {
        format!("[[when]]\nid = \"fall\"\nlabel = \"Fall\"\nmark = \"fall\"\namount = 0.5\n{scope}")
    };
    told(
        &fall(""),
        &fall("events = \"beam\"\n"),
        "nothing of \"fall\" is left on bars, floor, vault",
    );
    told(&fall(""), &fall("divisions = \"low\"\n"), "nothing of \"fall\" is left in high");
    let meant = found(&format!(
        "{}{}",
        HEAD.replace("\n\n", "\nwithout = \"fall\"\n\n"),
        fall("events = \"beam\"\n")
    ));
    assert!(!meant.iter().any(|it| it.message.contains("is left")), "{meant:?}");
    // In the league's book an angle and a requirement are called "vertical".
    let without = |id: &str| {
        let head = HEAD
            .replace("base.toml", "saltmarsh")
            .replace("\n\n", &format!("\nwithout = \"{id}\"\n\n"));
        found(&head).into_iter().map(|it| it.message).collect::<Vec<_>>()
    };
    let is_told = |id: &str| without(id).iter().any(|it| it.contains("more than one thing"));
    assert!(is_told("vertical") && !is_told("aerial"));
}

#[test]
fn warnings_come_together_with_errors() {
    let text = "[[merge]]\nrule = \"squat\"\nof = 0.2\ncount = 2\ninto = 0.3\n\n\
                [[fault]]\nid = \"x\"\nlabel = \"X\"\namuont = 0.1\n";
    let said = said(text);
    assert!(said.iter().any(|it| it.contains("unknown key \"amuont\"")), "{said:?}");
    assert!(said.iter().any(|it| it.contains("\"squat\" never takes 0.2")), "{said:?}");
}

/// Returns the first error of this text.
fn error(text: &str) -> (String, String) {
    let found = found(&format!("{HEAD}{text}"));
    let first = found.iter().find(|it| it.is_error()).unwrap();
    (first.message.clone(), first.remedy.clone())
}

#[test]
fn a_slip_of_the_hand_is_told_in_plain_words() {
    let fault = |amount: &str| format!("[[fault]]\nid = \"x\"\nlabel = \"X\"\namount = {amount}\n");
    for (amount, message, remedy) in [
        ("\"0.3\"", "this is a number in quotes", "write it without quotes: 0.3"),
        ("\"0,3\"", "this is a number in quotes", "write it without quotes: 0.3"),
        ("0,05", "there is a comma in a number here", "a number has a point: 0.05"),
        ("270°", "there is a degree sign here", "write the number alone: 270"),
        ("0.3;", "there is a semicolon here", "take it out; in a list write a comma"),
        ("\u{201c}0.3\u{201d}", "there are curly quotes here", "type straight ones: \""),
        ("\u{a0}0.3", "there is a non-breaking space here", "type a plain space in its place"),
    ] {
        assert_eq!(error(&fault(amount)), (message.to_owned(), remedy.to_owned()), "{amount}");
    }
    let pasted = fault("0.3") + "bent arms\t0.1\t0.3\n";
    assert_eq!(error(&pasted).0, "this looks like a row of a spreadsheet");
}

#[test]
fn single_brackets_are_one_error_with_the_remedy() {
    let text = "[fault]\nid = \"x\"\nlabel = \"X\"\namount = 0.1\n\n\
                [[fault]]\nid = \"y\"\nlabel = \"Y\"\namount = 0.1\n\n\
                [fault]\nid = \"z\"\nlabel = \"Z\"\namount = 0.1\n";
    let all = found(&format!("{HEAD}{text}"));
    assert_eq!(all.iter().filter(|it| it.is_error()).count(), 1, "{all:#?}");
    let (message, remedy) = error(text);
    assert_eq!(message, "[fault] in single brackets can stand only once");
    assert_eq!(remedy, "write [[fault]] here and at every other one");
}

#[test]
fn a_ring_of_books_names_its_books() {
    let book = |like: &str| HEAD.replace("base.toml", like);
    let find = |name: &str| match name {
        "b" => Some(book("a")),
        "a" => Some(book("b")),
        other => shipped_text(other).map(str::to_owned),
    };
    let errors = read_like(&book("b"), "a", &find).unwrap_err();
    let ring = "this book is like itself in the end: \"b\" like \"a\" like \"b\"";
    assert_eq!(errors[0].message, ring);
}

#[test]
fn a_list_of_known_names_has_each_once() {
    let remedy = error("[[requirement]]\nid = \"x\"\nlabel = \"X\"\nevents = \"beam\"\nprice = 0.1\ntags = \"qqqq\"\n").1;
    let names: Vec<&str> = remedy.trim_start_matches("known here: ").split(", ").collect();
    let mut once = names.clone();
    once.sort_unstable();
    once.dedup();
    assert_eq!(once.len(), names.len(), "{remedy}");
}
