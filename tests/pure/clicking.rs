//! How well people click, learnt from points that they placed again.

use std::collections::BTreeMap;

use stillcall::{
    geometry::rng::Rng,
    marks::{At, ClickedPoint, Clicking, ClipFacts, How, Id, OwnClicks, Quantity, Reading, Sheaf},
    units::{
        Coded, FrameIndex, FrameRef, Magnitude, Orientation, PixelShape, Ticks, TimeBase, Upright,
    },
};

fn sheaf(judge: &str, height: u32) -> Sheaf {
    let mut sheaf = Sheaf::default();
    judge.clone_into(&mut sheaf.routine.judge);
    sheaf.clip = Some(ClipFacts {
        name: "meet.mp4".to_owned(),
        quick_id: "q".to_owned(),
        content_hash: None,
        time_base: TimeBase::new(1, 15_360).unwrap(),
        upright: Upright {
            coded_width: 1920,
            coded_height: height,
            pixel: PixelShape::SQUARE,
            orientation: Orientation::UPRIGHT,
        },
        orientation_override: None,
        assumed_times: false,
        unknown: BTreeMap::new(),
    });
    sheaf
}

/// A split whose points were placed so many times, each `s` pixels off as it falls.
fn split(id: u64, times: usize, s: f64, rng: &mut Rng) -> Reading {
    let ticks = Ticks(512);
    let frame = FrameRef { ticks, index: FrameIndex(1), field: None, lo: ticks, hi: ticks };
    let places = [[700.0, 500.0], [500.0, 600.0], [702.0, 500.0], [900.0, 620.0]];
    let mut points = Vec::new();
    for _ in 0..times {
        for (name, place) in Quantity::Split.points().iter().zip(places) {
            let coded = Coded(place.map(|at| at + s * rng.normal()));
            points.push(ClickedPoint { name: (*name).to_owned(), coded, frame: None });
        }
    }
    Reading {
        id: Id(id),
        of: Id(1),
        quantity: Quantity::Split,
        value: Magnitude(0.0),
        u: Magnitude(0.0),
        at: At::Frame(frame),
        points,
        how: How::default(),
    }
}

fn learn(clicking: &mut Clicking, sheaf: &Sheaf, reading: &Reading) {
    clicking.take(Clicking::repeats(sheaf, reading).unwrap());
}

/// The spreads are planted; what comes back may be off by three standard deviations of a spread of so
/// many degrees of freedom, 1 / √(2ν) of it (JCGM 100 E.4.3).
#[test]
fn two_peoples_clicks_are_told_apart_and_found_again() {
    let mut rng = Rng::new(5);
    let mut clicking = Clicking::default();
    for (judge, s) in [("J-2", 1.2_f64), ("J-7", 3.4)] {
        let own = sheaf(judge, 1080);
        for id in 0..20 {
            learn(&mut clicking, &own, &split(id, 2, s, &mut rng));
        }
        let found = clicking.of(judge, Quantity::Split, 1080).unwrap();
        assert_eq!(found.repeats, 80);
        let within = 3.0 * s / (2.0 * found.freedom()).sqrt();
        assert!((found.s - s).abs() < within, "{judge}: {} for {s}", found.s);
        assert!(found.is_enough());
    }
    // Of another quantity, another picture and another person nothing is known.
    assert_eq!(clicking.of("J-2", Quantity::Kick, 1080), None);
    assert_eq!(clicking.of("J-2", Quantity::Split, 2160), None);
    assert_eq!(clicking.of("J-3", Quantity::Split, 1080), None);
    clicking.forget("J-7");
    assert_eq!(clicking.of("J-7", Quantity::Split, 1080), None);
    assert!(clicking.of("J-2", Quantity::Split, 1080).is_some());
}

#[test]
fn few_repeats_do_not_count_and_one_reading_counts_once() {
    let mut rng = Rng::new(6);
    let (own, mut clicking) = (sheaf("J-2", 1080), Clicking::default());
    learn(&mut clicking, &own, &split(1, 1, 2.0, &mut rng));
    assert_eq!(clicking.of("J-2", Quantity::Split, 1080), None, "placed once tells nothing");
    for _ in 0..3 {
        learn(&mut clicking, &own, &split(1, 2, 2.0, &mut rng));
    }
    let known = clicking.of("J-2", Quantity::Split, 1080).unwrap();
    assert_eq!(known.repeats, 4);
    assert!(!known.is_enough(), "{} are asked for", OwnClicks::ENOUGH);
    learn(&mut clicking, &own, &split(2, 2, 2.0, &mut rng));
    assert!(clicking.of("J-2", Quantity::Split, 1080).unwrap().is_enough());
    // Kept anew with every point placed once, it tells nothing any more.
    learn(&mut clicking, &own, &split(1, 1, 2.0, &mut rng));
    assert_eq!(clicking.of("J-2", Quantity::Split, 1080).unwrap().repeats, 4);
    let nobody = sheaf("", 1080);
    assert!(Clicking::repeats(&nobody, &split(1, 2, 2.0, &mut rng)).is_none());
}

#[test]
fn what_is_remembered_is_bounded_and_what_is_damaged_is_left_out() {
    let mut rng = Rng::new(7);
    let (own, mut clicking) = (sheaf("J-2", 1080), Clicking::default());
    for id in 0..200 {
        learn(&mut clicking, &own, &split(id, 2, 2.0, &mut rng));
    }
    assert_eq!(clicking.of("J-2", Quantity::Split, 1080).unwrap().repeats, 240, "60 readings");
    for person in 0..3000 {
        learn(&mut clicking, &sheaf(&format!("P-{person}"), 1080), &split(1, 2, 2.0, &mut rng));
    }
    assert!(serde_json::to_string(&clicking).unwrap().len() < 400_000);
    assert_eq!(clicking.of("P-0", Quantity::Split, 1080), None, "the oldest goes first");
    assert!(clicking.of("P-2999", Quantity::Split, 1080).is_some());
    let one = |squares: &str, again: &str| {
        format!(
            r#"{{"repeats":[{{"person":"J-2","quantity":"split","of":"q","rows":1080,
            "squares":{squares},"again":{again}}}]}}"#
        )
    };
    let known = |text: &str| {
        let read: Clicking = serde_json::from_str(text).unwrap();
        read.sound().of("J-2", Quantity::Split, 1080)
    };
    assert!(known(&one("64.0", "8")).is_some_and(|own| (own.s - 2.0).abs() < 1e-12));
    for (squares, again) in [("-1.0", "8"), ("1e300", "8"), ("64.0", "0"), ("1.0", "4000000000")] {
        assert_eq!(known(&one(squares, again)), None, "{squares} {again}");
    }
    // Points placed on the very same pixel are still known to a pixel only: JCGM 100 F.2.2.1.
    let same = known(&one("0.0", "8")).unwrap().s;
    assert!((same - 1.0 / 12_f64.sqrt()).abs() < 1e-12);
}
