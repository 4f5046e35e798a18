//! What it costs to decode a clip in processes of its own, as one that a computer has never opened:
//! opening with its first picture, a step that decodes the next frame, and a step among pictures at
//! hand.
//!
//! Each is measured here and there in turn, so that whatever else the machine does weighs on both,
//! and medians are printed with their ratio.

#![allow(clippy::print_stdout, reason = "a benchmark prints its table")]

use std::{
    path::{Path, PathBuf},
    process::{Command, ExitCode},
    sync::Arc,
    time::Instant,
};

use anyhow::{Context as _, ensure};
use stillcall::footage::{ApartDecoder, Decoder, Footage, KnownClips, decode_when_asked};

/// Threads of every decoder.
const THREADS: usize = 2;
/// Steps of one round, and frames of the clip.
const STEPS: usize = 120;
const ROUNDS: usize = 9;

fn main() -> anyhow::Result<ExitCode> {
    if let Some(code) = decode_when_asked() {
        return Ok(code);
    }
    for (size, seconds) in [("1920x1080", 4), ("3840x2160", 4)] {
        measure(&clip(size, seconds)?, size)?;
    }
    Ok(ExitCode::SUCCESS)
}

/// Nothing is known, and nothing learnt.
#[derive(Debug)]
struct Nothing;

impl KnownClips for Nothing {
    fn of_length(&self, _: u64) -> Vec<String> {
        Vec::new()
    }

    fn learn(&self, _: u64, _: &str) {}
}

fn measure(clip: &Path, size: &str) -> anyhow::Result<()> {
    let (apart, nothing): (_, Arc<dyn KnownClips>) = (ApartDecoder::default(), Arc::new(Nothing));
    let open = [
        Box::new(|| Ok(Footage::open_beginning(clip)?)) as Box<dyn Fn() -> anyhow::Result<Footage>>,
        Box::new(|| Ok(apart.open_beginning(clip, &nothing, None)?)),
    ];
    let mut times: [[Vec<f64>; 3]; 2] = Default::default();
    for _ in 0..ROUNDS {
        for (open, times) in open.iter().zip(&mut times) {
            for (times, time) in times.iter_mut().zip(round(open)?) {
                times.push(time);
            }
        }
    }
    let [here, there] = times.map(|times| times.map(median));
    println!("{size}, medians of {ROUNDS} in turn{:>9}{:>12}{:>9}", "here", "apart", "ratio");
    for (row, what) in
        ["open, first picture", "step that decodes", "step at hand"].iter().enumerate()
    {
        let (here, there) = (here[row] * 1e3, there[row] * 1e3);
        println!("{what:<32}{here:>9.3} ms{there:>9.3} ms{:>9.3}", there / here);
    }
    Ok(())
}

/// Returns seconds for opening, for a step that decodes, and for one among pictures at hand.
fn round(open: impl Fn() -> anyhow::Result<Footage>) -> anyhow::Result<[f64; 3]> {
    let begun = Instant::now();
    let footage = open()?;
    let mut decoder = Decoder::new(&footage, THREADS);
    decoder.picture(0)?;
    let opened = begun.elapsed().as_secs_f64();
    // The first step opens the decoder, once for a clip.
    decoder.picture(1)?;
    let steps = |decoder: &mut Decoder, frames: &mut dyn Iterator<Item = usize>| {
        let (begun, mut count) = (Instant::now(), 0);
        for k in frames {
            decoder.picture(k)?;
            count += 1;
        }
        anyhow::Ok(begun.elapsed().as_secs_f64() / f64::from(count))
    };
    let decoded = steps(&mut decoder, &mut (2..STEPS))?;
    let at_hand = steps(&mut decoder, &mut (0..STEPS).map(|k| STEPS - 1 - k * 7 % 20))?;
    Ok([opened, decoded, at_hand])
}

/// Returns a clip as it comes from a camera: moving, with noise.
fn clip(size: &str, seconds: u32) -> anyhow::Result<PathBuf> {
    let clip = Path::new(env!("CARGO_TARGET_TMPDIR")).join(format!("apart-{size}.mp4"));
    if !clip.exists() {
        let options = format!(
            "-nostdin -loglevel error -f lavfi -i testsrc2=s={size}:r=30:d={seconds} -vf \
             noise=alls=12:allf=t+u,format=yuv420p -c:v libx264 -preset veryfast -g 60"
        );
        let made = Command::new("ffmpeg").args(options.split_whitespace()).arg(&clip).status();
        let made = made.context("the ffmpeg program is needed")?;
        ensure!(made.success(), "ffmpeg could not make {}", clip.display());
    }
    Ok(clip)
}

fn median(mut times: Vec<f64>) -> f64 {
    times.sort_unstable_by(f64::total_cmp);
    times[times.len() / 2]
}
