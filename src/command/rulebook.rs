use std::{
    fs,
    io::{self, Write as _},
    process::ExitCode,
};

use anyhow::Context as _;
use clap::Subcommand;
use stillcall::rulebook::{self, Severity};

#[derive(Debug, Subcommand)]
pub enum Command {
    /// Read a rule book and show all its errors and warnings at once.
    Check {
        /// The TOML file, or the name of a book that comes with the program.
        book: String,
    },
    /// List the rule books that come with the program.
    List,
}

pub fn run(command: Command) -> anyhow::Result<ExitCode> {
    match command {
        Command::Check { book } => check(&book),
        Command::List => list(),
    }
}

fn check(name: &str) -> anyhow::Result<ExitCode> {
    let text = match rulebook::shipped_text(name) {
        Some(text) => text.to_owned(),
        None => fs::read_to_string(name).with_context(|| format!("cannot read {name}"))?,
    };
    let (summary, found) = match rulebook::read(&text, name) {
        Ok((book, found)) => (format!("{}, edition {}", book.title, book.edition), found),
        Err(found) => ("not usable yet".to_owned(), found),
    };
    let mut out = io::stdout().lock();
    write!(out, "{}", rulebook::render(&found, &text, name))?;
    let errors = found.iter().filter(|one| one.severity == Severity::Error).count();
    let warnings = found.len() - errors;
    writeln!(out, "{name}: {summary}: {errors} errors, {warnings} warnings")?;
    out.flush()?;
    Ok(if errors == 0 { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

fn list() -> anyhow::Result<ExitCode> {
    let mut out = io::stdout().lock();
    for name in rulebook::shipped() {
        let book = rulebook::load(name)?;
        writeln!(out, "{name:<12} {}, edition {}", book.title, book.edition)?;
    }
    out.flush()?;
    Ok(ExitCode::SUCCESS)
}
