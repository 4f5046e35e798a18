use std::{io::Write as _, path::PathBuf};

use crate::command::printed;
use anyhow::{Context as _, bail};
use clap::Args;
use stillcall::{
    copies::facts_of,
    footage::Footage,
    marks::{self, ClipFacts, Desk, Edit, Kin, OtherCopy, Sheaf, StateFolder, Step},
    units::Ticks,
};

#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// Marks file, `<clip>.<routine>.<judge>.marks.json`.
    marks: PathBuf,
    /// The clip, wherever it is now.
    clip: PathBuf,
    /// The clip is another copy of the recording: coded again, cut, or made smaller.
    #[arg(long)]
    copy: bool,
    /// Seconds by which pictures come later in the copy; negative where its beginning was cut off.
    #[arg(long, value_name = "SECONDS", requires = "copy", allow_negative_numbers = true)]
    #[arg(default_value_t = 0.0)]
    offset: f64,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let state = StateFolder::of_user().context("there is no folder for the journal of marks")?;
    let mut desk = Desk::open(&arguments.marks, &state)?;
    super::tell_all(desk.told())?;
    let footage = super::proving::open(&arguments.clip)?;
    let found = facts_of(&footage, &arguments.clip)?;
    let remembered = desk.sheaf().clip.as_ref().context("the marks are of a planned routine")?;
    let after = match (marks::kin(remembered, &found), arguments.copy) {
        (Kin::Same, _) => renamed(desk.sheaf(), &found),
        (Kin::Other, true) => moved(desk.sheaf(), &footage, found, arguments)?,
        (Kin::Other, false) => bail!(
            "{} is not the file that the marks were made on: its content is another. If it is a \
             copy of the same recording, say --copy, and with --offset by how many seconds its \
             pictures come later",
            arguments.clip.display()
        ),
    };
    if after != *desk.sheaf() {
        let before = Box::new(desk.sheaf().clone());
        desk.take(Step::Do(Edit::Copy { before, after: Box::new(after) }))?;
    }
    // The step may be of an earlier time, when it could not be saved.
    if desk.is_dirty() {
        desk.save()?;
    }
    say(desk.sheaf(), arguments)
}

/// The same bytes: only the name may be new, and the full hash is known now.
fn renamed(sheaf: &Sheaf, found: &ClipFacts) -> Sheaf {
    let mut after = sheaf.clone();
    if let Some(clip) = &mut after.clip {
        (clip.name, clip.content_hash) = (found.name.clone(), found.content_hash.clone());
    }
    after
}

fn moved(
    sheaf: &Sheaf,
    footage: &Footage,
    facts: ClipFacts,
    arguments: &Arguments,
) -> anyhow::Result<Sheaf> {
    if !arguments.offset.is_finite() {
        bail!("an offset is a number of seconds");
    }
    let table = footage.table();
    let offset = facts.time_base.ticks_at(arguments.offset);
    let frame_at = |instant: Ticks| table.frame_ref(table.nearest(instant)?);
    marks::move_to(sheaf, &OtherCopy { facts, offset, frame_at: &frame_at })
        .with_context(|| format!("the marks cannot move to {}", arguments.clip.display()))
}

fn say(sheaf: &Sheaf, arguments: &Arguments) -> anyhow::Result<()> {
    let count = sheaf.marks.len() + sheaf.readings.len() + sheaf.calls.len();
    let (marks, clip) = (arguments.marks.display(), arguments.clip.display());
    Ok(writeln!(
        printed::out(),
        "{count} marks, readings and calls stand on {clip}; open it with: stillcall {clip} --marks {marks}"
    )?)
}
