//! The command `aside`: what was ever set aside of marks, listed, shown and taken back.

use std::{fmt::Display, io::Write as _, path::PathBuf, time::SystemTime};

use anyhow::Context as _;
use clap::Args;
use jiff::{Timestamp, tz::TimeZone};
use stillcall::marks::{Aside, Desk, StateFolder, merge::JoinedSlot};

use super::printed;

#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// Marks file, `<clip>.<routine>.<judge>.marks.json`.
    marks: PathBuf,
    /// Show what is in one of them, side by side with what is in the marks; a number of the list.
    #[arg(long, value_name = "NUMBER", conflicts_with = "take")]
    show: Option<usize>,
    /// Take one of them back, as one step that can be undone: what is not in the marks, and its
    /// side of what differs.
    #[arg(long, value_name = "NUMBER")]
    take: Option<usize>,
    /// Take back this alone of what differs, by the name that --show prints; may be repeated.
    #[arg(long, value_name = "NAME", requires = "take")]
    only: Vec<String>,
    /// Keep the marks as they are, and count this one as settled.
    #[arg(long, value_name = "NUMBER", conflicts_with_all = ["show", "take"])]
    keep: Option<usize>,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let state = StateFolder::of_user().context(
        "there is no folder in which anything could be kept; name one with the variable \
         STILLCALL_STATE",
    )?;
    let mut desk = Desk::open(&arguments.marks, &state)?;
    super::tell_all(desk.told())?;
    let all = desk.aside(&state);
    let name = arguments.marks.display();
    let chosen = |number: usize| {
        let place = number.checked_sub(1);
        place.and_then(|place| all.get(place)).with_context(|| {
            format!("there is no {number} in the list that \"stillcall aside {name}\" prints")
        })
    };
    if let Some(number) = arguments.show {
        return show(chosen(number)?);
    }
    if let Some(number) = arguments.take {
        let aside = chosen(number)?;
        check_names(aside, &arguments.only)?;
        let is_taken = desk.take_back(aside, &arguments.only)?;
        // The step may be of an earlier time, when it could not be saved.
        if desk.is_dirty() {
            desk.save()?;
        }
        let said = if is_taken {
            "taken back; Undo in the window takes it out again"
        } else {
            "nothing to take back: everything in it is in the marks"
        };
        writeln!(printed::out(), "{name}: {said}")?;
        return Ok(());
    }
    if let Some(number) = arguments.keep {
        desk.settle(chosen(number)?)?;
        writeln!(printed::out(), "{name}: stays as it is; {number} counts as settled")?;
        return Ok(());
    }
    list(&all, &name)
}

fn list(all: &[Aside], name: &impl Display) -> anyhow::Result<()> {
    let mut out = printed::out();
    if all.is_empty() {
        writeln!(out, "{name}: nothing was ever set aside")?;
    }
    for (number, aside) in (1..).zip(all) {
        writeln!(
            out,
            "{number:3}  {}  {}  {}, {}: {}",
            day_and_time(aside.written),
            size(aside.bytes),
            aside.kind.words(),
            aside.holds,
            beyond(aside),
        )?;
        writeln!(out, "     {}", aside.path.display())?;
    }
    Ok(())
}

fn show(aside: &Aside) -> anyhow::Result<()> {
    let mut out = printed::out();
    writeln!(out, "{}, {}: {}", aside.kind.words(), aside.holds, beyond(aside))?;
    writeln!(out, "{}", aside.path.display())?;
    let Ok(merged) = &aside.beyond else { return Ok(()) };
    for JoinedSlot { slot, ours, theirs } in &merged.joined {
        match (ours, theirs) {
            (None, Some(theirs)) => writeln!(out, "\nonly there: {theirs}")?,
            (Some(ours), Some(theirs)) => {
                writeln!(out, "\nchanged there: {theirs}\n  here:   {ours}")?;
            }
            (Some(ours), None) => writeln!(out, "\ntaken away there: {ours}")?,
            (None, None) => writeln!(out, "\ntaken away there: {slot}")?,
        }
    }
    for conflict in &merged.conflicts {
        let said = |thing: &Option<_>| thing.as_ref().map_or("nothing".to_owned(), shown);
        writeln!(out, "\n{}", conflict.slot)?;
        writeln!(out, "  here:   {}", said(&conflict.ours))?;
        writeln!(out, "  there:  {}", said(&conflict.theirs))?;
        if conflict.before.is_some() {
            writeln!(out, "  before: {}", said(&conflict.before))?;
        }
    }
    Ok(())
}

fn shown(thing: &impl Display) -> String {
    thing.to_string()
}

/// Returns what is not in the marks, in words.
fn beyond(aside: &Aside) -> String {
    let settled = if aside.has_more() || aside.is_in_marks() { "" } else { "; settled" };
    difference(aside) + settled
}

fn difference(aside: &Aside) -> String {
    match &aside.beyond {
        Err(error) => error.to_string(),
        Ok(merged) => match [merged.joined.len(), merged.conflicts.len()] {
            [0, 0] => "all of it is in the marks".to_owned(),
            [new, 0] => format!("{new} not in the marks"),
            [0, other] => format!("{other} different from the marks"),
            [new, other] => format!("{new} not in the marks, {other} different from them"),
        },
    }
}

fn check_names(aside: &Aside, only: &[String]) -> anyhow::Result<()> {
    let Ok(merged) = &aside.beyond else { return Ok(()) };
    let names: Vec<String> = merged.conflicts.iter().map(|it| it.slot.to_string()).collect();
    let unknown = only.iter().find(|name| !names.contains(name));
    match unknown {
        Some(name) => anyhow::bail!(
            "\"{name}\" is not among what differs there: {}",
            if names.is_empty() { "nothing does".to_owned() } else { names.join(", ") }
        ),
        None => Ok(()),
    }
}

fn day_and_time(at: Option<SystemTime>) -> String {
    let stamp = at.and_then(|at| Timestamp::try_from(at).ok());
    let local = stamp.map(|stamp| stamp.to_zoned_datetime(TimeZone::system()));
    local.map_or("unknown".to_owned(), |it| it.strftime("%Y-%m-%d %H:%M").to_string())
}

fn size(bytes: u64) -> String {
    match bytes {
        0..1024 => format!("{bytes} B"),
        _ => format!("{} KiB", bytes.div_ceil(1024)),
    }
}
