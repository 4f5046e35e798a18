use std::{io::Write as _, path::PathBuf};

use anyhow::{bail, ensure};
use clap::Args;
use stillcall::{
    library::{self, Page, Purpose, SetWishes},
    practice::set::Ask,
    rulebook,
};

use super::{Open, find::query_text, scan::refresh_when_new};
use crate::command::printed;

#[derive(Debug, Args)]
pub(crate) struct Arguments {
    /// Which routines, as `find` takes them.
    query: Vec<String>,
    /// Take a saved search.
    #[arg(long, value_name = "NAME", conflicts_with = "query")]
    saved: Option<String>,
    /// The set file to write; it must not exist yet.
    #[arg(long, value_name = "FILE")]
    out: PathBuf,
    /// Title of the set.
    #[arg(long, value_name = "TEXT")]
    title: Option<String>,
    /// What it is shown for: training, library, course or publication.
    #[arg(long = "for", value_name = "PURPOSE", default_value = "library")]
    purpose: Purpose,
    /// It examines somebody: only routines with an agreed reference come in.
    #[arg(long)]
    examination: bool,
    /// What is asked of every routine: void, start-value, score; where something was agreed on, also
    /// elements, credited, missing.
    #[arg(
        long,
        value_name = "WHAT",
        value_delimiter = ',',
        default_value = "void,start-value,score"
    )]
    ask: Vec<String>,
    /// Seconds to answer after a look.
    #[arg(long, value_name = "N")]
    seconds: Option<u32>,
    /// Rule book of the set: a name, or a TOML file beside it.
    #[arg(long, value_name = "NAME|FILE", default_value = "saltmarsh")]
    rulebook: String,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let asks: Vec<Ask> = arguments.ask.iter().map(|word| asked(word)).collect::<Result<_, _>>()?;
    let mut open = Open::of_user()?;
    refresh_when_new(&mut open)?;
    let text = query_text(&open, arguments.saved.as_ref(), &arguments.query)?;
    let page = Page { from: 0, most: u32::MAX };
    let (hits, _) = library::find(&open.index, &library::parse(&text)?, page, library::today())?;
    let book = rulebook::load(&arguments.rulebook)?;
    let id = arguments.out.file_stem().unwrap_or_default().to_string_lossy();
    let wishes = SetWishes {
        id: &id,
        title: arguments.title.as_deref().unwrap_or(&id),
        purpose: arguments.purpose,
        examination: arguments.examination,
        seconds: arguments.seconds,
        asks: &asks,
    };
    let made = library::make_set(&hits, &arguments.out, &book, &wishes, open.state.as_ref());
    let mut errors = printed::err();
    for (clip, why) in &made.left_out {
        writeln!(errors, "left out: {}: {why}", clip.display())?;
    }
    ensure!(made.looks > 0, "no routine is left for the set; nothing was written");
    made.write(&arguments.out, &open.home)?;
    writeln!(printed::out(), "{}: {} looks", arguments.out.display(), made.looks)?;
    Ok(())
}

fn asked(word: &str) -> anyhow::Result<Ask> {
    match Ask::of_word(word) {
        Some(
            ask @ (Ask::Void
            | Ask::StartValue
            | Ask::Score
            | Ask::Elements
            | Ask::Credited
            | Ask::Missing),
        ) => Ok(ask),
        _ => bail!(
            "\"{word}\" cannot be asked of every routine; say void, start-value, score, elements, \
             credited or missing"
        ),
    }
}
