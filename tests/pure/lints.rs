//! Where a warning stays away: books that look like the warned ones beside `kinds/warned` and are
//! meant as they stand.

use stillcall::rulebook::read_beside;

use crate::books::ask::kinds;

/// Returns what is warned of in a book of these tables that is like the base of the examples.
fn warned(tables: &str) -> Vec<String> {
    warned_at(tables).into_iter().map(|(said, _)| said).collect()
}

/// Returns what is warned of, each with the rest of the table at which it stands.
fn warned_at(tables: &str) -> Vec<(String, String)> {
    let head = "[book]\nid = \"t\"\ntitle = \"T\"\nedition = \"1\"\nlike = \"base.toml\"\n\n";
    let text = format!("{head}{tables}");
    let read = read_beside(&text, kinds("").join("t.toml").to_str().unwrap());
    let rest = |line: usize| {
        let lines = text.lines().skip(line - 1).take_while(|line| !line.is_empty());
        lines.collect::<Vec<_>>().join("\n")
    };
    let warnings = read.unwrap().1.into_iter();
    warnings
        .map(|warning| {
            assert!(!warning.is_error());
            (warning.message, rest(warning.line))
        })
        .collect()
}

/// An element without a class that only its tag or a rule can make of use.
const GLIDE: &str =
    "[[element]]\nid = \"glide\"\nname = \"Glide\"\nevent = \"bars\"\ntags = \"gliding\"\n\n";

#[test]
fn an_element_that_a_time_a_swing_or_a_limit_names_serves_something() {
    assert_eq!(warned(GLIDE), ["the element \"glide\" serves nothing"]);
    let time = "[[time]]\nid = \"held\"\nlabel = \"Held\"\nevents = \"bars\"\nof = \"element\"\n\
                at_least = 1\namount = 0.1\n";
    let swing = "[[when]]\nid = \"swing\"\nlabel = \"Swing\"\nmark = \"swing\"\namount = 0.3\n";
    let open = "[[scoring]]\nformula = \"open\"\nexecution = 10.0\nbest = 4\n";
    for named in [
        format!("{time}elements = \"glide\"\n"),
        format!("{time}tags = \"gliding\"\n"),
        format!("{swing}after = \"gliding\"\n"),
        format!("{open}limits = [{{ tags = \"gliding\", at_most = 1 }}]\n"),
    ] {
        assert_eq!(warned(&format!("{GLIDE}{named}")), [""; 0], "{named}");
    }
}

/// A division in which an element of the class `c` is too hard for everybody.
fn too_hard(rest: &str) -> Vec<String> {
    warned(&format!(
        "[[division]]\nid = \"low\"\nname = \"Low\"\nhighest_class = \"b\"\n\n\
         [[division]]\nid = \"high\"\nname = \"High\"\nhighest_class = \"b\"\n\n\
         [[class]]\nid = \"c\"\nname = \"C\"\n\n\
         [[element]]\nid = \"double\"\nname = \"Double\"\nevent = \"floor\"\nclass = \"c\"\n{rest}"
    ))
}

#[test]
fn an_element_that_nobody_may_do_is_listed_for_what_it_costs() {
    assert_eq!(too_hard(""), ["the element \"double\" may be done by no division"]);
    let scoring =
        "\n[[scoring]]\nformula = \"start-minus\"\nstart = 10.0\nnot_allowed = \"void\"\n";
    let never =
        "\n[[too_many]]\nid = \"c\"\nlabel = \"C\"\nclasses = \"c\"\nat_most = 0\nvoid = true\n";
    for meant in [scoring, never, "selected = \"high\"\n"] {
        assert_eq!(too_hard(meant), [""; 0], "{meant}");
    }
}

