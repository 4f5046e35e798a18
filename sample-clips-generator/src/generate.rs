//! From options to a clip and its truth.

use std::collections::BTreeMap;
use std::fs;
use std::path::PathBuf;

use anyhow::{Context, ensure};

use crate::camera::View;
use crate::clock::Clock;
use crate::draw::Stage;
use crate::encode::Encoder;
use crate::figure::take::GRAVITY;
use crate::figure::{Skeleton, Take, V3, body};
use crate::measure;
use crate::motions::{self, Staged};
use crate::options::{Groups, Options, Timing};
use crate::scene::{Scene, Shape};
use crate::truth::{Apparatus, ClipFacts, FrameTruth, Joint, Truth, VERSION};
use crate::{events, orientation};

/// Writes the clip and its truth file, and returns the truth.
pub fn generate(options: &Options) -> anyhow::Result<Truth> {
    check(options)?;
    let staged = motions::stage(&options.motion, &options.params)?;
    let view = View { camera: camera(options, &staged), size: options.size };
    let clock = Clock::new(options);
    write_clip(options, &staged, view, &clock)?;
    let truth = truth(options, &staged, view, &clock);
    let path = truth_path(options);
    let text = serde_json::to_vec(&truth).context("writing the truth as JSON")?;
    fs::write(&path, text).with_context(|| format!("could not write {}", path.display()))?;
    Ok(truth)
}

/// Returns the truth of the clip without drawing it.
pub fn truth_of(options: &Options) -> anyhow::Result<Truth> {
    check(options)?;
    let staged = motions::stage(&options.motion, &options.params)?;
    let view = View { camera: camera(options, &staged), size: options.size };
    Ok(truth(options, &staged, view, &Clock::new(options)))
}

/// Returns where the truth file of a clip is: `<clip>.truth.json`, the clip's ending kept.
pub fn truth_path(options: &Options) -> PathBuf {
    let mut name = options.out.clone().into_os_string();
    name.push(".truth.json");
    PathBuf::from(name)
}

fn check(options: &Options) -> anyhow::Result<()> {
    let (w, h) = options.size;
    let ending = options.out.extension().and_then(|e| e.to_str()).unwrap_or_default();
    let ending = ending.to_ascii_lowercase();
    ensure!(matches!(&*ending, "mp4" | "mov" | "mkv"), "out: end the name with .mp4, .mov or .mkv");
    ensure!(w % 2 == 0 && h % 2 == 0, "size: width and height must be even");
    let (lo, hi) = (128, 8192);
    ensure!(
        (lo..=hi).contains(&w) && (lo..=hi).contains(&h),
        "size: each side must be {lo} to {hi}"
    );
    let (n, d) = options.rate;
    ensure!(n > 0 && d > 0 && n / d <= 1000, "rate: must be above 0 and at most 1000");
    ensure!(
        options.rate.0 <= 1_000_000 && d <= 100_000,
        "rate: numerator or denominator too large"
    );
    ensure!(options.gop > 0, "gop: must be at least 1");
    ensure!(options.b_frames <= 16, "b-frames: at most 16");
    ensure!(options.start_at >= 0, "start-at: must not be below 0");
    ensure!(matches!(options.rotate, 0 | 90 | 180 | 270), "rotate: 0, 90, 180 or 270");
    ensure!(
        options.rotate == 0 || ending != "mkv",
        "rotate: only mp4 and mov can say how they are turned"
    );
    Ok(())
}

fn camera(options: &Options, staged: &Staged) -> crate::camera::Camera {
    options.camera.unwrap_or_else(|| {
        let mut camera = staged.camera;
        // The motion's camera is given for a picture 1280 by 720.
        let (w, h) = (f64::from(options.size.0), f64::from(options.size.1));
        camera.focal *= (w / 1280.0).min(h / 720.0);
        camera
    })
}

