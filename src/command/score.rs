use std::{
    fs,
    io::{self, Write as _},
    path::{Path, PathBuf},
};

use anyhow::Context as _;
use clap::Args;
use stillcall::{
    library::{self, Asked, Purpose, Use},
    marks::{self, Quantity, Sheaf, StateFolder},
    report::{self, Still},
    rulebook::{self, Book},
    sheet::{self, ScoreSheet, Skills},
};

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
    /// Also write the sheet as a page that prints on A4.
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
    /// Put the frames of the sheet into the page. Pictures of a child need consent.
    #[cfg(feature = "video")]
    #[arg(long, requires = "html")]
    stills: bool,
    /// What pictures in the page are for: training, library, course or publication.
    #[arg(long = "for", value_name = "PURPOSE", requires = "html", default_value = "training")]
    purpose: Purpose,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let sheaf = read(&arguments.marks)?;
    let book = book_for(&sheaf, &arguments.marks, arguments.rulebook.as_deref())?;
    let skills = skills_for(&sheaf, arguments)?;
    let mut sheet = sheet::score_with(&book, &sheaf, skills.as_ref());
    if let Some(plan) = &arguments.plan {
        sheet.plan = Some(sheet::beside_plan(&book, &read(plan)?, &sheaf, &sheet));
    }
    if let Some(page) = &arguments.html {
        #[cfg(feature = "video")]
        let stills = stills(arguments, &sheaf, &sheet)?;
        #[cfg(not(feature = "video"))]
        let stills: Vec<Still> = Vec::new();
        if !stills.is_empty() {
            permit_pictures(arguments, &sheaf)?;
        }
        let clip = sheaf.clip.as_ref().map(|clip| clip.quick_id.as_str()).unwrap_or_default();
        super::remember(page, clip, &sheaf.routine.athlete)?;
        write_page(page, &sheet, stills)?;
    }
    print(arguments, &book, &sheaf, &sheet)
}

fn print(
    arguments: &Arguments,
    book: &Book,
    sheaf: &Sheaf,
    sheet: &ScoreSheet,
) -> anyhow::Result<()> {
    let mut out = io::stdout().lock();
    let mut json = |value: serde_json::Value| -> anyhow::Result<()> {
        serde_json::to_writer_pretty(&mut out, &value)?;
        Ok(writeln!(out)?)
    };
    if arguments.all_divisions {
        let sheets = sheet::all_divisions(book, sheaf);
        if arguments.json {
            json(sheets.iter().map(ScoreSheet::to_json).collect())?;
        } else {
            write!(out, "{}", report::divisions(&sheets).text())?;
        }
    } else if arguments.by_cause {
        let causes = sheet::causes(book, sheaf, sheet);
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

/// Fails where the clip's record does not allow its pictures to leave.
fn permit_pictures(arguments: &Arguments, sheaf: &Sheaf) -> anyhow::Result<()> {
    let clip = sheaf.clip.as_ref().context("a planned routine has no clip to take stills from")?;
    let asked = Asked {
        what: Use::Pictures(arguments.purpose),
        athletes: &[&sheaf.routine.athlete],
        routine: &sheaf.routine.id,
        today: library::today(),
    };
    library::permit(&arguments.marks.with_file_name(&clip.name), &asked)?;
    if sheaf.readings.iter().any(|reading| reading.quantity == Quantity::Split) {
        writeln!(
            io::stderr(),
            "some stills may show a split. No picture may seem to look at the groin: look at each \
             one before it leaves your hands, and leave out or crop what may"
        )?;
    }
    Ok(())
}

/// Reads a marks file. What is scored is what the clicks say now; a change since last time is
/// told.
pub(super) fn read(path: &Path) -> anyhow::Result<Sheaf> {
    let mut sheaf = marks::load(path, StateFolder::of_user().as_ref())?;
    for reading in marks::renew(&mut sheaf) {
        if let Some(change) = reading.change() {
            let words = reading.quantity.words();
            writeln!(io::stderr(), "reading {}: {words} {change}", reading.id.0)?;
        }
    }
    Ok(sheaf)
}

fn skills_for(sheaf: &Sheaf, arguments: &Arguments) -> anyhow::Result<Option<Skills>> {
    let named = arguments.skills.clone();
    let Some(path) = named.or_else(|| skills_beside(&arguments.marks, sheaf)) else {
        return Ok(None);
    };
    let text =
        fs::read_to_string(&path).with_context(|| format!("cannot read {}", path.display()))?;
    Ok(Some(Skills::read(&text, &path.display().to_string())?))
}

/// Returns the athlete's own list beside the marks, where there is one.
fn skills_beside(marks: &Path, sheaf: &Sheaf) -> Option<PathBuf> {
    let athlete = &sheaf.routine.athlete;
    // The code is part of a file's name here, so it must not lead out of the folder.
    let plain = |c: char| c.is_alphanumeric() || c == '-' || c == '_';
    let is_plain = !athlete.is_empty() && athlete.chars().all(plain);
    let beside = marks.with_file_name(format!("{athlete}.skills.toml"));
    (is_plain && beside.is_file()).then_some(beside)
}

/// Writes the page of a sheet.
pub(super) fn write_page(
    page: &Path,
    sheet: &ScoreSheet,
    stills: Vec<Still>,
) -> anyhow::Result<()> {
    fs::write(page, report::score_sheet(sheet).with_stills(stills).html())
        .with_context(|| format!("cannot write {}", page.display()))
}

/// Returns the book to score with: the one that is named, else the edition that the marks were
/// scored with before; says where that is not the book as it is now.
pub(super) fn book_for(sheaf: &Sheaf, marks: &Path, named: Option<&str>) -> anyhow::Result<Book> {
    let (named, hash) = match (named, sheaf.routine.book.as_str()) {
        (Some(named), _) => (named, ""),
        (None, "") => anyhow::bail!(
            "{} does not say under which rule book it was judged; name one with --rulebook",
            marks.display()
        ),
        (None, named) => (named, sheaf.routine.book_hash.as_str()),
    };
    let judged = || format!("{} was judged under \"{named}\"", marks.display());
    let scored = rulebook::load_scored(named, hash).with_context(judged)?;
    if let Some(said) = scored.said() {
        writeln!(io::stderr(), "{}: {said}", marks.display())?;
    }
    Ok(scored.book)
}

#[cfg(feature = "video")]
fn stills(arguments: &Arguments, sheaf: &Sheaf, sheet: &ScoreSheet) -> anyhow::Result<Vec<Still>> {
    if !arguments.stills {
        return Ok(Vec::new());
    }
    let clip = sheaf.clip.as_ref().context("a planned routine has no clip to take stills from")?;
    super::still::of_sheet(&arguments.marks.with_file_name(&clip.name), sheaf, sheet)
}
