//! Whatever was asked before, with any number of threads and any cache: frame `k` is frame `k`.

use std::{
    cell::Cell,
    path::PathBuf,
    sync::OnceLock,
    time::{Duration, Instant},
};

use proptest::prelude::*;
use stillcall::footage::{Ahead, DecodeError, Decoder, Footage, Means, Picture, Reader};

use crate::{
    clips::{HEVC, base, derived, made, usual},
    oracle,
};

/// What is asked of a decoder.
#[derive(Clone, Debug)]
enum Ask {
    /// A frame.
    Frame(usize),
    /// The frame so many steps from the last one, kept within the clip.
    Step(isize),
    /// A frame that is no longer wanted after so many looks.
    Dropped(usize, u32),
    /// Starts anew with so many threads and bytes of cache.
    Anew(usize, usize),
}

fn ask() -> impl Strategy<Value = Ask> {
    prop_oneof![
        3 => (0..120_usize).prop_map(Ask::Frame),
        4 => (-3..=3_isize).prop_map(Ask::Step),
        2 => (0..120_usize, 0..40_u32).prop_map(|(k, looks)| Ask::Dropped(k, looks)),
        1 => (1..=4_usize, prop_oneof![Just(0), Just(400_000), Just(1 << 30)])
            .prop_map(|(threads, budget)| Ask::Anew(threads, budget)),
    ]
}

struct Known {
    footage: Footage,
    hashes: Vec<u64>,
}

/// Clips of 120 frames with what `ffmpeg` decodes from them.
fn known() -> &'static [Known] {
    static KNOWN: OnceLock<Vec<Known>> = OnceLock::new();
    KNOWN.get_or_init(|| {
        let open = made("open_hevc.mp4", &format!("{} {HEVC}:open-gop=1", usual()));
        let refresh = "-c:v libx264 -preset veryfast -threads 1 -crf 18 -g 24 -bf 0 -x264-params \
                       intra-refresh=1";
        let motion = "-c:v mjpeg -q:v 3 -pix_fmt yuvj420p";
        let clips: [PathBuf; KNOWN_CLIPS] = [
            base(),
            derived("plain.ts", &base(), "-c copy"),
            open,
            made("refreshed.mp4", &format!("{} {refresh}", usual())),
            made("all_keys.avi", &format!("{} {motion}", usual())),
            derived("plain.mkv", &base(), "-c copy"),
        ];
        clips
            .iter()
            .map(|clip| {
                let footage = Footage::open(clip).expect("it opens");
                let hashes = oracle::linear(clip, &footage);
                assert_eq!(hashes.len(), 120, "{}", clip.display());
                Known { footage, hashes }
            })
            .collect()
    })
}

const KNOWN_CLIPS: usize = 6;

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..Default::default() })]

    #[test]
    fn every_history_gives_the_same_pictures(
        which in 0..KNOWN_CLIPS,
        asks in prop::collection::vec(ask(), 1..24),
    ) {
        let Known { footage, hashes } = &known()[which];
        let mut decoder = Decoder::new(footage, 2);
        let mut last = 0_usize;
        for ask in asks {
            match ask {
                Ask::Anew(threads, budget) => {
                    decoder = Decoder::with_budget(footage, threads, budget);
                    continue;
                }
                Ask::Dropped(k, looks) => {
                    let left = Cell::new(looks);
                    let stop = || left.replace(left.get().saturating_sub(1)) == 0;
                    match decoder.picture_unless(k, &stop) {
                        Ok(picture) => prop_assert_eq!(picture.hash(), hashes[k]),
                        Err(error) => prop_assert!(matches!(error, DecodeError::Abandoned)),
                    }
                    continue;
                }
                Ask::Frame(k) => last = k,
                Ask::Step(by) => last = last.saturating_add_signed(by).min(119),
            }
            let picture = decoder.picture(last).expect("a picture");
            prop_assert_eq!((picture.frame, picture.hash()), (last, hashes[last]));
            prop_assert_eq!(picture.ticks, footage.table().entries()[last].ticks);
        }
    }
}

/// What is asked of a reader.
#[derive(Clone, Debug)]
enum Wish {
    Want(usize),
    Glance(usize),
    /// So many steps of one frame, back or forth, each waited for.
    Walk(isize),
    Near(usize, usize),
}

fn wish() -> impl Strategy<Value = Wish> {
    prop_oneof![
        2 => (0..120_usize).prop_map(Wish::Want),
        1 => (0..120_usize).prop_map(Wish::Glance),
        3 => (-40..=20_isize).prop_map(Wish::Walk),
        1 => (0..120_usize, 0..30_usize).prop_map(|(k, n)| Wish::Near(k, n)),
    ]
}

