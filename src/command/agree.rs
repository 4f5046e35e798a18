use std::{io::Write as _, path::PathBuf};

use clap::Args;
use stillcall::{
    library::{FileKind, Leaving},
    practice::gather::{self, AgreementWanted},
    report,
};

use super::pages::PageFiles;
use crate::command::printed;

#[derive(Debug, Args)]
pub(super) struct Arguments {
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
    #[command(flatten)]
    pages: PageFiles,
    /// Show the report in the window instead.
    #[cfg(feature = "window")]
    #[arg(long, conflicts_with_all = ["json", "html", "csv"])]
    window: bool,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let wanted = AgreementWanted {
        reference: arguments.reference.clone(),
        others: arguments.others.clone(),
        rulebook: arguments.rulebook.clone(),
    };
    #[cfg(feature = "window")]
    if arguments.window {
        return super::show(stillcall::window::OpensOn::Agreement(wanted));
    }
    let report = gather::gather(&wanted)?;
    let page = report::agreement(&report);
    let of = || report.whose.iter().cloned().collect();
    arguments.pages.write(&page, |file| Leaving::new(file, FileKind::Sheet).of(of()))?;
    let mut out = printed::out();
    if arguments.json {
        serde_json::to_writer_pretty(&mut out, &report)?;
        writeln!(out)?;
    } else {
        write!(out, "{}", page.text())?;
    }
    Ok(out.flush()?)
}
