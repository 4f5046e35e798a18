//! The command line of the generator.

use std::io::{self, Write};
use std::path::PathBuf;
use std::process::ExitCode;

use anyhow::Context;
use clap::Parser;
use sample_clips_generator::{
    Camera, Codec, Groups, Options, Params, Strip, Timing, generate, motions,
};

/// Draws gymnastics clips whose truth is known, and writes the truth beside each.
#[derive(Parser)]
#[command(version, about)]
struct Cli {
    /// Name of the motion; --list shows all.
    #[arg(long, required_unless_present_any = ["list", "all"])]
    motion: Option<String>,
    /// The clip to write: .mp4, .mov or .mkv. The truth goes to CLIP.truth.json.
    #[arg(long, required_unless_present_any = ["list", "all"])]
    out: Option<PathBuf>,
    /// Lists the motions.
    #[arg(long)]
    list: bool,
    /// Writes every motion as an mp4 into this folder.
    #[arg(long, value_name = "DIR", conflicts_with_all = ["motion", "out"])]
    all: Option<PathBuf>,
    /// Width and height of the upright picture.
    #[arg(long, default_value = "1280x720", value_parser = size)]
    size: (u32, u32),
    /// Frames per second, N or N/D.
    #[arg(long, default_value = "30", value_parser = rate)]
    rate: (u32, u32),
    /// Makes the time stamps uneven.
    #[arg(long)]
    uneven: bool,
    /// How the pictures are coded.
    #[arg(long, value_enum, default_value_t = Codec::H264)]
    codec: Codec,
    /// Largest distance between key pictures in frames.
    #[arg(long, default_value_t = 60)]
    gop: u32,
    /// Most B pictures in a row.
    #[arg(long, default_value_t = 2)]
    b_frames: u32,
    /// Lets groups of pictures refer to the one before.
    #[arg(long)]
    open_gop: bool,
    /// Degrees clockwise by which a player has to turn the coded picture: 0, 90, 180, 270.
    #[arg(long, default_value_t = 0)]
    rotate: u16,
    /// The first frame's time stamp in ticks of the clip's time base.
    #[arg(long, default_value_t = 0)]
    start_at: i64,
    /// Camera x,y,z in metres, yaw,pitch,roll in degrees, focal length in pixels.
    #[arg(long, value_parser = Camera::parse, allow_hyphen_values = true)]
    camera: Option<Camera>,
    /// How the frame's number is drawn into the coded picture.
    #[arg(long, value_enum, default_value_t = Strip::Small)]
    strip: Strip,
    /// Constant rate factor of the encoder; lower is finer.
    #[arg(long, default_value_t = 20)]
    crf: u32,
    /// Peak angle of a split, kick or cast in degrees, for motions that take one.
    #[arg(long, allow_hyphen_values = true)]
    peak: Option<f64>,
    /// Size of a turn in degrees, for motions that take one.
    #[arg(long, allow_hyphen_values = true)]
    turn: Option<f64>,
}

fn main() -> ExitCode {
    match run(&Cli::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            // Nothing is left to be done where even this cannot be written.
            let _ = writeln!(io::stderr(), "error: {error:#}");
            ExitCode::FAILURE
        }
    }
}

fn run(cli: &Cli) -> anyhow::Result<()> {
    if cli.list {
        return list();
    }
    if let Some(dir) = &cli.all {
        std::fs::create_dir_all(dir)
            .with_context(|| format!("could not make {}", dir.display()))?;
        for motion in motions::ALL {
            make(&options(cli, motion.name, dir.join(format!("{}.mp4", motion.name))))?;
        }
        return Ok(());
    }
    let (motion, out) = (cli.motion.as_ref(), cli.out.as_ref());
    let (motion, out) = motion.zip(out).context("give --motion and --out")?;
    make(&options(cli, motion, out.clone()))
}

fn list() -> anyhow::Result<()> {
    let mut out = io::stdout().lock();
    for motion in motions::ALL {
        writeln!(out, "{:24} {}", motion.name, motion.about)?;
    }
    Ok(())
}

fn make(options: &Options) -> anyhow::Result<()> {
    let truth = generate(options)?;
    let (frames, events) = (truth.frames.len(), truth.events.len());
    writeln!(io::stdout(), "{}: {frames} frames, {events} events", options.out.display())?;
    Ok(())
}

fn options(cli: &Cli, motion: &str, out: PathBuf) -> Options {
    Options {
        size: cli.size,
        rate: cli.rate,
        timing: if cli.uneven { Timing::Uneven } else { Timing::Even },
        codec: cli.codec,
        gop: cli.gop,
        b_frames: cli.b_frames,
        groups: if cli.open_gop { Groups::Open } else { Groups::Closed },
        rotate: cli.rotate,
        start_at: cli.start_at,
        camera: cli.camera,
        strip: cli.strip,
        crf: cli.crf,
        params: Params { peak: cli.peak, turn: cli.turn },
        ..Options::new(motion, out)
    }
}

fn size(text: &str) -> Result<(u32, u32), String> {
    pair(text, 'x').ok_or_else(|| format!("{text:?} is not WIDTHxHEIGHT"))
}

fn rate(text: &str) -> Result<(u32, u32), String> {
    text.parse()
        .ok()
        .map(|n| (n, 1))
        .or_else(|| pair(text, '/'))
        .ok_or_else(|| format!("{text:?} is not a rate such as 30 or 30000/1001"))
}

fn pair(text: &str, between: char) -> Option<(u32, u32)> {
    let (a, b) = text.split_once(between)?;
    Some((a.trim().parse().ok()?, b.trim().parse().ok()?))
}
