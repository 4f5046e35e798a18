//! Where a warning stays away: books that look like the warned ones beside `kinds/warned` and are
//! meant as they stand.

use stillcall::rulebook::read_beside;

use crate::books::ask::kinds;

/// Returns what is warned of in a book of these tables that is like the base of the examples.
fn warned(tables: &str) -> Vec<String> {
    let head = "[book]\nid = \"t\"\ntitle = \"T\"\nedition = \"1\"\nlike = \"base.toml\"\n\n";
    let place = kinds("").join("t.toml");
    let read = read_beside(&format!("{head}{tables}"), place.to_str().unwrap());
    read.unwrap().1.into_iter().map(|warning| warning.message).collect()
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
    assert_eq!(parts(", { class = \"b\", count = 0, price = 0.3 }]\n"), idle);
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
