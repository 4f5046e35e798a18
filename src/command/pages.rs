//! Files that a command writes besides what it prints.

use std::path::{Path, PathBuf};

use clap::Args;
use stillcall::{
    library::{Home, Leaving},
    report::Document,
};

#[derive(Debug, Args)]
pub(super) struct PageFiles {
    /// Also write it as a page that prints on A4.
    #[arg(long, value_name = "FILE")]
    html: Option<PathBuf>,
    /// Also write its rows as comma-separated values, for a table program.
    #[arg(long, value_name = "FILE")]
    csv: Option<PathBuf>,
    /// Write over a file that is there, also where this program did not write it.
    #[arg(long)]
    force: bool,
}

impl PageFiles {
    /// Returns whether any file is asked for.
    pub(super) fn any(&self) -> bool {
        self.html.is_some() || self.csv.is_some()
    }

    /// Lets the page out to every file that is asked for; `leaving` says of whom it is.
    pub(super) fn write<'a>(
        &'a self,
        page: &Document,
        leaving: impl Fn(&'a Path) -> Leaving<'a>,
    ) -> anyhow::Result<()> {
        if let Some(file) = &self.html {
            self.let_out(leaving(file), &page.html())?;
        }
        if let Some(file) = &self.csv {
            self.let_out(leaving(file), &page.csv())?;
        }
        Ok(())
    }

    /// Lets out one file, over whatever is there if that is asked for.
    pub(super) fn let_out(&self, leaving: Leaving<'_>, text: &str) -> anyhow::Result<()> {
        let leaving = if self.force { leaving.over_anything() } else { leaving };
        Ok(leaving.write(text.as_bytes(), Home::of_user().as_ref())?)
    }
}
