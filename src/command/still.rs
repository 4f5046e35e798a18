use std::{
    collections::BTreeMap,
    io::Write as _,
    path::{Path, PathBuf},
};

use anyhow::{Context as _, ensure};
use clap::Args;
use stillcall::{
    footage::{self, Decoder, Footage},
    handout::{self, StillFormat},
    library::{FileKind, Home, Leaving, Purpose},
    marks::Sheaf,
    report::Still,
    sheet::{FrameAt, ScoreSheet},
    units::{FrameIndex, Orientation},
};

use super::handing::{self, Handed};
use crate::command::{printed, proving};

#[derive(Debug, Args)]
#[command(group = clap::ArgGroup::new("which").required(true))]
pub(super) struct Arguments {
    /// The clip.
    clip: PathBuf,
    /// Number of the frame, counted from 0.
    #[arg(long, group = "which")]
    frame: Option<u64>,
    /// Time in seconds after the first frame; the frame shown then.
    #[arg(long, value_name = "SECONDS", group = "which")]
    time: Option<f64>,
    /// Marks file of the clip; where it was turned or mirrored by hand the picture is turned so too.
    #[arg(long, value_name = "FILE")]
    marks: Option<PathBuf>,
    /// Draw on it what was measured on this frame, with its uncertainty and what the rule asks.
    #[arg(long, requires = "marks")]
    drawn: bool,
    /// Draw lines between the marked joints on a plain ground instead of the picture.
    #[arg(long, requires = "marks")]
    lines: bool,
    /// Where to write the picture: a JPEG where the name ends in .jpg, else a PNG.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// What the picture is for: training, library, course or publication.
    #[arg(long = "for", value_name = "PURPOSE", default_value = "training")]
    purpose: Purpose,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let drawn = arguments.drawn || arguments.lines;
    let handed = Handed::open(&arguments.clip, arguments.marks.as_deref(), drawn)?;
    let frame = frame_of(arguments, &handed.subject.footage)?.into();
    let leaving = Leaving::new(&arguments.out, FileKind::Picture)
        .showing(handed.pictures(&arguments.clip, arguments.purpose));
    let (ground, format) = (handing::ground(arguments.lines), StillFormat::of(&arguments.out));
    let still = handout::still(&handed.subject, frame, ground, format.unwrap_or_default())?;
    leaving.write(&still, Home::of_user().as_ref())?;
    if let Some(says) = damage_of(&handed.subject.footage, frame) {
        writeln!(printed::err(), "frame {frame}: {says}")?;
    }
    Ok(handing::tell_undrawn(&handed.subject, std::iter::once(frame), drawn)?)
}

/// Returns what is to be said of a frame's damage, if anything.
fn damage_of(footage: &Footage, frame: usize) -> Option<&'static str> {
    footage.table().entry(frame)?.soundness.says()
}

fn turn_of(sheaf: &Sheaf) -> Option<Orientation> {
    sheaf.clip.as_ref()?.orientation_override
}

fn frame_of(arguments: &Arguments, footage: &Footage) -> anyhow::Result<FrameIndex> {
    let table = footage.table();
    let last = FrameIndex::from(table.len().saturating_sub(1));
    match (arguments.frame.map(FrameIndex), arguments.time) {
        (Some(frame), _) => {
            ensure!(frame <= last, "{} has frames 0 to {last}", arguments.clip.display());
            Ok(frame)
        }
        (None, time) => {
            let seconds = time.unwrap_or_default();
            ensure!(
                seconds.is_finite() && seconds >= 0.0,
                "a time is a number of seconds from 0 on"
            );
            Ok(table.at(footage.facts().time_base.ticks_at(seconds)).into())
        }
    }
}

/// Returns the frames that the lines of a sheet lead to, as pictures, in order.
///
/// They are turned as the marks say where their clip was turned by hand.
pub(super) fn of_sheet(
    clip: &Path,
    sheaf: &Sheaf,
    sheet: &ScoreSheet,
) -> anyhow::Result<Vec<Still>> {
    let footage = proving::open(clip)?;
    let turn = turn_of(sheaf);
    let mut decoder = Decoder::new(&footage, 0);
    let mut stills = Vec::new();
    for (frame, (at, captions)) in captions(sheet) {
        // The number is of the day on which it was marked; the time stamp decides.
        let shown = footage.table().at(at.ticks);
        let picture = decoder.picture(shown)?;
        let png = footage::png(&picture, turn)
            .with_context(|| format!("cannot make a picture of frame {frame}"))?;
        let damage = damage_of(&footage, shown).map(|says| format!("picture: {says}"));
        let said = captions.into_iter().chain(damage).collect::<Vec<_>>();
        stills.push(Still { frame: at, png, caption: said.join("; ") });
    }
    Ok(stills)
}

/// Returns for each frame what the lines that lead to it say; a line about something absent
/// leads to the whole routine and gets no still.
fn captions(sheet: &ScoreSheet) -> BTreeMap<FrameIndex, (FrameAt, Vec<String>)> {
    let mut found: BTreeMap<FrameIndex, (FrameAt, Vec<String>)> = BTreeMap::new();
    let lines = sheet.deductions.iter().chain(&sheet.void_reasons);
    let lines = lines.filter(|line| line.mark.is_some()).map(|line| (&line.label, &line.frames));
    let elements = sheet.elements.iter().map(|line| (&line.label, &line.frames));
    for (label, frames) in lines.chain(elements) {
        for at in frames {
            let (_, captions) = found.entry(at.frame).or_insert_with(|| (*at, Vec::new()));
            if !captions.contains(label) {
                captions.push(label.clone());
            }
        }
    }
    found
}
