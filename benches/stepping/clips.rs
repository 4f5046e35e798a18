//! Clips and how `ffmpeg` makes them.

use std::{
    path::{Path, PathBuf},
    process::Command,
};

use anyhow::ensure;

/// Name, test picture, filter, encoder.
const CLIPS: [[&str; 4]; 3] = [
    [
        "h264-1080p30-run250.mp4",
        "testsrc2=s=1920x1080:r=30:d=60",
        "noise=alls=12:allf=t+u,rotate=0.05*sin(t):c=gray,format=yuv420p",
        "-c:v libx264 -preset veryfast -g 250 -keyint_min 250 -sc_threshold 0 -bf 3 -b_strategy 0 \
         -crf 24",
    ],
    [
        "hevc-1080p60-open120.mp4",
        "testsrc2=s=1920x1080:r=60:d=10",
        "noise=alls=8:allf=t+u,format=yuv420p",
        "-c:v libx265 -preset ultrafast -crf 20 -tag:v hvc1 -x265-params \
         log-level=error:keyint=120:min-keyint=120:bframes=4:b-adapt=0:open-gop=1:scenecut=0",
    ],
    [
        "h264-2160p30-run60.mp4",
        "testsrc2=s=3840x2160:r=30:d=10",
        "noise=alls=8:allf=t+u,format=yuv420p",
        "-c:v libx264 -preset ultrafast -bf 2 -g 60 -keyint_min 60 -crf 26",
    ],
];

/// Returns the three clips that are stepped.
pub(crate) fn stepped() -> anyhow::Result<Vec<PathBuf>> {
    CLIPS
        .iter()
        .map(|[name, source, filter, encoder]| {
            let clip = folder()?.join(name);
            let options = format!("-f lavfi -i {source} -vf {filter} {encoder}");
            make(&clip, &options)?;
            Ok(clip)
        })
        .collect()
}

/// Returns a clip of ten seconds and one of an hour, in MP4 and in a transport stream.
pub(crate) fn short_and_long() -> anyhow::Result<[[PathBuf; 2]; 2]> {
    let at = |name: &str| anyhow::Ok(folder()?.join(name));
    let [ten, hour] = [at("ten-seconds.mp4")?, at("hour.mp4")?];
    make(
        &ten,
        "-f lavfi -i testsrc2=s=640x360:r=30:d=10 -c:v libx264 -preset veryfast -g 60 -bf 3 -crf 26",
    )?;
    make(&hour, &format!("-stream_loop 359 -i {} -c copy", ten.display()))?;
    let [ten_ts, hour_ts] = [at("ten-seconds.ts")?, at("hour.ts")?];
    make(&ten_ts, &format!("-i {} -c copy", ten.display()))?;
    make(&hour_ts, &format!("-i {} -c copy", hour.display()))?;
    Ok([[ten, hour], [ten_ts, hour_ts]])
}

/// Starts a command line for the `ffmpeg` program.
pub(crate) fn ffmpeg() -> Command {
    let mut command = Command::new("ffmpeg");
    command.args(["-y", "-nostdin", "-hide_banner", "-loglevel", "error"]);
    command
}

fn folder() -> anyhow::Result<PathBuf> {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("bench");
    std::fs::create_dir_all(&folder)?;
    Ok(folder)
}

fn make(clip: &Path, options: &str) -> anyhow::Result<()> {
    if clip.exists() {
        return Ok(());
    }
    let made = ffmpeg().args(options.split_whitespace()).arg(clip).status()?;
    ensure!(made.success(), "ffmpeg could not make {}", clip.display());
    Ok(())
}
