//! What is handed over of a clip: `ffmpeg` decodes it again, and what is drawn lies where the drawn
//! sample clip says that the joints are.

use std::{
    fs,
    ops::ControlFlow,
    path::{Path, PathBuf},
    process::{Command, Output},
};

use image::RgbaImage;
use sample_clips_generator::{Options, Truth, generate};
use stillcall::{
    figure::EDGE,
    footage::Footage,
    handout::{
        Drawings, Ground, HandoutError, Pairing, Pass, Replay, Second, Speed, StillFormat, Stop,
        Subject, moments, replay, still,
    },
    library::{FileKind, LeaveError, Leaving},
    marks::{At, ClickedPoint, ClipFacts, Id, Quantity, Reading, Routine, Sheaf},
    units::{Orientation, Shown, Upright},
};

use crate::{
    boxes,
    clips::scratch,
    excerpts::{phone, probed},
};

/// How far what is drawn may lie from the truth, in pixels.
const NEAR: f64 = 1.5;
/// Frames of the leap whose legs are at least so far apart, so that no label covers an ankle.
const APART: f64 = 60.0;

/// A drawn clip whose truth is known, with a reading of the split on each frame of the leap.
struct Leap {
    clip: PathBuf,
    subject: Subject,
    sheaf: Sheaf,
    /// First and last frame of the leap.
    frames: [usize; 2],
    /// Both ankles on each frame of the clip, in pixels of the upright picture.
    ankles: Vec<[Shown; 2]>,
    /// The lines from hip to ankle.
    legs: Vec<[[Shown; 2]; 2]>,
    size: [u32; 2],
}

const POINTS: [&str; 4] = ["left_hip", "left_ankle", "right_hip", "right_ankle"];

/// How a clip is turned.
#[derive(Clone, Copy, PartialEq)]
enum Turned {
    Not,
    /// Held upright: a quarter turn in the file's tag.
    Quarter,
    /// Mirrored by the file's tag.
    Mirrored,
    /// Mirrored by a person, against the file's tag.
    ByHand,
}

impl Leap {
    fn new(name: &str, turned: Turned) -> Self {
        let clip = scratch("handouts").join(name);
        let mut options = Options::new("beam-leap", &clip);
        options.size = if turned == Turned::Quarter { (406, 720) } else { (960, 540) };
        options.rotate = if turned == Turned::Quarter { 90 } else { 0 };
        let truth = generate(&options).unwrap();
        if turned == Turned::Mirrored {
            let mut bytes = fs::read(&clip).unwrap();
            boxes::set_matrix(&mut bytes, [-1.0, 0.0, 0.0, 1.0]);
            fs::write(&clip, bytes).unwrap();
        }
        let footage = Footage::open_proved(&clip, None, &|_| ()).unwrap();
        let mirrored = matches!(turned, Turned::Mirrored | Turned::ByHand);
        let places = places(&truth, mirrored);
        let own = footage.facts().upright;
        let by_hand = (turned == Turned::ByHand).then(|| own.orientation.flipped());
        let sheaf = sheaf(&footage, &truth, &places, by_hand);
        let drawings = Drawings::of(&sheaf, &footage, &|_| None, true);
        let wide = |k: &usize| truth.frames[*k].angles.split >= APART;
        let leap: Vec<usize> = (0..truth.frames.len()).filter(wide).collect();
        let frames = [leap[0], leap[leap.len() - 1]];
        assert_eq!(frames[1] - frames[0] + 1, leap.len(), "one leap");
        assert!(leap.len() > 8, "{leap:?}");
        let ankles = places.iter().map(|[_, left, _, right]| [*left, *right]).collect();
        let legs = places.iter().map(|[a, b, c, d]| [[*a, *b], [*c, *d]]).collect();
        let size = own_size(own, by_hand);
        Self { clip, subject: Subject { footage, drawings }, sheaf, frames, ankles, legs, size }
    }

    fn replay(&self, passes: Vec<Pass>) -> Replay {
        Replay {
            subject: self.subject.clone(),
            frames: self.frames,
            passes,
            second: None,
            ground: Ground::Picture,
        }
    }
}

