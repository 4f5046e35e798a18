//! All tasks in turn, as a table of medians.

use std::{path::Path, process::Command, time::Instant};

use anyhow::{Context as _, ensure};
use clap::ValueEnum as _;
use stillcall::footage::Footage;

use crate::{Arguments, Task, clips, tasks::Figure};

/// Runs everything and prints the table.
pub(crate) fn print(arguments: &Arguments) -> anyhow::Result<()> {
    println!(
        "{:<26} {:>8} {:>8} {:>8} {:>8} {:>8} {:>8} {:>9} {:>9} {:>9}",
        "clip",
        "limit/s",
        "forward",
        "backward",
        "random",
        "/ PyAV",
        "first",
        "cached ms",
        "hold ms",
        "peak MiB"
    );
    for clip in clips::stepped()? {
        let row = Row::measure(&clip, arguments)?;
        println!("{row}");
    }
    println!(
        "\nforward, backward: frames a second over the limit's, which is plain decoding by ffmpeg.\n\
         random: pictures a second over the limit's frames a second; / PyAV: over PyAV's pictures.\n\
         first: time to the first picture over FFmpeg's own open-and-decode-one.\n\
         cached, hold: slowest of 99 in 100 steps at hand, and of 30 steps back a second.\n\
         peak: most memory of any task.\n"
    );
    for [short, long] in clips::short_and_long()? {
        let open = |clip: &Path| -> anyhow::Result<f64> {
            let rounds = (0..arguments.rounds).map(|_| child(Task::First, clip, arguments));
            Ok(median(
                rounds.map(|figure| Ok(figure?.wall * 1000.0)).collect::<anyhow::Result<_>>()?,
            ))
        };
        let (short_ms, long_ms) = (open(&short)?, open(&long)?);
        let name = long.file_name().unwrap_or_default().to_string_lossy();
        println!("{name}: first picture after {long_ms:.0} ms; of ten seconds, {short_ms:.0} ms");
    }
    Ok(())
}

/// Medians of one clip.
struct Row {
    name: String,
    limit: f64,
    forward: f64,
    backward: f64,
    random: f64,
    over_pyav: Option<f64>,
    first: f64,
    cached: f64,
    hold: f64,
    peak: f64,
}

impl Row {
    fn measure(clip: &Path, arguments: &Arguments) -> anyhow::Result<Self> {
        const TASKS: [Task; 7] = [
            Task::Linear,
            Task::Backward,
            Task::Random,
            Task::First,
            Task::FirstLimit,
            Task::Cached,
            Task::Hold,
        ];
        let (mut limits, mut peers) = (Vec::new(), Vec::new());
        let mut figures = [const { Vec::new() }; TASKS.len()];
        // Interleaved, so that what else the machine does falls on all of them.
        for _ in 0..arguments.rounds {
            limits.push(limit(clip, arguments.threads)?);
            for (task, figures) in TASKS.iter().zip(&mut figures) {
                figures.push(child(*task, clip, arguments)?);
            }
            peers.extend(peer(clip, arguments)?);
        }
        let of =
            |at: usize, what: fn(&Figure) -> f64| median(figures[at].iter().map(what).collect());
        let limit = median(limits);
        Ok(Self {
            name: clip.file_name().unwrap_or_default().to_string_lossy().into_owned(),
            limit,
            forward: of(0, Figure::rate) / limit,
            backward: of(1, Figure::rate) / limit,
            random: of(2, Figure::rate) / limit,
            over_pyav: (!peers.is_empty()).then(|| of(2, Figure::rate) / median(peers)),
            first: of(3, |figure| figure.wall) / of(4, |figure| figure.wall),
            cached: of(5, |figure| figure.p99),
            hold: of(6, |figure| figure.p99),
            peak: figures.iter().flatten().map(|figure| figure.peak).fold(0.0, f64::max),
        })
    }
}

impl std::fmt::Display for Row {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let over_pyav =
            self.over_pyav.map_or_else(|| "-".to_owned(), |ratio| format!("{ratio:.2}"));
        write!(
            f,
            "{:<26} {:>8.0} {:>8.2} {:>8.2} {:>8.4} {over_pyav:>8} {:>8.2} {:>9.2} {:>9.1} {:>9.0}",
            self.name,
            self.limit,
            self.forward,
            self.backward,
            self.random,
            self.first,
            self.cached,
            self.hold,
            self.peak,
        )
    }
}

/// Returns frames a second of plain decoding by the `ffmpeg` program.
fn limit(clip: &Path, threads: usize) -> anyhow::Result<f64> {
    let frames = Footage::open(clip)?.table().len();
    let begun = Instant::now();
    let done = clips::ffmpeg()
        .args(["-threads", &threads.to_string(), "-i"])
        .arg(clip)
        .args(["-fps_mode", "passthrough", "-f", "null", "-"])
        .status()?;
    ensure!(done.success(), "ffmpeg could not read {}", clip.display());
    Ok(frames as f64 / begun.elapsed().as_secs_f64().max(1e-3))
}

/// Runs one task in a process of its own.
fn child(task: Task, clip: &Path, arguments: &Arguments) -> anyhow::Result<Figure> {
    let task = task.to_possible_value().context("every task has a name")?;
    let output = Command::new(std::env::current_exe()?)
        .args(["--task", task.get_name(), "--clip"])
        .arg(clip)
        .args(["--threads", &arguments.threads.to_string()])
        .args(["--cap", &arguments.cap.to_string()])
        .output()?;
    serde_json::from_slice(&output.stdout).with_context(|| {
        format!("{}: {}", task.get_name(), String::from_utf8_lossy(&output.stderr))
    })
}

/// Returns pictures a second of random access with PyAV, where there is one.
fn peer(clip: &Path, arguments: &Arguments) -> anyhow::Result<Option<f64>> {
    let Some(python) = &arguments.pyav else { return Ok(None) };
    let output = Command::new(python)
        .args(["-c", include_str!("pyav.py")])
        .arg(clip)
        .args([arguments.threads.to_string(), arguments.cap.to_string()])
        .output()?;
    let said = String::from_utf8_lossy(&output.stdout);
    let rate = said
        .trim()
        .parse()
        .with_context(|| format!("PyAV: {said} {}", String::from_utf8_lossy(&output.stderr)))?;
    Ok(Some(rate))
}

fn median(mut figures: Vec<f64>) -> f64 {
    figures.sort_by(f64::total_cmp);
    figures.get(figures.len() / 2).copied().unwrap_or(f64::NAN)
}