#[test]
fn an_element_fills_a_place_in_one_division_or_is_named() {
    let parts = |rest: &str| {
        warned(&format!(
            "[[value_parts]]\nevents = \"bars\"\nhigher_replaces = false\n\
             need = [{{ class = \"a\", count = 2, price = 0.1 }}{rest}"
        ))
    };
    let idle = ["the element \"kip\" fills no place of the value parts"];
    assert_eq!(parts("]\n"), idle);
    // Asked for in no division is not asked for.
    let none = parts(", { class = \"b\", count = 0, price = 0.3 }]\n");
    assert_eq!(none, [idle[0], "count = 0 asks for nothing and gives nothing"]);
    assert_eq!(
        parts(", { class = \"b\", count = { low = 0, high = 1 }, price = 0.3 }]\n"),
        [""; 0]
    );
    let bonus = "]\n\n[[bonus]]\nid = \"kip\"\nlabel = \"Kip\"\nelements = \"kip\"\namount = 0.1\n";
    assert_eq!(parts(bonus), [""; 0]);
    // Where nobody counts value parts, elements are listed to be named.
    assert_eq!(warned(""), [""; 0]);
}

#[test]
fn a_replacement_that_costs_as_much_as_what_it_drops_is_meant() {
    let many = |amount: &str| {
        warned(&format!(
            "[[too_many]]\nid = \"third\"\nlabel = \"Third\"\nevents = \"beam\"\ntags = \"jump\"\n\
             at_most = 2\namount = {amount}\n\n[[replace]]\nrule = \"fall\"\ndrops = \"third\"\n"
        ))
    };
    // A fall of 0.8 in the place of one too many, which an element is once.
    assert_eq!((many("0.8").len(), many("0.9").len()), (0, 1));
    let few = |rule: &str, amount: &str| {
        warned(&format!(
            "[[too_few]]\nid = \"short\"\nlabel = \"Short\"\nevents = \"floor\"\n\
             steps = [{{ below = 4, amount = {amount} }}]\n\n\
             [[too_many]]\nid = \"hops\"\nlabel = \"Hops\"\nevents = \"floor\"\n\
             elements = \"hop\"\nat_most = 1\namount = 0.1\n\n\
             [[replace]]\nrule = \"{rule}\"\ndrops = \"short\"\n"
        ))
    };
    assert_eq!((few("fall", "0.8").len(), few("fall", "0.9").len()), (0, 1));
    // One too many stands at its element, too few at none: they never meet.
    assert_eq!(few("hops", "9.0"), [""; 0]);
    // Left out of a text of two: 0.3 + 0.3 and 0.3 + 0.1, together 1.0.
    let text = |amount: &str| {
        warned(&format!(
            "[[text]]\nid = \"text\"\nlabel = \"Text\"\nevents = \"bars\"\n\
             elements = [\"kip\", \"cast\"]\nleft_out = 0.3\nleft_out_value = 1\n\n\
             [[fault]]\nid = \"unlike\"\nlabel = \"Unlike\"\nevents = \"bars\"\namount = {amount}\n\
             counts = \"once\"\n\n[[replace]]\nrule = \"unlike\"\ndrops = \"text\"\n"
        ))
    };
    assert_eq!((text("1.0").len(), text("0.9").len()), (0, 1));
}

#[test]
fn a_higher_class_fills_a_place_only_where_it_may() {
    // Of class A the floor has four families here and one of B, which may stand for a fifth.
    let fifth = |replaces: bool| {
        warned(&format!(
            "[[value_parts]]\nevents = \"floor\"\nhigher_replaces = {replaces}\n\
             need = [{{ class = \"a\", count = 5, price = 0.1 }}, \
             {{ class = \"b\", count = 1, price = 0.3 }}]\n"
        ))
    };
    let said = |division| format!("{division} on floor needs 5 of the class a, and the book has 4");
    assert_eq!(fifth(false), [said("high"), said("low")]);
    assert_eq!(fifth(true), [""; 0]);
}

