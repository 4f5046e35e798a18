//! Pipes pictures to the `ffmpeg` program.

use std::io::{Read, Write};
use std::process::{Child, Command, Stdio};

use anyhow::{Context, bail};

use crate::clock::Clock;
use crate::options::{Codec, Groups, Options};

/// A clip being written.
pub(crate) struct Encoder {
    child: Child,
}

impl Encoder {
    /// Starts the `ffmpeg` program found on the path.
    pub(crate) fn start(options: &Options, clock: &Clock) -> anyhow::Result<Self> {
        let child = Command::new("ffmpeg")
            .args(arguments(options, clock))
            .arg(&options.out)
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .stderr(Stdio::piped())
            .spawn()
            .context("could not start the ffmpeg program; install it (package ffmpeg)")?;
        Ok(Self { child })
    }

    /// Adds one coded picture (RGBA).
    pub(crate) fn write(&mut self, rgba: &[u8]) -> anyhow::Result<()> {
        let pipe = self.child.stdin.as_mut().context("the encoder is closed")?;
        if pipe.write_all(rgba).is_err() {
            bail!("ffmpeg stopped early: {}", self.complaint());
        }
        Ok(())
    }

    /// Finishes the clip.
    pub(crate) fn finish(mut self) -> anyhow::Result<()> {
        drop(self.child.stdin.take());
        let complaint = self.complaint();
        let status = self.child.wait().context("waiting for ffmpeg")?;
        if !status.success() {
            bail!("ffmpeg failed ({status}): {complaint}");
        }
        Ok(())
    }

    fn complaint(&mut self) -> String {
        let mut text = Vec::new();
        if let Some(pipe) = self.child.stderr.as_mut() {
            // What could be read is all there is to show.
            let _ = pipe.read_to_end(&mut text);
        }
        String::from_utf8_lossy(&text).trim().to_owned()
    }
}

fn arguments(options: &Options, clock: &Clock) -> Vec<String> {
    let (w, h) = options.coded_size();
    let (n, d) = options.rate;
    let mut all = words("-y -nostdin -hide_banner -loglevel error -f rawvideo -pix_fmt rgba");
    all.extend(words(&format!("-s {w}x{h} -framerate {n}/{d} -i pipe:0 -map_metadata -1 -an -vf")));
    // Bitexact scaling, so that the same pictures are coded on every run.
    all.push(format!(
        "scale=out_color_matrix=bt709:out_range=tv:flags=bicubic+accurate_rnd+bitexact,\
         format=yuv420p,settb=1/{},setpts='{}'",
        clock.fine_rate,
        clock.expression()
    ));
    all.extend(words(&format!("-fps_mode passthrough -enc_time_base 1:{}", clock.fine_rate)));
    all.extend(words("-colorspace bt709 -color_primaries bt709 -color_trc bt709 -color_range tv"));
    all.extend(codec(options));
    all.extend(words("-fflags +bitexact -flags:v +bitexact"));
    if clock.file_rate == clock.fine_rate {
        // The edit list counts in the movie's time scale, which must be as fine as the track's.
        let rate = clock.file_rate;
        all.extend(words(&format!("-video_track_timescale {rate} -movie_timescale {rate}")));
    }
    all
}

fn codec(options: &Options) -> Vec<String> {
    let (gop, b, crf) = (options.gop, options.b_frames, options.crf);
    let open = u8::from(options.groups == Groups::Open);
    let keys = format!("keyint={gop}:min-keyint={gop}:scenecut=0:bframes={b}:open-gop={open}");
    let text = match options.codec {
        Codec::H264 => format!(
            "-c:v libx264 -preset veryfast -threads 1 -crf {crf} -g {gop} -bf {b} \
             -x264-params {keys}:b-adapt=0"
        ),
        Codec::Hevc => format!(
            "-c:v libx265 -preset ultrafast -threads 1 -crf {crf} -g {gop} -bf {b} -tag:v hvc1 \
             -x265-params {keys}:b-adapt=0:log-level=error:pools=none:frame-threads=1:info=0"
        ),
    };
    let mkv = options.out.extension().is_some_and(|e| e.eq_ignore_ascii_case("mkv"));
    words(&if mkv { text.replace("-tag:v hvc1", "") } else { text })
}

fn words(text: &str) -> Vec<String> {
    text.split_whitespace().map(str::to_owned).collect()
}
