//! Damaged files: every picture that is visibly another one than in the undamaged file carries a mark,
//! and no picture of an undamaged file does.
//!
//! The truth is what the `ffmpeg` program decodes of both files from the beginning to the end.

use std::{
    collections::BTreeMap,
    fmt, fs,
    ops::{AddAssign, Range},
    path::{Path, PathBuf},
    process::Command,
};

use stillcall::footage::{Decoder, Footage, Picture, Soundness};

use crate::{
    clips::{changed, derived, made, scratch, source},
    drawn::{Drawn, units},
    exact,
    oracle::{self, Decoded},
};

/// How pictures are coded: a name, FFmpeg's options, containers.
type Coding = (&'static str, &'static str, &'static [&'static str]);

const CODINGS: &[Coding] = &[
    ("h264", "-c:v libx264 -preset veryfast -threads 1 -crf 20 -bf 2 -g", &["mp4", "mkv", "ts"]),
    (
        "h264-plain",
        "-c:v libx264 -preset veryfast -threads 1 -crf 20 -bf 0 -coder 0 -g",
        &["mp4", "mkv", "ts"],
    ),
    (
        "h264-recovering",
        "-c:v libx264 -preset veryfast -threads 1 -crf 20 -bf 0 -x264-params intra-refresh=1 -g",
        &["mkv"],
    ),
    ("hevc", HEVC, &["mp4", "mkv", "ts"]),
    ("hevc-summed", HEVC_SUMMED, &["mp4", "mkv", "ts"]),
    ("mpeg4", "-c:v mpeg4 -q:v 4 -bf 2 -g", &["mp4", "mkv", "ts"]),
    ("mpeg2", "-c:v mpeg2video -q:v 4 -bf 2 -g", &["mp4", "mkv", "ts"]),
];
const HEVC: &str = "-c:v libx265 -preset ultrafast -crf 20 -x265-params \
                    log-level=error:pools=none:frame-threads=1:bframes=2 -g";
/// Each picture carries a checksum of its samples.
const HEVC_SUMMED: &str = "-c:v libx265 -preset ultrafast -crf 20 -x265-params \
                           log-level=error:pools=none:frame-threads=1:bframes=2:hash=1 -g";

/// What is done to a file.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Damage {
    Overwritten,
    Zeroed,
    Flipped,
    Truncated,
    Removed,
    Dropped,
    Cut,
}

use Damage::{Cut, Dropped, Flipped, Overwritten, Removed, Truncated, Zeroed};

const DAMAGES: [Damage; 7] = [Overwritten, Zeroed, Flipped, Truncated, Removed, Dropped, Cut];

/// What came of frames of damaged files.
#[derive(Clone, Copy, Debug, Default)]
struct Count {
    files: usize,
    visible: usize,
    /// Visibly damaged, and nothing says so, though the decoder did.
    unmarked: usize,
    /// Likewise where the decoder said nothing, and a file of it.
    silent: usize,
    silent_files: usize,
    sound: usize,
    /// Sound, and something says that it is not.
    accused: usize,
    /// Without a picture of the same time in the undamaged file.
    strange: usize,
}

impl AddAssign for Count {
    fn add_assign(&mut self, other: Self) {
        self.files += other.files;
        self.visible += other.visible;
        self.unmarked += other.unmarked;
        self.silent += other.silent;
        self.silent_files += other.silent_files;
        self.sound += other.sound;
        self.accused += other.accused;
        self.strange += other.strange;
    }
}

impl fmt::Display for Count {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "{} files, {} frames visibly damaged, {} unmarked, {} unmarked where the decoder was \
             silent (in {} files); {} frames sound, {} of them marked; {} strange",
            self.files,
            self.visible,
            self.unmarked,
            self.silent,
            self.silent_files,
            self.sound,
            self.accused,
            self.strange
        )
    }
}

fn undamaged((name, options, _): Coding, ending: &str, drawn: &mut Drawn) -> PathBuf {
    // A few lengths of a run, so that files are made once.
    let run = [8, 15, 40][drawn.of(0, 2) as usize];
    let stream = source(2, "192x112", "30");
    // A cut file is one whose index is still there.
    let options = match ending {
        "mp4" => format!("-movflags +faststart {options}"),
        _ => options.to_owned(),
    };
    made(&format!("whole-{name}-{run}.{ending}"), &format!("{stream} {options} {run}"))
}

