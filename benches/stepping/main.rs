//! How fast clips are stepped, against plain FFmpeg decoding with the same threads.
//!
//! `cargo bench` makes the clips, runs each task three times in turn, each in a process of its own,
//! and prints medians as ratios to the limit: these machines are noisy, so only ratios taken in one
//! run mean anything.
//!
//! `--task TASK --clip FILE [--threads N] [--cap SECONDS]` runs one task and prints one JSON line:
//! `n` frames in `wall` seconds, `open` seconds to the table, `cpu` seconds, `peak` MiB of memory.

#![allow(clippy::print_stdout, reason = "a benchmark prints its table")]

mod clips;
mod machine;
mod table;
mod tasks;

use std::path::PathBuf;

use clap::{Parser, ValueEnum};

/// Steps clips and says how fast.
#[derive(Parser)]
struct Arguments {
    #[arg(long)]
    task: Option<Task>,
    #[arg(long, requires = "task")]
    clip: Option<PathBuf>,
    #[arg(long, default_value_t = 2)]
    threads: usize,
    /// Seconds after which random, backward and hold stop.
    #[arg(long, default_value_t = 5.0)]
    cap: f64,
    /// How often each task is run for the table.
    #[arg(long, default_value_t = 3)]
    rounds: usize,
    /// A Python that has PyAV, to compare random access with; else as STILLCALL_PYAV says.
    #[arg(long)]
    pyav: Option<PathBuf>,
    /// What cargo passes to every benchmark.
    #[arg(long, hide = true)]
    bench: bool,
}

/// What is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Task {
    /// Every frame in order.
    Linear,
    /// 200 frames far apart.
    Random,
    /// 300 steps back, each waited for.
    Backward,
    /// From nothing to the first picture.
    First,
    /// The same with FFmpeg alone.
    FirstLimit,
    /// 30 steps back a second, as with an arrow key held down.
    Hold,
    /// Steps among pictures that are at hand.
    Cached,
}

fn main() -> anyhow::Result<()> {
    let mut arguments = Arguments::parse();
    arguments.pyav = arguments.pyav.or_else(|| std::env::var_os("STILLCALL_PYAV").map(Into::into));
    match (arguments.task, &arguments.clip) {
        (Some(task), Some(clip)) => {
            let figure = tasks::run(task, clip, &arguments)?;
            println!("{}", serde_json::to_string(&figure)?);
            Ok(())
        }
        _ => table::print(&arguments),
    }
}