fn own_size(upright: Upright, by_hand: Option<Orientation>) -> [u32; 2] {
    Upright { orientation: by_hand.unwrap_or(upright.orientation), ..upright }.shown_size()
}

/// Where the four points are in the upright picture.
fn places(truth: &Truth, mirrored: bool) -> Vec<[Shown; 4]> {
    let width = f64::from(truth.clip.width);
    let of = |frame: &sample_clips_generator::truth::FrameTruth| {
        POINTS.map(|name| {
            let [x, y] = frame.joints[name].px.unwrap();
            Shown([if mirrored { width - x } else { x }, y])
        })
    };
    truth.frames.iter().map(of).collect()
}

fn sheaf(
    footage: &Footage,
    truth: &Truth,
    places: &[[Shown; 4]],
    by_hand: Option<Orientation>,
) -> Sheaf {
    let own = footage.facts().upright;
    let upright = Upright { orientation: by_hand.unwrap_or(own.orientation), ..own };
    let reading = |k: usize| Reading {
        id: Id(k as u64 + 2),
        of: Id(1),
        quantity: Quantity::Split,
        value: stillcall::units::Magnitude(truth.frames[k].angles.split),
        u: stillcall::units::Magnitude(2.0),
        at: At::Frame(footage.table().frame_ref(k).unwrap()),
        points: POINTS
            .iter()
            .zip(places[k])
            .map(|(name, at)| ClickedPoint {
                name: name.replace('_', " "),
                coded: upright.to_coded(at),
                frame: None,
            })
            .collect(),
        how: stillcall::marks::model::How::default(),
    };
    let facts = ClipFacts {
        name: footage.path().file_name().unwrap().to_string_lossy().into_owned(),
        quick_id: footage.content_id().unwrap(),
        content_hash: None,
        time_base: footage.facts().time_base,
        upright: own,
        orientation_override: by_hand,
        assumed_times: false,
        unknown: stillcall::marks::model::Unknown::new(),
    };
    Sheaf {
        clip: Some(facts),
        routine: Routine { athlete: "SC-07".to_owned(), ..Routine::default() },
        readings: (0..truth.frames.len()).map(reading).collect(),
        ..Sheaf::default()
    }
}

/// Pictures as `ffmpeg` decodes them, brightness alone.
struct Grey {
    size: [usize; 2],
    samples: Vec<u8>,
}

impl Grey {
    fn of_film(path: &Path, size: [u32; 2]) -> Vec<Self> {
        let output = Command::new("ffmpeg")
            .args("-hide_banner -loglevel error -nostdin -i".split(' '))
            .arg(path)
            .args("-fps_mode passthrough -pix_fmt gray -f rawvideo -".split(' '))
            .output()
            .expect("the ffmpeg program is installed");
        assert!(output.status.success(), "{output:?}");
        let size = size.map(|side| side as usize);
        let pictures = output.stdout.chunks_exact(size[0] * size[1]);
        pictures.map(|samples| Self { size, samples: samples.to_vec() }).collect()
    }

    fn of_picture(bytes: &[u8]) -> Self {
        let image = image::load_from_memory(bytes).unwrap().into_luma8();
        let size = [image.width() as usize, image.height() as usize];
        Self { size, samples: image.into_raw() }
    }

    /// Brightness at a place between pixels, whose centres lie at halves.
    fn at(&self, x: f64, y: f64) -> f64 {
        let [w, h] = self.size;
        let (x, y) = ((x - 0.5).max(0.0), (y - 0.5).max(0.0));
        let [x0, y0] = [x.floor() as usize, y.floor() as usize];
        let sample = |x: usize, y: usize| f64::from(self.samples[y.min(h - 1) * w + x.min(w - 1)]);
        let (a, b) = (x.fract(), y.fract());
        sample(x0, y0) * (1.0 - a) * (1.0 - b)
            + sample(x0 + 1, y0) * a * (1.0 - b)
            + sample(x0, y0 + 1) * (1.0 - a) * b
            + sample(x0 + 1, y0 + 1) * a * b
    }

    fn round(&self, [x, y]: [f64; 2], radius: f64) -> f64 {
        let turns = (0..48).map(|k| f64::from(k) / 48.0 * std::f64::consts::TAU);
        turns.map(|turn| self.at(x + radius * turn.cos(), y + radius * turn.sin())).sum::<f64>()
            / 48.0
    }

