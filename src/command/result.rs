//! The command `result`: what a routine was given at the meet, typed in.

use std::{io::Write as _, path::PathBuf};

use crate::command::printed;
use anyhow::Context as _;
use clap::Args;
use stillcall::{
    library,
    marks::{Desk, Edit, JudgeScore, RealResult, Routine, StateFolder, Step},
    units::Points,
};

#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// Marks file, `<clip>.<routine>.<judge>.marks.json`.
    marks: PathBuf,
    /// Start value that was given.
    #[arg(long, value_name = "POINTS", value_parser = library::given)]
    start: Option<Points>,
    /// Score that one judge gave; once for each judge.
    #[arg(long = "judge", value_name = "CODE=SCORE", value_parser = library::given_by)]
    judges: Vec<JudgeScore>,
    /// What the judges' scores came to; 0 when the routine was void.
    #[arg(long, value_name = "SCORE", value_parser = library::given)]
    average: Option<Points>,
    /// Take the result out again.
    #[arg(long, conflicts_with_all = ["start", "judges", "average"])]
    clear: bool,
}

/// Writes the result into the marks file; what is not named stays as it was.
pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let state = StateFolder::of_user().context(
        "there is no folder to keep the journal in; name one with the variable STILLCALL_STATE",
    )?;
    let mut desk = Desk::open(&arguments.marks, &state)?;
    super::tell_all(desk.told())?;
    let result = changed(&desk.sheaf().routine.result, arguments)?;
    let routine = Routine { result, ..desk.sheaf().routine.clone() };
    if routine != desk.sheaf().routine {
        let edit = Edit::routine(desk.sheaf(), routine);
        desk.take(Step::Do(edit))?;
    }
    // The step may be of an earlier time, when it could not be saved.
    if desk.is_dirty() {
        desk.save()?;
    }
    let said = if arguments.clear { "taken out" } else { "written" };
    writeln!(printed::out(), "{}: result {said}", arguments.marks.display())?;
    Ok(())
}

fn changed(before: &RealResult, arguments: &Arguments) -> anyhow::Result<RealResult> {
    if arguments.clear {
        return Ok(RealResult::default());
    }
    let typed = RealResult {
        start_value: arguments.start,
        judges: arguments.judges.clone(),
        average: arguments.average,
    };
    anyhow::ensure!(
        !typed.is_empty(),
        "nothing was typed in; give --start, --judge or --average, or --clear"
    );
    let mut judges = before.judges.clone();
    for judge in typed.judges {
        judges.retain(|known| known.judge != judge.judge);
        judges.push(judge);
    }
    Ok(RealResult {
        start_value: typed.start_value.or(before.start_value),
        judges,
        average: typed.average.or(before.average),
    })
}
