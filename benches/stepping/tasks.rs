//! The tasks, each in a process of its own.

use std::{
    path::Path,
    sync::mpsc,
    time::{Duration, Instant},
};

use anyhow::{Context as _, ensure};
use serde::{Deserialize, Serialize};
use stillcall::footage::{Decoder, Footage, Reader};

use crate::{
    Arguments, Task,
    machine::{cpu_seconds, peak_mebibytes},
};

/// What one run of a task shows.
#[derive(Clone, Copy, Debug, Default, Serialize, Deserialize)]
pub(crate) struct Figure {
    /// Frames.
    pub n: usize,
    /// Seconds for them.
    pub wall: f64,
    /// Processor seconds for them.
    pub cpu: f64,
    /// Seconds to open the clip.
    pub open: f64,
    /// Most memory, in MiB.
    pub peak: f64,
    /// Slowest of 99 in 100 steps, in milliseconds; of stepping tasks only.
    pub p99: f64,
}

impl Figure {
    /// Returns frames a second.
    pub(crate) fn rate(&self) -> f64 {
        self.n as f64 / self.wall
    }
}

/// Runs one task.
pub(crate) fn run(task: Task, clip: &Path, arguments: &Arguments) -> anyhow::Result<Figure> {
    let figure = match task {
        Task::Linear | Task::Random | Task::Backward => step(task, clip, arguments)?,
        Task::First => first(clip, arguments.threads)?,
        Task::FirstLimit => first_of_ffmpeg(clip, arguments.threads)?,
        Task::Hold => hold(clip, arguments.cap)?,
        Task::Cached => cached(clip)?,
    };
    Ok(Figure { peak: peak_mebibytes(), ..figure })
}

fn step(task: Task, clip: &Path, arguments: &Arguments) -> anyhow::Result<Figure> {
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
    Ok(Figure { n, wall, cpu, open, ..Figure::default() })
}

fn order(task: Task, count: usize) -> Vec<usize> {
    match task {
        // A stride that shares no factor with usual counts goes near and far.
        Task::Random => (0..200).map(|i| (i * 7919 + 13) % count).collect(),
        Task::Backward => (0..=count * 3 / 4).rev().take(300).collect(),
        _ => (0..count).collect(),
    }
}

fn first(clip: &Path, threads: usize) -> anyhow::Result<Figure> {
    let begun = Instant::now();
    let footage = Footage::open_beginning(clip)?;
    let open = begun.elapsed().as_secs_f64();
    Decoder::new(&footage, threads).picture(0)?;
    Ok(Figure { n: 1, wall: begun.elapsed().as_secs_f64(), open, ..Figure::default() })
}

/// Opens, looks for streams and decodes one picture, as every program on FFmpeg does.
fn first_of_ffmpeg(clip: &Path, threads: usize) -> anyhow::Result<Figure> {
    use ffmpeg_next::{codec, format, frame, media, threading};
    ffmpeg_next::init()?;
    let begun = Instant::now();
    let mut input = format::input(clip)?;
    let stream = input.streams().best(media::Type::Video).context("a video")?;
    let index = stream.index();
    let mut context = codec::Context::from_parameters(stream.parameters())?;
    context.set_threading(threading::Config {
        kind: threading::Type::Frame,
        count: threads,
        ..threading::Config::default()
    });
    let mut decoder = context.decoder().video()?;
    let mut picture = frame::Video::empty();
    for (stream, packet) in input.packets() {
        if stream.index() == index {
            decoder.send_packet(&packet)?;
            if decoder.receive_frame(&mut picture).is_ok() {
                break;
            }
        }
    }
    ensure!(picture.width() > 0, "no picture came out");
    Ok(Figure { n: 1, wall: begun.elapsed().as_secs_f64(), ..Figure::default() })
}

/// Wakes whoever waits for a reader.
fn reader(clip: &Path) -> anyhow::Result<(Reader, mpsc::Receiver<()>)> {
    let (sender, woken) = mpsc::channel();
    let wake = move || {
        // Nobody listens at the end.
        let _ = sender.send(());
    };
    Ok((Reader::spawn(Footage::open(clip)?, wake), woken))
}

/// Wishes for a frame and returns how long it took to have it.
fn wish(reader: &Reader, woken: &mpsc::Receiver<()>, k: usize) -> anyhow::Result<Duration> {
    let begun = Instant::now();
    reader.want(k);
    while reader.latest().is_none_or(|picture| picture.frame != k) {
        ensure!(begun.elapsed() < Duration::from_secs(30), "frame {k} never came");
        let _ = woken.recv_timeout(Duration::from_millis(20));
    }
    Ok(begun.elapsed())
}

/// Steps back 30 times a second; the first step, after which the direction is known, is exempt.
fn hold(clip: &Path, cap: f64) -> anyhow::Result<Figure> {
    const BETWEEN: Duration = Duration::from_nanos(1_000_000_000 / 30);
    let (reader, woken) = reader(clip)?;
    let start = reader.footage().table().len() * 3 / 4;
    wish(&reader, &woken, start)?;
    wish(&reader, &woken, start - 1)?;
    let (begun, busy) = (Instant::now(), cpu_seconds());
    let mut waits = Vec::new();
    for k in (0..start - 1).rev() {
        waits.push(wish(&reader, &woken, k)?);
        let due = begun + BETWEEN * waits.len() as u32;
        std::thread::sleep(due.saturating_duration_since(Instant::now()));
        if begun.elapsed().as_secs_f64() > cap * 3.0 {
            break;
        }
    }
    let (wall, cpu) = (begun.elapsed().as_secs_f64(), cpu_seconds() - busy);
    Ok(Figure { n: waits.len(), wall, cpu, p99: p99(waits), ..Figure::default() })
}

/// Steps to and fro among twenty pictures that are at hand.
fn cached(clip: &Path) -> anyhow::Result<Figure> {
    let (reader, woken) = reader(clip)?;
    for k in 0..20 {
        wish(&reader, &woken, k)?;
    }
    let begun = Instant::now();
    let waits = (0..1000).map(|i| wish(&reader, &woken, (i * 7) % 20));
    let waits = waits.collect::<anyhow::Result<Vec<_>>>()?;
    let wall = begun.elapsed().as_secs_f64();
    Ok(Figure { n: waits.len(), wall, p99: p99(waits), ..Figure::default() })
}

fn p99(mut waits: Vec<Duration>) -> f64 {
    waits.sort_unstable();
    waits.get(waits.len() * 99 / 100).map_or(0.0, |wait| wait.as_secs_f64() * 1000.0)
}
