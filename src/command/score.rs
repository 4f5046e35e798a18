use std::{
    io::{self, Write as _},
    path::PathBuf,
};

#[cfg(feature = "video")]
use anyhow::Context as _;
use clap::Args;
use stillcall::{
    judged::{self, Judged, Judging, Marked},
    library::{FileKind, Leaving, Of, Pictures, Purpose},
    marks::StateFolder,
    report::{self, Still},
    sheet::{self, ScoreSheet},
};

use super::{pages::PageFiles, tell_all, warn_of_splits};
use crate::command::printed;

#[derive(Debug, Args)]
#[allow(clippy::struct_excessive_bools, reason = "each is a switch of the command line")]
pub(super) struct Arguments {
    /// Marks file, `<clip>.<routine>.<judge>.marks.json`.
    marks: PathBuf,
    /// Rule book to score with instead of the one the marks name: a name or a TOML file.
    #[arg(long, value_name = "NAME|FILE")]
    rulebook: Option<String>,
    /// Print the sheet as JSON instead of text.
    #[arg(long)]
    json: bool,
    /// Print what the routine comes to in every division of its event.
    #[arg(long, conflicts_with = "by_cause")]
    all_divisions: bool,
    /// Print what each thing cost, the dearest first.
    #[arg(long)]
    by_cause: bool,
    /// Marks file of the planned routine: the sheet then says what was dropped, changed, added.
    #[arg(long, value_name = "FILE")]
    plan: Option<PathBuf>,
    /// The athlete's own list of elements, a TOML file with `has` and `learning`: what could be
    /// added comes from it. Without it, `<athlete>.skills.toml` beside the marks, if there is one.
    #[arg(long, value_name = "FILE")]
    skills: Option<PathBuf>,
    #[command(flatten)]
    pages: PageFiles,
    /// Also write elements and deductions as captions (WebVTT), which a player shows over the clip.
    #[arg(long, value_name = "FILE")]
    captions: Option<PathBuf>,
    /// Put the frames of the sheet into the page. Pictures of a child need consent.
    #[cfg(feature = "video")]
    #[arg(long, requires = "html")]
    stills: bool,
    /// What pictures in the page are for: training, library, course or publication.
    #[arg(long = "for", value_name = "PURPOSE", requires = "html", default_value = "training")]
    purpose: Purpose,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let state = StateFolder::of_user();
    let mut judging = Judging::under(arguments.rulebook.as_deref(), state.as_ref())?;
    let marked = judging.read(&arguments.marks)?;
    let ruled = judging.book_of(&marked)?;
    let list = match &arguments.skills {
        Some(list) => Some(judged::read_list(list)?),
        None => judged::list_of(&marked.sheaf.routine, &marked.path)?,
    };
    let mut judged = marked.under(ruled, list.as_ref());
    tell(&judged)?;
    if let Some(plan) = &arguments.plan {
        let plan = judging.read(plan)?;
        tell_all(plan.changes())?;
        judged.beside_plan(&plan);
    }
    if arguments.pages.any() {
        #[cfg(feature = "video")]
        let stills = stills(arguments, &judged)?;
        #[cfg(not(feature = "video"))]
        let stills: Vec<Still> = Vec::new();
        leave(arguments, &judged, stills)?;
    }
    if let Some(file) = &arguments.captions {
        let of = Of::routine(&judged.marked.sheaf);
        let captions = report::captions(&judged.sheet);
        arguments.pages.let_out(Leaving::new(file, FileKind::Sheet).of(of), &captions)?;
    }
    print(arguments, &judged)
}

/// Tells what changed since the marks were last shown: values, and the text of the book.
pub(super) fn tell(judged: &Judged) -> io::Result<()> {
    tell_all(judged.marked.changes().chain(judged.said()))
}

fn print(arguments: &Arguments, judged: &Judged) -> anyhow::Result<()> {
    let Judged { marked: Marked { sheaf, .. }, ruled, sheet } = judged;
    let mut out = printed::out();
    let mut json = |value: serde_json::Value| -> anyhow::Result<()> {
        serde_json::to_writer_pretty(&mut out, &value)?;
        Ok(writeln!(out)?)
    };
    if arguments.all_divisions {
        let sheets = sheet::all_divisions(&ruled.book, sheaf);
        if arguments.json {
            json(sheets.iter().map(ScoreSheet::to_json).collect())?;
        } else {
            write!(out, "{}", report::divisions(&sheets).text())?;
        }
    } else if arguments.by_cause {
        let causes = sheet::causes(&ruled.book, sheaf, sheet);
        if arguments.json {
            json(serde_json::to_value(&causes)?)?;
        } else {
            write!(out, "{}", report::by_cause(&causes).text())?;
        }
    } else if arguments.json {
        json(sheet.to_json())?;
    } else {
        write!(out, "{}", report::score_sheet(sheet).text())?;
    }
    Ok(out.flush()?)
}

/// Lets the page out, with the stills where the clip's record allows it.
fn leave(
    arguments: &Arguments,
    Judged { marked: Marked { path, sheaf, .. }, sheet, .. }: &Judged,
    stills: Vec<Still>,
) -> anyhow::Result<()> {
    let clip = sheaf.clip.as_ref().map(|clip| path.with_file_name(&clip.name));
    let clip = clip.as_deref().filter(|_| !stills.is_empty());
    if clip.is_some() {
        warn_of_splits(sheaf)?;
    }
    let (athlete, routine) = (&*sheaf.routine.athlete, &*sheaf.routine.id);
    let purpose = arguments.purpose;
    let page = report::score_sheet(sheet).with_stills(stills);
    arguments.pages.write(&page, |file| {
        let leaving = Leaving::new(file, FileKind::Sheet).of(Of::routine(sheaf));
        match clip {
            Some(clip) => leaving.showing(Pictures { clip, purpose, athlete, routine }),
            None => leaving,
        }
    })
}

#[cfg(feature = "video")]
fn stills(
    arguments: &Arguments,
    Judged { marked: Marked { path, sheaf, .. }, sheet, .. }: &Judged,
) -> anyhow::Result<Vec<Still>> {
    if !arguments.stills {
        return Ok(Vec::new());
    }
    let clip = sheaf.clip.as_ref().context("a planned routine has no clip to take stills from")?;
    super::still::of_sheet(&path.with_file_name(&clip.name), sheaf, sheet)
}