#[test]
fn a_warning_stands_at_the_table_that_it_is_about() {
    let parts = |division: &str, count: u32| {
        format!(
            "[[value_parts]]\nevents = \"floor\"\ndivisions = \"{division}\"\n\
             need = [{{ class = \"b\", count = {count}, price = 0.3 }}]\n\n"
        )
    };
    let found = warned_at(&(parts("low", 1) + &parts("high", 3)));
    let found: Vec<_> = found.iter().filter(|(said, _)| said.contains("needs")).collect();
    assert_eq!(found.len(), 1);
    assert_eq!(found[0].0, "high on floor needs 3 of the class b, and the book has 1");
    assert!(found[0].1.contains("count = 3"), "{found:?}");
    // Two tables for the low division on floor: the second is pointed at, not the one after it.
    let scoring = |events: &str, divisions: &str| {
        format!(
            "[[scoring]]\nevents = {events}\ndivisions = \"{divisions}\"\n\
             formula = \"start-minus\"\nstart = 10.0 # {events} {divisions}\n\n"
        )
    };
    let all = "[\"vault\", \"bars\", \"beam\", \"floor\"]";
    let most = "[\"vault\", \"bars\", \"beam\"]";
    let tables = [scoring(all, "low"), scoring("\"floor\"", "low"), scoring(most, "high")].concat();
    let found = warned_at(&(tables + &scoring("\"floor\"", "high")));
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].0, "2 tables [[scoring]] cover low on floor");
    assert!(found[0].1.contains("# \"floor\" low"), "{found:?}");
}

#[test]
fn a_number_called_in_an_inner_table_is_called() {
    let divisions = "[[division]]\nid = \"low\"\nname = \"Low\"\nnumbers = { own = 0.2 }\n\n\
                     [[division]]\nid = \"high\"\nname = \"High\"\nnumbers = { own = 0.3 }\n\n";
    let uncalled = warned(divisions);
    assert_eq!(uncalled, ["no rule calls the number \"own\""; 2]);
    let angle = "[[angle]]\nid = \"line\"\nlabel = \"Line\"\nevents = \"beam\"\n\
                 elements = \"handstand\"\nquantity = \"off-vertical\"\ntarget = 0\n\
                 side = \"at-most\"\n";
    for called in [
        format!("{angle}bands = [{{ amount = \"own\" }}]\n"),
        format!(
            "{angle}bands = [{{ up_to = 20, proportional = {{ from = 0.0, to = \"own\", \
             grid = 0.1 }} }}, {{ amount = 0.5 }}]\n"
        ),
        "[[element]]\nid = \"under\"\nname = \"Under\"\nevent = \"vault\"\n\
         vault = { value = \"own\", before = 360 }\n"
            .to_owned(),
    ] {
        assert_eq!(warned(&format!("{divisions}{called}")), [""; 0], "{called}");
    }
}

#[test]
fn one_shorthand_may_stand_for_two_faults_only_apart() {
    let two = |first: &str, second: &str| {
        let fault = |id: &str, scope: &str| {
            format!(
                "[[fault]]\nid = \"{id}\"\nlabel = \"L\"\nshorthand = \"x\"\namount = 0.1\n{scope}\n\n"
            )
        };
        warned(&(fault("one", first) + &fault("two", second))).len()
    };
    let (beam, floor) = ("events = \"beam\"", "events = \"floor\"");
    let (low, high) = ("divisions = \"low\"", "divisions = \"high\"");
    for (first, second) in [("", ""), (beam, ""), ("", beam), (beam, beam), (low, ""), (beam, low)]
    {
        assert_eq!(two(first, second), 1, "{first}, {second}");
    }
    for (first, second) in [(beam, floor), (low, high)] {
        assert_eq!(two(first, second), 0, "{first}, {second}");
    }
}

/// Returns whether it is warned that the rule `stays` may cost less than the rules `drops`.
fn lowers(stays: &str, drops: &[&str]) -> bool {
    let ids: Vec<String> = (0..drops.len()).map(|at| format!("\"drops-{at}\"")).collect();
    let replace = format!("[[replace]]\nrule = \"stays\"\ndrops = [{}]\n", ids.join(", "));
    let mut tables = named(stays, "stays");
    for (at, rule) in drops.iter().enumerate() {
        tables += &named(rule, &format!("drops-{at}"));
    }
    let found = warned(&(tables + &replace));
    assert!(found.iter().all(|said| said.contains("more faults cost less")), "{found:?}");
    found.len() == 1
}

