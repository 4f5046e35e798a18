//! Draws what a routine has to show: value parts and requirements.

use super::draw::{CLASSES, Draw, ELEMENTS, TAGS};

pub(super) fn value_parts(draw: &mut Draw<'_>) {
    if draw.chance.is(20) {
        return;
    }
    draw.bare("value_parts");
    draw.scope();
    if draw.chance.is(50) {
        let is = draw.chance.is(50);
        draw.key("higher_replaces", &is.to_string());
    }
    let classes = draw.chance.some(&CLASSES, 3);
    let need: Vec<String> = classes
        .iter()
        .map(|class| {
            let (count, price) = (draw.count(), draw.points());
            format!("{{ class = \"{class}\", count = {count}, price = {price} }}")
        })
        .collect();
    draw.key("need", &format!("[{}]", need.join(", ")));
}

pub(super) fn requirements(draw: &mut Draw<'_>) {
    for at in 0..draw.chance.below(4) {
        draw.begin("requirement", &format!("r{at}"));
        draw.price("price");
        if draw.chance.is(20) {
            draw.line("tags = [\"x\", \"y\"]\neach_tag = true");
        } else if draw.chance.is(25) {
            draw.names("elements", &ELEMENTS, 3);
        } else {
            draw.names("tags", &TAGS, 2);
        }
        if draw.chance.is(15) {
            draw.names("classes", &CLASSES, 2);
        }
        if draw.chance.is(15) {
            draw.names("except", &TAGS, 1);
        }
        if draw.chance.is(30) {
            draw.line("distinct = false");
        }
        if draw.chance.is(10) {
            let place = draw.chance.pick(&["first", "last"]);
            draw.key("place", &format!("\"{place}\""));
        }
        together(draw);
        if draw.chance.is(15) {
            draw.names("with", &TAGS, 1);
        }
        if at > 0 && draw.chance.is(20) {
            let other = draw.chance.below(at);
            draw.key("apart_from", &format!("\"r{other}\""));
        }
        draw.flag("each", 35);
        if draw.chance.is(15) {
            draw.line("asks = \"split\"");
        }
    }
}

/// How many are asked, and whether they follow one another.
fn together(draw: &mut Draw<'_>) {
    if draw.chance.is(60) {
        if draw.chance.is(60) {
            let count = draw.count();
            draw.key("count", &count);
        }
        return;
    }
    draw.line("connected = true");
    let count = draw.chance.pick(&["1", "2", "2", "2", "3", "{ d1 = 3, d2 = 2 }"]);
    draw.key("count", count);
    follow(draw);
    match draw.chance.below(5) {
        0 => draw.names("only_first", &TAGS, 1),
        1 => draw.names("only_last", &TAGS, 1),
        _ => {}
    }
}

/// What may stand between two elements of a series, and what may not.
pub(super) fn follow(draw: &mut Draw<'_>) {
    if draw.chance.is(30) {
        draw.names("links", &TAGS, 1);
    }
    if draw.chance.is(30) {
        draw.names("breaks", &["stop", "fall", "swing", "spot"], 2);
    }
    if draw.chance.is(20) {
        draw.line("gap = 0.5");
    }
    if draw.chance.is(30) {
        let words = ["behind", "both-sides", "nowhere"];
        let word = draw.chance.pick(&words);
        draw.line(&format!("lost_breaks = {word:?}"));
    }
}
