//! Undamaged files whose time stamps tell another order, or other pictures, than decoding them does:
//! every way to a frame gives what `ffmpeg` decodes from the beginning to the end.

use std::{
    fs,
    path::{Path, PathBuf},
    sync::{Arc, Mutex},
    thread,
    time::{Duration, Instant},
};

use stillcall::{
    footage::{CopyWishes, Decoder, Footage, Picture, Proof, ProofKeeper, Reader, still},
    marks::StateFolder,
    proofs::KeptProofs,
};

use crate::{
    clips::{H264, base, changed, derived, made, scratch, source},
    drawn::{Drawn, units},
    exact, oracle,
};

/// What a family of files is called, and how one of it is made.
type Family = (&'static str, fn(&mut Drawn, u64) -> PathBuf);

const FAMILIES: &[Family] = &[
    ("B pictures of MPEG-4 part 2", exchanged),
    ("pictures that are not coded", not_coded),
    ("an end of sequence before a key picture", ended),
    ("samples that hold only remarks", remarks),
    ("recovery points that promise too much", recovering),
    ("layers in time", layered),
];

fn moving() -> String {
    source(2, "128x96", "30")
}

fn exchanged(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let ending = ["mp4", "mkv"][drawn.of(0, 1) as usize];
    let (run, between) = (drawn.of(8, 40), drawn.of(1, 3));
    let options = format!("-c:v libxvid -q:v 4 -g {run} -bf {between}");
    made(&format!("exchanged-{seed}.{ending}"), &format!("{} {options}", moving()))
}

/// The bit that says whether a picture is coded (ISO/IEC 14496-2, 6.2.5): behind the start code two
/// bits of kind, seconds as ones and a zero, a marker, five bits of time at 30 a second, a marker.
fn not_coded(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let options = format!("-c:v mpeg4 -q:v 4 -bf 0 -g {}", drawn.of(8, 40));
    let plain = made(&format!("coded-{seed}.mp4"), &format!("{} {options}", moving()));
    let every = drawn.of(3, 9) as usize;
    changed(&format!("not-coded-{seed}.mp4"), &plain, |bytes| {
        let starts = bytes.windows(4).enumerate();
        let starts: Vec<usize> =
            starts.filter(|(_, code)| *code == [0, 0, 1, 0xb6]).map(|(at, _)| at + 4).collect();
        for at in starts.into_iter().skip(1).step_by(every) {
            let is = |bit: usize, bytes: &[u8]| bytes[at + bit / 8] >> (7 - bit % 8) & 1 == 1;
            if bytes[at] >> 6 != 1 {
                continue;
            }
            let mut bit = 2;
            while is(bit, bytes) {
                bit += 1;
            }
            let coded = bit + 1 + 1 + 5 + 1;
            bytes[at + coded / 8] &= !(1 << (7 - coded % 8));
        }
    })
}

fn hevc(drawn: &mut Drawn, more: &str) -> String {
    let (run, between) = (drawn.of(10, 24), drawn.of(2, 4));
    format!(
        "{} -c:v libx265 -preset ultrafast -crf 20 -tag:v hvc1 -x265-params \
         log-level=error:pools=none:frame-threads=1:keyint={run}:min-keyint={run}:scenecut=0:\
         bframes={between}:b-adapt=0:open-gop=1:{more}",
        moving()
    )
}

/// Its delimiter (kind 35) becomes an end of sequence (36) in samples of a key picture (21).
fn ended(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let options = hevc(drawn, "aud=1");
    let plain = made(&format!("not-ended-{seed}.mp4"), &options);
    changed(&format!("ended-{seed}.mp4"), &plain, |bytes| {
        let units = units(bytes);
        let kind = |bytes: &[u8], at: usize| bytes[at] >> 1 & 63;
        let mut delimiter = None;
        for unit in units {
            match kind(bytes, unit.start) {
                35 => delimiter = Some(unit.start),
                21 => bytes[delimiter.expect("a delimiter")] = 36 << 1,
                _ => {}
            }
        }
    })
}

/// Slices on which nothing leans become remarks of the user's own (kind 6, 5) of the same length.
fn remarks(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let options = format!(
        "-c:v libx264 -preset veryfast -threads 1 -crf 20 -g {} -bf 3 -b_strategy 0",
        drawn.of(10, 40)
    );
    let plain = made(&format!("unremarked-{seed}.mp4"), &format!("{} {options}", moving()));
    let every = drawn.of(2, 6) as usize;
    changed(&format!("remarks-{seed}.mp4"), &plain, |bytes| {
        let slices = units(bytes).into_iter().filter(|unit| bytes[unit.start] & 0x7f == 1);
        for unit in slices.collect::<Vec<_>>().into_iter().step_by(every) {
            let length = unit.len();
            let mut said = vec![6, 5];
            // The length is written as so many 255 and the rest.
            let lengths = (1..length).find(|n| (length - 3 - n) / 255 < *n).expect("it fits");
            let rest = length - 3 - lengths;
            said.extend(std::iter::repeat_n(255, rest / 255));
            said.push((rest % 255) as u8);
            said.extend(std::iter::repeat_n(0x55, rest));
            said.push(0x80);
            // Where one length byte less would do, a zero trails.
            said.resize(length, 0);
            bytes[unit].copy_from_slice(&said);
        }
    })
}

fn recovering(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let options = format!(
        "-c:v libx264 -preset veryfast -threads 1 -crf 20 -g {} -bf 0 -x264-params intra-refresh=1",
        drawn.of(10, 24)
    );
    let stream = made(&format!("recovering-{seed}.ts"), &format!("{} {options}", moving()));
    let ending = ["mp4", "mkv"][drawn.of(0, 1) as usize];
    derived(&format!("recovering-{seed}.{ending}"), &stream, "-c copy")
}

fn layered(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let options = hevc(drawn, "temporal-layers=1:b-pyramid=1");
    made(&format!("layered-{seed}.mp4"), &options)
}

/// Makes one file of a family and compares `jumps` frames, every way; returns how many.
fn check((name, make): Family, seed: u64, jumps: usize) -> usize {
    let mut drawn = Drawn::new(seed);
    let clip = make(&mut drawn, seed);
    let footage = Footage::open_proved(&clip, None, &|_| ()).expect("it opens");
    let expected = oracle::linear(&clip, &footage);
    exact::is_sound(&clip);
    let place = || format!("{name}, seed {seed}, {}", clip.display());
    assert_eq!(footage.table().len(), expected.len(), "{}", place());
    let frames: Vec<usize> =
        (0..jumps).map(|_| drawn.of(0, expected.len() as u64 - 1) as usize).collect();
    for threads in [1, 3] {
        let mut decoder = Decoder::with_budget(&footage, threads, 0);
        for &k in &frames {
            let picture = decoder.picture(k).unwrap_or_else(|error| panic!("{error}"));
            assert_eq!(picture.hash(), expected[k], "{}: frame {k}", place());
        }
    }
    for &k in frames.iter().take(3) {
        is_the_still(&clip, k, &footage, expected[k], &place());
    }
    is_the_excerpt(&clip, frames[0].min(frames[1]), frames[0].max(frames[1]), &expected, &place());
    let shown = Footage::open_beginning(&clip).expect("it opens");
    is_shown(shown, &frames, &expected, &place());
    2 * frames.len() + 3
}

/// The command's way, from a clip that was opened by its time stamps.
fn is_the_still(clip: &Path, k: usize, proved: &Footage, hash: u64, place: &str) {
    let footage = Footage::open(clip).expect("it opens");
    let png = still(&footage, k, None).expect("a still");
    let image = image::load_from_memory(&png).expect("a PNG").into_rgb8();
    let right = Decoder::new(proved, 1).picture(k).expect("a picture");
    assert_eq!(right.hash(), hash, "{place}: frame {k}");
    let right = image::DynamicImage::from(right.to_rgba_upright()).into_rgb8();
    assert!(image == right, "{place}: the still of frame {k}");
}

/// What cannot be cut without becoming something else is refused, and never wrong.
fn is_the_excerpt(clip: &Path, from: usize, to: usize, expected: &[u64], place: &str) {
    let footage = Footage::open(clip).expect("it opens");
    let target = scratch("proofs")
        .join(clip.with_extension(footage.ending_of_copy()).file_name().expect("a name"));
    let wishes = CopyWishes { frames: Some([from as u64, to as u64]), sound: false };
    let Ok(done) = footage.copy_to(&target, wishes, &|| false) else { return };
    let [first, last] = done.frames.map(|frame| frame as usize);
    let copy = oracle::linear(&target, &done.footage);
    assert_eq!(copy, expected[first..=last], "{place}: frames {first} to {last}");
}

/// The window's way: a picture that is not proved says so, and once all is proved none is wrong.
fn is_shown(footage: Footage, frames: &[usize], expected: &[u64], place: &str) {
    let reader = Reader::spawn(footage, || ());
    let end = Instant::now() + Duration::from_secs(60);
    let wait = |found: &dyn Fn() -> Option<Arc<Picture>>| loop {
        if let Some(picture) = found() {
            return picture;
        }
        assert!(Instant::now() < end, "{place}: the reader is silent: {:?}", reader.trouble());
        thread::sleep(Duration::from_millis(1));
    };
    for round in 0..2 {
        for &k in frames {
            reader.want(k);
            let picture = wait(&|| reader.latest().filter(|it| it.frame == k || round == 0));
            let is_right = expected.get(picture.frame) == Some(&picture.hash());
            assert!(is_right || !picture.is_proved(), "{place}: frame {k}");
            assert!(is_right || round == 0, "{place}: frame {k} after all is proved");
        }
        while reader.proved().is_none() {
            assert!(Instant::now() < end, "{place}: it is not proved");
            thread::sleep(Duration::from_millis(1));
        }
    }
}

#[test]
fn no_frame_of_an_odd_file_is_a_wrong_one() {
    let compared: usize = FAMILIES.iter().map(|family| check(*family, 1, 12)).sum();
    assert!(compared >= 150, "{compared}");
}

/// `make fuzz` runs it.
#[test]
#[ignore = "takes minutes"]
fn no_frame_of_many_odd_files_is_a_wrong_one() {
    let seeds = 2..32;
    let compared = seeds.flat_map(|seed| FAMILIES.iter().map(move |it| check(*it, seed, 15)));
    assert!(compared.sum::<usize>() >= 5000);
}

/// Counts what it is asked for and given.
#[derive(Debug, Default)]
struct Counting {
    kept: Mutex<Option<Proof>>,
    given: Mutex<usize>,
}

impl ProofKeeper for Counting {
    fn find(&self, _: &str) -> Option<Proof> {
        self.kept.lock().expect("a lock").clone()
    }

    fn keep(&self, _: &str, proof: &Proof) {
        *self.given.lock().expect("a lock") += 1;
        *self.kept.lock().expect("a lock") = Some(proof.clone());
    }
}

#[test]
fn a_proved_clip_is_not_decoded_again() {
    let clip = made("kept.mp4", &format!("{} {H264}", moving()));
    let keeper = Arc::new(Counting::default());
    let told = Mutex::new(0);
    let open = || {
        let told = |_| *told.lock().expect("a lock") += 1;
        Footage::open_proved(&clip, Some(Arc::clone(&keeper) as Arc<dyn ProofKeeper>), &told)
    };
    let first = open().expect("it opens");
    assert_eq!(*told.lock().expect("a lock"), 60);
    let again = open().expect("it opens");
    assert_eq!((*told.lock().expect("a lock"), *keeper.given.lock().expect("a lock")), (60, 1));
    assert_eq!(first.table().entries(), again.table().entries());
    // A proof of other packets is none.
    Footage::open_proved(&base(), Some(Arc::clone(&keeper) as Arc<dyn ProofKeeper>), &|_| ())
        .expect("it opens");
    assert_eq!(*keeper.given.lock().expect("a lock"), 2);
}

#[test]
fn a_proof_that_is_lost_or_damaged_is_made_anew() {
    let clip = made("kept.mp4", &format!("{} {H264}", moving()));
    let folder = scratch("kept-proofs");
    let _ = fs::remove_dir_all(&folder);
    let state = StateFolder::at(&folder);
    let keeper: Arc<dyn ProofKeeper> = Arc::new(KeptProofs::new(StateFolder::at(&folder)));
    let open = || Footage::open_proved(&clip, Some(Arc::clone(&keeper)), &|_| ());
    let footage = open().expect("it opens");
    let path = state.proof_of(&footage.content_hash().expect("it can be read"));
    let whole = fs::read(&path).expect("the proof");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        let rights = |path: &Path| fs::metadata(path).expect("it").permissions().mode() & 0o777;
        assert_eq!([rights(&path), rights(path.parent().expect("a folder"))], [0o600, 0o700]);
    }
    let mut torn = whole.clone();
    torn[40] ^= 1;
    for bytes in [Some(torn), Some(whole[..whole.len() / 2].to_vec()), None] {
        fs::remove_file(&path).expect("it was there");
        if let Some(bytes) = bytes {
            fs::write(&path, bytes).expect("it is written");
        }
        open().expect("it opens");
        assert_eq!(fs::read(&path).expect("the proof"), whole);
    }
}
