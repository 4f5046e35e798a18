use std::{
    fs,
    io::{self, Write as _},
    path::{Path, PathBuf},
};

use anyhow::Context as _;
use clap::Args;
use stillcall::{
    marks::{self, StateFolder},
    practice::{
        agreement::{self, Agreement, Compared, Judged, ScoreLine},
        set, sitting,
    },
    report,
    rulebook::{self, Book},
    sheet,
};

#[derive(Debug, Args)]
pub struct Arguments {
    /// Marks file of the reference, or a folder of them; for sittings the set file.
    reference: PathBuf,
    /// Marks files of others, or folders of them; or sittings of the set.
    #[arg(required = true)]
    others: Vec<PathBuf>,
    /// Rule book to score with instead of the one each file names: a name or a TOML file.
    #[arg(long, value_name = "NAME|FILE")]
    rulebook: Option<String>,
    /// Print the report as JSON instead of text.
    #[arg(long)]
    json: bool,
    /// Also write the report as a page with charts.
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
}

pub fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let is_set = arguments.reference.extension().is_some_and(|ending| ending == "toml");
    let report = if is_set { of_set(arguments)? } else { of_marks(arguments)? };
    if let Some(page) = &arguments.html {
        fs::write(page, report::agreement_page(&report))
            .with_context(|| format!("cannot write {}", page.display()))?;
    }
    let mut out = io::stdout().lock();
    if arguments.json {
        serde_json::to_writer_pretty(&mut out, &report)?;
        writeln!(out)?;
    } else {
        write!(out, "{}", agreement::text(&report))?;
    }
    Ok(out.flush()?)
}

/// Returns the report on sittings of a set, whose reference calls stand in the set file.
fn of_set(arguments: &Arguments) -> anyhow::Result<Agreement> {
    let (set, book, _) = set::load(&arguments.reference)?;
    let (mut people, mut compared, mut remarks) = (Vec::new(), Vec::new(), Vec::new());
    for place in &arguments.others {
        for file in files(place, SITTING)? {
            let (begun, records) = sitting::read(&file)?;
            if begun.set != set.id {
                remarks.push(format!("{}: a sitting of another set", file.display()));
                continue;
            }
            if begun.set_hash != set.hash {
                remarks.push(format!("{}: the set was changed since", file.display()));
            }
            remarks.extend(sitting::remarks(&file.display().to_string(), &records));
            compared.extend(sitting::results(&set, &begun, &records));
            if !people.contains(&begun.person) {
                people.push(begun.person);
            }
        }
    }
    let mut report = agreement::summary(&set.title, &people, &compared, &[]);
    report.books = vec![title(&book)];
    report.remarks = remarks;
    Ok(report)
}

fn of_marks(arguments: &Arguments) -> anyhow::Result<Agreement> {
    let mut desk = Desk { rulebook: arguments.rulebook.as_deref(), books: Vec::new() };
    let mut reference = Vec::new();
    for file in files(&arguments.reference, MARKS)? {
        reference.push(desk.judged(&file)?);
    }
    let mut found = Found::default();
    for place in &arguments.others {
        for file in files(place, MARKS)? {
            let other = desk.judged(&file)?;
            found.take(&desk, &reference, &other, &file);
        }
    }
    let code = reference.first().map_or("", |judged| judged.sheaf.routine.judge.as_str());
    let code = if code.is_empty() { "the reference" } else { code };
    let mut report = agreement::summary(code, &found.people, &found.compared, &found.scores);
    report.books = desk.books.iter().map(|(_, book)| title(book)).collect();
    report.remarks = found.remarks;
    Ok(report)
}

fn title(book: &Book) -> String {
    format!("{}, edition {}", book.title, book.edition)
}

/// Reads marks files and the books that they name, each book once.
struct Desk<'a> {
    rulebook: Option<&'a str>,
    books: Vec<(String, Book)>,
}

impl Desk<'_> {
    fn judged(&mut self, file: &Path) -> anyhow::Result<Judged> {
        let mut sheaf = marks::load(file, StateFolder::of_user().as_ref())?;
        marks::renew(&mut sheaf);
        if sheaf.routine.judge.is_empty() {
            "no code".clone_into(&mut sheaf.routine.judge);
        }
        let name = self.rulebook.unwrap_or(&sheaf.routine.book).to_owned();
        anyhow::ensure!(
            !name.is_empty(),
            "{} does not say under which rule book it was judged; name one with --rulebook",
            file.display()
        );
        if !self.books.iter().any(|(known, _)| *known == name) {
            let book = rulebook::load(&name)
                .with_context(|| format!("{} was judged under \"{name}\"", file.display()))?;
            self.books.push((name.clone(), book));
        }
        let book = self.book(&name).context("the rule book was just read")?;
        let sheet = sheet::score(book, &sheaf);
        Ok(Judged { sheaf, sheet })
    }

    fn book(&self, name: &str) -> Option<&Book> {
        self.books.iter().find(|(known, _)| known == name).map(|(_, book)| book)
    }
}

/// What was found so far.
#[derive(Default)]
struct Found {
    people: Vec<String>,
    compared: Vec<Compared>,
    scores: Vec<ScoreLine>,
    remarks: Vec<String>,
    seen: Vec<(String, String)>,
}

impl Found {
    fn take(&mut self, desk: &Desk<'_>, reference: &[Judged], other: &Judged, file: &Path) {
        let routine = other.routine();
        let Some(same) = reference.iter().find(|judged| judged.routine() == routine) else {
            let remark = format!("{}: the reference has no such routine", file.display());
            return self.remarks.push(remark);
        };
        let code = other.sheaf.routine.judge.clone();
        if self.seen.contains(&(code.clone(), routine.clone())) {
            let remark = format!("{}: {code} has marks of this routine already", file.display());
            return self.remarks.push(remark);
        }
        let of = |judged: &Judged| {
            (judged.sheet.standing.book_hash.clone(), judged.sheaf.routine.division.clone())
        };
        if of(same) != of(other) {
            self.remarks.push(format!(
                "{}: scored under another book or division than the reference",
                file.display()
            ));
        }
        let name = desk.rulebook.unwrap_or(&same.sheaf.routine.book);
        if let Some(book) = desk.book(name) {
            let (compared, score) = agreement::compare(book, same, other);
            self.compared.extend(compared);
            self.scores.push(score);
        }
        if !self.people.contains(&code) {
            self.people.push(code.clone());
        }
        self.seen.push((code, routine));
    }
}

/// How the names of marks files and of sittings end.
const MARKS: &str = ".marks.json";
const SITTING: &str = ".sitting";

/// Returns the file, or the files of the folder with this ending, by name.
fn files(place: &Path, ending: &str) -> anyhow::Result<Vec<PathBuf>> {
    if !place.is_dir() {
        // A sitting means something only beside its set.
        let is_odd = ending == MARKS && place.to_string_lossy().ends_with(SITTING);
        anyhow::ensure!(
            !is_odd,
            "{} is a sitting: name its set file as the reference",
            place.display()
        );
        return Ok(vec![place.to_owned()]);
    }
    let entries =
        fs::read_dir(place).with_context(|| format!("cannot read {}", place.display()))?;
    let mut files: Vec<PathBuf> = entries
        .flatten()
        .map(|entry| entry.path())
        .filter(|path| path.to_string_lossy().ends_with(ending))
        .collect();
    files.sort();
    anyhow::ensure!(!files.is_empty(), "{} holds no files *{ending}", place.display());
    Ok(files)
}