    /// Returns where a ring lies that is looked for within 6 pixels each way: light, with a dark edge
    /// on both sides. A logical pixel is `unit` pixels.
    fn ring_near(&self, Shown([x, y]): Shown, unit: f64) -> Shown {
        let steps = || (-12..=12).map(|step| f64::from(step) * 0.5);
        let places = steps().flat_map(|dx| steps().map(move |dy| [x + dx, y + dy]));
        let ring = |at: [f64; 2]| {
            let [inner, line, outer] = [3.4, 5.0, 6.6].map(|radius| self.round(at, radius * unit));
            line - f64::midpoint(inner, outer)
        };
        let best = places.max_by(|a, b| ring(*a).total_cmp(&ring(*b))).unwrap();
        assert!(ring(best) > 20.0, "no ring near {x} {y}: {}", ring(best));
        Shown(best)
    }

    /// Holds the rings on both ankles against the truth, seen `scale` times as large from `at` on.
    fn check(&self, truth: &[Shown], laid: ([f64; 2], f64), unit: f64, what: &str) {
        for at in truth {
            let expected = placed(*at, laid);
            let found = self.ring_near(expected, unit);
            let off = found.distance(expected);
            assert!(off <= NEAR, "{what}: drawn at {found:?}, not at {expected:?}");
        }
    }
}

/// Pixels of a logical pixel on a picture: it is taken to be looked at 720 high, and a small one as
/// 540.
fn unit(size: [u32; 2]) -> f64 {
    (f64::from(size[0].min(size[1])) / 720.0).max(0.75)
}

fn pass(speed: Speed) -> Pass {
    Pass { speed, stops: vec![] }
}

fn made(name: &str, wish: &Replay) -> PathBuf {
    let target = scratch("handouts").join(name);
    let _ = fs::remove_file(&target);
    replay(&target, wish, &mut |_| ControlFlow::Continue(())).unwrap();
    target
}

/// Returns width and height of a film as `ffprobe` tells them.
fn size_of(path: &Path) -> [u32; 2] {
    let said = probed(path);
    ["width=", "height="].map(|key| {
        let line = said.lines().find_map(|line| line.strip_prefix(key)).expect("a size");
        line.parse().expect("a number")
    })
}

/// Real speed, then half of it with a stop: on each picture the rings lie where the ankles are.
fn alone(leap: &Leap, name: &str) {
    let [from, to] = leap.frames;
    let stop = Stop { frame: from + 3, milliseconds: 2000, caption: "hips in line".to_owned() };
    let half = Pass { speed: Speed::new(1, 2).unwrap(), stops: vec![stop] };
    let film = made(name, &leap.replay(vec![pass(Speed::REAL), half]));
    let size = size_of(&film);
    assert_eq!(size, leap.size);
    let pictures = Grey::of_film(&film, size);
    // By hand: each frame once, then each twice, and two seconds more of one at 30 a second.
    let count = to - from + 1;
    let stopped = std::iter::repeat_n(from + 3, 60);
    let slow = (from..=to).flat_map(|k| [k, k]);
    let before = slow.clone().take(8);
    let frames: Vec<usize> = (from..=to).chain(before).chain(stopped).chain(slow.skip(8)).collect();
    assert_eq!((pictures.len(), frames.len()), (3 * count + 60, 3 * count + 60), "{name}");
    for (picture, &k) in pictures.iter().zip(&frames) {
        let what = format!("{name}, frame {k}");
        picture.check(&leap.ankles[k], ([0.0, 0.0], 1.0), unit(size), &what);
    }
}

#[test]
fn a_replay_draws_where_the_joints_are() {
    alone(&Leap::new("plain.mp4", Turned::Not), "alone.mp4");
}

#[test]
fn a_turned_and_a_mirrored_clip_stand_upright_with_their_drawings() {
    alone(&Leap::new("quarter.mp4", Turned::Quarter), "alone-quarter.mp4");
    alone(&Leap::new("mirrored.mp4", Turned::Mirrored), "alone-mirrored.mp4");
    alone(&Leap::new("by-hand.mp4", Turned::ByHand), "alone-by-hand.mp4");
}

