//! Draws the rules that take something or add it, and what limits them.

use super::{
    draw::{CLASSES, Draw, ELEMENTS, TAGS},
    draw_asked::follow,
    switches,
};

const GROUPS: [&str; 2] = ["landing", "artistry"];
const CREDITS: [&str; 3] = ["value-part", "requirement", "connection"];
/// Rules that a mark brings about.
pub(super) const WHENS: [&str; 4] = ["fall", "spot", "stop", "swing"];

pub(super) fn deductions(draw: &mut Draw<'_>) {
    adds(draw);
    angles(draw);
    faults(draw);
    whens(draw);
    settling(draw);
    counted(draw);
    // The guide does not say which element stands in another place, and so which limit it fills first.
    let mut caps = draw.text.split("\n[[").filter(|table| table.starts_with("cap]]"));
    let is_told = caps.all(|cap| cap.contains("group = "));
    if is_told && draw.chance.is(25) {
        text(draw);
    }
}

fn counts(draw: &mut Draw<'_>) {
    match draw.chance.below(4) {
        0 => draw.line("counts = \"once\""),
        1 => draw.line("counts = \"once-per-element\""),
        _ => {}
    }
}

fn common(draw: &mut Draw<'_>) {
    counts(draw);
    let is_neutral = draw.chance.is(15);
    if is_neutral {
        draw.line("neutral = true");
    }
    draw.group(&GROUPS);
    if draw.chance.is(15) {
        removes(draw);
    }
}

fn removes(draw: &mut Draw<'_>) {
    takes_credit(draw, "removes");
}

fn takes_credit(draw: &mut Draw<'_>, key: &str) {
    let has_adds = draw.text.contains("[[bonus]]") || draw.text.contains("[[connection]]");
    if has_adds && !switches::ADDS_WITH_SOME_CREDIT {
        draw.line(&format!("{key} = {CREDITS:?}"));
    } else {
        draw.names(key, &CREDITS, 2);
    }
}

fn faults(draw: &mut Draw<'_>) {
    draw.begin("fault", "flat");
    draw.price("amount");
    common(draw);
    draw.begin("fault", "up");
    draw.line("up_to = 0.4");
    common(draw);
    draw.begin("fault", "choice");
    draw.line("choice = [0.1, 0.3]");
    common(draw);
    draw.begin("fault", "valued");
    draw.line("of_value = 0.5");
    common(draw);
    draw.begin("fault", "small");
    // So that rules can name the group.
    draw.line("amount = 0.1\ngroup = \"landing\"");
    draw.flag("neutral", 15);
    draw.begin("fault", "art");
    draw.line("amount = 0.3\ngroup = \"artistry\"");
    draw.begin("fault", "head");
    draw.line("events = \"vault\"\namount = 0.1\ncounts = \"once-per-phase\"");
    draw.group(&GROUPS);
    draw.begin("fault", "loss");
    draw.line("amount = 0.0");
    removes(draw);
}

