//! How lines are worded and laid out: what is asked of an angle, what an element counts for, what
//! is still to be set, and lines that just fit the page. The texts are our own.

use stillcall::{
    marks::{
        CallAnswer,
        Facing::Away,
        LandingOn::Feet,
        Quantity::OffVertical,
        What::{self, HandContact, HandRelease, HeelDrop, HeelLift, Landing},
    },
    report::{by_cause, score_sheet},
    rulebook::Book,
    sheet::{ScoreSheet, Status, causes, score},
    units::{Magnitude, Points},
};

use crate::books::{
    ask::{like_base, points},
    write::{Writer, at, write},
};

/// A book that asks of a handstand to be at most 10 degrees off vertical.
fn line_of(rest: &str) -> Book {
    like_base(&format!(
        "[[angle]]\nid = \"line\"\nlabel = \"Line\"\nevents = \"beam\"\nelements = \"handstand\"\n\
         quantity = \"off-vertical\"\ntarget = 10\nside = \"at-most\"\n{rest}\n"
    ))
}

fn handstand(book: &Book, with: impl Fn(Writer) -> Writer) -> ScoreSheet {
    score(book, &with(write("beam", "low").does(&["handstand"])).done())
}

#[test]
fn a_decision_says_how_far_short_a_reading_is_and_whether_the_call_agrees() {
    let book = line_of("");
    let said = |with: &dyn Fn(Writer) -> Writer| {
        handstand(&book, with).elements[0].decisions[0].reason.clone()
    };
    let reads = |value: f64| move |routine: Writer| routine.reads(OffVertical, value, 0.0);
    assert_eq!(said(&reads(8.0)), "8° stated, asked at most 10°.");
    assert_eq!(said(&reads(10.0)), "10° stated, asked at most 10°.");
    assert_eq!(said(&reads(14.0)), "14° stated, 4° short, asked at most 10°.");
    assert_eq!(
        said(&|routine| reads(8.0)(routine).met("line")),
        "Called met; 8° stated, asked at most 10°."
    );
    assert_eq!(
        said(&|routine| reads(14.0)(routine).not_met("line")),
        "Called not met; 14° stated, 4° short, asked at most 10°."
    );
    for (value, call, answer) in
        [(14.0, "met", CallAnswer::Met), (8.0, "not met", CallAnswer::NotMet)]
    {
        let reason = said(&|routine| reads(value)(routine).call("line", answer));
        assert!(reason.starts_with(&format!("Called {call}; ")), "{reason}");
        assert!(reason.ends_with(" They disagree; the call counts."), "{reason}");
    }
    for value in [8.0, 14.0] {
        let reason = said(&|routine| reads(value)(routine).call("line", CallAnswer::CantTell));
        assert!(reason.starts_with("Called can't tell; "), "{reason}");
        assert!(!reason.contains("disagree"), "{reason}");
    }
}

#[test]
fn an_interval_that_reaches_farther_to_one_side_is_told_as_it_is() {
    let book = line_of("");
    let said = |low: f64, high: f64| {
        let routine = write("beam", "low").does(&["handstand"]).reads(OffVertical, 5.0, 1.0);
        let mut sheaf = routine.done();
        sheaf.readings[0].how.interval = Some([Magnitude(low), Magnitude(high)]);
        let decision = score(&book, &sheaf).elements[0].decisions[0].clone();
        decision.reason.split(", asked").next().unwrap().to_owned()
    };
    // A tenth of the whole width is the edge: 0.2 of 2.2 is less, 0.3 of 2.3 more.
    assert_eq!(said(4.0, 6.2), "5° ± 1.1° read");
    assert_eq!(said(4.0, 6.3), "5° read, in truth 4° to 6.3°");
    assert_eq!(said(3.7, 6.0), "5° read, in truth 3.7° to 6°");
}

#[test]
fn an_element_says_what_it_counts_for() {
    let parts = "[[value_parts]]\nevents = \"bars\"\nhigher_replaces = true\n\
                 need = [{ class = \"a\", count = 2, price = 0.1 }, \
                 { class = \"b\", count = 0, price = 0.3 }]\n\n\
                 [[element]]\nid = \"glide\"\nname = \"Glide\"\nevent = \"bars\"\n";
    let reasons = |book: &Book, elements: &[&str]| -> Vec<(Status, String)> {
        let sheet = score(book, &write("bars", "low").does(elements).done());
        sheet.elements.into_iter().map(|line| (line.status, line.reason)).collect()
    };
    let book = like_base(parts);
    let all = ["cast", "hip-circle", "kip", "glide", "cast", "flic"];
    let expected = [
        (Status::Met, "Counts as a value part, A."),
        (Status::Met, "Counts as a value part, A."),
        (Status::NotCounted, "All places it could fill are taken."),
        (Status::NotCounted, "It is no value part by itself."),
        (Status::Missed, "The same element was counted before."),
        (Status::Missed, "\"flic\" is not in this book."),
    ];
    assert_eq!(reasons(&book, &all), expected.map(|(status, said)| (status, said.to_owned())));
    let lower = reasons(&book, &["kip", "cast"]);
    assert_eq!(lower[0], (Status::Met, "Fills a lower place as a value part, A.".to_owned()));
    let none = (Status::NotCounted, "No value parts are asked for.".to_owned());
    assert_eq!(reasons(&like_base(""), &["cast"]), [none]);
}

