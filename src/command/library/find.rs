use std::{io::Write as _, path::Path};

use anyhow::{Context as _, bail};
use clap::Args;
use jiff::ToSpan as _;
use serde_json::{Value, json};
use stillcall::library::{self, FORMS, Hit, Page, QueryError};

use super::{
    Open,
    scan::{refresh, refresh_when_new},
};
use crate::command::printed;

#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// What to look for, such as: beam leap 110 to 125.
    query: Vec<String>,
    /// Print JSON instead of text.
    #[arg(long)]
    json: bool,
    /// How many to print at most.
    #[arg(long, value_name = "N", default_value_t = 50)]
    limit: u32,
    /// How many to pass over.
    #[arg(long, value_name = "N", default_value_t = 0)]
    from: u32,
    /// Save the search under a name.
    #[arg(long, value_name = "NAME")]
    save: Option<String>,
    /// Carry out a saved search.
    #[arg(long, value_name = "NAME", conflicts_with_all = ["query", "save"])]
    saved: Option<String>,
    /// Print everything that a search can say.
    #[arg(long)]
    help_words: bool,
}

#[derive(Debug, Args)]
pub(crate) struct DueArguments {
    /// Also what falls due within so many days.
    #[arg(long, value_name = "DAYS", default_value_t = 0)]
    within: i32,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    if arguments.help_words {
        return help();
    }
    let mut open = Open::of_user()?;
    let text = query_text(&open, arguments.saved.as_ref(), &arguments.query)?;
    let query = library::parse(&text)?;
    if let Some(name) = &arguments.save {
        open.shelf.searches.insert(name.clone(), text.clone());
        open.shelf.write(&open.home)?;
    }
    refresh_when_new(&mut open)?;
    let page = Page { from: arguments.from, most: arguments.limit };
    let (hits, all) = library::find(&open.index, &query, page, library::today())?;
    let mut out = printed::out();
    if arguments.json {
        let list: Vec<Value> = hits.iter().map(as_json).collect();
        serde_json::to_writer_pretty(&mut out, &json!({ "found": all, "routines": list }))?;
        writeln!(out)?;
        return Ok(out.flush()?);
    }
    for hit in &hits {
        writeln!(out, "{}", in_words(hit))?;
    }
    match all {
        0 => writeln!(out, "nothing found among what the last scan saw")?,
        all if all as usize > hits.len() => writeln!(out, "{} of {all} shown", hits.len())?,
        all => writeln!(out, "{all} found")?,
    }
    Ok(out.flush()?)
}

/// Returns the text of a saved search, or the words that were given.
pub(super) fn query_text(
    open: &Open,
    saved: Option<&String>,
    words: &[String],
) -> anyhow::Result<String> {
    let Some(name) = saved else { return Ok(words.join(" ")) };
    open.shelf.searches.get(name).cloned().with_context(|| {
        let known: Vec<&str> = open.shelf.searches.keys().map(String::as_str).collect();
        format!("no search \"{name}\" is saved; there is {}", known.join(", "))
    })
}

pub(super) fn due(arguments: &DueArguments) -> anyhow::Result<()> {
    let mut open = Open::of_user()?;
    refresh(&mut open)?;
    let today = library::today();
    let Ok(last) = today.checked_add(arguments.within.days()) else {
        bail!("so many days cannot be counted from today");
    };
    let due = library::due(&open.index, last)?;
    let mut out = printed::out();
    for (clip, day) in &due {
        let late = if *day < today { " (overdue)" } else { "" };
        writeln!(out, "{day}{late}  {}", clip.display())?;
    }
    if due.is_empty() {
        writeln!(out, "nothing is due")?;
    }
    Ok(out.flush()?)
}

fn help() -> anyhow::Result<()> {
    let mut out = printed::out();
    writeln!(out, "Conditions are joined by a space or `and`, by `or`, `not` and brackets.\n")?;
    for form in FORMS {
        writeln!(out, "{}\n    {}\n    for example: {}", form.form, form.finds, form.example)?;
    }
    writeln!(out, "WORD or \"SEVERAL WORDS\"\n    names, notes, and file names\n")?;
    writeln!(out, "A range: {}", QueryError::RANGES)?;
    Ok(out.flush()?)
}

fn in_words(hit: &Hit) -> String {
    let name = |path: &Path| path.display().to_string();
    let place = hit.clip.as_deref().or(hit.marks.as_deref()).map(name).unwrap_or_default();
    let away = if hit.away { ", out of reach" } else { "" };
    if hit.marks.is_none() {
        return format!("{place}: not marked yet{away}");
    }
    let score = match (hit.void, hit.score) {
        _ if !hit.watched => "nobody watched it yet".to_owned(),
        (true, _) => "void".to_owned(),
        (false, Some(score)) => hit.range.words(Some(score)),
        (false, None) if hit.unscored.is_empty() => "not scored".to_owned(),
        (false, None) => format!("not scored ({})", hit.unscored),
    };
    let mut words = vec![
        hit.date.clone(),
        hit.athlete.clone(),
        hit.event.clone(),
        hit.division.clone(),
        format!("judge {}", hit.judge),
        score,
    ];
    words.extend((hit.close > 0).then(|| "close".to_owned()));
    words.extend(hit.agreed.then(|| "agreed".to_owned()));
    words.retain(|word| !word.is_empty());
    format!("{place}: routine {}, {}{away}", hit.routine, words.join(", "))
}

fn as_json(hit: &Hit) -> Value {
    json!({
        "clip": hit.clip,
        "away": hit.away,
        "marks": hit.marks,
        "watched": hit.watched,
        "routine": hit.routine,
        "event": hit.event,
        "division": hit.division,
        "athlete": hit.athlete,
        "judge": hit.judge,
        "date": hit.date,
        "score": hit.score,
        "score_range": hit.score.map(|_| hit.range),
        "void": hit.void,
        "unscored": hit.unscored,
        "close": hit.close,
        "agreed": hit.agreed,
    })
}
