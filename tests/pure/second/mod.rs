//! A second evaluator, slow and plain, written from the sentences of `docs/rulebook-guide.md` alone:
//! it tries every way of giving elements to places and every answer to what is open. Books and
//! routines are drawn, and both evaluators have to come to the same.

mod adds;
mod angles;
mod chance;
mod charges;
mod compare;
mod draw;
mod draw_asked;
mod draw_routine;
mod draw_taken;
mod follow;
mod ledger;
mod like;
mod outcome;
mod parts;
mod read;
mod routine;
mod scene;
mod serve;
mod settle;
mod switches;
mod text;
mod worked_credit;
mod worked_limits;
mod worked_open;

use std::collections::BTreeMap;

use self::chance::Chance;

/// Draws and compares one book and routine; tells what differs, and the two themselves.
fn differs(seed: u64) -> Option<(String, String)> {
    let mut chance = Chance(seed);
    let text = draw::book(&mut chance);
    let done = draw_routine::routine(&mut chance, &text);
    let like = chance.is(15).then(|| like::draw(&mut chance, &text, compare::BASE));
    let said = compare::compare(&text, like.as_deref(), &done)?;
    let sort = said.split(':').next().unwrap_or_default().to_owned();
    let word = |key: &str| {
        let lines = text.lines().filter(|line| line.starts_with(key));
        lines.map(|line| line[key.len()..].to_owned()).next().unwrap_or_default()
    };
    let sort = format!("{sort}, {} sharing {}", word("formula = "), word("sharing = "));
    Some((sort, format!("seed {seed}: {said}\n{text}\n{like:?}\n{}", done.told())))
}

/// Fails with how often each sort of difference was met, and the shortest of each.
fn all_agree(routines: u64) {
    let mut sorts: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for (sort, said) in (0..routines).filter_map(differs) {
        sorts.entry(sort).or_default().push(said);
    }
    let told: Vec<String> = sorts
        .iter()
        .map(|(sort, all)| {
            let shortest = all.iter().min_by_key(|said| said.len()).cloned().unwrap_or_default();
            format!("== {sort}: {} of {routines}, such as\n{shortest}", all.len())
        })
        .collect();
    assert!(told.is_empty(), "{}", told.join("\n"));
}

#[test]
fn two_evaluators_agree() {
    all_agree(300);
}

#[test]
#[ignore = "make differential"]
fn two_evaluators_agree_on_many_routines() {
    let routines = std::env::var("STILLCALL_ROUTINES").ok().and_then(|text| text.parse().ok());
    all_agree(routines.unwrap_or(20_000));
}