/// Gives a rule its id and a label: `table: keys`.
fn named(rule: &str, id: &str) -> String {
    let (table, keys) = rule.split_once(": ").unwrap();
    let keys: Vec<&str> = keys.split("; ").collect();
    format!("[[{table}]]\nid = \"{id}\"\nlabel = \"L\"\n{}\n\n", keys.join("\n"))
}

/// What costs so much at an element, once; and what does so at none.
fn at_element(amount: &str) -> String {
    format!("too_many: tags = \"jump\"; at_most = 2; amount = {amount}")
}

fn at_none(amount: &str) -> String {
    format!("too_few: steps = [{{ below = 4, amount = {amount} }}]")
}

#[test]
fn a_rule_takes_the_place_of_others_at_the_same_place_only() {
    let angle = "angle: elements = \"handstand\"; quantity = \"off-vertical\"; target = 0; \
                 side = \"at-most\"; bands = [{ up_to = 9, amount = 0.1 }, { amount = 0.3 }]";
    let exercise = "time: of = \"exercise\"; at_most = 90; amount = 0.3";
    let element = "time: of = \"element\"; tags = \"handstand\"; at_least = 2; amount = 0.3";
    let fact = "when: mark = \"fact\"; fact = \"mat\"; is = \"soft\"; amount = 0.3";
    let once = "when: mark = \"swing\"; amount = 0.3; counts = \"once\"";
    let flat = "fault: amount = 0.3; counts = \"once\"";
    let choice = "fault: choice = [0.1, 0.3]; counts = \"once\"";
    let up_to = "fault: up_to = 0.3; counts = \"once-per-element\"";
    // The worthiest element has 0.3.
    let worth = "fault: of_value = 1; counts = \"once\"";
    for at_elements in [angle, element, once, flat, choice, up_to, worth] {
        assert!(lowers(&at_element("0.2"), &[at_elements]), "{at_elements}");
        assert!(!lowers(&at_element("0.3"), &[at_elements]), "{at_elements}");
    }
    for at_the_exercise in [exercise, fact, once, flat, choice, up_to, worth] {
        assert!(lowers(&at_none("0.2"), &[at_the_exercise]), "{at_the_exercise}");
        assert!(!lowers(&at_none("0.3"), &[at_the_exercise]), "{at_the_exercise}");
    }
    for elsewhere in [exercise, fact] {
        assert!(!lowers(&at_element("0.1"), &[elsewhere]), "{elsewhere}");
    }
    for elsewhere in [angle, element] {
        assert!(!lowers(&at_none("0.1"), &[elsewhere]), "{elsewhere}");
    }
}

#[test]
fn what_may_be_taken_again_and_again_costs_more_than_any_rule() {
    for again in [
        "time: of = \"fall\"; at_most = 10; amount = 0.1",
        "time: of = \"stop\"; at_most = 2; amount = 0.1",
        "when: mark = \"swing\"; amount = 0.1",
        "fault: amount = 0.1",
    ] {
        assert!(lowers(&at_element("9.0"), &[again]), "{again}");
        assert!(lowers(&at_none("9.0"), &[again]), "{again}");
        // What makes the exercise void costs more than anything.
        assert!(!lowers("fault: void = true; amount = 0.1", &[again]), "{again}");
    }
}

