use std::{io::Write as _, path::PathBuf};

use clap::Args;
use stillcall::{
    library::{self, Home, Page, Records},
    marks::StateFolder,
};

use super::{Open, scan::refresh_when_new};
use crate::command::printed;

#[derive(Debug, Args)]
pub(crate) struct ExportArguments {
    /// Which routines, as `find` takes them.
    query: Vec<String>,
    /// The bundle to write, a ZIP file; it must not exist yet.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// For whom it is: a club or a role, no person's name.
    #[arg(long, value_name = "WHOM")]
    to: String,
    /// Put in the clips that may leave for this: training, library, course or publication.
    #[cfg(feature = "video")]
    #[arg(long, value_name = "PURPOSE")]
    clips_for: Option<library::Purpose>,
    /// Keep the sound of the clips.
    #[cfg(feature = "video")]
    #[arg(long, requires = "clips_for")]
    sound: bool,
}

#[derive(Debug, Args)]
pub(crate) struct ImportArguments {
    /// The bundle.
    bundle: PathBuf,
    /// The folder to put its files into.
    #[arg(long, value_name = "FOLDER")]
    into: PathBuf,
    /// Take in what the bundle says of clips that are here and of which nothing is noted yet.
    #[arg(long)]
    records: bool,
}

pub(super) fn export(arguments: &ExportArguments) -> anyhow::Result<()> {
    let mut open = Open::of_user()?;
    refresh_when_new(&mut open)?;
    let query = library::parse(&arguments.query.join(" "))?;
    let page = Page { from: 0, most: u32::MAX };
    let (hits, _) = library::find(&open.index, &query, page, library::today())?;
    let marks: Vec<PathBuf> = hits.into_iter().filter_map(|hit| hit.marks).collect();
    #[cfg(feature = "video")]
    let copy = super::excerpt::copier(arguments.sound);
    #[cfg(feature = "video")]
    let clips = arguments.clips_for.map(|purpose| library::WithClips { purpose, copy: &copy });
    #[cfg(not(feature = "video"))]
    let clips = None;
    let kept = (open.state.as_ref(), &open.home);
    let going = (&*arguments.out, &*arguments.to);
    let done = library::export(&marks, clips.as_ref(), kept, going)?;
    let mut out = printed::out();
    for refused in &done.stayed {
        writeln!(out, "stays behind: {refused}")?;
    }
    let clips = match done.clips {
        0 => "no pictures".to_owned(),
        1 => "1 clip".to_owned(),
        clips => format!("{clips} clips"),
    };
    writeln!(
        out,
        "{}: {} marks files, {} records, {clips}; written down as handed out to {}",
        arguments.out.display(),
        done.marks,
        done.records,
        arguments.to
    )?;
    Ok(out.flush()?)
}

pub(super) fn import(arguments: &ImportArguments) -> anyhow::Result<()> {
    let (state, home) = (StateFolder::of_user(), Home::of_user());
    let records = if arguments.records { Records::Taken } else { Records::Asked };
    let own = (state.as_ref(), home.as_ref());
    let done = library::import(&arguments.bundle, &arguments.into, own, records)?;
    let mut out = printed::out();
    for path in &done.new {
        writeln!(out, "new: {}", path.display())?;
    }
    writeln!(out, "{} new, {} were there already", done.new.len(), done.known)?;
    if done.refused > 0 {
        writeln!(
            out,
            "{} not taken in: somebody who withdrew is on them; ask whoever sent it to delete them",
            done.refused
        )?;
    }
    Ok(out.flush()?)
}
