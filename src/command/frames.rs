use std::{io::Write as _, path::PathBuf};

use crate::command::{printed, proving};
use clap::Args;
use stillcall::footage;

#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// The clip.
    clip: PathBuf,
    /// Print every frame as JSON instead of a summary.
    #[arg(long)]
    json: bool,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    // Only a full decode knows of damage, repeated pictures and packets that show nothing.
    let footage = proving::open(&arguments.clip)?;
    let mut out = printed::out();
    if arguments.json {
        let name = arguments.clip.file_name().unwrap_or_default().to_string_lossy();
        serde_json::to_writer(&mut out, &footage::frames_json(&footage, &name))?;
        writeln!(out)?;
    } else {
        write!(out, "{}", footage::frames_text(&footage))?;
    }
    Ok(out.flush()?)
}
