//! How well people click, learnt from points that they placed again.

use std::collections::BTreeMap;

use stillcall::{
    geometry::rng::Rng,
    marks::{
        At, ClickedPoint, Clicking, ClipFacts, How, Id, OwnClicks, Quantity, Reading, Sheaf,
        Together,
    },
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

/// A reading of the points of a quantity on some frame: where the person sees each joint, which lies
/// `apart` px from where it is as it falls, and placed twice there `s` px off.
fn seen(quantity: Quantity, on: u64, [apart, s]: [f64; 2], rng: &mut Rng) -> Reading {
    let ticks = Ticks(512 * on as i64);
    let frame =
        FrameRef { ticks, index: FrameIndex(on), field: None, lo: ticks, hi: Ticks(ticks.0 + 512) };
    let mut points = Vec::new();
    for (place, name) in quantity.points().iter().enumerate() {
        let joint = [400.0 + 150.0 * place as f64, 500.0].map(|at| at + apart * rng.normal());
        for _ in 0..2 {
            let coded = Coded(joint.map(|at| at + s * rng.normal()));
            points.push(ClickedPoint { name: (*name).to_owned(), coded, frame: None });
        }
    }
    let id = Id(100 + on + 1000 * quantity as u64);
    Reading { quantity, at: At::Frame(frame), points, id, ..split(1, 0, 0.0, rng) }
}

/// Two spreads between people are planted, with a smaller one of each with herself. What comes back is the
/// spread of one click of one person about what all see, so both together; it may be off by three
/// standard deviations of a spread of so many degrees of freedom, 1 / √(2ν) of it (JCGM 100 E.4.3).
#[test]
fn how_far_apart_people_click_is_found_again_beside_how_well_each_does() {
    let mut rng = Rng::new(11);
    let planted = [(Quantity::Split, [3.0, 1.0]), (Quantity::Kick, [6.0, 0.5])];
    let sheaves: Vec<Sheaf> = ["J-2", "J-7", "J-9"]
        .map(|judge| {
            let mut own = sheaf(judge, 1080);
            for (quantity, spread) in planted {
                own.readings.extend((0..15).map(|on| seen(quantity, on, spread, &mut rng)));
            }
            own
        })
        .to_vec();
    let mut clicking = Clicking::default();
    for own in &sheaves {
        own.readings.iter().for_each(|reading| learn(&mut clicking, own, reading));
    }
    let all: Vec<&Sheaf> = sheaves.iter().collect();
    // Looking a second time tells nothing new.
    clicking.take_together(Together::of(&all[..2]));
    clicking.take_together(Together::of(&all));
    clicking.take_together(Together::of(&all));
    for (quantity, [apart, s]) in planted {
        let several = clicking.of_several(quantity, 1080).unwrap();
        assert_eq!(several.repeats as usize, 2 * 15 * quantity.points().len());
        let both = apart.hypot(s);
        let within = 3.0 * both / (2.0 * several.freedom()).sqrt();
        assert!((several.s - both).abs() < within, "{} for {both}", several.s);
        let own = clicking.of("J-7", quantity, 1080).unwrap();
        assert!((own.s - s).abs() < 3.0 * s / (2.0 * own.freedom()).sqrt(), "{} for {s}", own.s);
        // Of the two the larger counts: nobody knows a joint better than people agree on it.
        let how = clicking.how("J-7", quantity, 1080);
        assert_eq!((how.click, how.click_of_several), (Some(several.s), true));
    }
    let read: Clicking = serde_json::from_str(&serde_json::to_string(&clicking).unwrap()).unwrap();
    let [kept, known] =
        [read.sound(), clicking.clone()].map(|it| it.of_several(Quantity::Kick, 1080).unwrap());
    assert!(kept.repeats == known.repeats && (kept.s - known.s).abs() < 1e-9);
    // Somebody new is taken as people are; who is forgotten takes with her what she was part of.
    assert!(clicking.how("J-5", Quantity::Kick, 1080).click_of_several);
    clicking.forget("J-9");
    assert_eq!(clicking.of_several(Quantity::Kick, 1080), None);
    let alone = clicking.how("J-7", Quantity::Kick, 1080);
    assert!(alone.click.is_some() && !alone.click_of_several);
}

#[test]
fn only_what_several_people_placed_on_the_same_frame_is_compared() {
    let mut rng = Rng::new(12);
    let mut two = |judges: [&str; 2], frames: [u64; 2]| {
        [0, 1].map(|k| {
            let mut own = sheaf(judges[k], 1080);
            own.readings.push(seen(Quantity::Kick, frames[k], [2.0, 1.0], &mut rng));
            own
        })
    };
    let told = |sheaves: &[Sheaf; 2]| Together::of(&[&sheaves[0], &sheaves[1]]).len();
    assert_eq!(told(&two(["J-2", "J-7"], [3, 3])), 1);
    assert_eq!(told(&two(["J-2", "J-7"], [3, 4])), 0, "another frame");
    assert_eq!(told(&two(["J-2", "J-2"], [3, 3])), 0, "the same person");
    assert_eq!(told(&two(["J-2", ""], [3, 3])), 0, "nobody knows who");
    let mut other = two(["J-2", "J-7"], [3, 3]);
    other[1].clip.as_mut().unwrap().quick_id = "another".to_owned();
    assert_eq!(told(&other), 0, "another clip");
    // Two of them that far apart meant two athletes.
    let mut far = two(["J-2", "J-7"], [3, 3]);
    far[1].readings[0].points.iter_mut().for_each(|point| point.coded.0[0] += 600.0);
    assert_eq!(told(&far), 0, "another athlete");
    assert!(Together::of(&[]).is_empty());
}