#[test]
fn a_moment_that_is_set_is_not_asked_for() {
    let book = like_base(
        "[[element]]\nid = \"all\"\nname = \"All\"\nevent = \"beam\"\nclass = \"a\"\nmoments = \
         [\"hand_contact\", \"hand_release\", \"heel_lift\", \"heel_drop\", \"landing\"]\n",
    );
    let moments = [
        (HandContact { turn: None }, "hand contact"),
        (HandRelease, "hand release"),
        (HeelLift, "heel lift"),
        (HeelDrop, "heel drop"),
        (Landing { on: Feet, facing: Some(Away), turn: None }, "landing"),
    ];
    let missing = |set: &[What]| -> Vec<String> {
        let begun = write("beam", "low").does(&["all"]);
        let routine = set.iter().fold(begun, |routine, what| routine.seen(what.clone()));
        score(&book, &routine.done()).remarks.into_iter().map(|line| line.reason).collect()
    };
    let all: Vec<What> = moments.iter().map(|(what, _)| what.clone()).collect();
    assert_eq!(missing(&all), [""; 0]);
    for (left, (_, named)) in moments.iter().enumerate() {
        let mut set = all.clone();
        set.remove(left);
        assert_eq!(missing(&set), [format!("All: the {named} is not set yet.")]);
    }
    assert_eq!(missing(&[What::Note]).len(), 5);
}

#[test]
fn a_link_stands_between_whatever_it_lacks_itself() {
    // Running steps may stand between; that they would break a series of their own does not
    // matter there. An element of no book breaks it, one that was not shown does not.
    let book = like_base(
        "[[requirement]]\nid = \"passage\"\nlabel = \"Passage\"\nevents = \"floor\"\nprice = 0.5\n\
         tags = \"dance\"\ncount = 2\nconnected = true\nlinks = \"steps\"\n\n\
         [[element]]\nid = \"steps\"\nname = \"Steps\"\nevent = \"floor\"\ntags = \"steps\"\n\n\
         [[angle]]\nid = \"knee\"\nlabel = \"Knee\"\nevents = \"floor\"\n\
         elements = [\"steps\", \"split-leap\"]\nquantity = \"kick\"\ntarget = 45\nside = \"at-most\"\n\
         gates = [\"connection\"]\n",
    );
    let passage = |between: &dyn Fn(Writer) -> Writer| {
        let routine = between(write("floor", "low").does(&["split-leap"])).does(&["hop"]);
        score(&book, &routine.done()).requirements[0].status
    };
    assert_eq!(passage(&|routine| routine), Status::Met);
    assert_eq!(passage(&|routine| routine.not_met("knee")), Status::Missed);
    assert_eq!(passage(&|routine| routine.does(&["steps"])), Status::Met);
    assert_eq!(passage(&|routine| routine.does(&["steps"]).not_met("knee")), Status::Met);
    assert_eq!(passage(&|routine| routine.does(&["flic"])), Status::Missed);
}

#[test]
fn a_line_that_just_fits_the_page_is_not_broken() {
    let width = |label: &str| {
        let rule = format!("id = \"line\"\nlabel = \"{label}\"");
        let book = like_base(&format!(
            "[[angle]]\n{rule}\nevents = \"beam\"\nelements = \"handstand\"\n\
             quantity = \"off-vertical\"\ntarget = 10\nside = \"at-most\"\n"
        ));
        let page = score_sheet(&handstand(&book, |routine| routine)).text();
        let line = page.lines().find(|line| line.starts_with("      a")).unwrap().to_owned();
        assert!(page.lines().all(|line| line.chars().count() <= 92), "{page}");
        line.chars().count()
    };
    // Six before it, 40 and 44 with a space and a colon make 92; one more does not fit.
    assert_eq!(width(&format!("{} {}", "a".repeat(40), "b".repeat(44))), 92);
    assert_eq!(width(&format!("{} {}", "a".repeat(40), "b".repeat(45))), 46);
}

#[test]
fn a_long_name_is_cut_and_a_frame_is_named_once() {
    let page = |label: &str| {
        let fault = format!("[[fault]]\nid = \"long\"\nlabel = \"{label}\"\namount = 0.1\n");
        let mut sheaf = write("beam", "low").fault("long", None).done();
        sheaf.marks[0].at = stillcall::marks::At::Span(at(300), at(300));
        score_sheet(&score(&like_base(&fault), &sheaf)).text()
    };
    // Frame 10 at 300 of 900 ticks.
    let line = |name: &str| format!("  − {name:<46}   −0.100  frame 10 (0.333 s)\n");
    let whole = "x".repeat(46);
    assert!(page(&whole).contains(&line(&whole)), "{}", page(&whole));
    let cut = format!("{}…", "x".repeat(45));
    assert!(page(&"x".repeat(47)).contains(&line(&cut)), "{}", page(&"x".repeat(47)));
    assert!(page("short").contains(&line("short")), "{}", page("short"));
}

