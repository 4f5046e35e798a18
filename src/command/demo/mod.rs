use std::{
    fs,
    io::Write as _,
    path::{Path, PathBuf},
    time::Instant,
};

use anyhow::Context as _;
use clap::Args;
use sample_clips_generator::{Options, Strip, Truth, generate, truth_path};
use stillcall::{
    footage::Footage,
    judged::Judging,
    library::{FileKind, Home, Leaving, Of, Shows, SidecarFile},
    marks::{self, Desk, StateFolder},
    report,
    rulebook::{self, Book},
    sheet::ScoreSheet,
    store::Unfinished,
};

mod routines;
mod writer;

use crate::command::printed;
use routines::{ROUTINES, Routine};
use writer::{JUDGE, Writer};

/// The routine that is printed and opened: it has a bit of everything.
const SHOWN: &str = "bars-routine";

#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// Folder for the clips, their marks and their sheets.
    #[arg(long, value_name = "DIR", default_value = "demo")]
    out: PathBuf,
    /// Do not open the window.
    #[arg(long)]
    no_window: bool,
    /// Make this sample alone, by its name.
    #[arg(long, value_name = "NAME")]
    only: Option<String>,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let folder = &arguments.out;
    if let Some(only) = &arguments.only {
        let names: Vec<&str> = ROUTINES.iter().map(|routine| routine.motion).collect();
        let is_one = names.contains(&only.as_str());
        anyhow::ensure!(
            is_one,
            "--only {only}: there is no such sample; there are {}",
            names.join(", ")
        );
    }
    fs::create_dir_all(folder).with_context(|| format!("cannot make {}", folder.display()))?;
    let book = rulebook::load("saltmarsh")?;
    let mut rows = Vec::new();
    let wanted = |routine: &&Routine| {
        arguments.only.as_ref().is_none_or(|only| only.as_str() == routine.motion)
    };
    for routine in ROUTINES.iter().filter(wanted) {
        let sheet = prepare(routine, folder, &book)?;
        rows.push((routine, sheet));
    }
    let shown = arguments.only.as_deref().unwrap_or(SHOWN);
    print(folder, &rows, shown)?;
    if !arguments.no_window && super::has_display() {
        super::open_sample(clip_of(folder, shown))?;
    }
    Ok(())
}

/// Draws the clip, writes its marks as a judge would have, and scores them.
fn prepare(routine: &Routine, folder: &Path, book: &Book) -> anyhow::Result<ScoreSheet> {
    let clip = clip_of(folder, routine.motion);
    // Nothing lies over the pictures: the window says which frame it is.
    let plain = Options { strip: Strip::None, ..Options::new(routine.motion, &clip) };
    let truth = drawn(&plain)?;
    let footage = Footage::open(&clip)?;
    note_as_drawn(&clip)?;
    let marks_file = marks::path_for(&clip, "1", JUDGE);
    if !marks_file.exists() {
        let whose = (routine.event, routine.division, routine.athlete);
        let mut writer = Writer::begin(whose, book, (&truth, &footage));
        (routine.write)(&mut writer);
        Desk::create(&marks_file, writer.finish(), &state(folder))?;
    }
    let judged = Judging::new(StateFolder::of_user().as_ref()).judge(&marks_file)?;
    let html = report::score_sheet(&judged.sheet).html();
    let page = page_of(folder, routine.motion);
    // The folder is the demo's own.
    let leaving = Leaving::new(&page, FileKind::Sheet).over_anything();
    let leaving = leaving.of(Of::routine(&judged.marked.sheaf));
    leaving.write(html.as_bytes(), Home::of_user().as_ref())?;
    Ok(judged.sheet)
}

/// Notes that nobody is filmed, so that stills of the samples may be taken.
fn note_as_drawn(clip: &Path) -> anyhow::Result<()> {
    let mut noted = SidecarFile::begin(clip)?;
    if !noted.exists() {
        noted.sidecar.shows = Shows::Nobody;
        "drawn by the sample clips generator".clone_into(&mut noted.sidecar.source);
        noted.save()?;
    }
    Ok(())
}

/// Returns what is true of the clip, drawing it first unless that was done before.
fn drawn(options: &Options) -> anyhow::Result<Truth> {
    let known = fs::read(truth_path(options)).ok().filter(|_| options.out.exists());
    if let Some(truth) = known.and_then(|bytes| serde_json::from_slice(&bytes).ok()) {
        return Ok(truth);
    }
    let begun = Instant::now();
    let mut out = printed::out();
    write!(out, "Drawing {} ... ", options.out.display())?;
    out.flush()?;
    let truth = put_down(options)?;
    writeln!(out, "{} frames in {:.0} s", truth.frames.len(), begun.elapsed().as_secs_f64())?;
    Ok(truth)
}

/// Draws the clip beside its place and puts it there when it is whole; what is true of it comes last.
fn put_down(options: &Options) -> anyhow::Result<Truth> {
    let folder = options.out.parent().unwrap_or(Path::new(""));
    let notes = Home::of_user().map(|home| home.notes());
    let drawing = Unfinished::begin(folder, "", notes.as_deref())?;
    fs::create_dir(drawing.place())?;
    let name = options.out.file_name().context("a clip has a name")?;
    let hidden = Options { out: drawing.place().join(name), ..options.clone() };
    let truth = generate(&hidden)?;
    fs::rename(&hidden.out, &options.out)?;
    fs::rename(truth_path(&hidden), truth_path(options))?;
    Ok(truth)
}

/// The marks are only written once and never edited here, so their journal may lie anywhere.
fn state(folder: &Path) -> StateFolder {
    StateFolder::of_user().unwrap_or_else(|| StateFolder::at(folder.join("state")))
}

fn print(folder: &Path, rows: &[(&Routine, ScoreSheet)], shown: &str) -> anyhow::Result<()> {
    let mut out = printed::out();
    for (_, sheet) in rows.iter().filter(|(routine, _)| routine.motion == shown) {
        write!(out, "\n{}", report::score_sheet(sheet).text())?;
    }
    writeln!(out, "\nAll sample routines, in {}:\n", folder.display())?;
    for (routine, sheet) in rows {
        let score = sheet.range_words();
        writeln!(out, "  {score:>16}  {:<26} {}", routine.motion, routine.about)?;
    }
    let example = marks::path_for(&clip_of(folder, shown), "1", JUDGE);
    writeln!(
        out,
        "\nBeside each clip lie its marks (.marks.json), its page (.html) and its truth \
         (.truth.json).\nTry\n  stillcall {}\n  stillcall score {} --json",
        clip_of(folder, shown).display(),
        example.display(),
    )?;
    Ok(out.flush()?)
}

fn clip_of(folder: &Path, motion: &str) -> PathBuf {
    folder.join(format!("{motion}.mp4"))
}

fn page_of(folder: &Path, motion: &str) -> PathBuf {
    folder.join(format!("{motion}.html"))
}