/// Two clips tied three frames apart, side by side and one over the other, the second one mirrored by
/// its tag or held upright.
#[test]
fn two_clips_are_drawn_each_where_its_joints_are() {
    let first = Leap::new("first.mp4", Turned::Not);
    let [from, to] = first.frames;
    let second = Leap::new("second.mp4", Turned::Mirrored);
    let tall = Leap::new("tall.mp4", Turned::Quarter);
    for (other, pairing, name) in [
        (&second, Pairing::Beside, "beside.mp4"),
        (&second, Pairing::Over, "over.mp4"),
        (&tall, Pairing::Beside, "beside-tall.mp4"),
        (&tall, Pairing::Over, "over-tall.mp4"),
    ] {
        let mut wish = first.replay(vec![pass(Speed::REAL)]);
        // So that the other one stays within its leap.
        wish.frames = [from, to - 3];
        let tie = [from, from + 3];
        wish.second = Some(Second { subject: other.subject.clone(), pairing, tie });
        let film = made(name, &wish);
        let size = size_of(&film);
        let pictures = Grey::of_film(&film, size);
        assert_eq!(pictures.len(), to - 3 - from + 1, "{name}");
        let [first_laid, other_laid] = laid(pairing, size, [first.size, other.size]);
        let mut seen = 0;
        for (picture, k) in pictures.iter().zip(from..) {
            let what = format!("{name}, frame {k}");
            let both = [(&first, k, first_laid), (other, k + 3, other_laid)];
            for [(leap, k, laid), (beside, j, over)] in [both, [both[1], both[0]]] {
                let size = leap.size.map(|side| (f64::from(side) * laid.1).round() as u32);
                for ankle in leap.ankles[k] {
                    // What the other clip has there cannot be told apart from it.
                    let legs = beside.legs[j].map(|leg| leg.map(|end| placed(end, over)));
                    let at = placed(ankle, laid);
                    let is_clear = |leg: &[Shown; 2]| {
                        let [right, down] = at - leg[0];
                        let label =
                            (-30.0..120.0).contains(&right) && (-20.0..90.0).contains(&down);
                        distance(at, *leg) > 14.0 && !label
                    };
                    if legs.iter().all(is_clear) {
                        picture.check(&[ankle], laid, unit(size), &what);
                        seen += 1;
                    }
                }
            }
        }
        assert!(seen >= 2 * pictures.len(), "{name}: {seen} of {}", 4 * pictures.len());
    }
}

fn placed(Shown([x, y]): Shown, (at, scale): ([f64; 2], f64)) -> Shown {
    Shown([x * scale + at[0], y * scale + at[1]])
}

/// How far a place lies from a line between two others.
fn distance(at: Shown, [a, b]: [Shown; 2]) -> f64 {
    let [along, off] = [b - a, at - a];
    let length = along[0].mul_add(along[0], along[1] * along[1]);
    let share = ((along[0] * off[0] + along[1] * off[1]) / length.max(1e-9)).clamp(0.0, 1.0);
    at.distance(a + along.map(|part| part * share))
}

/// Where two pictures lie, by hand from their sizes: from which place on, and how many times as large.
fn laid(pairing: Pairing, size: [u32; 2], sizes: [[u32; 2]; 2]) -> [([f64; 2], f64); 2] {
    let [size, first, other] = [size, sizes[0], sizes[1]].map(|size| size.map(f64::from));
    match pairing {
        Pairing::Beside => {
            let scales = [size[1] / first[1], size[1] / other[1]];
            [([0.0, 0.0], scales[0]), ([first[0] * scales[0], 0.0], scales[1])]
        }
        Pairing::Over => {
            assert_eq!(size, first);
            let scale = (size[0] / other[0]).min(size[1] / other[1]);
            let at = [0, 1].map(|axis| (size[axis] - other[axis] * scale) / 2.0);
            [([0.0, 0.0], 1.0), (at, scale)]
        }
    }
}