fn wait(reader: &Reader, k: usize) -> std::sync::Arc<Picture> {
    let end = Instant::now() + Duration::from_secs(60);
    loop {
        match reader.latest() {
            Some(picture) if picture.frame == k => return picture,
            _ => assert!(Instant::now() < end, "frame {k} never came: {:?}", reader.trouble()),
        }
        std::thread::sleep(Duration::from_micros(200));
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 16, failure_persistence: None, ..Default::default() })]

    /// Also when a second decoder works ahead, or is not there, with any room for pictures.
    #[test]
    fn every_wish_gives_the_same_pictures(
        which in 0..KNOWN_CLIPS,
        budget in prop_oneof![Just(0), Just(1_500_000), Just(4_000_000), Just(1 << 30)],
        ahead in prop_oneof![Just(Ahead::Fetch), Just(Ahead::Wait)],
        wishes in prop::collection::vec(wish(), 1..12),
    ) {
        let Known { footage, hashes } = &known()[which];
        let reader = Reader::with_means(footage.clone(), Means { budget, ahead }, || {});
        let mut last = 0_usize;
        for wish in wishes {
            match wish {
                Wish::Near(k, n) => reader.near(k, n),
                Wish::Want(k) => { last = k; reader.want(k); }
                Wish::Glance(k) => { last = k; reader.glance(k); }
                Wish::Walk(steps) => for _ in 0..steps.unsigned_abs() {
                    last = last.saturating_add_signed(steps.signum()).min(119);
                    reader.want(last);
                    let picture = wait(&reader, last);
                    prop_assert_eq!(picture.hash(), hashes[last], "frame {}", last);
                },
            }
        }
        reader.want(last);
        let picture = wait(&reader, last);
        prop_assert_eq!(picture.hash(), hashes[last], "frame {}", last);
        prop_assert_eq!(picture.ticks, footage.table().entries()[last].ticks);
    }
}

/// A decoder looks whether it is still wanted before each packet and each picture. From a key
/// picture to a frame there are at most a run's packets, for an open run twice as many, and those
/// that are under way in the decoder.
#[test]
fn no_frame_costs_more_than_its_run() {
    for Known { footage, .. } in known() {
        let keys = footage.table().entries().iter().enumerate().filter(|(_, entry)| entry.key);
        let keys: Vec<usize> = keys.map(|(k, _)| k).chain([120]).collect();
        let run = keys.windows(2).map(|pair| pair[1] - pair[0]).max().expect("a run");
        let most = 2 * (2 * run + 16);
        let mut decoder = Decoder::with_budget(footage, 2, 0);
        for k in (0..120).map(|i| (i * 37 + 5) % 120).chain((60..120).rev()) {
            let looks = Cell::new(0);
            let stop = || {
                looks.set(looks.get() + 1);
                false
            };
            decoder.picture_unless(k, &stop).expect("a picture");
            assert!(looks.get() <= most, "frame {k}: {} looks, {most} at most", looks.get());
        }
    }
}

/// Key pictures are 0, 24, 48 and so on; half of the others have none that leans on them. What is
/// left out on the way to a frame would have to be decoded again for the next step back.
#[test]
fn only_who_jumps_again_and_again_leaves_pictures_out() {
    let mut decoder = Decoder::new(&known()[0].footage, 2);
    let mut all_at_hand = |k: usize, from: usize| {
        decoder.picture(k).expect("a picture");
        (from..=k).all(|k| decoder.has(k))
    };
    assert!(all_at_hand(46, 24), "a first jump");
    assert!(!all_at_hand(118, 96), "a second one");
    // Some of the nearest are at hand; the first that is not fetches all.
    assert!((110..118).rev().any(|k| all_at_hand(k, 96)), "steps");
    assert!(all_at_hand(70, 48), "a jump after a step");
    assert!(!all_at_hand(20, 0), "one more");
}

/// A step forth and back is where it began, and the ends hold.
#[test]
fn a_step_forth_and_back_is_no_step() {
    let Known { footage, hashes } = &known()[0];
    let reader = Reader::spawn(footage.clone(), || {});
    for k in [0, 1, 23, 24, 25, 60, 118] {
        for frame in [k, k + 1, k] {
            reader.want(frame);
            assert_eq!(wait(&reader, frame).hash(), hashes[frame]);
        }
    }
}

/// Pictures of 256 x 144 in 4:2:0 take 55 296 bytes, with the rows' filling somewhat more: of a
/// budget of ten, at most ten are kept on the way back, and half of them on the way forward; of
/// none, the four that are kept always.
#[test]
fn the_cache_keeps_to_its_budget() {
    let back: Vec<usize> = (0..120).rev().collect();
    let forward: Vec<usize> = (0..120).collect();
    for (budget, walk, most) in [(552_960, &back, 10), (552_960, &forward, 5), (0, &back, 4)] {
        let footage = &known()[0].footage;
        let mut decoder = Decoder::with_budget(footage, 1, budget);
        for &k in walk {
            decoder.picture(k).expect("a picture");
            let kept = (0..120).filter(|&k| decoder.has(k)).count();
            assert!((1..=most).contains(&kept), "{kept} pictures are kept");
        }
    }
}
