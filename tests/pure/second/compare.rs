//! Compares the program's sheet with what the second evaluator comes to.

use std::collections::BTreeMap;

use stillcall::{
    marks::Id,
    rulebook::{Book, read_beside, render},
    sheet::{ScoreSheet, score},
    units::Points,
};
use toml::Table;

use super::{
    adds, like,
    outcome::{Outcome, outcome, scene, worlds},
    read::Under,
    routine::Done,
    scene::World,
    serve,
};
use crate::books::book;

/// Returns what differs, or nothing.
pub(super) fn compare(text: &str, like: Option<&str>, done: &Done) -> Option<String> {
    let base: Table = text.parse().unwrap();
    let (book, table) = match like {
        None => (book(text), base),
        Some(own) => (beside(text, own), like::merged(&base, &own.parse().unwrap())),
    };
    let sheet = score(&book, &done.sheaf());
    let under = Under::new(&table, &done.event, &done.division);
    let worlds = worlds(&under, done);
    let all: Vec<Outcome> = worlds.iter().map(|world| outcome(&under, done, world)).collect();
    let found = match &worlds[..] {
        [only] if all[0].score.is_some() => {
            one(&sheet, &all[0], &under.ids()).or_else(|| served(&sheet, (&under, done), only))
        }
        _ => None,
    };
    let found = found.or_else(|| range(&sheet, &all));
    found.map(|said| format!("{said}\nsecond: {:?}\n{}", all.first(), told(&sheet)))
}

/// The name under which the other book lies beside the one that is like it.
pub(super) const BASE: &str = "base.toml";

/// The book that is like the one of the first text.
fn beside(base: &str, own: &str) -> Book {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join(BASE), base).unwrap();
    let place = folder.path().join("own.toml");
    match read_beside(own, place.to_str().unwrap()) {
        Ok((book, _)) => book,
        Err(errors) => panic!("{}", render(&errors, own, "own.toml")),
    }
}

/// The lines of a sheet with an amount, one a line.
fn told(sheet: &ScoreSheet) -> String {
    let mut lines = vec![format!("program: {:?} of {}", sheet.score, sheet.start_value.unwrap())];
    for line in &sheet.value_parts {
        lines.push(format!("  part {} {} by {:?}", line.class, line.amount, line.marks));
    }
    for line in &sheet.requirements {
        lines.push(format!("  {} {} by {:?}: {}", line.id, line.amount, line.marks, line.reason));
    }
    for line in &sheet.deductions {
        lines.push(format!("  {} {} of {:?}: {}", line.rule, line.amount, line.mark, line.reason));
    }
    lines.join("\n")
}

fn unequal<T: PartialEq + std::fmt::Debug>(what: &str, program: &T, second: &T) -> Option<String> {
    (program != second)
        .then(|| format!("{what}: the program says {program:?}, the second {second:?}"))
}

/// The lowest and the highest score, between which it lies, and whether it may be void.
fn range(sheet: &ScoreSheet, all: &[Outcome]) -> Option<String> {
    let scores: Vec<i64> = all.iter().filter_map(|outcome| outcome.score).collect();
    let may_be_void = scores.len() < all.len();
    let range = sheet.score_range;
    let Some((low, high)) = scores.iter().min().zip(scores.iter().max()) else {
        return unequal("void", &sheet.void, &true);
    };
    let program = (range.low.0, range.high.0, range.may_be_void);
    unequal("range", &program, &(*low, *high, may_be_void)).or_else(|| {
        // Each open question is taken by itself, so that the score may be less than the highest.
        let is_within = match sheet.score {
            Some(score) => (*low..=*high).contains(&score.0),
            None => may_be_void,
        };
        (!is_within).then(|| format!("score: {:?} lies outside of the range", sheet.score))
    })
}

/// Everything else, where nothing is open.
fn one(sheet: &ScoreSheet, second: &Outcome, rules: &[String]) -> Option<String> {
    let sum = |amounts: &mut dyn Iterator<Item = Points>| amounts.sum::<Points>().0;
    let parts = sum(&mut sheet.value_parts.iter().map(|line| line.amount));
    let requirements = sum(&mut sheet.requirements.iter().map(|line| line.amount));
    let mut taken: BTreeMap<String, i64> = BTreeMap::new();
    for line in &sheet.deductions {
        *taken.entry(one_name(&line.rule).to_owned()).or_default() += line.amount.0;
    }
    // Lines of the formula, such as the highest score, stand under no rule of the book.
    let is_own = |rule: &String| {
        rules.contains(rule) || ["not-allowed", adds::CONNECTIONS].contains(&&rule[..])
    };
    taken.retain(|rule, amount| *amount != 0 && is_own(rule));
    let off: i64 = sheet.deductions.iter().map(|line| line.amount.0).sum();
    let adds_up = sheet.score.is_none_or(|score| sheet.start_value.unwrap().0 - off == score.0);
    let adds_up = (!adds_up).then(|| "lines: they do not add up to the score".to_owned());
    adds_up
        .or_else(|| unequal("start", &sheet.start_value.unwrap().0, &second.start))
        .or_else(|| unequal("value parts", &parts, &second.missing_parts))
        .or_else(|| unequal("requirements", &requirements, &second.missing_requirements))
        .or_else(|| unequal("taken", &taken, &second.taken))
}

/// Connections stand under one name, as several rules may give as much.
fn one_name(rule: &str) -> &str {
    if rule.starts_with(adds::CONNECTIONS) { adds::CONNECTIONS } else { rule }
}

/// Who serves what: the program's choice must be one that the book allows.
fn served(sheet: &ScoreSheet, (under, done): (&Under<'_>, &Done), world: &World) -> Option<String> {
    let (scene, _) = scene(under, done, world);
    let place = |id: &Id| scene.shown.iter().position(|shown| Done::id(shown.step) == *id);
    let rows = under.rows("requirement");
    let mut sets = Vec::new();
    for row in &rows {
        let line = sheet.requirements.iter().find(|line| line.id == row.text("id"))?;
        let set: Vec<usize> = line.marks.iter().filter_map(place).collect();
        let counts = row.flag("each", false) || line.amount == Points::ZERO;
        sets.push(if counts { set } else { Vec::new() });
    }
    for (row, set) in rows.iter().zip(&sets) {
        if !serve::ways(&scene, *row).contains(set) {
            return Some(format!("served: {} is not by {set:?}", row.text("id")));
        }
    }
    let agree = serve::agree(&scene, &rows, &sets.iter().collect::<Vec<_>>());
    (!agree).then(|| format!("beside: requirements do not stand beside one another: {sets:?}"))
}
