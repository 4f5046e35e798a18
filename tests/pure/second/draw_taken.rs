//! Draws the rules that take something or add it, and what limits them.

use super::{
    draw::{Draw, ELEMENTS, TAGS, follow},
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
    if switches::COUNTED {
        counted(draw);
    }
    // The guide does not say which element stands in another place, and so which limit it fills first.
    let mut caps = draw.text.split("\n[[").filter(|table| table.starts_with("cap]]"));
    let is_told = caps.all(|cap| cap.contains("group = "));
    if switches::TEXTS && is_told && draw.chance.is(25) {
        text(draw);
    }
}

fn groups(draw: &Draw<'_>) -> &'static [&'static str] {
    let is_bucket = draw.formula == "buckets" && !switches::SETTLED_ARTISTRY;
    if is_bucket { &GROUPS[..1] } else { &GROUPS }
}

fn counts(draw: &mut Draw<'_>) {
    match draw.chance.below(4) {
        0 => draw.put("counts = \"once\""),
        1 => draw.put("counts = \"once-per-element\""),
        _ => {}
    }
}

fn common(draw: &mut Draw<'_>) {
    counts(draw);
    let is_neutral = draw.chance.is(15);
    if is_neutral {
        draw.put("neutral = true");
    }
    if !is_neutral || switches::NEUTRAL_IN_GROUPS {
        let groups = groups(draw);
        draw.put_group(groups);
    }
    if draw.chance.is(15) {
        removes(draw);
    }
}

fn removes(draw: &mut Draw<'_>) {
    takes_credit(draw, "removes");
}

fn takes_credit(draw: &mut Draw<'_>, key: &str) {
    // The guide does not say which credit a bonus and the elements of a connection need.
    let has_adds = draw.text.contains("[[bonus]]") || draw.text.contains("[[connection]]");
    if has_adds && !switches::ADDS_WITH_SOME_CREDIT {
        if !draw.text.contains("links =") {
            draw.put(&format!("{key} = {CREDITS:?}"));
        }
        return;
    }
    let has_links = draw.text.contains("links =");
    let credits =
        if has_links && !switches::LINKS_THAT_LOSE_CREDIT { &CREDITS[..2] } else { &CREDITS };
    draw.put_names(key, credits, 2);
}

fn faults(draw: &mut Draw<'_>) {
    draw.begin("fault", "flat");
    draw.put_points("amount");
    common(draw);
    draw.begin("fault", "up");
    draw.put("up_to = 0.4");
    common(draw);
    draw.begin("fault", "choice");
    draw.put("choice = [0.1, 0.3]");
    common(draw);
    draw.begin("fault", "valued");
    draw.put("of_value = 0.5");
    common(draw);
    draw.begin("fault", "small");
    // So that rules can name the group.
    draw.put("amount = 0.1\ngroup = \"landing\"");
    draw.put_flag("neutral", if switches::NEUTRAL_IN_GROUPS { 15 } else { 0 });
    draw.begin("fault", "art");
    draw.put("amount = 0.3\ngroup = \"artistry\"");
    draw.begin("fault", "head");
    draw.put("events = \"vault\"\namount = 0.1\ncounts = \"once-per-phase\"");
    let groups = groups(draw);
    draw.put_group(groups);
    draw.begin("fault", "loss");
    draw.put("amount = 0.0");
    removes(draw);
}

fn angles(draw: &mut Draw<'_>) {
    draw.begin_all("angle", "split");
    draw.put_names("tags", &TAGS, 2);
    let side = draw.chance.pick(&["at-least", "above"]);
    draw.put(&format!("quantity = \"split\"\nside = \"{side}\""));
    let target = draw.chance.pick(&["100", "{ d1 = 90, d2 = 110 }"]);
    draw.put(&format!("target = {target}"));
    if draw.chance.is(30) {
        draw.put("round_to = 1");
    }
    if draw.chance.is(60) {
        takes_credit(draw, "gates");
        let is_named = draw.text.ends_with("]\n");
        let is_asked = draw.text.contains("asks =") && !switches::ASKS_WITHIN;
        if is_named && !is_asked && draw.chance.is(50) {
            let within = draw.chance.pick(&["10", "20", "{ d1 = 10, d2 = 20 }"]);
            draw.put(&format!("gate_within = {within}"));
        }
    }
    let inclusive = draw.chance.pick(&["", ", inclusive = false"]);
    let end = draw.chance.pick(&["", ", { amount = 0.5 }"]);
    let first = format!("{{ up_to = 10{inclusive}, amount = 0.1 }}");
    let second = format!("{{ up_to = 20{inclusive}, amount = 0.2 }}");
    match draw.chance.below(3) {
        0 => {}
        1 => draw.put("bands = [{ amount = 0.3 }]"),
        _ => draw.put(&format!("bands = [{first}, {second}{end}]")),
    }
    counts(draw);
    let groups = groups(draw);
    draw.put_group(groups);
    draw.begin("angle", "line");
    draw.put_names("elements", &ELEMENTS, 2);
    let side = draw.chance.pick(&["at-most", "below"]);
    draw.put(&format!("quantity = \"off-vertical\"\nside = \"{side}\"\ntarget = 10"));
    if draw.chance.is(50) {
        takes_credit(draw, "gates");
    }
    draw.put("bands = [{ amount = 0.3 }]");
}

fn whens(draw: &mut Draw<'_>) {
    for mark in WHENS {
        draw.begin("when", mark);
        draw.put(&format!("mark = \"{mark}\""));
        if mark == "swing" && draw.chance.is(50) {
            draw.put_names("after", &TAGS, 1);
        }
        if draw.chance.is(5) {
            draw.put("void = true");
            continue;
        }
        draw.put_points("amount");
        common(draw);
    }
    draw.begin("when", "help");
    draw.put("events = \"vault\"\nmark = \"spot\"");
    draw.put_names("phases", &["first_flight", "support", "second_flight", "landing"], 2);
    draw.put_points("amount");
    draw.begin("when", "board");
    draw.put("mark = \"fact\"\nfact = \"board\"");
    match draw.chance.below(3) {
        0 => draw.put("is = [\"soft\"]"),
        1 => draw.put("below = 15"),
        _ => draw.put("below = 15\nabove = 25"),
    }
    draw.put_points("amount");
    draw.put_flag("neutral", 50);
}

const RULES: [&str; 9] = ["flat", "up", "choice", "valued", "small", "art", "fall", "stop", "spot"];

fn settling(draw: &mut Draw<'_>) {
    if draw.chance.is(25) {
        draw.bare("merge");
        let count = 2 + draw.chance.below(2);
        let rule = draw.chance.pick(&["small", "choice", "up"]);
        draw.put(&format!("rule = \"{rule}\"\nof = 0.1\ncount = {count}\ninto = 0.5"));
    }
    if draw.chance.is(25) {
        draw.bare("replace");
        let rule = draw.chance.pick(&RULES);
        draw.put(&format!("rule = \"{rule}\""));
        let is_kept = |other: &str| {
            other == rule
                || (other == "art" && draw.formula == "buckets" && !switches::SETTLED_ARTISTRY)
        };
        let others: Vec<&str> = RULES.into_iter().filter(|other| !is_kept(other)).collect();
        draw.put_names("drops", &others, 3);
    }
    if draw.chance.is(50) {
        draw.begin("cap", "phases");
        draw.put("events = \"vault\"\nper = \"phase\"\nat_most = 0.2");
        let groups = groups(draw);
        let group = draw.chance.pick(groups);
        draw.put(&format!("group = \"{group}\""));
    }
    let mut has_all = false;
    for cap in 0..draw.chance.below(3) {
        if cap == 1 && has_all && !switches::OVERLAPPING_CAPS {
            break;
        }
        draw.begin("cap", &format!("cap{cap}"));
        draw.put_points("at_most");
        let is_plain = matches!(draw.formula, "start-minus" | "open");
        let is_of_all = draw.chance.is(30)
            && (cap == 0 || switches::OVERLAPPING_CAPS)
            && (is_plain || switches::CAPS_OF_ALL_RULES);
        has_all |= is_of_all;
        if !is_of_all {
            let groups = groups(draw);
            let group = draw.chance.pick(groups);
            draw.put(&format!("group = \"{group}\""));
        }
        if (!is_of_all || switches::CAPS_OF_ALL_RULES) && draw.chance.is(50) {
            draw.put("per = \"element\"");
            draw.put_flag("plus_value", 40);
        }
        if draw.chance.is(25) {
            draw.put_names("lifted_by", &RULES, 2);
        }
    }
}

fn counted(draw: &mut Draw<'_>) {
    if draw.chance.is(25) {
        draw.begin("too_many", "many");
        match draw.chance.below(3) {
            0 => draw.put_names("elements", &ELEMENTS, 2),
            1 => draw.put_names("tags", &TAGS, 1),
            _ => draw.put("classes = \"high\""),
        }
        let most = draw.chance.below(3);
        draw.put(&format!("at_most = {most}"));
        if draw.chance.is(10) {
            draw.put("void = true");
        } else {
            draw.put_points("amount");
        }
    }
    let all_allowed = !draw.text.contains("highest_class") && !draw.text.contains("divisions =");
    if draw.chance.is(40) && (all_allowed || switches::TOO_FEW_OF_NOT_ALLOWED) {
        draw.begin("too_few", "few");
        draw.put("steps = [{ below = 4, amount = 0.5 }, { below = 2, amount = 0.8 }]");
        draw.put_flag("neutral", 50);
    }
    if draw.chance.is(25) {
        draw.begin("time", "time");
        let of = draw.chance.pick(&["exercise", "fall", "stop", "element"]);
        draw.put(&format!("of = \"{of}\""));
        if of == "element" {
            draw.put_names("tags", &TAGS, 2);
            if draw.chance.is(50) {
                removes(draw);
            }
        }
        match draw.chance.below(2) {
            0 => draw.put("at_least = 1"),
            _ => draw.put("at_most = 1"),
        }
        if draw.chance.is(10) {
            draw.put("void = true");
        } else {
            draw.put_points("amount");
            draw.put_flag("neutral", 30);
        }
    }
}

fn adds(draw: &mut Draw<'_>) {
    let rules = draw.chance.below(2 + usize::from(switches::SEVERAL_CONNECTIONS));
    for at in 0..rules {
        draw.begin("connection", &format!("con{at}"));
        let count = 2 + draw.chance.below(2);
        let series: Vec<&str> = (0..count).map(|_| draw.chance.pick(&TAGS)).collect();
        draw.put(&format!("series = {series:?}"));
        draw.put_flag("any_order", 30);
        follow(draw, switches::LINKS_OF_CONNECTIONS);
        draw.put_points("amount");
        if draw.chance.is(40) {
            draw.put("at_most = 1");
        }
    }
    for at in 0..draw.chance.below(3) {
        draw.begin("bonus", &format!("bonus{at}"));
        match draw.chance.below(5) {
            0 => draw.put("fact = \"board\"\nis = \"20\""),
            1 => draw.put_names("elements", &ELEMENTS, 2),
            _ => draw.put_names("tags", &TAGS, 1),
        }
        draw.put_points("amount");
        if draw.chance.is(40) {
            draw.put("at_most = 2");
        }
        if draw.chance.is(30) {
            draw.put_names("unless", &RULES, 2);
        }
    }
    if draw.text.contains("[[bonus]]") && draw.chance.is(30) {
        draw.begin("bonus_limit", "limit");
        draw.put_points("at_most");
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
    draw.put(&format!("elements = {elements:?}"));
    draw.put_points("left_out");
    if draw.chance.is(50) {
        draw.put("left_out_value = 2");
    }
    draw.put_points("added");
    draw.put_points("swapped");
    draw.put_flag("neutral", 30);
}