/// Where the boxes of an MP4 begin, by name.
fn boxes_of(bytes: &[u8]) -> Vec<String> {
    let (mut at, mut names) = (0, Vec::new());
    while let Some(head) = bytes.get(at..at + 8) {
        let length = u32::from_be_bytes(head[..4].try_into().unwrap()) as usize;
        names.push(String::from_utf8_lossy(&head[4..]).into_owned());
        at += if length == 0 { bytes.len() } else { length.max(8) };
    }
    names
}

#[test]
fn a_replay_is_a_plain_mp4_that_tells_nothing_of_its_clip() {
    let footage = Footage::open_proved(&phone(), None, &|_| ()).unwrap();
    let subject = Subject { footage, drawings: Drawings::default() };
    let passes = vec![pass(Speed::REAL)];
    let wish = Replay { subject, frames: [10, 40], passes, second: None, ground: Ground::Picture };
    let film = made("phone.mp4", &wish);
    let said = probed(&film);
    let has = |line: &str| said.lines().any(|own| own == line);
    assert!(has("codec_name=h264") || has("codec_name=mpeg4"), "{said}");
    // BT.601 by the size of the picture, as H.273 numbers it: 6, SMPTE 170M.
    for line in ["pix_fmt=yuv420p", "color_range=tv", "color_space=smpte170m", "nb_frames=31"] {
        assert!(has(line), "{line} is not in {said}");
    }
    assert!(!said.contains("codec_type=audio"), "{said}");
    let bytes = fs::read(&film).unwrap();
    let names = boxes_of(&bytes);
    let place = |name: &str| names.iter().position(|own| own == name);
    assert!(place("moov") < place("mdat") && place("moov").is_some(), "{names:?}");
    let told = ["creation_time", "location", "make", "model", "title", "encoder", "com."];
    for key in told {
        assert!(!said.contains(&format!("TAG:{key}")), "{key}: {said}");
    }
    for secret in ["51.5000", "Phonemaker", "Anna", "2026-10-17", "EastHall"] {
        let there = bytes.windows(secret.len()).any(|window| window == secret.as_bytes());
        assert!(!there, "{secret} is in the bytes");
    }
}

/// The pictures of a replay without drawings are those of the clip, as `ffmpeg` decodes both.
#[test]
fn a_replay_changes_its_pictures_hardly() {
    let footage = Footage::open_proved(&phone(), None, &|_| ()).unwrap();
    let subject = Subject { footage, drawings: Drawings::default() };
    let wish = Replay {
        subject,
        frames: [10, 40],
        passes: vec![pass(Speed::REAL)],
        second: None,
        ground: Ground::Picture,
    };
    let film = made("same.mp4", &wish);
    let size = size_of(&film);
    let (own, of_clip) = (Grey::of_film(&film, size), Grey::of_film(&phone(), size));
    for (k, picture) in own.iter().enumerate() {
        let clip = &of_clip[k + 10].samples;
        let off: u64 =
            picture.samples.iter().zip(clip).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
        let off = off as f64 / clip.len() as f64;
        assert!(off < 3.0, "picture {k} is {off} off");
    }
}

/// No temporary file of the program lies in the folder.
fn nothing_is_left(folder: &Path) {
    let names = fs::read_dir(folder).unwrap().flatten().map(|entry| entry.file_name());
    let left: Vec<_> = names.filter(|name| name.to_string_lossy().starts_with(".still")).collect();
    assert!(left.is_empty(), "{left:?}");
}

