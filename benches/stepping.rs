//! How fast clips are stepped, against plain FFmpeg decoding with the same threads.
//!
//! `cargo bench` makes three clips, runs each task three times in turn, each in a process of its
//! own, and prints medians as ratios to the limit: these machines are noisy, so only ratios taken
//! in one run mean anything.
//!
//! `--task linear|random|backward --clip FILE [--threads N] [--cap SECONDS]` runs one task and
//! prints one JSON line: `n` frames in `wall` seconds, `open` seconds to the table, `cpu` seconds.

#![allow(clippy::print_stdout, reason = "a benchmark prints its table")]

use std::{
    path::{Path, PathBuf},
    process::Command,
    time::{Duration, Instant},
};

use anyhow::{Context as _, ensure};
use clap::{Parser, ValueEnum};
use serde::{Deserialize, Serialize};
use stillcall::footage::{Decoder, Footage};

/// Steps clips and says how fast.
#[derive(Parser)]
struct Arguments {
    #[arg(long)]
    task: Option<Task>,
    #[arg(long, requires = "task")]
    clip: Option<PathBuf>,
    #[arg(long, default_value_t = 2)]
    threads: usize,
    /// Seconds after which random and backward stop.
    #[arg(long, default_value_t = 5.0)]
    cap: f64,
    /// What cargo passes to every benchmark.
    #[arg(long, hide = true)]
    bench: bool,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
enum Task {
    Linear,
    Random,
    Backward,
}

#[derive(Clone, Copy, Debug, Serialize, Deserialize)]
struct Figure {
    n: usize,
    wall: f64,
    cpu: f64,
    open: f64,
}

impl Figure {
    fn rate(&self) -> f64 {
        self.n as f64 / self.wall
    }
}

fn main() -> anyhow::Result<()> {
    let arguments = Arguments::parse();
    match (arguments.task, &arguments.clip) {
        (Some(task), Some(clip)) => {
            let figure = run(task, clip, &arguments)?;
            println!("{}", serde_json::to_string(&figure)?);
            Ok(())
        }
        _ => table(&arguments),
    }
}

fn run(task: Task, clip: &Path, arguments: &Arguments) -> anyhow::Result<Figure> {
    let begun = Instant::now();
    let footage = Footage::open(clip)?;
    let open = begun.elapsed().as_secs_f64();
    let mut decoder = Decoder::new(&footage, arguments.threads);
    let cap = if task == Task::Linear { f64::INFINITY } else { arguments.cap };
    let (begun, busy) = (Instant::now(), cpu_seconds());
    let mut n = 0;
    for k in order(task, footage.table().len()) {
        decoder.picture(k)?;
        n += 1;
        if begun.elapsed().as_secs_f64() > cap {
            break;
        }
    }
    let (wall, cpu) = (begun.elapsed().as_secs_f64(), cpu_seconds() - busy);
    Ok(Figure { n, wall, cpu, open })
}

fn order(task: Task, count: usize) -> Vec<usize> {
    match task {
        Task::Linear => (0..count).collect(),
        // A stride that shares no factor with usual counts goes near and far.
        Task::Random => (0..200).map(|i| (i * 7919 + 13) % count).collect(),
        Task::Backward => (0..=count * 3 / 4).rev().take(300).collect(),
    }
}

/// Seconds of processor time that this process has used, from Linux's own count; 0 elsewhere.
fn cpu_seconds() -> f64 {
    let stat = std::fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let after_name = stat.rsplit(')').next().unwrap_or_default();
    let ticks = |at: usize| {
        after_name.split_whitespace().nth(at).and_then(|t| t.parse::<f64>().ok()).unwrap_or(0.0)
    };
    // User and system time are fields 14 and 15; Linux counts 100 ticks a second for programs.
    (ticks(11) + ticks(12)) / 100.0
}

/// Clips and how `ffmpeg` makes them: test picture, filter, encoder.
const CLIPS: [(&str, &str, &str, &str); 3] = [
    (
        "h264-1080p30-gop250.mp4",
        "testsrc2=s=1920x1080:r=30:d=20",
        "noise=alls=12:allf=t+u,format=yuv420p",
        "-c:v libx264 -preset veryfast -g 250 -keyint_min 250 -sc_threshold 0 -bf 3 -crf 24",
    ),
    (
        "hevc-1080p60-open.mp4",
        "testsrc2=s=1920x1080:r=60:d=8",
        "noise=alls=8:allf=t+u,format=yuv420p",
        "-c:v libx265 -preset ultrafast -crf 20 -x265-params \
         log-level=error:keyint=120:min-keyint=120:bframes=4:b-adapt=0:open-gop=1:scenecut=0",
    ),
    (
        "h264-2160p30-gop60.mp4",
        "testsrc2=s=3840x2160:r=30:d=6",
        "noise=alls=8:allf=t+u,format=yuv420p",
        "-c:v libx264 -preset ultrafast -bf 2 -g 60 -keyint_min 60 -crf 26",
    ),
];

fn table(arguments: &Arguments) -> anyhow::Result<()> {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("bench");
    std::fs::create_dir_all(&folder)?;
    println!(
        "{:<26} {:>9} {:>8} {:>8} {:>8} {:>9}",
        "clip", "limit/s", "forward", "backward", "random", "open, ms"
    );
    for (name, source, filter, encoder) in CLIPS {
        let clip = folder.join(name);
        make(&clip, (source, filter), encoder)?;
        let (mut limits, mut figures) = (Vec::new(), [const { Vec::new() }; 3]);
        for _ in 0..3 {
            limits.push(limit(&clip, arguments.threads)?);
            for (task, figures) in
                [Task::Linear, Task::Backward, Task::Random].iter().zip(&mut figures)
            {
                figures.push(child(*task, &clip, arguments)?);
            }
        }
        let limit = median(limits);
        let ratio = |figures: &[Figure]| median(figures.iter().map(Figure::rate).collect()) / limit;
        let [linear, backward, random] = &figures;
        let open = median(linear.iter().map(|figure| figure.open * 1000.0).collect());
        println!(
            "{name:<26} {limit:>9.0} {:>8.2} {:>8.2} {:>8.4} {open:>9.1}",
            ratio(linear),
            ratio(backward),
            ratio(random)
        );
    }
    println!("\nforward, backward and random are frames a second over the limit's.");
    Ok(())
}

fn make(clip: &Path, (source, filter): (&str, &str), encoder: &str) -> anyhow::Result<()> {
    if clip.exists() {
        return Ok(());
    }
    let made = ffmpeg()
        .args(["-f", "lavfi", "-i", source, "-vf", filter])
        .args(encoder.split_whitespace())
        .arg(clip)
        .status()?;
    ensure!(made.success(), "ffmpeg could not make {}", clip.display());
    Ok(())
}

fn ffmpeg() -> Command {
    let mut command = Command::new("ffmpeg");
    command.args(["-y", "-nostdin", "-hide_banner", "-loglevel", "error"]);
    command
}

/// Frames a second of plain decoding by the `ffmpeg` program.
fn limit(clip: &Path, threads: usize) -> anyhow::Result<f64> {
    let frames = Footage::open(clip)?.table().len();
    let begun = Instant::now();
    let done = ffmpeg()
        .args(["-threads", &threads.to_string(), "-i"])
        .arg(clip)
        .args(["-fps_mode", "passthrough", "-f", "null", "-"])
        .status()?;
    ensure!(done.success(), "ffmpeg could not read {}", clip.display());
    Ok(frames as f64 / begun.elapsed().max(Duration::from_millis(1)).as_secs_f64())
}

fn child(task: Task, clip: &Path, arguments: &Arguments) -> anyhow::Result<Figure> {
    let task = task.to_possible_value().context("every task has a name")?;
    let output = Command::new(std::env::current_exe()?)
        .args(["--task", task.get_name(), "--clip"])
        .arg(clip)
        .args(["--threads", &arguments.threads.to_string()])
        .args(["--cap", &arguments.cap.to_string()])
        .output()?;
    serde_json::from_slice(&output.stdout).with_context(|| {
        format!("{task:?}: {}", String::from_utf8_lossy(&output.stderr), task = task.get_name())
    })
}

fn median(mut figures: Vec<f64>) -> f64 {
    figures.sort_by(f64::total_cmp);
    figures.get(figures.len() / 2).copied().unwrap_or(f64::NAN)
}
