use std::{io::Write as _, path::Path};

use anyhow::{Context as _, ensure};
use clap::Args;
use jiff::civil::Date;
use stillcall::{
    judged::Judging,
    library::{self, Assigned, Code, Home, Page, Settings},
    marks::ClipFacts,
    rulebook,
};

use super::{
    Open,
    find::query_text,
    scan::{refresh, refresh_when_new},
};
use crate::command::{printed, tell_all};

#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// Which routines and clips, as `find` takes them.
    query: Vec<String>,
    /// Take a saved search.
    #[arg(long, value_name = "NAME", conflicts_with = "query")]
    saved: Option<String>,
    /// Id of the event.
    #[arg(long, value_name = "ID")]
    event: Option<String>,
    /// Id of the division.
    #[arg(long, value_name = "ID")]
    division: Option<String>,
    /// Code of the athlete, never a name.
    #[arg(long, value_name = "CODE")]
    athlete: Option<Code>,
    /// Day of the performance, as 2026-10-17.
    #[arg(long, value_name = "DATE")]
    date: Option<Date>,
    /// Code of the judge who will mark clips that nobody marked yet.
    #[arg(long, value_name = "CODE")]
    judge: Option<Code>,
    /// Rule book: a name or a TOML file.
    #[arg(long, value_name = "NAME|FILE")]
    rulebook: Option<String>,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    if let Some(code) = &arguments.athlete {
        library::refuse_withdrawn(Home::of_user().as_ref(), code)?;
    }
    let book = arguments.rulebook.as_deref().map(rulebook::load).transpose()?;
    let settings = Settings {
        book: book.as_ref(),
        event: arguments.event.clone(),
        division: arguments.division.clone(),
        athlete: arguments.athlete.clone(),
        date: arguments.date,
        judge: arguments.judge.clone(),
    };
    let mut open = Open::of_user()?;
    refresh_when_new(&mut open)?;
    let text = query_text(&open, arguments.saved.as_ref(), &arguments.query)?;
    ensure!(!text.trim().is_empty(), "say which routines, for example: not marked");
    let page = Page { from: 0, most: u32::MAX };
    let (hits, _) = library::find(&open.index, &library::parse(&text)?, page, library::today())?;
    let state = open.state.clone().context("there is no folder for the journal of marks")?;
    let mut judging = Judging::new(Some(&state));
    let (mut out, mut changed, mut left) = (printed::out(), 0, 0);
    for hit in &hits {
        let place = hit.clip.as_deref().or(hit.marks.as_deref()).unwrap_or(Path::new(""));
        let mut told = Vec::new();
        let tell = &mut |said: &str| told.push(said.to_owned());
        let assigned = library::assign(hit, &settings, &facts, (&mut judging, &state), tell);
        tell_all(told)?;
        match assigned {
            Ok(Assigned::Changed(path)) => writeln!(out, "changed: {}", path.display())?,
            Ok(Assigned::Begun(path)) => writeln!(out, "begun: {}", path.display())?,
            Ok(Assigned::Same(_)) => continue,
            Err(error) => {
                left += 1;
                writeln!(out, "left as it is: {}: {error}", place.display())?;
                continue;
            }
        }
        changed += 1;
    }
    drop(out);
    refresh(&mut open)?;
    let same = hits.len() - changed - left;
    writeln!(printed::out(), "{changed} changed, {same} were so already, {left} left as they are")?;
    Ok(())
}

#[cfg(feature = "video")]
fn facts(clip: &Path) -> Result<ClipFacts, String> {
    use stillcall::{footage::ApartDecoder, store::open_file, units::content_hash};
    let facts = || -> anyhow::Result<ClipFacts> {
        let told = ApartDecoder::default().facts(clip)?;
        let names = (library::quick_id(clip)?, content_hash(&mut open_file(clip)?)?);
        Ok(stillcall::copies::facts_told(told, clip, names))
    };
    facts().map_err(|error| format!("{error:#}"))
}

#[cfg(not(feature = "video"))]
fn facts(_: &Path) -> Result<ClipFacts, String> {
    Err("this build of the program reads no clips".to_owned())
}
