use std::{io::Write as _, path::PathBuf};

use anyhow::{bail, ensure};
use clap::Args;
use stillcall::{
    handout::{self, Pairing, Pass, Replay, Second, Speed, Stop, Subject},
    library::{FileKind, Home, Leaving, Purpose},
};

use super::handing::{self, Handed};
use crate::command::printed;

#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// The clip.
    clip: PathBuf,
    /// First and last frame, counted from 0, as 120-180.
    #[arg(long, value_name = "FIRST-LAST", required_unless_present = "from")]
    frames: Option<String>,
    /// Where the replay begins, in seconds of the clip.
    #[arg(long, value_name = "SECONDS", requires = "to", conflicts_with = "frames")]
    from: Option<f64>,
    /// Where it ends, in seconds of the clip.
    #[arg(long, value_name = "SECONDS", requires = "from")]
    to: Option<f64>,
    /// How fast the frames go by: 1 is real speed, 1/4 a quarter of it. Given more than once, they go
    /// by as often. Without it at real speed, then at a quarter.
    #[arg(long, value_name = "SPEED")]
    speed: Vec<Speed>,
    /// Frame on which the last pass stops: the one that decides.
    #[arg(long, value_name = "FRAME")]
    stop: Option<usize>,
    /// How long it stops, in seconds.
    #[arg(long, value_name = "SECONDS", default_value_t = f64::from(Stop::USUAL) / 1000.0, requires = "stop")]
    hold: f64,
    /// What is written under the picture while it stops.
    #[arg(long, value_name = "TEXT", default_value = "", requires = "stop")]
    caption: String,
    /// Marks file of the clip: what was measured is drawn on its frames, with what the rule asks.
    #[arg(long, value_name = "FILE")]
    marks: Option<PathBuf>,
    /// Another clip, shown to the right of the first.
    #[arg(long, value_name = "CLIP", requires = "tie", conflicts_with = "over")]
    beside: Option<PathBuf>,
    /// Another clip, shown half transparent over the first.
    #[arg(long, value_name = "CLIP", requires = "tie")]
    over: Option<PathBuf>,
    /// Frame of the clip, and of the other one, that are shown at the same instant, as 140,88.
    #[arg(long, value_name = "FRAME,FRAME", value_delimiter = ',', num_args = 1)]
    tie: Vec<usize>,
    /// Marks file of the other clip.
    #[arg(long, value_name = "FILE", requires = "tie")]
    other_marks: Option<PathBuf>,
    /// Draw lines between the marked joints on a plain ground instead of the picture.
    #[arg(long, requires = "marks")]
    lines: bool,
    /// The clip to write, an MP4; it must not exist yet.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// What it is for: training, library, course or publication.
    #[arg(long = "for", value_name = "PURPOSE", default_value = "training")]
    purpose: Purpose,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let ending = arguments.out.extension().and_then(|ending| ending.to_str());
    ensure!(
        ending.is_some_and(|ending| ending.eq_ignore_ascii_case("mp4")),
        "a replay is an MP4; give --out a name that ends in .mp4"
    );
    let first = Handed::open(&arguments.clip, arguments.marks.as_deref(), true)?;
    let other = arguments.beside.as_deref().or(arguments.over.as_deref());
    let second = match other {
        Some(clip) => Some((clip, Handed::open(clip, arguments.other_marks.as_deref(), true)?)),
        None => None,
    };
    let wish = Replay {
        frames: frames(arguments, &first.subject)?,
        passes: passes(arguments)?,
        second: match &second {
            Some((_, second)) => Some(paired(arguments, second)?),
            None => None,
        },
        subject: first.subject.clone(),
        ground: handing::ground(arguments.lines),
    };
    let mut leaving = Leaving::new(&arguments.out, FileKind::Picture)
        .anew()
        .showing(first.pictures(&arguments.clip, arguments.purpose));
    if let Some((clip, second)) = &second {
        leaving = leaving.showing(second.pictures(clip, arguments.purpose));
    }
    leaving.make(Home::of_user().as_ref(), |place| {
        Ok(handout::replay(place, &wish, &mut handing::told)?)
    })?;
    let [from, to] = wish.frames;
    handing::tell(&wish.subject, from..=to, arguments.marks.is_some())?;
    writeln!(printed::out(), "{}: frames {from} to {to}", arguments.out.display())?;
    Ok(())
}

fn frames(arguments: &Arguments, subject: &Subject) -> anyhow::Result<[usize; 2]> {
    if let Some(text) = &arguments.frames {
        return span(text);
    }
    let (Some(from), Some(to)) = (arguments.from, arguments.to) else {
        bail!("give --frames FIRST-LAST, or --from and --to");
    };
    ensure!(
        from.is_finite() && to.is_finite() && from >= 0.0 && from <= to,
        "--from {from} --to {to}: give seconds, the earlier first"
    );
    let base = subject.footage.facts().time_base;
    Ok([from, to].map(|at| subject.footage.table().at(base.ticks_at(at))))
}

/// Returns two numbers of frames with a dash between them.
pub(super) fn span(text: &str) -> anyhow::Result<[usize; 2]> {
    let parts = text.split_once('-').map(|(a, b)| (a.trim().parse(), b.trim().parse()));
    match parts {
        Some((Ok(from), Ok(to))) if from <= to => Ok([from, to]),
        _ => bail!("--frames {text}: give two numbers of frames, the earlier first, as 120-180"),
    }
}

fn passes(arguments: &Arguments) -> anyhow::Result<Vec<Pass>> {
    ensure!(
        (0.0..=60.0).contains(&arguments.hold),
        "--hold {}: give seconds from 0 to 60",
        arguments.hold
    );
    let speeds = if arguments.speed.is_empty() { &Speed::USUAL[..] } else { &arguments.speed[..] };
    let pass = |speed: &Speed| Pass { speed: *speed, stops: Vec::new() };
    let mut passes: Vec<Pass> = speeds.iter().map(pass).collect();
    if let (Some(last), Some(frame)) = (passes.last_mut(), arguments.stop) {
        let milliseconds = (arguments.hold * 1000.0).round() as u32;
        last.stops.push(Stop { frame, milliseconds, caption: arguments.caption.clone() });
    }
    Ok(passes)
}

fn paired(arguments: &Arguments, second: &Handed) -> anyhow::Result<Second> {
    let &[here, there] = &*arguments.tie else {
        bail!("--tie: give a frame of each clip, as 140,88");
    };
    let pairing = if arguments.over.is_some() { Pairing::Over } else { Pairing::Beside };
    Ok(Second { subject: second.subject.clone(), pairing, tie: [here, there] })
}
