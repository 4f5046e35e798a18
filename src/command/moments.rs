use std::{io::Write as _, path::PathBuf};

use anyhow::ensure;
use clap::Args;
use stillcall::{
    handout,
    library::{FileKind, Home, Leaving, Purpose},
};

use super::{
    handing::{self, Handed},
    replay::span,
};
use crate::command::printed;

#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// The clip.
    clip: PathBuf,
    /// Numbers of the frames, counted from 0, as 120,126,131,140; or first and last, as 120-180, with
    /// --count.
    #[arg(long, value_name = "FRAMES")]
    frames: String,
    /// How many moments, evenly spread from the first to the last frame, 4 to 24.
    #[arg(long, value_name = "NUMBER")]
    count: Option<usize>,
    /// Marks file of the clip: what was measured is drawn on its frames, with what the rule asks.
    #[arg(long, value_name = "FILE")]
    marks: Option<PathBuf>,
    /// Draw lines between the marked joints on a plain ground instead of the picture.
    #[arg(long, requires = "marks")]
    lines: bool,
    /// Where to write the picture, a PNG.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// What the picture is for: training, library, course or publication.
    #[arg(long = "for", value_name = "PURPOSE", default_value = "training")]
    purpose: Purpose,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let frames = frames(arguments)?;
    let handed = Handed::open(&arguments.clip, arguments.marks.as_deref(), true)?;
    let leaving = Leaving::new(&arguments.out, FileKind::Picture)
        .showing(handed.pictures(&arguments.clip, arguments.purpose));
    let ground = handing::ground(arguments.lines);
    let png = handout::moments(&handed.subject, &frames, ground, &mut handing::told)?;
    leaving.write(&png, Home::of_user().as_ref())?;
    handing::tell(&handed.subject, frames.iter().copied(), arguments.marks.is_some())?;
    writeln!(printed::out(), "{}: {} moments", arguments.out.display(), frames.len())?;
    Ok(())
}

fn frames(arguments: &Arguments) -> anyhow::Result<Vec<usize>> {
    let text = &arguments.frames;
    if let Some(count) = arguments.count {
        let [from, to] = span(text)?;
        let range = handout::FEWEST..=handout::MOST;
        ensure!(range.contains(&count), "--count {count}: give 4 to 24");
        ensure!(to - from + 1 >= count, "--frames {text}: has fewer frames than {count} moments");
        // Rounded to the nearest frame.
        let place = |k: usize| from + (2 * k * (to - from) + count - 1) / (2 * (count - 1));
        return Ok((0..count).map(place).collect());
    }
    let numbers: Result<Vec<usize>, _> = text.split(',').map(|part| part.trim().parse()).collect();
    match numbers {
        Ok(numbers) => Ok(numbers),
        Err(_) => anyhow::bail!(
            "--frames {text}: give numbers of frames with commas between them, as 120,126,131,140, or \
             first and last with --count, as 120-180"
        ),
    }
}