/// Where the video's packets lie, by `ffprobe`.
fn samples(clip: &Path) -> Vec<Range<usize>> {
    let output = Command::new("ffprobe")
        .args("-v quiet -select_streams v -show_entries packet=size,pos -of csv=p=0".split(' '))
        .arg(clip)
        .output()
        .expect("the ffprobe program is installed");
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    let numbers = |line: &str| {
        let mut them = line.split(',').filter_map(|it| it.parse::<usize>().ok());
        let (size, at) = (them.next()?, them.next()?);
        Some(at..at + size)
    };
    text.lines().filter_map(numbers).collect()
}

/// Returns the damaged copy; nothing where a file of this kind cannot be damaged so.
fn damaged(clip: &Path, how: Damage, drawn: &mut Drawn, place: &str) -> Option<PathBuf> {
    let ending = clip.extension()?.to_str()?;
    let copy = scratch("damage").join(format!("{place}.{ending}"));
    let mut bytes = fs::read(clip).expect("the clip");
    let samples = samples(clip);
    let which = drawn.of(0, samples.len() as u64 - 1) as usize;
    // Behind headers of container and picture; in a stream, what of it lies in one go.
    let mut body = samples[which].start + 24..samples[which].end.min(bytes.len());
    if ending == "ts" {
        let at = samples[which].start / 188 * 188 + 188 * drawn.of(0, 3) as usize;
        body = at + 60..(at + 188).min(bytes.len());
    }
    if body.len() < 32 {
        return None;
    }
    let length = drawn.of(1, (body.len() as u64 - 8).min(400)) as usize;
    let at = body.start + drawn.of(0, (body.len() - length) as u64) as usize;
    match how {
        Overwritten => bytes[at..at + length].fill_with(|| drawn.of(0, 255) as u8),
        Zeroed => bytes[at..at + length].fill(0),
        Flipped => bytes[at] ^= 1 << drawn.of(0, 7),
        Truncated if ending == "mp4" => truncate(&mut bytes, &samples[which], length)?,
        Removed if ending != "ts" => {
            return Some(derived(
                &format!("removed-{which}-{}.{ending}", clip.file_stem()?.to_str()?),
                clip,
                &format!("-c copy -copyts -bsf:v noise=drop=eq(n\\,{which})"),
            ));
        }
        Dropped if ending == "ts" => {
            let first = samples[which].start / 188 + drawn.of(0, 2) as usize;
            let end = (first + drawn.of(1, 4) as usize) * 188;
            bytes.drain((first * 188).min(bytes.len())..end.min(bytes.len()));
        }
        Cut => bytes.truncate(samples.last()?.end.min(bytes.len()) - length),
        Truncated | Removed | Dropped => return None,
    }
    fs::write(&copy, bytes).expect("a place for the copy");
    Some(copy)
}

/// Takes bytes off the end of a sample's last unit, which a unit of filler takes the place of (kind
/// 12 of H.264); bytes of another codec become zeros.
fn truncate(bytes: &mut [u8], sample: &Range<usize>, length: usize) -> Option<()> {
    let last = units(bytes).into_iter().find(|unit| unit.end == sample.end);
    let filled = sample.end - length.max(8)..sample.end;
    match last {
        Some(unit) if filled.start > unit.start + 16 => {
            let kept = (filled.start - unit.start) as u32;
            bytes[unit.start - 4..unit.start].copy_from_slice(&kept.to_be_bytes());
            let rest = (filled.len() - 4) as u32;
            bytes[filled.clone()].fill(255);
            bytes[filled.start..filled.start + 4].copy_from_slice(&rest.to_be_bytes());
            let is_hevc = bytes.windows(4).any(|name| name == b"hvcC");
            let kind = if is_hevc { [38 << 1, 1] } else { [12, 255] };
            bytes[filled.start + 4..filled.start + 6].copy_from_slice(&kind);
            bytes[sample.end - 1] = 0x80;
        }
        Some(_) => return None,
        None => bytes[filled].fill(0),
    }
    Some(())
}