#[test]
fn the_least_that_the_rule_may_cost_is_held_against_the_most_of_the_others() {
    let lowers_at_elements = |rule: &str, amount: &str| lowers(rule, &[&at_element(amount)]);
    for (rule, least) in [
        ("fault: up_to = 0.6; grid = 0.2", 2),
        ("fault: choice = [0.4, 0.2, 0.3]", 2),
        ("fault: amount = 0.2", 2),
        ("when: mark = \"fall\"; amount = 0.2", 2),
        ("text: elements = \"handstand\"; added = 0.3; swapped = 0.2", 2),
        ("text: elements = \"handstand\"; added = 0.2", 2),
        // An angle and a share of the worth may come to nothing.
        ("fault: of_value = 3", 0),
        (
            "angle: elements = \"handstand\"; quantity = \"off-vertical\"; target = 0; \
             side = \"at-most\"; bands = [{ amount = 0.3 }]",
            0,
        ),
    ] {
        let rule = rule.replace("text: ", "text: events = \"beam\"; ");
        assert!(lowers_at_elements(&rule, &format!("0.{}", least + 1)), "{rule}");
        assert!(least == 0 || !lowers_at_elements(&rule, &format!("0.{least}")), "{rule}");
    }
    // Of steps the least, and of the other side the most.
    let steps = |least: &str, most: &str| {
        format!(
            "too_few: steps = [{{ below = 7, amount = {least} }}, {{ below = 4, amount = {most} }}]"
        )
    };
    assert!(lowers(&steps("0.2", "0.6"), &[&at_none("0.3")]));
    assert!(!lowers(&steps("0.3", "0.6"), &[&at_none("0.3")]));
    assert!(lowers(&at_none("0.5"), &[&steps("0.2", "0.6")]));
    assert!(!lowers(&at_none("0.6"), &[&steps("0.2", "0.6")]));
}

#[test]
fn the_rule_of_that_name_is_looked_at_where_it_holds() {
    // Beside each stands another of its kind that costs 0.9.
    let angle = |id: &str, events: &str, amount: &str| {
        format!(
            "[[angle]]\nid = \"{id}\"\nlabel = \"L\"\nevents = \"{events}\"\n\
             tags = [\"handstand\", \"leap\"]\nquantity = \"off-vertical\"\ntarget = 0\n\
             side = \"at-most\"\nbands = [{{ amount = {amount} }}]\n\n"
        )
    };
    let time = |id: &str, events: &str, amount: &str| {
        format!(
            "[[time]]\nid = \"{id}\"\nlabel = \"L\"\nevents = \"{events}\"\nof = \"element\"\n\
             tags = [\"handstand\", \"leap\"]\nat_least = 2\namount = {amount}\n\n"
        )
    };
    let replace = "[[too_many]]\nid = \"stays\"\nlabel = \"L\"\nevents = [\"beam\", \"floor\"]\n\
                   tags = \"jump\"\nat_most = 2\namount = 0.3\n\n\
                   [[replace]]\nevents = \"beam\"\nrule = \"stays\"\ndrops = \"line\"\n";
    for of in [angle, time] {
        let own = of("line", "beam", "0.3");
        assert_eq!(warned(&[&of("other", "beam", "0.9"), &own, replace].concat()), [""; 0]);
        // Nobody does a handstand on floor.
        let beside = warned(&[&of("line", "floor", "0.9"), &own, replace].concat());
        assert_eq!(beside, ["no element on floor carries the tag \"handstand\""]);
        assert_eq!(warned(&[&of("line", "beam", "0.4"), replace].concat()).len(), 1);
    }
}

#[test]
fn what_goes_is_added_up_group_by_group_within_its_limits() {
    let flat = |amount: &str, group: &str| {
        format!("fault: amount = {amount}; counts = \"once\"; group = \"{group}\"")
    };
    let cap = |group: &str, amount: &str| {
        format!(
            "\n[[cap]]\nid = \"{group}\"\nlabel = \"L\"\ngroup = \"{group}\"\nat_most = {amount}"
        )
    };
    let (three, four) = (flat("0.3", "g"), flat("0.4", "g"));
    assert!(lowers(&at_element("0.6"), &[&three, &four]));
    assert!(!lowers(&at_element("0.7"), &[&three, &four]));
    // The limit on one group does not hold for the other: 0.3 + 0.5.
    let limited = flat("0.4", "g") + &cap("g", "0.3");
    let other = flat("0.5", "h");
    assert!(lowers(&at_element("0.7"), &[&limited, &other]));
    assert!(!lowers(&at_element("0.8"), &[&limited, &other]));
}
