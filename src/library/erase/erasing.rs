//! Erasing from the plan to the proof, and finishing what was cut short.

use std::{
    collections::BTreeSet,
    path::{Path, PathBuf},
};

use super::{
    carry_out::{carry_out, check_closed, is_in_reach},
    draw_up::draw_up,
    erased::Erased,
    error::EraseError,
    log::{self, EraseLog, Unfinished},
    plan::{ErasePlan, Unreached},
    proof::{SecondLook, prove, write_down},
    step::{EraseStep, Going},
    wish::{EraseHands, EraseWish, Places, Witnessed},
};
use crate::library::{home::folder::Home, index::turn::Turn};

/// How often what is found anew is carried out before it is only named.
const ROUNDS: usize = 4;

/// Returns what erasing would do, and does nothing.
pub fn plan_erasing(
    places: Places<'_>,
    wish: &EraseWish,
    witnessed: &Witnessed,
) -> Result<ErasePlan, EraseError> {
    check_witness(witnessed)?;
    let plan = draw_up(places, wish, witnessed, None)?;
    check_found(&plan)?;
    Ok(plan)
}

/// Erases: draws a plan up, writes it down, carries it out and looks again.
///
/// What is cut short, or cannot be reached, is gone on with by [`finish_erasing`]. Backups, the
/// system's trash and copies on other devices are out of reach.
pub fn erase(
    places: Places<'_>,
    wish: &EraseWish,
    witnessed: &Witnessed,
    hands: &mut dyn EraseHands,
) -> Result<Erased, EraseError> {
    check_witness(witnessed)?;
    let _turn = Turn::now(places.home)?;
    let plan = draw_up(places, wish, witnessed, None)?;
    check_found(&plan)?;
    check_nothing_is_open(places, &plan)?;
    let log = EraseLog::begin(places.home, &plan)?;
    go_through(places, plan, log, hands)
}

/// Erases once everything that was begun before is finished, which may be the same; returns what
/// became of the rest of that beside it.
pub fn erase_after_all(
    places: Places<'_>,
    wish: &EraseWish,
    witnessed: &Witnessed,
    hands: &mut dyn EraseHands,
) -> Result<(Erased, Vec<Erased>), EraseError> {
    let mut finished = finish_erasing(places, hands)?;
    let erased = match finished.iter().position(|erased| erased.plan.wish == *wish) {
        Some(same) => finished.swap_remove(same),
        None => erase(places, wish, witnessed, hands)?,
    };
    Ok((erased, finished))
}

/// Returns whether something was begun and not finished; this costs next to nothing.
pub fn is_erasing_unfinished(home: &Home) -> bool {
    log::is_any(home)
}

/// Goes on with everything that was begun and not finished. It costs nothing where nothing was.
pub fn finish_erasing(
    places: Places<'_>,
    hands: &mut dyn EraseHands,
) -> Result<Vec<Erased>, EraseError> {
    if !is_erasing_unfinished(places.home) {
        return Ok(Vec::new());
    }
    let unfinished = EraseLog::unfinished(places.home)?;
    let _turn = Turn::now(places.home)?;
    let (mut all, mut failed) = (Vec::new(), None);
    for Unfinished { plan, waits, log } in unfinished {
        if let Some(waits) = waits
            && !is_in_reach(places, &plan, &waits, hands)
        {
            all.push(Erased::waiting(plan, waits));
        } else {
            // One that fails keeps no other waiting.
            match go_through(places, plan, log, hands) {
                Ok(erased) => all.push(erased),
                Err(error) => failed = Some(error),
            }
        }
    }
    failed.map_or(Ok(all), Err)
}

/// Carries a plan out and looks again, until nothing new is found.
pub(super) fn go_through(
    places: Places<'_>,
    mut plan: ErasePlan,
    mut log: EraseLog,
    hands: &mut dyn EraseHands,
) -> Result<Erased, EraseError> {
    let mut touched: BTreeSet<PathBuf> = BTreeSet::new();
    let mut round = 0;
    loop {
        round += 1;
        touched.extend(plan.files().map(Path::to_owned));
        let failed = carry_out(places, &plan, &mut log, hands)?;
        let SecondLook { mut again, looked_at, still_named } = prove(places, &plan, &failed)?;
        if !again.is_empty() && round < ROUNDS {
            // What was tried in vain is tried once more with it.
            let lists = plan.steps.iter().filter(|step| matches!(step, EraseStep::Forget(_)));
            let in_vain = plan.steps.iter().filter(|step| {
                step.path().is_some_and(|path| failed.iter().any(|what| what.path == path))
            });
            again.steps.extend(in_vain.chain(lists).cloned());
            again.steps.sort_by(|a, b| (a.order(), a).cmp(&(b.order(), b)));
            again.steps.dedup();
            plan = again;
            log.go_on(&plan)?;
            continue;
        }
        let mut unreached: BTreeSet<Unreached> = failed.into_iter().collect();
        unreached.extend(again.unreached.iter().cloned());
        unreached.extend(again.steps.iter().filter_map(left_over));
        let gone = touched.into_iter().filter(|path| path.symlink_metadata().is_err()).collect();
        plan.contents = again.contents;
        plan.written = again.written;
        plan.handed_out = again.handed_out;
        let erased = Erased {
            plan,
            gone,
            unreached: unreached.into_iter().collect(),
            still_named,
            looked_at,
        };
        if erased.is_finished() {
            write_down(places, &erased)?;
            log.end()?;
        } else {
            log.go_on(&erased.plan)?;
            log.wait(&erased.unreached)?;
        }
        return Ok(erased);
    }
}

/// Returns a step that a second look still asks for as something that is out of reach.
fn left_over(step: &EraseStep) -> Option<Unreached> {
    Some(Unreached {
        path: step.path()?.to_owned(),
        why: "it is there again".to_owned(),
        remedy: "see which program writes it; the next command of the library tries again"
            .to_owned(),
        tries_again: true,
    })
}

fn check_witness(witnessed: &Witnessed) -> Result<(), EraseError> {
    let [by, witness] = [&witnessed.by, &witnessed.witness].map(|who| who.trim().to_lowercase());
    if by.is_empty() || witness.is_empty() || by == witness {
        return Err(EraseError::NoWitness { by: witnessed.by.clone() });
    }
    Ok(())
}

fn check_found(plan: &ErasePlan) -> Result<(), EraseError> {
    match plan.wish.code() {
        Some(code) if plan.is_empty() => {
            Err(EraseError::NobodyOfThatCode { code: code.to_string() })
        }
        _ => Ok(()),
    }
}

/// Fails before anything is done where a window has marks open that go.
fn check_nothing_is_open(places: Places<'_>, plan: &ErasePlan) -> Result<(), EraseError> {
    let marks = plan.steps.iter().filter_map(|step| match step {
        EraseStep::Unlink { what: Going::Marks, path, .. } => Some(path),
        EraseStep::ForgetHistory { marks, .. } => marks.as_ref(),
        _ => None,
    });
    for path in marks {
        check_closed(path, places.state)?;
    }
    Ok(())
}
