//! The reader's thread gives what is wished for, newest wish first.

use std::{
    sync::mpsc,
    time::{Duration, Instant},
};

use stillcall::footage::{Decoder, Footage, Note, Reader};

use crate::{
    clips::{base, changed, derived, made, source},
    oracle,
};

/// Long enough for a loaded machine; a test that waits so long has failed.
const LONG: Duration = Duration::from_secs(60);

fn reader() -> (Reader, mpsc::Receiver<()>) {
    let (sender, woken) = mpsc::channel();
    let sender = std::sync::Mutex::new(sender);
    let footage = Footage::open(&base()).expect("it opens");
    let wake = move || {
        // After the test is over nobody listens.
        let _ = sender.lock().expect("the lock").send(());
    };
    (Reader::spawn(footage, wake), woken)
}

/// Waits until something is there, woken by the reader.
fn wait_for<T>(woken: &mpsc::Receiver<()>, mut found: impl FnMut() -> Option<T>) -> T {
    let end = Instant::now() + LONG;
    loop {
        if let Some(found) = found() {
            return found;
        }
        assert!(Instant::now() < end, "the reader is silent");
        let _ = woken.recv_timeout(Duration::from_millis(50));
    }
}

fn shows(reader: &Reader, k: usize) -> Option<u32> {
    reader.latest().filter(|picture| picture.frame == k).map(|picture| oracle::bars(&picture))
}

#[test]
fn every_wish_is_met_by_its_own_picture() {
    let (reader, woken) = reader();
    for k in [0, 119, 60, 59, 58, 61, 3] {
        reader.want(k);
        assert_eq!(wait_for(&woken, || shows(&reader, k)), k as u32);
    }
}

#[test]
fn the_newest_wish_wins_and_the_number_belongs_to_the_picture() {
    let (reader, woken) = reader();
    for round in 0..20 {
        for k in (0..120).rev() {
            reader.want(k);
            if let Some(picture) = reader.latest() {
                assert_eq!(oracle::bars(&picture), picture.frame as u32);
            }
        }
        let last = (round * 31) % 120;
        reader.want(last);
        assert_eq!(wait_for(&woken, || shows(&reader, last)), last as u32);
        // Nothing older comes after it.
        std::thread::sleep(Duration::from_millis(5));
        assert_eq!(reader.latest().map(|picture| picture.frame), Some(last));
    }
}

#[test]
fn a_glance_ends_on_the_exact_frame() {
    let (reader, woken) = reader();
    reader.glance(95);
    assert_eq!(wait_for(&woken, || shows(&reader, 95)), 95);
    // The key picture before it was shown on the way, so it is at hand.
    assert!(reader.cached(72).is_some());
    // The next step finds its neighbours, although the way to the frame was cut short.
    reader.want(94);
    assert_eq!(wait_for(&woken, || shows(&reader, 94)), 94);
}

#[test]
fn neighbours_come_when_nothing_else_is_to_be_done() {
    let (reader, woken) = reader();
    reader.want(50);
    reader.near(50, 4);
    for k in 46..=54 {
        let picture = wait_for(&woken, || reader.cached(k));
        assert_eq!(oracle::bars(&picture), k as u32);
    }
}

#[test]
fn small_pictures_are_made_when_asked_for() {
    let (reader, woken) = reader();
    assert!(reader.small(100, 72).is_none());
    let small = wait_for(&woken, || reader.small(100, 72));
    assert_eq!(small.dimensions(), (128, 72));
    // 100 is 1100100 in binary.
    let cells: Vec<bool> = (0..8).map(|cell| small.get_pixel(cell * 8 + 4, 2).0[1] > 128).collect();
    assert_eq!(cells, [false, false, true, false, false, true, true, false]);
}

#[test]
fn a_frame_that_does_not_exist_is_said_and_the_last_picture_stays() {
    let (reader, woken) = reader();
    reader.want(7);
    wait_for(&woken, || shows(&reader, 7));
    reader.want(500);
    let (frame, error) = wait_for(&woken, || reader.trouble());
    assert_eq!(frame, 500);
    assert!(error.to_string().contains("has no frame 500"), "{error}");
    assert_eq!(reader.latest().map(|picture| picture.frame), Some(7));
    reader.want(8);
    wait_for(&woken, || shows(&reader, 8));
    assert!(reader.trouble().is_none());
}

#[test]
fn the_table_is_proved_in_idle_time() {
    let (reader, woken) = reader();
    let proved = wait_for(&woken, || reader.proved());
    assert!(proved.table().is_proved() && reader.footage().table().is_proved());
    assert_eq!(proved.table().len(), 120);
    reader.want(77);
    assert_eq!(wait_for(&woken, || shows(&reader, 77)), 77);
}

/// Whoever looks at the beginning of a long clip need not wait for its end to be sure.
#[test]
fn frames_are_proved_one_after_another() {
    let large = "-f lavfi -i testsrc2=s=1920x1080:r=30:d=4 -c:v libx264 -preset ultrafast -g 30";
    let once = made("large.mp4", large);
    let clip = derived("large-for-long.mp4", &once, "-stream_loop 14 {} -c copy");
    let reader = Reader::spawn(Footage::open_beginning(&clip).expect("it opens"), || {});
    let end = Instant::now() + LONG;
    reader.want(1);
    let sure = loop {
        // In this order, so that what is sure was so before all of it was proved.
        let all = reader.footage().table().is_proved();
        match reader.latest() {
            Some(picture) if picture.is_proved() && picture.frame == 1 => {
                assert!(!all, "the beginning is proved before the end");
                break picture;
            }
            _ => assert!(Instant::now() < end, "the first frames are never proved"),
        }
        std::thread::sleep(Duration::from_millis(5));
    };
    let expected = oracle::linear(&once, &Footage::open(&once).expect("it opens"));
    assert_eq!(sure.hash(), expected[1]);
    // The end, which is not proved so far, may be looked at all the same.
    let last = reader.footage().table().len() - 1;
    reader.want(last);
    while reader.latest().is_none_or(|picture| picture.frame != last) {
        assert!(Instant::now() < end, "the last frame is never shown: {:?}", reader.trouble());
        std::thread::sleep(Duration::from_millis(5));
    }
    assert_eq!(reader.latest().expect("a picture").hash(), expected[expected.len() - 1]);
}

