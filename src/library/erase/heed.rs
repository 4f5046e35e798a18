//! Word of withdrawals from other computers, and what is brought back.

use std::collections::BTreeSet;

use super::{
    draw_up::draw_up,
    erased::Erased,
    erasing::go_through,
    error::EraseError,
    log::EraseLog,
    plan::{ErasePlan, ErasedContent},
    tombstone::{Tombstone, place_in, random},
    wish::{EraseHands, EraseWish, Places},
    withdrawn::{Withdrawn, own_folder},
};
use crate::library::{
    consent::code::Code,
    home::{
        day::today,
        ledger::{HandedOut, Ledger, Made},
    },
    index::turn::Turn,
};

/// What other computers' withdrawals led to here.
#[derive(Debug, Default)]
pub struct Heeded {
    /// What was erased.
    pub erased: Vec<Erased>,
    /// Files that name somebody who withdrew and are none that were erased before, in words.
    pub told: Vec<String>,
}

/// Carries out what other computers left word of in the folders, and erases again what was brought
/// back. The index has to be up to date.
pub fn heed_withdrawals(
    places: Places<'_>,
    hands: &mut dyn EraseHands,
) -> Result<Heeded, EraseError> {
    let mut heeded = Heeded::default();
    let known = Withdrawn::known(Some(places.home), &places.shelf.folders);
    if known.all().is_empty() {
        return Ok(heeded);
    }
    let mut seen = BTreeSet::new();
    for word in known.all().iter().filter(|word| seen.insert(word.id.clone())) {
        let words: Vec<&Tombstone> = known.all().iter().filter(|it| it.id == word.id).collect();
        let named = || -> Result<Option<Code>, EraseError> {
            Ok(codes(places)?.into_iter().find(|code| word.names(code.as_str())))
        };
        let heard_of = place_in(&own_folder(places.home), &word.id);
        if heard_of.exists() {
            heeded.erased.extend(again(places, EraseWish::BroughtBack, &words, hands)?);
            heeded.told.extend(named()?.map(|code| told(&code, word)));
        } else if let Some(code) = named()? {
            let wish = EraseWish::Athlete { code, shared: word.shared };
            heeded.erased.extend(again(places, wish, &words, hands)?);
        } else {
            heeded.erased.extend(again(places, EraseWish::BroughtBack, &words, hands)?);
            // From now on it is old here: whoever is given her code later is not erased for it.
            word.leave(&heard_of)?;
        }
    }
    Ok(heeded)
}

fn told(code: &Code, word: &Tombstone) -> String {
    format!(
        "{code} withdrew on {}, and files here name her again: `stillcall library find athlete \
         {code}` finds them. Give whoever it is another code, or withdraw {code} once more",
        word.on
    )
}

/// Erases what a withdrawal elsewhere, or an earlier one here, named; nothing where none is here.
fn again(
    places: Places<'_>,
    wish: EraseWish,
    words: &[&Tombstone],
    hands: &mut dyn EraseHands,
) -> Result<Option<Erased>, EraseError> {
    let Some(first) = words.first() else { return Ok(None) };
    if wish == EraseWish::BroughtBack && !is_back(places, words)? {
        return Ok(None);
    }
    let together = |list: fn(&Tombstone) -> &Vec<ErasedContent>| {
        let all: BTreeSet<ErasedContent> =
            words.iter().flat_map(|word| list(word).iter().cloned()).collect();
        all.into_iter().collect::<Vec<_>>()
    };
    let _turn = Turn::now(places.home)?;
    // A withdrawal is the same one everywhere; what is brought back goes each time anew.
    let is_same = wish.code().is_some();
    let known = ErasePlan {
        id: if is_same { first.id.clone() } else { random()[..16].to_owned() },
        wish,
        witnessed: first.witnessed.clone(),
        on: today(),
        contents: together(|word| &word.contents),
        closed: Vec::new(),
        closed_clips: Vec::new(),
        written: together(|word| &word.written),
        steps: Vec::new(),
        stays: Vec::new(),
        handed_out: Vec::new(),
        unreached: Vec::new(),
    };
    let plan = draw_up(places, &known.wish, &known.witnessed, Some(&known))?;
    if plan.is_empty() {
        return Ok(None);
    }
    let log = EraseLog::begin(places.home, &plan)?;
    go_through(places, plan, log, hands).map(Some)
}

/// Returns whether the index knows a file of content that was withdrawn, or somebody who withdrew.
fn is_back(places: Places<'_>, words: &[&Tombstone]) -> Result<bool, EraseError> {
    for content in words.iter().flat_map(|word| &word.contents) {
        let sql = "SELECT (SELECT count(*) FROM clips WHERE quick_id = ?1)
                + (SELECT count(*) FROM routines WHERE quick_id = ?1)";
        let there: Option<i64> = places.index.one(sql, [&content.quick_id])?;
        if there.unwrap_or_default() > 0 {
            return Ok(true);
        }
    }
    Ok(codes(places)?.iter().any(|code| words.iter().any(|word| word.names(code.as_str()))))
}

/// Returns every code that the index and the library's lists know.
fn codes(places: Places<'_>) -> Result<BTreeSet<Code>, EraseError> {
    let mut codes: Vec<String> = places.index.list(
        "SELECT athlete FROM filmed UNION SELECT athlete FROM routines WHERE athlete <> ''",
        |row| row.get(0),
    )?;
    let made = Ledger::<Made>::open(places.home)?.lines()?;
    codes.extend(made.into_iter().map(|made| made.athlete));
    let handed_out = Ledger::<HandedOut>::open(places.home)?.lines()?;
    codes.extend(handed_out.into_iter().flat_map(|bundle| bundle.athletes));
    Ok(codes.iter().filter_map(|code| code.parse().ok()).collect())
}
