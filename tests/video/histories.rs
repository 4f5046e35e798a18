//! Whatever was asked before, with any number of threads and any cache: frame `k` is frame `k`.

use std::{cell::Cell, path::PathBuf, sync::OnceLock};

use proptest::prelude::*;
use stillcall::footage::{DecodeError, Decoder, Footage};

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

/// Three clips with what `ffmpeg` decodes from them.
fn known() -> &'static [Known] {
    static KNOWN: OnceLock<Vec<Known>> = OnceLock::new();
    KNOWN.get_or_init(|| {
        let open = made("open_hevc.mp4", &format!("{} {HEVC}:open-gop=1", usual()));
        let clips: [PathBuf; 3] = [base(), derived("plain.ts", &base(), "-c copy"), open];
        clips
            .iter()
            .map(|clip| {
                let footage = Footage::open(clip).expect("it opens");
                let hashes = oracle::linear(clip, &footage);
                assert_eq!(hashes.len(), 120);
                Known { footage, hashes }
            })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..Default::default() })]

    #[test]
    fn every_history_gives_the_same_pictures(
        which in 0..3_usize,
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

/// Pictures of 256 x 144 in 4:2:0 take 55 296 bytes, with the rows' filling somewhat more: of a
/// budget of ten, at most ten are kept; of none, the four that are kept always.
#[test]
fn the_cache_keeps_to_its_budget() {
    for (budget, most) in [(552_960, 10), (0, 4)] {
        let footage = &known()[0].footage;
        let mut decoder = Decoder::with_budget(footage, 1, budget);
        for k in (0..120).rev() {
            decoder.picture(k).expect("a picture");
            let kept = (0..120).filter(|&k| decoder.has(k)).count();
            assert!((1..=most).contains(&kept), "{kept} pictures are kept");
        }
    }
}