#[test]
fn repeated_pictures_are_found_and_widen_nothing_silently() {
    let still = "-f lavfi -i color=gray:s=64x64:r=30:d=1 -c:v ffv1";
    let footage = Footage::open(&made("still.mkv", still)).expect("it opens");
    let proved = footage.proved(&|| false).expect("it can be read");
    assert!(proved.facts().notes.contains(&Note::Repeated(29)), "{:?}", proved.facts().notes);
}

/// A slow camera's pictures padded to three frames each, as phones do: nobody can tell which of
/// the three is meant, so the instant is as wide as all of them.
#[test]
fn a_repeated_picture_widens_the_instant() {
    let padded = format!("{} -vf fps=30 -c:v ffv1", source(1, "256x144", "10"));
    let footage = Footage::open(&made("padded.mkv", &padded)).expect("it opens");
    let footage = footage.proved(&|| false).expect("it can be read");
    assert!(footage.facts().notes.contains(&Note::Repeated(20)), "{:?}", footage.facts().notes);
    let table = footage.table();
    let mut decoder = Decoder::new(&footage, 1);
    for k in 0..30 {
        let number = oracle::bars(&decoder.picture(k).expect("a picture")) as usize;
        let same = table.same_picture(k);
        assert!(same.contains(&k));
        let reference = table.frame_ref(k).expect("a frame");
        let at = |k: usize| table.entry(k.min(29)).expect("a frame").ticks;
        assert_eq!(reference.lo, at(same.start.saturating_sub(1)));
        assert_eq!(reference.hi, at(same.end));
        for other in same {
            let shown = oracle::bars(&decoder.picture(other).expect("a picture"));
            assert_eq!(shown as usize, number);
        }
    }
    assert_eq!(table.same_picture(4).len(), 3);
}

/// A middle that was overwritten with zeros: the frames outside stay exact and the program lives.
#[test]
fn damage_stays_where_it_is() {
    let clip = changed("damaged.mp4", &base(), |bytes| {
        let middle = bytes.len() / 2;
        bytes[middle..middle + 400].fill(0);
    });
    let footage = Footage::open(&clip).expect("it opens");
    let footage = footage.proved(&|| false).expect("it can be read");
    let expected = oracle::linear(&clip, &footage);
    assert_eq!(footage.table().len(), expected.len());
    let mut decoder = Decoder::new(&footage, 4);
    for k in (0..expected.len()).rev() {
        let picture = decoder.picture(k).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(picture.hash(), expected[k], "frame {k}");
    }
}

/// While the table of a damaged clip is not proved yet, nothing tells a right picture from a wrong
/// one but the way it was come by: that must not depend on threads or on what was asked before.
#[test]
fn damage_looks_the_same_from_everywhere_before_it_is_proved() {
    let clip = changed("damaged.mp4", &base(), |bytes| {
        let middle = bytes.len() / 2;
        bytes[middle..middle + 400].fill(0);
    });
    let footage = Footage::open(&clip).expect("it opens");
    assert!(!footage.table().is_proved());
    let count = footage.table().len();
    let mut seen: Vec<Option<u64>> = vec![None; count];
    for threads in [1, 4] {
        let orders: [Vec<usize>; 3] = [
            (0..count).collect(),
            (0..count).rev().collect(),
            (0..count).map(|k| (k * 37 + 5) % count).collect(),
        ];
        for order in orders {
            let mut decoder = Decoder::with_budget(&footage, threads, 0);
            for k in order {
                let hash = decoder.picture(k).ok().map(|picture| picture.hash());
                if let (Some(now), Some(before)) = (hash, seen[k]) {
                    assert_eq!(now, before, "frame {k}, {threads} threads");
                }
                seen[k] = seen[k].or(hash);
            }
        }
    }
    // All but those near the damage come out.
    assert!(seen.iter().flatten().count() > count * 3 / 4);
}

/// A transport stream that lost some of its packets.
#[test]
fn lost_packets_are_survived() {
    let stream = derived("plain.ts", &base(), "-c copy");
    let clip = changed("lost.ts", &stream, |bytes| {
        let middle = bytes.len() / 188 / 3 * 188;
        bytes.drain(middle..middle + 188 * 30);
    });
    let footage = Footage::open(&clip).expect("it opens");
    let expected = oracle::linear(&clip, &footage);
    let mut decoder = Decoder::new(&footage, 4);
    assert_eq!(footage.table().len(), expected.len());
    for k in (0..expected.len()).rev() {
        let picture = decoder.picture(k).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(picture.hash(), expected[k], "frame {k}");
    }
}

#[test]
fn a_reader_can_be_dropped_while_it_works() {
    let clip = made(
        "long_run.mp4",
        &format!(
            "{} -c:v libx264 -preset ultrafast -threads 1 -g 9999",
            source(4, "640x360", "30")
        ),
    );
    let footage = Footage::open(&clip).expect("it opens");
    let reader = Reader::spawn(footage, || {});
    reader.want(119);
    drop(reader);
}