fn write_clip(options: &Options, staged: &Staged, view: View, clock: &Clock) -> anyhow::Result<()> {
    let stage = Stage::new(view, staged.scene.clone()).context("size: too large to draw")?;
    let mut encoder = Encoder::start(options, clock)?;
    for k in 0..clock.frames(staged.take.duration()) {
        let t = clock.seconds(k) - clock.seconds(0);
        let picture = stage.picture(&staged.take.skeleton(t), pull(&staged.take, t));
        let mut coded = if options.rotate == 0 {
            picture.take()
        } else {
            orientation::turned(picture.data(), options.size, options.rotate)
        };
        options.strip.draw(&mut coded, options.coded_size().0, k as u64);
        encoder.write(&coded)?;
    }
    encoder.finish()?;
    if options.rotate != 0 {
        let mut file = fs::read(&options.out)?;
        orientation::tag(&mut file, options.coded_size(), options.rotate)?;
        fs::write(&options.out, file)?;
    }
    Ok(())
}

/// Returns where hair hangs to: gravity less the head's own acceleration, in metres per second squared.
pub(crate) fn pull(take: &Take, t: f64) -> V3 {
    const STEP: f64 = 0.06;
    let head = |t: f64| take.skeleton(t.max(0.0)).head;
    // Hair follows late.
    let t = (t - 0.05).max(STEP);
    let acceleration = (head(t + STEP) + head(t - STEP) - head(t) * 2.0) / (STEP * STEP);
    V3::new(0.0, 0.0, -GRAVITY) - acceleration.cap_magnitude(25.0) * 0.8
}

fn truth(options: &Options, staged: &Staged, view: View, clock: &Clock) -> Truth {
    let count = clock.frames(staged.take.duration());
    Truth {
        format: "clip-truth".to_owned(),
        version: VERSION,
        clip: facts(options, clock, count),
        camera: view.camera,
        athlete_height: body::HEIGHT,
        apparatus: apparatus(&staged.scene),
        frames: (0..count).map(|k| frame(staged, view, clock, k)).collect(),
        events: events::find(&staged.take, &staged.scene, clock, count),
    }
}

fn facts(options: &Options, clock: &Clock, frame_count: usize) -> ClipFacts {
    let (coded_width, coded_height) = options.coded_size();
    let name = options.out.file_name().unwrap_or_default();
    ClipFacts {
        file: name.to_string_lossy().into_owned(),
        motion: options.motion.clone(),
        width: options.size.0,
        height: options.size.1,
        coded_width,
        coded_height,
        rotate: options.rotate,
        rate: [options.rate.0, options.rate.1],
        uneven: options.timing == Timing::Uneven,
        time_base: [1, clock.file_rate],
        frame_count,
        codec: options.codec,
        gop: options.gop,
        b_frames: options.b_frames,
        open_gop: options.groups == Groups::Open,
        strip: options.strip,
    }
}

fn apparatus(scene: &Scene) -> Vec<Apparatus> {
    let of = |s: &crate::scene::Solid| {
        let (lo, hi) = match s.shape {
            Shape::Block(lo, hi) | Shape::Wedge(lo, hi) => (lo, hi),
            Shape::Bar(a, b, r) => (a.inf(&b) - V3::new(r, 0.0, r), a.sup(&b) + V3::new(r, 0.0, r)),
        };
        Apparatus { name: s.name.to_owned(), lo: rounded(lo), hi: rounded(hi) }
    };
    scene.solids.iter().map(of).collect()
}

fn frame(staged: &Staged, view: View, clock: &Clock, k: usize) -> FrameTruth {
    let skeleton = staged.take.skeleton(clock.seconds(k) - clock.seconds(0));
    FrameTruth {
        frame: k as u64,
        ticks: clock.ticks(k),
        time_s: clock.seconds(k),
        joints: joints(&skeleton, view),
        centre_of_mass: rounded(skeleton.centre_of_mass()),
        angles: measure::angles(&skeleton, &staged.scene),
    }
}

fn joints(skeleton: &Skeleton, view: View) -> BTreeMap<String, Joint> {
    let joint =
        |p: V3| Joint { m: rounded(p), px: view.project(p).map(|(x, y, _)| [round(x), round(y)]) };
    skeleton.named().into_iter().map(|(name, p)| (name, joint(p))).collect()
}

fn rounded(p: V3) -> [f64; 3] {
    [round(p.x), round(p.y), round(p.z)]
}

/// A hundredth of a millimetre and of a pixel is finer than anything that is measured.
fn round(v: f64) -> f64 {
    (v * 1e5).round() / 1e5
}