fn angles(draw: &mut Draw<'_>) {
    draw.table("angle", "split");
    draw.names("tags", &TAGS, 2);
    let side = draw.chance.pick(&["at-least", "above"]);
    draw.line(&format!("quantity = \"split\"\nside = \"{side}\""));
    let target = draw.chance.pick(&["100", "{ d1 = 90, d2 = 110 }"]);
    draw.line(&format!("target = {target}"));
    if draw.chance.is(30) {
        draw.line("round_to = 1");
    }
    if draw.chance.is(60) {
        takes_credit(draw, "gates");
        let is_asked = draw.text.contains("asks =") && !switches::ASKS_WITHIN;
        if !is_asked && draw.chance.is(50) {
            let within = draw.chance.pick(&["10", "20", "{ d1 = 10, d2 = 20 }"]);
            draw.line(&format!("gate_within = {within}"));
        }
    }
    let inclusive = draw.chance.pick(&["", ", inclusive = false"]);
    let end = draw.chance.pick(&["", ", { amount = 0.5 }"]);
    let first = format!("{{ up_to = 10{inclusive}, amount = 0.1 }}");
    let second = format!("{{ up_to = 20{inclusive}, amount = 0.2 }}");
    // What grows through a band is chosen by hand where nobody read the angle.
    let ways = if draw.text.contains("gates =") { 3 } else { 4 };
    match draw.chance.below(ways) {
        0 => {}
        1 => draw.line("bands = [{ amount = 0.3 }]"),
        3 => draw.line(
            "bands = [{ up_to = 10, amount = 0.1 }, { up_to = 30, proportional = { from = 0.1, to = \
             0.5, grid = 0.1 } }, { amount = 0.6 }]",
        ),
        _ => draw.line(&format!("bands = [{first}, {second}{end}]")),
    }
    counts(draw);
    draw.group(&GROUPS);
    draw.begin("angle", "line");
    draw.names("elements", &ELEMENTS, 2);
    let side = draw.chance.pick(&["at-most", "below"]);
    draw.line(&format!("quantity = \"off-vertical\"\nside = \"{side}\"\ntarget = 10"));
    if draw.chance.is(50) {
        takes_credit(draw, "gates");
    }
    draw.line("bands = [{ amount = 0.3 }]");
}

fn whens(draw: &mut Draw<'_>) {
    for mark in WHENS {
        draw.begin("when", mark);
        draw.line(&format!("mark = \"{mark}\""));
        if mark == "swing" && draw.chance.is(50) {
            draw.names("after", &TAGS, 1);
        }
        if draw.chance.is(5) {
            draw.line("void = true");
            continue;
        }
        draw.price("amount");
        common(draw);
    }
    draw.begin("when", "help");
    draw.line("events = \"vault\"\nmark = \"spot\"");
    draw.names("phases", &["first_flight", "support", "second_flight", "landing"], 2);
    draw.price("amount");
    draw.begin("when", "board");
    draw.line("mark = \"fact\"\nfact = \"board\"");
    match draw.chance.below(3) {
        0 => draw.line("is = [\"soft\"]"),
        1 => draw.line("below = 15"),
        _ => draw.line("below = 15\nabove = 25"),
    }
    draw.price("amount");
    draw.flag("neutral", 50);
}

const RULES: [&str; 9] = ["flat", "up", "choice", "valued", "small", "art", "fall", "stop", "spot"];

fn settling(draw: &mut Draw<'_>) {
    if draw.chance.is(25) {
        draw.bare("merge");
        let count = 2 + draw.chance.below(2);
        let rule = draw.chance.pick(&["small", "choice", "up"]);
        draw.line(&format!("rule = \"{rule}\"\nof = 0.1\ncount = {count}\ninto = 0.5"));
    }
    if draw.chance.is(25) {
        draw.bare("replace");
        let rule = draw.chance.pick(&RULES);
        draw.line(&format!("rule = \"{rule}\""));
        let others: Vec<&str> = RULES.into_iter().filter(|other| *other != rule).collect();
        draw.names("drops", &others, 3);
    }
    if draw.chance.is(50) {
        draw.begin("cap", "phases");
        draw.line("events = \"vault\"\nper = \"phase\"\nat_most = 0.2");
        let group = draw.chance.pick(&GROUPS);
        draw.line(&format!("group = \"{group}\""));
    }
    for cap in 0..draw.chance.below(3) {
        draw.begin("cap", &format!("cap{cap}"));
        draw.price("at_most");
        if !draw.chance.is(30) {
            let group = draw.chance.pick(&GROUPS);
            draw.line(&format!("group = \"{group}\""));
        }
        if draw.chance.is(50) {
            draw.line("per = \"element\"");
            draw.flag("plus_value", 40);
        }
        if draw.chance.is(25) {
            draw.names("lifted_by", &RULES, 2);
        }
        if draw.chance.is(25) {
            draw.names("except", &RULES, 2);
        }
    }
}