#[test]
fn a_line_that_another_world_takes_is_close() {
    // Brushed, the rule drops the step; in support it is gone, and the step costs.
    let book = like_base(
        "[[when]]\nid = \"brushed\"\nlabel = \"Brushed\"\nmark = \"contact\"\nmanners = \"brush\"\n\
         amount = 0.3\n\n[[replace]]\nrule = \"brushed\"\ndrops = \"step\"\n",
    );
    let routine = write("beam", "low").does(&["roll"]);
    let routine = routine.touches(
        stillcall::marks::BodyPart::Hand,
        stillcall::marks::Phase::Support,
        stillcall::marks::Manner::CantTell,
    );
    let sheet = score(&book, &routine.fault("step", None).done());
    let lines: Vec<_> = sheet
        .deductions
        .iter()
        .map(|line| (line.rule.as_str(), line.amount.0, line.status))
        .collect();
    assert_eq!(lines, [("brushed", 300, Status::Close), ("step", 0, Status::Close)]);
    // What stands only elsewhere is said so.
    let fallen = write("beam", "low").does(&["roll"]).maybe(What::Fall);
    let sheet = score(&like_base(""), &fallen.done());
    let line = &sheet.deductions[0];
    assert_eq!((line.amount, line.status), (Points::ZERO, Status::Close));
    assert!(line.reason.ends_with(" It is a close call."), "{}", line.reason);
}

#[test]
fn a_close_call_names_the_rules_and_the_fault_that_it_is_about() {
    let angle = |id: &str, quantity: &str| {
        format!(
            "[[angle]]\nid = \"{id}\"\nlabel = \"{id}\"\nevents = \"beam\"\n\
             elements = \"handstand\"\nquantity = \"{quantity}\"\ntarget = 10\nside = \"at-most\"\n\
             bands = [{{ amount = 0.1 }}]\n\n"
        )
    };
    let rules = ["Bend", "Line", "Lean"];
    let book = like_base(
        &(angle(rules[0], "bend")
            + &angle(rules[1], "off-vertical")
            + &angle(rules[2], "off-vertical")),
    );
    let near = handstand(&book, |routine| routine.reads(OffVertical, 10.0, 1.0));
    let labels = |sheet: &ScoreSheet| -> Vec<String> {
        sheet.close_calls.iter().map(|call| call.label.clone()).collect()
    };
    assert_eq!(labels(&near), ["Handstand: Line, Lean"]);
    let squat = What::Fault { fault: "squat".into(), amount: Some(points("0.3")) };
    let doubt = handstand(&book, |routine| routine.maybe(squat.clone()));
    assert_eq!(labels(&doubt), ["Seen or not: Squat"]);
}

#[test]
fn what_one_thing_cost_is_the_difference_that_it_makes() {
    // Three of class A are asked for at 0.4 and two handstands at 0.2 each. One handstand is there
    // and misses its line: a value part, a place of the requirement, and 0.3.
    let book = line_of(
        "gates = [\"value-part\", \"requirement\"]\nbands = [{ amount = 0.3 }]\n\n\
         [[value_parts]]\nevents = \"beam\"\nneed = [{ class = \"a\", count = 3, price = 0.4 }]\n\n\
         [[requirement]]\nid = \"two\"\nlabel = \"Two\"\nevents = \"beam\"\nprice = 0.2\ncount = 2\n\
         tags = \"handstand\"\neach = true\n\n\
         [[too_many]]\nid = \"rolls\"\nlabel = \"Rolls\"\nevents = \"beam\"\nelements = \"full-turn\"\n\
         at_most = 0\namount = 0.5\n",
    );
    let routine = write("beam", "low").does(&["handstand"]).not_met("line").fault("feet", None);
    let sheaf = routine.does(&["full-turn"]).done();
    let sheet = score(&book, &sheaf);
    let found = causes(&book, &sheaf, &sheet);
    let said: Vec<(&str, i64)> =
        found.iter().map(|cause| (cause.label.as_str(), cause.amount.0)).collect();
    assert_eq!(said, [("Handstand", 900), ("Rolls", 500), ("Feet", 100)]);
    let parts: Vec<(&str, i64)> =
        found[0].parts.iter().map(|(part, amount)| (part.as_str(), amount.0)).collect();
    assert_eq!(parts, [("Value part, A", 400), ("Two", 200), ("Line", 300)]);
    let said = by_cause(&found).text();
    let costs = "Handstand cost 0.900, frame 10\n  0.400 Value part, A\n  0.200 Two\n  0.300 Line\n\n\
                 Rolls cost 0.500, frame 40\n\nFeet cost 0.100, frame 30\n";
    assert!(said.contains(costs), "{said}");
}
