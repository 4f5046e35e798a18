//! Damaged copies of small clips, opened and stepped by the program itself in a process of its
//! own: it may refuse them, but may not hang, crash or take all memory.

use std::{
    fs,
    io::Read,
    path::Path,
    process::{Command, Stdio},
    time::{Duration, Instant},
};

use stillcall::footage::{Decoder, Footage, Reader};

use crate::clips::{H264, HEVC, made, scratch, source};

/// Seconds for one run of the program; a healthy one takes a tenth of a second.
const PATIENCE: Duration = Duration::from_secs(30);
/// Kilobytes of address space for one run.
const MEMORY: u32 = 3_000_000;

/// Runs a short replay; the same damage each time.
#[test]
fn damaged_copies_neither_hang_nor_crash() {
    replay(0..112);
}

/// Set `STILLCALL_MUTATIONS` to the number of copies; `make fuzz` does.
#[test]
#[ignore = "takes long; run by make fuzz"]
fn many_damaged_copies_neither_hang_nor_crash() {
    let count = std::env::var("STILLCALL_MUTATIONS").map(|count| count.parse().expect("a number"));
    replay(0..count.unwrap_or(3000));
}

/// Without this the replay would show nothing: every bad end must be told from a refusal.
#[test]
fn a_bad_end_is_noticed() {
    let shell = |script: &str| {
        run(Path::new("sh"), &["-c"], Path::new(script), Duration::from_secs(2)).unwrap_or_default()
    };
    assert!(shell("kill -SEGV $$").contains("signal: 11"));
    assert!(shell("echo 'thread main panicked' >&2; exit 101").contains("101: thread main"));
    assert!(shell("exit 1").contains("exit status: 1"));
    assert!(shell("sleep 600").contains("hangs"));
    assert_eq!(shell("echo 'stillcall: is empty' >&2; exit 1"), "");
}

fn replay(seeds: std::ops::Range<u64>) {
    let clips = corpus();
    let folder = scratch(&format!("mutations-{}", seeds.end));
    let mut bad = Vec::new();
    for seed in seeds {
        let (name, clip) = &clips[seed as usize % clips.len()];
        let copy = folder.join(format!("{seed}-{name}"));
        fs::write(&copy, damaged(clip, seed)).expect("a place for the copy");
        let still = folder.join("still.png");
        let frame = (seed % 10).to_string();
        let step = ["still", "--frame", &frame, "--out", still.to_str().expect("a plain name")];
        let program = Path::new(env!("CARGO_BIN_EXE_stillcall"));
        let run = |arguments: &[&str]| run(program, arguments, &copy, PATIENCE);
        let found = run(&["frames", "--json"]).or_else(|| run(&step)).or_else(|| walk(&copy));
        match found {
            Some(trouble) => bad.push(format!("{}: {trouble}", copy.display())),
            None => fs::remove_file(&copy).expect("our own copy"),
        }
    }
    assert!(bad.is_empty(), "{} bad copies, which are kept:\n{}", bad.len(), bad.join("\n"));
}

/// Steps through a copy in every way, in a process of its own; returns what is wrong with how it
/// ended, if anything is.
fn walk(copy: &Path) -> Option<String> {
    let program = std::env::current_exe().expect("this program");
    let script = format!(
        "WALKED='{}' exec '{}' --exact mutations::a_walk --ignored --quiet >&2",
        copy.display(),
        program.display(),
    );
    let ended = run(Path::new("sh"), &["-c"], Path::new(&script), PATIENCE)?;
    Some(format!("a walk: {ended}"))
}

#[test]
#[ignore = "run by the replays, in a process of its own"]
fn a_walk() {
    let Some(clip) = std::env::var_os("WALKED") else { return };
    let Ok(footage) = Footage::open(Path::new(&clip)) else { return };
    let count = footage.table().len();
    let back = (0..count).rev().take(40);
    let jumps = (0..20).map(|k| (k * 7919 + 13) % count);
    let mut decoder = Decoder::with_budget(&footage, 2, 200_000);
    for k in (0..count).take(40).chain(back).chain(jumps) {
        // An error is an answer.
        let _ = decoder.picture(k);
    }
    let reader = Reader::spawn(footage, || {});
    for k in (0..count).rev().take(40) {
        reader.want(k);
        reader.near(k, 4);
    }
    let end = Instant::now() + PATIENCE / 2;
    let wanted = count.saturating_sub(40);
    let is_there = || reader.latest().is_some_and(|picture| picture.frame == wanted);
    let is_refused = || reader.trouble().is_some_and(|(frame, _)| frame == wanted);
    while !is_there() && !is_refused() {
        assert!(Instant::now() < end, "the reader is silent about frame {wanted}");
        std::thread::sleep(Duration::from_millis(1));
    }
}