#[test]
fn what_is_stopped_or_fails_leaves_no_file() {
    let leap = Leap::new("stopped.mp4", Turned::Not);
    let wish = leap.replay(vec![pass(Speed::REAL)]);
    let folder = scratch("handouts").join("stopped");
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    let target = folder.join("replay.mp4");
    let mut heard = 0;
    let stopped = Leaving::new(&target, FileKind::Picture).anew().make(None, |place| {
        let done = replay(place, &wish, &mut |progress| {
            heard += 1;
            if progress.done >= 5 { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        });
        assert!(matches!(done, Err(HandoutError::Stopped)), "{done:?}");
        assert!(!place.exists(), "half a replay is left");
        Ok(done?)
    });
    assert!(stopped.is_err() && heard >= 2 && !target.exists());
    nothing_is_left(&folder);
    // What is there stays as it is.
    fs::write(&target, "a film of somebody").unwrap();
    let there = Leaving::new(&target, FileKind::Picture).anew();
    let there =
        there.make(None, |place| Ok(replay(place, &wish, &mut |_| ControlFlow::Continue(()))?));
    assert!(matches!(there, Err(LeaveError::There { .. })), "{there:?}");
    assert_eq!(fs::read_to_string(&target).unwrap(), "a film of somebody");
    // A frame that is not there, nowhere to write, nothing to draw.
    let mut beyond = wish.clone();
    beyond.frames[1] = 100_000;
    let told = &mut |_| ControlFlow::Continue(());
    let error = replay(&folder.join("beyond.mp4"), &beyond, told).unwrap_err().to_string();
    assert!(error.contains("has no frame 100000"), "{error}");
    let error = replay(&folder.join("missing/a.mp4"), &wish, told).unwrap_err().to_string();
    assert!(error.contains("cannot be written"), "{error}");
    let mut outside = wish.clone();
    let stop = Stop { frame: wish.frames[1] + 1, milliseconds: 2000, caption: String::new() };
    outside.passes[0].stops.push(stop);
    let error = replay(&folder.join("outside.mp4"), &outside, told).unwrap_err().to_string();
    assert!(error.contains("is not one of the frames"), "{error}");
    let bare = Subject { drawings: Drawings::default(), ..leap.subject.clone() };
    let bare = Replay { subject: bare, ground: Ground::Lines, ..wish };
    let error = replay(&folder.join("bare.mp4"), &bare, told).unwrap_err().to_string();
    assert!(error.contains("no points are placed"), "{error}");
    assert_eq!(fs::read_dir(&folder).unwrap().count(), 1, "only what was there");
}

#[test]
fn a_still_draws_where_the_joints_are_as_png_and_as_jpeg() {
    for turned in [Turned::Not, Turned::Quarter, Turned::Mirrored, Turned::ByHand] {
        let leap = Leap::new("still.mp4", turned);
        let k = leap.frames[0] + 2;
        let of = |format| still(&leap.subject, k, Ground::Picture, format).unwrap();
        let png = Grey::of_picture(&of(StillFormat::Png));
        assert_eq!(png.size, leap.size.map(|side| side as usize));
        png.check(&leap.ankles[k], ([0.0, 0.0], 1.0), unit(leap.size), "png");
        // The JPEG as `ffmpeg` decodes it.
        let place = scratch("handouts").join("still.jpg");
        fs::write(&place, of(StillFormat::Jpeg)).unwrap();
        let jpeg = Grey::of_film(&place, leap.size).remove(0);
        jpeg.check(&leap.ankles[k], ([0.0, 0.0], 1.0), unit(leap.size), "jpeg");
        let off: u64 =
            png.samples.iter().zip(&jpeg.samples).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
        assert!((off as f64) < 2.0 * jpeg.samples.len() as f64, "{off}");
    }
}

/// A line figure has the ground and its lines, and nothing of the picture.
#[test]
fn a_line_figure_shows_nobody() {
    let leap = Leap::new("lines.mp4", Turned::Not);
    let [from, to] = leap.frames;
    let png = still(&leap.subject, from, Ground::Lines, StillFormat::Png).unwrap();
    let drawn: RgbaImage = image::load_from_memory(&png).unwrap().into_rgba8();
    let [width, height] = leap.size;
    assert_eq!([drawn.width(), drawn.height()], leap.size);
    let ground = drawn.pixels().filter(|pixel| pixel.0[..3] == EDGE).count();
    assert!(ground as f64 > 0.95 * f64::from(width * height), "{ground}");
    Grey::of_picture(&png).check(&leap.ankles[from], ([0.0, 0.0], 1.0), unit(leap.size), "lines");
    // The same points on a clip of other pictures would give the same bytes: only marks are used.
    let mut wish = leap.replay(vec![pass(Speed::REAL)]);
    wish.ground = Ground::Lines;
    let film = made("lines-replay.mp4", &wish);
    let pictures = Grey::of_film(&film, leap.size);
    assert_eq!(pictures.len(), to - from + 1);
    // The ground is dark; a picture of the hall is not.
    for (picture, k) in pictures.iter().zip(from..) {
        let dark = picture.samples.iter().filter(|sample| **sample < 40).count();
        assert!(dark as f64 > 0.94 * picture.samples.len() as f64, "frame {k}: {dark}");
        picture.check(&leap.ankles[k], ([0.0, 0.0], 1.0), unit(leap.size), "line replay");
    }
}

/// With a reading on every third frame alone, what is drawn between them is the figure of the one
/// before.
#[test]
fn a_line_figure_stays_until_the_next_frame_that_is_marked() {
    let mut leap = Leap::new("sparse.mp4", Turned::Not);
    let [from, _] = leap.frames;
    let mut sheaf = leap.sheaf.clone();
    let is_third = |reading: &Reading| {
        let at = reading.at.frame().map(|frame| usize::from(frame.index));
        at.is_some_and(|k| k >= from && (k - from) % 3 == 0)
    };
    sheaf.readings.retain(is_third);
    leap.subject.drawings = Drawings::of(&sheaf, &leap.subject.footage, &|_| None, false);
    let mut wish = leap.replay(vec![pass(Speed::REAL)]);
    wish.ground = Ground::Lines;
    let film = made("sparse-replay.mp4", &wish);
    for (place, picture) in Grey::of_film(&film, leap.size).iter().enumerate() {
        let k = from + place / 3 * 3;
        picture.check(&leap.ankles[k], ([0.0, 0.0], 1.0), unit(leap.size), &format!("{place}"));
    }
}

#[test]
fn where_the_second_clip_has_no_frame_its_last_one_stays() {
    let leap = Leap::new("ended.mp4", Turned::Not);
    let [from, _] = leap.frames;
    let last = leap.ankles.len() - 1;
    let mut wish = leap.replay(vec![pass(Speed::REAL)]);
    wish.frames = [from, from + 5];
    let tie = [from, last];
    wish.second = Some(Second { subject: leap.subject.clone(), pairing: Pairing::Beside, tie });
    let film = made("ended-replay.mp4", &wish);
    let [width, height] = size_of(&film);
    let pictures = Grey::of_film(&film, [width, height]);
    let right = |picture: &Grey| -> Vec<u8> {
        let rows = picture.samples.chunks_exact(width as usize);
        rows.flat_map(|row| row[width as usize / 2..].to_vec()).collect()
    };
    let ended = right(&pictures[0]);
    assert_eq!(pictures.len(), 6);
    for picture in &pictures[1..] {
        let now = right(picture);
        let off: u64 = now.iter().zip(&ended).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
        assert!((off as f64) < now.len() as f64, "{off}");
    }
}

#[test]
fn moments_stand_beside_each_other_each_with_its_drawing() {
    let leap = Leap::new("moments.mp4", Turned::Not);
    let [from, _] = leap.frames;
    let frames: Vec<usize> = (from..from + 4).collect();
    let told = &mut |_| ControlFlow::Continue(());
    let png = moments(&leap.subject, &frames, Ground::Picture, told).unwrap();
    let whole = Grey::of_picture(&png);
    // Two by two at full size, four pixels apart.
    let [w, h] = leap.size.map(|side| side as usize);
    assert_eq!(whole.size, [2 * w + 4, 2 * h + 4]);
    for (place, k) in frames.into_iter().enumerate() {
        let at = [(place % 2 * (w + 4)) as f64, (place / 2 * (h + 4)) as f64];
        whole.check(&leap.ankles[k], (at, 1.0), unit(leap.size), &format!("moment {place}"));
    }
    for count in [3, 25] {
        let few = moments(&leap.subject, &vec![from; count], Ground::Picture, told);
        assert!(matches!(few, Err(HandoutError::Moments { .. })), "{count}");
    }
}

/// A club with the clip of a leap, its marks, and the program itself.
struct Club(PathBuf);

impl Club {
    fn new(name: &str) -> Self {
        let folder = scratch("handouts").join(name);
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(folder.join("clips")).unwrap();
        let leap = Leap::new(&format!("{name}.mp4"), Turned::Not);
        let clip = folder.join("clips/leap.mp4");
        fs::copy(&leap.clip, &clip).unwrap();
        let path = stillcall::marks::path_for(&clip, "1", "J-2");
        let state = stillcall::marks::StateFolder::at(folder.join("state"));
        stillcall::marks::Desk::create(&path, leap.sheaf, &state).unwrap();
        let club = Self(folder);
        club.run(&["library", "add", "clips"]);
        club
    }

    fn run(&self, arguments: &[&str]) -> Output {
        Command::new(env!("CARGO_BIN_EXE_stillcall"))
            .args(arguments)
            .current_dir(&self.0)
            .env("STILLCALL_STATE", self.0.join("state"))
            .output()
            .unwrap()
    }

    fn refuses(&self, arguments: &[&str], why: &str) {
        let output = self.run(arguments);
        let said = String::from_utf8_lossy(&output.stderr);
        assert_eq!(output.status.code(), Some(1), "{arguments:?}: {said}");
        assert!(said.contains(why), "{arguments:?}: {said}");
    }

    fn does(&self, arguments: &[&str]) {
        let output = self.run(arguments);
        assert!(output.status.success(), "{arguments:?}: {output:?}");
    }
}

const MARKS: &str = "clips/leap.mp4.1.J-2.marks.json";
const CLIP: &str = "clips/leap.mp4";

#[test]
fn nothing_leaves_without_consent_nor_with_an_injury() {
    let club = Club::new("consent");
    let still = ["still", CLIP, "--frame", "20", "--drawn", "--marks", MARKS, "--out", "a.png"];
    let replay = ["replay", CLIP, "--frames", "20-30", "--marks", MARKS, "--out", "a.mp4"];
    let figure =
        ["replay", CLIP, "--frames", "20-30", "--marks", MARKS, "--lines", "--out", "f.mp4"];
    let moments = ["moments", CLIP, "--frames", "20-30", "--count", "4", "--out", "m.png"];
    let pair = [
        "replay",
        CLIP,
        "--frames",
        "20-24",
        "--beside",
        CLIP,
        "--tie",
        "20,22",
        "--other-marks",
        MARKS,
        "--out",
        "b.mp4",
    ];
    let all: [&[&str]; 5] = [&still, &replay, &figure, &moments, &pair];
    for asked in all {
        club.refuses(asked, "SC-07");
    }
    let noted = "library note clips/leap.mp4 --others none --athlete SC-07 --consent both --by office \
                 --for training";
    club.does(&noted.split_whitespace().collect::<Vec<_>>());
    for asked in all {
        club.does(asked);
    }
    for asked in [&replay[..], &pair] {
        club.refuses(asked, "is there already");
    }
    let ledger = fs::read_to_string(club.0.join("state/library/made.jsonl")).unwrap();
    for name in ["a.png", "a.mp4", "f.mp4", "m.png", "b.mp4"] {
        assert!(ledger.contains(name), "{name} is not in {ledger}");
        assert!(club.0.join(name).exists());
        fs::remove_file(club.0.join(name)).unwrap();
    }
    club.does(&["library", "note", CLIP, "--injury-or-distress", "yes"]);
    for asked in all {
        club.refuses(asked, "injury");
    }
    nothing_is_left(&club.0);
}

#[test]
fn a_withdrawal_takes_away_what_was_handed_over() {
    let club = Club::new("withdrawn");
    let noted = "library note clips/leap.mp4 --others none --athlete SC-07 --consent both --by office \
                 --for training";
    club.does(&noted.split_whitespace().collect::<Vec<_>>());
    for asked in [
        ["replay", CLIP, "--frames", "20-24", "--marks", MARKS, "--out", "a.mp4"],
        ["moments", CLIP, "--frames", "20,21,22,23", "--marks", MARKS, "--out", "m.png"],
        ["still", CLIP, "--frame", "20", "--marks", MARKS, "--out", "s.jpg"],
    ] {
        club.does(&asked);
    }
    club.does(&["library", "withdraw", "SC-07", "--by", "J-1", "--witness", "J-2"]);
    for name in ["a.mp4", "m.png", "s.jpg"] {
        assert!(!club.0.join(name).exists(), "{name} is still there");
    }
}
