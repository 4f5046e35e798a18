//! Clips made of clips: for bundles and as excerpts.

use std::{
    io::Write as _,
    path::{Path, PathBuf},
};

use anyhow::bail;
use clap::Args;
use stillcall::{
    copies::{self, Cut, CutWish},
    footage::Footage,
    library::{ClipCopy, Home, Purpose},
    marks::{self, StateFolder},
    units::Ticks,
};

use crate::command::{printed, proving};

#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// The clip.
    clip: PathBuf,
    /// Where the excerpt begins, in seconds; it may begin a little earlier, where decoding can.
    #[arg(long, value_name = "SECONDS", requires = "to", conflicts_with = "routine")]
    from: Option<f64>,
    /// Where it ends, in seconds.
    #[arg(long, value_name = "SECONDS", requires = "from")]
    to: Option<f64>,
    /// Cut out this routine, by its span in the marks.
    #[arg(long, value_name = "ID", required_unless_present = "from")]
    routine: Option<String>,
    /// The clip to write; it must not exist yet.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// Keep the sound.
    #[arg(long)]
    sound: bool,
    /// What it is for where it leaves the club's folders: training, library, course or publication.
    #[arg(long = "for", value_name = "PURPOSE", default_value = "training")]
    purpose: Purpose,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let (state, home) = (StateFolder::of_user(), Home::of_user());
    let footage = proving::open(&arguments.clip)?;
    let wish = CutWish {
        span: span(arguments, &footage, state.as_ref())?,
        sound: arguments.sound,
        out: &arguments.out,
        purpose: arguments.purpose,
    };
    let kept = (home.as_ref(), state.as_ref());
    let Cut { frames: [first, last], earlier, carried } =
        copies::cut(&footage, &wish, kept, &|| false)?;
    let mut out = printed::out();
    writeln!(out, "{}: frames {first} to {last} of the clip", arguments.out.display())?;
    if earlier > 0 {
        writeln!(out, "  begins {earlier} frames earlier, where decoding can")?;
    }
    for path in &carried.marks {
        writeln!(out, "  marks: {}", path.display())?;
    }
    for path in &carried.beyond {
        writeln!(out, "  not carried over, its marks lie beyond: {}", path.display())?;
    }
    writeln!(out, "  record: {}; note who is filmed in this part", carried.record.display())?;
    writeln!(
        out,
        "To keep only the excerpt: stillcall library delete {} --keep-excerpts --by WHO --witness WHO",
        arguments.clip.display()
    )?;
    Ok(out.flush()?)
}

/// Returns the first and the last instant asked for.
fn span(
    arguments: &Arguments,
    footage: &Footage,
    state: Option<&StateFolder>,
) -> anyhow::Result<[Ticks; 2]> {
    if let (Some(from), Some(to)) = (arguments.from, arguments.to) {
        if !(from.is_finite() && to.is_finite() && from <= to) {
            bail!("--from {from} --to {to}: give seconds, the earlier first");
        }
        let base = footage.facts().time_base;
        return Ok([from, to].map(|at| base.ticks_at(at)));
    }
    let wanted = arguments.routine.as_deref().unwrap_or_default();
    let sheaves = marks::beside(&arguments.clip).into_iter().map(|path| marks::load(&path, state));
    let mut known = Vec::new();
    for sheaf in sheaves {
        let routine = sheaf?.routine;
        if routine.id == wanted
            && let Some([from, to]) = routine.span
        {
            return Ok([from.ticks, to.ticks]);
        }
        known.push(routine.id);
    }
    known.sort();
    known.dedup();
    bail!(
        "no marks beside {} give routine \"{wanted}\" a span; there are: {}",
        arguments.clip.display(),
        if known.is_empty() { "none".to_owned() } else { known.join(", ") }
    )
}

/// Returns how a clip is copied into a folder for a bundle.
pub(super) fn copier(sound: bool) -> impl Fn(&Path, &Path) -> Result<ClipCopy, String> {
    move |clip, folder| {
        let footage = proving::open(clip).map_err(|error| format!("{error:#}"))?;
        let copied = copies::copy_for_bundle(&footage, folder, sound, &|| false);
        copied.map_err(|error| error.to_string())
    }
}