/// Ten frames of each container and codec.
pub(crate) fn corpus() -> Vec<(String, Vec<u8>)> {
    let rate = source(1, "64x48", "10");
    let h264 = H264.replace("-g 24 -keyint_min 24", "-g 4 -keyint_min 4");
    let hevc = HEVC.replace("keyint=24:min-keyint=24", "keyint=4:min-keyint=4");
    let recipes = [
        ("h264.mp4", h264.clone()),
        ("h264.mkv", h264.clone()),
        ("h264.ts", h264.clone()),
        ("h264.flv", h264.clone()),
        ("h264.avi", h264.clone()),
        ("raw.h264", h264.clone()),
        ("fragments.mp4", format!("{h264} -movflags frag_keyframe+empty_moov")),
        ("hevc.mp4", hevc.clone()),
        ("hevc.ts", hevc),
        ("mpeg2.mpg", "-r 25 -c:v mpeg2video -g 4 -bf 2".into()),
        ("mpeg4.avi", "-c:v mpeg4 -g 4 -bf 2".into()),
        ("motion.avi", "-c:v mjpeg -pix_fmt yuvj420p".into()),
        ("vp9.webm", "-c:v libvpx-vp9 -deadline realtime -cpu-used 8 -g 4".into()),
        ("prores.mov", "-c:v prores_ks -pix_fmt yuv422p10le".into()),
        ("theora.ogg", "-c:v libtheora -g 4".into()),
        ("palette.gif", String::new()),
    ];
    recipes
        .into_iter()
        .map(|(name, recipe)| {
            let clip = made(&format!("small_{name}"), &format!("{rate} {recipe}"));
            (name.to_owned(), fs::read(clip).expect("the clip"))
        })
        .collect()
}

/// Returns a copy with one to eight wounds; the seed decides everything.
pub(crate) fn damaged(clip: &[u8], seed: u64) -> Vec<u8> {
    let mut dice = Dice(seed.wrapping_mul(0x9e37_79b9_7f4a_7c15) | 1);
    let mut bytes = clip.to_vec();
    for _ in 0..=dice.below(7) {
        wound(&mut bytes, &mut dice);
    }
    bytes
}

fn wound(bytes: &mut Vec<u8>, dice: &mut Dice) {
    let length = bytes.len().max(1);
    // Half of the wounds hit the headers at either end, where most decisions are made.
    let at = match dice.below(4) {
        0 => dice.below(length.min(600)),
        1 => length - 1 - dice.below(length.min(1200)),
        _ => dice.below(length),
    };
    let run = at..(at + 1 + dice.below(64)).min(bytes.len());
    if run.is_empty() {
        return;
    }
    match dice.below(7) {
        0 => bytes[at] ^= 1 << dice.below(8),
        1 => bytes[run].iter_mut().for_each(|byte| *byte = dice.below(256) as u8),
        2 => bytes[run].fill(0),
        3 => drop(bytes.drain(run)),
        4 => {
            let again = bytes[run].to_vec();
            bytes.splice(at..at, again);
        }
        5 => {
            // Lengths and counts at their extremes.
            let word = [0, 1, 0x7fff_ffff, 0x8000_0000, u32::MAX][dice.below(5)];
            let end = (at + 4).min(bytes.len());
            bytes[at..end].copy_from_slice(&word.to_be_bytes()[..end - at]);
        }
        _ => bytes.truncate(at.max(1)),
    }
}

/// Runs the program on a file; returns what is wrong with how it ended, if anything is.
fn run(program: &Path, arguments: &[&str], clip: &Path, patience: Duration) -> Option<String> {
    // Its own limits, so that a runaway ends with the run and not with the machine.
    let limits = format!("ulimit -v {MEMORY}; exec \"$0\" \"$@\"");
    let mut child = Command::new("sh")
        .args(["-c", &limits])
        .arg(program)
        .arg(arguments[0])
        .arg(clip)
        .args(&arguments[1..])
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let start = Instant::now();
    let status = loop {
        if let Some(status) = child.try_wait().expect("a child") {
            break status;
        }
        if start.elapsed() > patience {
            child.kill().expect("our own child");
            child.wait().expect("it ends");
            return Some(format!("{arguments:?} hangs"));
        }
        std::thread::sleep(Duration::from_millis(5));
    };
    let mut said = String::new();
    child.stderr.take().expect("a pipe").read_to_string(&mut said).expect("plain words");
    match status.code() {
        Some(0) => None,
        Some(1) if said.starts_with("stillcall: ") => None,
        _ => Some(format!("{arguments:?} ends with {status}: {said}")),
    }
}

/// Numbers that look random and are the same each time (xorshift by Marsaglia, 2003).
struct Dice(u64);

impl Dice {
    fn below(&mut self, limit: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 16) as usize % limit
    }
}