/// Most that the samples of a block may differ by in the mean before one sees it; common practice, no
/// source.
const VISIBLE: u64 = 8;
/// The sides of a block of luma; chroma's are half as long.
const BLOCK: usize = 16;

/// Returns whether some block differs visibly. Pictures are 4:2:0 of 8 bits.
fn is_visible(one: &[u8], other: &[u8], [width, height]: [usize; 2]) -> bool {
    let halved = [width / 2, height / 2];
    let mut start = 0;
    for (plane, side) in [([width, height], BLOCK), (halved, BLOCK / 2), (halved, BLOCK / 2)] {
        let [width, height] = plane;
        let end = start + width * height;
        let (one, other) = (&one[start..end], &other[start..end]);
        for y in (0..height).step_by(side) {
            for x in (0..width).step_by(side) {
                let places = (y..(y + side).min(height))
                    .flat_map(|y| (x..(x + side).min(width)).map(move |x| y * width + x));
                let count = places.clone().count() as u64;
                let differ: u64 = places.map(|at| u64::from(one[at].abs_diff(other[at]))).sum();
                if differ > VISIBLE * count {
                    return true;
                }
            }
        }
        start = end;
    }
    false
}

/// The size of all clips here.
const SIZE: [usize; 2] = [192, 112];

fn samples_of(picture: &Picture) -> Vec<u8> {
    let planes = (0..3).map_while(|index| picture.plane(index));
    let rows = planes.flat_map(|plane| (0..plane.height).filter_map(move |y| plane.row(y)));
    rows.flatten().copied().collect()
}

/// Returns what came of a damaged file's frames.
fn check(whole: &[Decoded], copy: &Path, place: &str) -> Count {
    let (linear, says_nothing) = oracle::pictures(copy);
    let mut count = Count { files: 1, ..Count::default() };
    let Ok(footage) = Footage::open_proved(copy, None, &|_| ()) else { return count };
    let mut decoder = Decoder::new(&footage, 1);
    let mut rest = &linear[..];
    let mut since_first = None;
    let by_time: BTreeMap<i64, &Decoded> =
        whole.iter().filter_map(|picture| Some((picture.pts?, picture))).collect();
    let mut is_silent = false;
    for (k, entry) in footage.table().entries().iter().enumerate() {
        let is_marked = entry.soundness != Soundness::Sound;
        let picture = decoder.picture(k).unwrap_or_else(|error| panic!("{place}: {error}"));
        // What is made up in the place of damage may differ from one program to the other.
        let found = rest.iter().position(|decoded| decoded.hash == picture.hash());
        if let Some(at) = found {
            since_first = rest[at].pts.map(|pts| pts - entry.ticks.0).or(since_first);
            rest = &rest[at + 1..];
        }
        let pts = since_first.map(|since| since + entry.ticks.0);
        match pts.and_then(|pts| by_time.get(&pts)) {
            None => count.strange += 1,
            Some(right) if right.hash == picture.hash() => {
                count.sound += 1;
                count.accused += usize::from(is_marked);
            }
            Some(right) if is_visible(&right.samples, &samples_of(&picture), SIZE) => {
                count.visible += 1;
                if !is_marked && says_nothing {
                    (count.silent, is_silent) = (count.silent + 1, true);
                } else if !is_marked {
                    println!("{place}: frame {k} of {} is not marked", copy.display());
                    count.unmarked += 1;
                }
            }
            Some(_) => {}
        }
    }
    count.silent_files = is_silent.into();
    count
}

