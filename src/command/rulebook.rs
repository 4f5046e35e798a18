use std::{
    io::Write as _,
    path::{Path, PathBuf},
    process::ExitCode,
};

use crate::command::printed;
use clap::Subcommand;
use stillcall::{
    library::{FileKind, Home, Leaving},
    rulebook, trials,
};

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Read a rule book and show all its errors and warnings at once.
    Check {
        /// The TOML file, or the name of a book that comes with the program.
        book: String,
    },
    /// List the rule books that come with the program.
    List,
    /// Print the JSON schema of a rule book, for editors that complete and check while typing.
    Schema,
    /// Print every table and key that a rule book may have.
    Keys,
    /// Write a commented blank rule book.
    New {
        /// The file to write; it must not exist yet.
        file: PathBuf,
    },
}

pub(super) fn run(command: Command) -> anyhow::Result<ExitCode> {
    match command {
        Command::Check { book } => check(&book),
        Command::List => list(),
        Command::Schema => schema(),
        Command::Keys => keys(),
        Command::New { file } => new(&file),
    }
}

fn check(name: &str) -> anyhow::Result<ExitCode> {
    let text = rulebook::text_of(name)?;
    let (summary, mut found) = match rulebook::read_beside(&text, name) {
        Ok((book, found)) => (format!("{}, edition {}", book.title, book.edition), found),
        Err(found) => ("not usable yet".to_owned(), found),
    };
    let is_book = !found.iter().any(rulebook::Diagnostic::is_error);
    let tried = is_book.then(|| {
        let base = |base: &str| rulebook::text_beside(name, base);
        trials::check(&text, &base)
    });
    found.extend(tried.iter().flat_map(|tried| tried.warnings.clone()));
    found.sort_by_key(|one| one.span.start);
    let mut out = printed::out();
    if !found.is_empty() {
        writeln!(out, "{}\n", rulebook::render(&found, &text, name))?;
    }
    let errors = found.iter().filter(|one| one.is_error()).count();
    let warnings = found.len() - errors;
    let said = [(errors, "error"), (warnings, "warning")]
        .map(|(count, what)| rulebook::counted_findings(count, what))
        .join(", ");
    writeln!(out, "{name}: {summary}: {said}")?;
    if let Some(tried) = tried {
        writeln!(out, "{}", tried.words())?;
    }
    out.flush()?;
    Ok(if errors == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

fn list() -> anyhow::Result<ExitCode> {
    let mut out = printed::out();
    for name in rulebook::shipped() {
        let book = rulebook::load(name)?;
        writeln!(out, "{name:<12} {}, edition {}", book.title, book.edition)?;
    }
    out.flush()?;
    Ok(ExitCode::SUCCESS)
}

fn schema() -> anyhow::Result<ExitCode> {
    let mut out = printed::out();
    serde_json::to_writer_pretty(&mut out, &rulebook::schema())?;
    writeln!(out)?;
    out.flush()?;
    Ok(ExitCode::SUCCESS)
}

fn keys() -> anyhow::Result<ExitCode> {
    let mut out = printed::out();
    writeln!(out, "{}", rulebook::reference().join("\n").trim_end())?;
    out.flush()?;
    Ok(ExitCode::SUCCESS)
}

fn new(file: &Path) -> anyhow::Result<ExitCode> {
    let leaving = Leaving::new(file, FileKind::Book).anew();
    leaving.write(rulebook::blank().as_bytes(), Home::of_user().as_ref())?;
    Ok(ExitCode::SUCCESS)
}
