//! Steps as they are today, in this process.

use std::{
    path::{Path, PathBuf},
    process::Command,
    sync::mpsc,
    time::{Duration, Instant},
};

use anyhow::ensure;
use stillcall::footage::{Decoder, Footage, Reader};

/// Threads of every decoder.
pub(crate) const THREADS: usize = 2;
/// Pictures that are at hand.
pub(crate) const AT_HAND: u32 = 20;
/// Steps of one measurement, and frames of the clip.
const STEPS: u32 = 120;

/// Returns a clip as it comes from a camera: moving, with noise.
pub(crate) fn clip() -> anyhow::Result<PathBuf> {
    let clip = Path::new(env!("CARGO_TARGET_TMPDIR")).join("apart-1080p.mp4");
    if !clip.exists() {
        let options = "-nostdin -loglevel error -f lavfi -i testsrc2=s=1920x1080:r=30:d=4 -vf \
                       noise=alls=12:allf=t+u,format=yuv420p -c:v libx264 -preset veryfast -g 60";
        let made = Command::new("ffmpeg").args(options.split_whitespace()).arg(&clip).status()?;
        ensure!(made.success(), "ffmpeg could not make {}", clip.display());
    }
    Ok(clip)
}

/// Returns seconds for a step among pictures at hand, as the clip screen takes it.
pub(crate) fn at_hand(footage: &Footage) -> anyhow::Result<f64> {
    let (sender, woken) = mpsc::channel();
    let wake = move || {
        // Nobody listens at the end.
        let _ = sender.send(());
    };
    let reader = Reader::spawn(footage.clone(), wake);
    let wish = |k: u32| -> anyhow::Result<()> {
        let begun = Instant::now();
        reader.want(k as usize);
        while reader.latest().is_none_or(|picture| picture.frame != k as usize) {
            ensure!(begun.elapsed() < Duration::from_secs(30), "frame {k} never came");
            let _ = woken.recv_timeout(Duration::from_millis(20));
        }
        Ok(())
    };
    (0..AT_HAND).try_for_each(wish)?;
    timed(|k| wish(k * 7 % AT_HAND))
}

/// Returns seconds for a step that decodes the next frame.
pub(crate) fn decoded(footage: &Footage) -> anyhow::Result<f64> {
    let mut decoder = Decoder::new(footage, THREADS);
    timed(|k| Ok(decoder.picture(k as usize).map(drop)?))
}

/// Returns seconds for one of many steps.
pub(crate) fn timed(step: impl FnMut(u32) -> anyhow::Result<()>) -> anyhow::Result<f64> {
    let begun = Instant::now();
    (0..STEPS).try_for_each(step)?;
    Ok(begun.elapsed().as_secs_f64() / f64::from(STEPS))
}

pub(crate) fn median(mut times: Vec<f64>) -> f64 {
    times.sort_unstable_by(f64::total_cmp);
    times[times.len() / 2]
}
