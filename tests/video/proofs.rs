//! Undamaged files whose time stamps tell another order, or other pictures, than decoding them does:
//! every way to a frame gives what `ffmpeg` decodes from the beginning to the end.

use std::{
    fs,
    path::Path,
    sync::{Arc, Mutex},
    thread,
    time::{Duration, Instant},
};

use image::{DynamicImage, RgbImage};
use stillcall::{
    footage::{CopyWishes, Decoder, Footage, Picture, Proof, ProofKeeper, Reader},
    marks::StateFolder,
    proofs::KeptProofs,
};

use crate::{
    clips::{H264, base, made, scratch},
    drawn::Drawn,
    exact,
    handing_over::stills_of_page,
    looks::still,
    misleading::{FAMILIES, Family, moving},
    oracle,
};

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
    let on_page = are_the_stills_of_a_page(&clip, &frames, (&footage, &expected), (seed, &place()));
    is_the_excerpt(&clip, frames[0].min(frames[1]), frames[0].max(frames[1]), &expected, &place());
    let shown = Footage::open_beginning(&clip).expect("it opens");
    is_shown(shown, &frames, &expected, &place());
    2 * frames.len() + 3 + on_page
}

/// The command's way, from a clip that was opened by its time stamps.
fn is_the_still(clip: &Path, k: usize, proved: &Footage, hash: u64, place: &str) {
    let footage = Footage::open(clip).expect("it opens");
    let png = still(&footage, k, None).expect("a still");
    let image = image::load_from_memory(&png).expect("a PNG").into_rgb8();
    let right = Decoder::new(proved, 1).picture(k).expect("a picture");
    assert_eq!(right.hash(), hash, "{place}: frame {k}");
    assert!(image == rgb(&right), "{place}: the still of frame {k}");
}

fn rgb(picture: &Picture) -> RgbImage {
    DynamicImage::from(picture.to_rgba_upright()).into_rgb8()
}

/// The page's way: stills of a score sheet with marks on these frames; returns how many.
fn are_the_stills_of_a_page(
    clip: &Path,
    frames: &[usize],
    (proved, expected): (&Footage, &[u64]),
    (seed, place): (u64, &str),
) -> usize {
    let mut frames: Vec<usize> = frames.iter().copied().take(6).collect();
    frames.sort_unstable();
    // Of two frames at one time a mark means the one that stays.
    let at_its_time = |&k: &usize| proved.table().at(proved.table().entries()[k].ticks);
    frames = frames.iter().map(at_its_time).collect();
    frames.dedup();
    let file = clip.file_stem().expect("a name").to_string_lossy();
    let stills = stills_of_page(&format!("page-{seed}-{file}"), clip, &frames);
    assert_eq!(stills.len(), frames.len(), "{place}");
    let mut decoder = Decoder::new(proved, 1);
    for (&k, still) in frames.iter().zip(&stills) {
        let right = decoder.picture(k).expect("a picture");
        assert_eq!(right.hash(), expected[k], "{place}: frame {k}");
        assert!(*still == rgb(&right), "{place}: frame {k} on the page");
    }
    stills.len()
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
    let compared: usize = FAMILIES.iter().map(|family| check(*family, 1, 16)).sum();
    assert!(compared >= 300, "{compared}");
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
