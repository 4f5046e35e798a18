//! Clips made of clips: for bundles and as excerpts.

use std::{
    io::Write as _,
    path::{Path, PathBuf},
};

use anyhow::{Context as _, bail};
use clap::Args;
use stillcall::{
    footage::{Copied, CopyWishes, Footage},
    library::{self, ClipCopy, FileKind, Home, Leaving, Pictures, Purpose, Shelf, TakenFrom},
    marks::{self, StateFolder},
    units::Ticks,
};

use crate::command::attach::facts_of;
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
    let state = StateFolder::of_user();
    let footage = proving::open(&arguments.clip)?;
    let frames = frames(arguments, &footage, state.as_ref())?;
    let ending = footage.ending_of_copy();
    if arguments.out.extension().is_none_or(|it| it != ending) {
        bail!(
            "an excerpt of this clip is a {ending} file; give --out a name that ends in .{ending}"
        );
    }
    let wishes = CopyWishes { frames: Some(frames), sound: arguments.sound };
    let home = Home::of_user();
    let leaving = Leaving::new(&arguments.out, FileKind::Clip);
    let is_done = library::sidecar_path(&arguments.out).exists();
    let leaving = if is_done { leaving.anew() } else { leaving.anew_or_same() };
    let leaving = if stays(arguments, home.as_ref())? {
        leaving.cut_from(&arguments.clip)
    } else {
        let (clip, purpose) = (&*arguments.clip, arguments.purpose);
        leaving.showing(Pictures { clip, purpose, athlete: "", routine: "" })
    };
    let copied = |place: &Path| Ok(footage.copy_to(place, wishes, &|| false)?);
    let done = leaving.make(home.as_ref(), copied)?;
    let taken = TakenFrom { content_hash: footage.content_hash()?, frames: done.frames };
    let copy = clip_copy(&footage, done, &arguments.out)?;
    let carried = library::carry_over(&arguments.clip, &copy, taken.clone(), state.as_ref())?;
    let mut out = printed::out();
    let [first, last] = taken.frames;
    writeln!(out, "{}: frames {first} to {last} of the clip", arguments.out.display())?;
    if first < frames[0] {
        writeln!(out, "  begins {} frames earlier, where decoding can", frames[0] - first)?;
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

/// Returns whether the excerpt stays with the club: in the clip's folder, or in one of the library.
fn stays(arguments: &Arguments, home: Option<&Home>) -> anyhow::Result<bool> {
    let folder_of = |file: &Path| std::path::absolute(file)?.with_file_name("").canonicalize();
    // A folder that is not there is told when the excerpt is written.
    let Ok(into) = folder_of(&arguments.out) else { return Ok(false) };
    let shelf = home.map(Shelf::read).transpose()?.unwrap_or_default();
    let own = folder_of(&arguments.clip).ok();
    Ok(own.iter().chain(&shelf.folders).any(|folder| into.starts_with(folder)))
}

/// Returns the frames asked for.
fn frames(
    arguments: &Arguments,
    footage: &Footage,
    state: Option<&StateFolder>,
) -> anyhow::Result<[u64; 2]> {
    if let (Some(from), Some(to)) = (arguments.from, arguments.to) {
        if !(from.is_finite() && to.is_finite() && from <= to) {
            bail!("--from {from} --to {to}: give seconds, the earlier first");
        }
        let base = footage.facts().time_base;
        return Ok([from, to].map(|at| footage.table().at(base.ticks_at(at)) as u64));
    }
    let wanted = arguments.routine.as_deref().unwrap_or_default();
    let sheaves = marks::beside(&arguments.clip).into_iter().map(|path| marks::load(&path, state));
    let mut known = Vec::new();
    for sheaf in sheaves {
        let routine = sheaf?.routine;
        if routine.id == wanted
            && let Some([from, to]) = routine.span
        {
            return Ok([from, to].map(|at| footage.table().at(at.ticks) as u64));
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
        let copy = || -> anyhow::Result<ClipCopy> {
            let footage = proving::open(clip)?;
            let target = folder.join(format!("clip.{}", footage.ending_of_copy()));
            let done = footage.copy_to(&target, CopyWishes { frames: None, sound }, &|| false)?;
            clip_copy(&footage, done, &target)
        };
        copy().map_err(|error| format!("{error:#}"))
    }
}

fn clip_copy(of: &Footage, done: Copied, path: &Path) -> anyhow::Result<ClipCopy> {
    let facts = facts_of(&done.footage, path).context("the copy cannot be read")?;
    let later = of.facts().time_base.seconds(done.offset);
    let offset = facts.time_base.ticks_at(later);
    let frame_at = move |instant: Ticks| {
        let table = done.footage.table();
        table.frame_ref(table.nearest(instant)?)
    };
    Ok(ClipCopy { path: path.to_owned(), facts, offset, frame_at: Box::new(frame_at) })
}