fn counted(draw: &mut Draw<'_>) {
    if draw.chance.is(25) {
        draw.begin("too_many", "many");
        match draw.chance.below(3) {
            0 => draw.names("elements", &ELEMENTS, 2),
            1 => draw.names("tags", &TAGS, 1),
            _ => draw.line("classes = \"high\""),
        }
        let most = draw.chance.below(3);
        draw.line(&format!("at_most = {most}"));
        if draw.chance.is(10) {
            draw.line("void = true");
        } else {
            draw.price("amount");
        }
    }
    let all_allowed = !draw.text.contains("highest_class") && !draw.text.contains("divisions =");
    if draw.chance.is(40) && (all_allowed || switches::TOO_FEW_OF_NOT_ALLOWED) {
        draw.begin("too_few", "few");
        draw.line("steps = [{ below = 4, amount = 0.5 }, { below = 2, amount = 0.8 }]");
        draw.flag("neutral", 50);
    }
    if draw.chance.is(25) {
        draw.begin("time", "time");
        let of = draw.chance.pick(&["exercise", "fall", "stop", "element"]);
        draw.line(&format!("of = \"{of}\""));
        if of == "element" {
            draw.names("tags", &TAGS, 2);
            if draw.chance.is(50) {
                removes(draw);
            }
        }
        match draw.chance.below(2) {
            0 => draw.line("at_least = 1"),
            _ => draw.line("at_most = 1"),
        }
        if draw.chance.is(10) {
            draw.line("void = true");
        } else {
            draw.price("amount");
            draw.flag("neutral", 30);
        }
    }
}

fn adds(draw: &mut Draw<'_>) {
    let rules = draw.chance.below(3);
    for at in 0..rules {
        draw.begin("connection", &format!("con{at}"));
        let count = 2 + draw.chance.below(2);
        let asks = draw.chance.below(4);
        if asks > 0 {
            let series: Vec<&str> = (0..count).map(|_| draw.chance.pick(&TAGS)).collect();
            draw.line(&format!("series = {series:?}"));
        }
        if asks < 2 {
            let classes: Vec<&str> = (0..count).map(|_| draw.chance.pick(&CLASSES)).collect();
            draw.line(&format!("from_class = {classes:?}"));
        }
        draw.flag("any_order", 30);
        draw.flag("chain", 30);
        draw.flag("besides", 20);
        follow(draw);
        draw.price("amount");
        if draw.chance.is(40) {
            draw.line("at_most = 1");
        }
    }
    for at in 0..draw.chance.below(3) {
        draw.begin("bonus", &format!("bonus{at}"));
        match draw.chance.below(5) {
            0 => draw.line("fact = \"board\"\nis = \"20\""),
            1 => draw.names("elements", &ELEMENTS, 2),
            _ => draw.names("tags", &TAGS, 1),
        }
        draw.price("amount");
        if draw.chance.is(40) {
            draw.line("at_most = 2");
        }
        if draw.chance.is(30) {
            draw.names("unless", &RULES, 2);
        }
    }
    if draw.text.contains("[[bonus]]") && draw.chance.is(30) {
        draw.begin("bonus_limit", "limit");
        draw.price("at_most");
    }
}

fn text(draw: &mut Draw<'_>) {
    draw.begin("text", "words");
    let count = 1 + draw.chance.below(5);
    let elements: Vec<&str> = (0..count).map(|_| draw.chance.pick(&ELEMENTS)).collect();
    // The guide does not say which of two that are the same element is the one left out.
    let first = draw.family.first().copied();
    let same = |id: &str| first.filter(|_| draw.family.contains(&id));
    let elements: Vec<&str> = elements.into_iter().map(|id| same(id).unwrap_or(id)).collect();
    draw.line(&format!("elements = {elements:?}"));
    draw.price("left_out");
    if draw.chance.is(50) {
        draw.line("left_out_value = 2");
    }
    draw.price("added");
    draw.price("swapped");
    draw.flag("neutral", 30);
}