/// Damages files of each kind in each way, as many as there are seeds; returns what came of it.
fn all(seeds: Range<u64>) -> BTreeMap<(&'static str, Damage), Count> {
    let mut found: BTreeMap<(&'static str, Damage), Count> = BTreeMap::new();
    let mut known: BTreeMap<PathBuf, Vec<Decoded>> = BTreeMap::new();
    for seed in seeds {
        for (which, &coding) in (0..).zip(CODINGS) {
            for how in DAMAGES {
                let mut drawn = Drawn::new(1000 * seed + 10 * which + how as u64);
                let ending = coding.2[drawn.of(0, coding.2.len() as u64 - 1) as usize];
                let clip = undamaged(coding, ending, &mut drawn);
                let place = format!("{}-{how:?}-{seed}", coding.0);
                let Some(copy) = damaged(&clip, how, &mut drawn, &place) else { continue };
                let whole = known.entry(clip).or_insert_with_key(|clip| oracle::pictures(clip).0);
                *found.entry((coding.0, how)).or_default() += check(whole, &copy, &place);
            }
        }
    }
    for ((coding, how), count) in &found {
        println!("{coding}, {how:?}: {count}");
    }
    found
}

/// Adds all up. Only where bytes can be others and nothing tells, may a picture be without a mark: in
/// H.264, whose signs and numbers may be others of the same length, and in MPEG-2 and MPEG-4 part 2.
fn total(found: &BTreeMap<(&'static str, Damage), Count>) -> Count {
    let mut total = Count::default();
    for ((coding, how), count) in found {
        total += *count;
        assert!(!coding.starts_with("hevc") || count.silent == 0, "{coding}, {how:?}: {count}");
    }
    println!("all: {total}");
    total
}

/// Everything that x265 does to a block, in few pictures: our own reader of HEVC accounts for all bytes.
#[test]
fn no_whole_hevc_picture_is_said_to_be_damaged() {
    let kinds = [
        "veryslow 12 amp=1:rect=1:tskip=1:keyint=10",
        "medium 30 slices=3:keyint=12",
        "medium 20 lossless=1",
        "medium 24 cu-lossless=1:tskip=1:rd=6",
        "medium 24 scaling-list=default:qg-size=8:aq-mode=3",
        "medium 24 weightp=1:weightb=1:ref=5:bframes=8:b-pyramid=1",
        "medium 24 ctu=16:min-cu-size=8",
        "medium 24 ctu=32:max-tu-size=8:tu-inter-depth=3:tu-intra-depth=3",
        "medium 24 min-cu-size=16:rect=1:amp=1",
        "medium 24 hrd=1:vbv-maxrate=500:vbv-bufsize=500:bitrate=400",
        "medium 24 no-sao=1:no-signhide=1:no-deblock=1:constrained-intra=1",
        "medium 24 no-wpp=1:temporal-layers=1:b-pyramid=1",
    ];
    for (k, kind) in kinds.into_iter().enumerate() {
        let mut words = kind.split(' ');
        let [preset, quality, more] =
            [words.next(), words.next(), words.next()].map(Option::unwrap);
        let options = format!(
            "{} -c:v libx265 -preset {preset} -crf {quality} -x265-params log-level=error:{more}",
            source(1, "192x112", "30")
        );
        exact::is_sound(&made(&format!("kind-{k}.mkv"), &options));
    }
}

/// Likewise what x264 does to a macroblock; of noise it makes plain samples.
#[test]
fn no_whole_h264_picture_is_said_to_be_damaged() {
    let kinds = [
        "yuv420p veryslow 12 partitions=all",
        "yuv420p veryslow 12 cabac=0:partitions=all:8x8dct=0",
        "yuv420p medium 20 cabac=0:8x8dct=0:bframes=0:weightp=0",
        "yuv420p medium 44 bframes=6:b-pyramid=normal:direct=temporal",
        "yuv420p medium 20 cabac=0:bframes=3:weightb=1:ref=6",
        "yuv420p medium 20 slices=4:constrained-intra=1",
        "yuv420p medium 20 slice-max-size=300:cabac=0",
        "yuv420p medium 20 slice-max-mbs=7:aud=1",
        "yuv420p medium 20 intra-refresh=1:keyint=12",
        "yuv420p medium 0 keyint=5",
        "yuv420p medium 20 cqm=jvt:deblock=-2,-2:no-mbtree=1",
        "yuv420p medium 20 nal-hrd=cbr:vbv-maxrate=600:vbv-bufsize=300:bitrate=600:filler=1",
        "yuv420p medium 20 fake-interlaced=1",
        "yuv422p slow 16 cabac=1",
        "yuv422p slow 16 cabac=0",
        "yuv420p10le slow 16 cabac=1",
        "yuv422p10le slow 10 cabac=0",
        "gray slow 16 cabac=1",
        "gray slow 16 cabac=0",
        "yuv444p slow 16 cabac=1",
    ];
    let noise = "-f lavfi -i nullsrc=s=176x80:r=30:d=0.3,geq=lum='random(1)*255':cb='random(2)*255'\
                 :cr='random(3)*255'";
    for (k, kind) in kinds.into_iter().enumerate() {
        let words: Vec<&str> = kind.split(' ').collect();
        for (what, source) in [("drawn", source(1, "200x116", "30")), ("noise", noise.to_owned())] {
            // As good as can be, for plain samples.
            let quality =
                if what == "noise" { "-qp 1".to_owned() } else { format!("-crf {}", words[2]) };
            let options = format!(
                "{source} -c:v libx264 -threads 1 -pix_fmt {} -preset {} {quality} -x264-params {}",
                words[0], words[1], words[3]
            );
            exact::is_sound(&made(&format!("h264-kind-{k}-{what}.mkv"), &options));
        }
    }
}

/// The last packet holds nothing that a decoder could make a picture of: a frame that is counted all the
/// same has a picture, and says that it is damaged.
#[test]
fn a_last_frame_that_cannot_be_decoded_is_not_one_or_says_so() {
    let mut drawn = Drawn::new(7);
    for &coding in CODINGS.iter().filter(|coding| coding.2.contains(&"mp4")) {
        let clip = undamaged(coding, "mp4", &mut drawn);
        let (name, samples) = (coding.0, samples(&clip));
        let mut bytes = fs::read(&clip).expect("the clip");
        // By its place in the file the last to be decoded is the last to be shown, or leans on others.
        let last = samples.last().expect("packets").clone();
        bytes[last.start + 4..last.end].fill(0xff);
        let copy = scratch("damage").join(format!("last-{name}.mp4"));
        fs::write(&copy, bytes).expect("a place for the copy");
        let footage = Footage::open_proved(&copy, None, &|_| ()).expect("the rest is whole");
        let entries = footage.table().entries();
        let missing = samples.len() - entries.len();
        assert!(missing <= 1, "{name}: {missing} frames missing");
        let damaged = entries.iter().filter(|entry| entry.soundness != Soundness::Sound).count();
        assert_eq!(missing + damaged.min(1), 1, "{name}: {missing} missing, {damaged} damaged");
        let mut decoder = Decoder::new(&footage, 1);
        for k in 0..entries.len() {
            decoder.picture(k).unwrap_or_else(|error| panic!("{name}: {error}"));
        }
    }
}

/// FLV gives a stream's header anew where recordings were joined: behind nine bytes of its own and four
/// more (its specification, annex E).
#[test]
fn joined_recordings_are_each_read_by_their_own_header() {
    let coded = |options: &str| format!("{} -c:v libx264 {options}", source(1, "192x112", "30"));
    let first = made("joins.flv", &coded("-preset veryfast"));
    let second = made("joined-with.flv", &coded("-preset veryfast -coder 0 -bf 0"));
    let second = fs::read(second).expect("the second recording");
    exact::is_sound(&changed("joined.flv", &first, |bytes| bytes.extend(&second[13..])));
}

#[test]
fn damage_is_told() {
    let found = all(0..4);
    let silent = found.iter().filter(|((coding, _), _)| coding.starts_with("h264"));
    assert_eq!(silent.map(|(_, count)| count.silent).sum::<usize>(), 0, "of H.264");
    let total = total(&found);
    assert!(total.visible >= 200, "{total}");
    assert_eq!(total.unmarked, 0, "{total}");
}

/// `make fuzz` runs it.
#[test]
#[ignore = "takes minutes"]
fn damage_of_many_files_is_told() {
    let total = total(&all(4..24));
    assert!(total.visible >= 3000, "{total}");
    assert_eq!(total.unmarked, 0, "{total}");
}
