//! What is asked for next while points are placed, and what a click makes of it.

use stillcall::{
    geometry::{
        Lies,
        homography::Along,
        input::{Rotation, Travel},
    },
    marks::{
        At, Edit, History, How, Id, PlaneKind, Quantity, Reading, Sheaf, Step, What,
        placing::{self, Aids, Dial, PointAsked},
    },
    units::{Coded, Degrees, FrameIndex, FrameRef, Magnitude, Ticks},
};

fn frame(index: u64) -> FrameRef {
    let ticks = Ticks(index as i64 * 512);
    FrameRef { ticks, index: FrameIndex(index), field: None, lo: ticks, hi: ticks }
}

fn blank(quantity: Quantity, at: At) -> Reading {
    Reading {
        id: Id(7),
        of: Id(1),
        quantity,
        value: Magnitude(0.0),
        u: Magnitude(0.0),
        at,
        points: Vec::new(),
        how: How::default(),
    }
}

fn point(name: &str) -> PointAsked {
    PointAsked::Point(name.to_owned())
}

/// Clicks on a frame as often as a point is asked for there, each click elsewhere.
fn click_all(reading: &mut Reading, aids: &mut Aids, on: &FrameRef) -> Vec<String> {
    let mut asked = Vec::new();
    while let PointAsked::Point(name) = placing::ask(reading, aids, on) {
        let at = [10.0 * (asked.len() + 1) as f64, 20.0 + reading.points.len() as f64];
        *reading = placing::click(reading, aids, on, Coded(at));
        asked.push(name);
        assert!(asked.len() < 50, "it asks for ever");
    }
    asked
}

#[test]
fn the_points_are_asked_one_after_another_and_the_first_click_says_the_frame() {
    let mut reading = blank(Quantity::BodyLine, At::Frame(frame(3)));
    let mut aids = Aids::default();
    assert_eq!(placing::ask(&reading, &aids, &frame(9)), point("shoulder"));
    let asked = click_all(&mut reading, &mut aids, &frame(9));
    assert_eq!(asked, Quantity::BodyLine.points());
    assert_eq!(reading.at, At::Frame(frame(9)));
    assert!(reading.points.iter().all(|point| point.frame.is_none()));
    assert_eq!(placing::ask(&reading, &aids, &frame(9)), PointAsked::Nothing);
}

#[test]
fn what_cannot_be_seen_is_passed_over_on_its_frame_only() {
    let mut reading = blank(Quantity::BodyLine, At::Frame(frame(9)));
    let mut aids = Aids { skipped: vec![(frame(9), "toe".to_owned())], ..Aids::default() };
    let asked = click_all(&mut reading, &mut aids, &frame(9));
    assert_eq!(asked, ["shoulder", "hip", "knee"]);
    let asked = click_all(&mut reading, &mut aids, &frame(10));
    assert_eq!(asked, ["shoulder", "hip", "knee", "toe"]);
    assert_eq!(reading.points.last().unwrap().frame, Some(frame(10)));
}

#[test]
fn placed_again_goes_round_in_order() {
    let mut reading = blank(Quantity::Kick, At::Frame(frame(4)));
    let mut aids = Aids::default();
    click_all(&mut reading, &mut aids, &frame(4));
    aids.again = 2;
    let asked = click_all(&mut reading, &mut aids, &frame(4));
    assert_eq!(asked, ["hip", "ankle", "hip", "ankle"]);
    assert_eq!(reading.points.len(), 6);
}

#[test]
fn taking_back_goes_to_the_very_beginning_and_no_further() {
    let mut reading = blank(Quantity::Kick, At::Frame(frame(4)));
    let mut aids = Aids::default();
    click_all(&mut reading, &mut aids, &frame(4));
    reading = placing::take_back(&reading, &mut aids).unwrap();
    assert_eq!(placing::ask(&reading, &aids, &frame(4)), point("ankle"));
    reading = placing::take_back(&reading, &mut aids).unwrap();
    assert_eq!(placing::take_back(&reading, &mut aids), None);
}

#[test]
fn a_bent_leg_is_clicked_at_its_knee() {
    let mut reading = blank(Quantity::Split, At::Frame(frame(4)));
    let mut aids = Aids { bent: vec!["right ankle".to_owned()], ..Aids::default() };
    let asked = click_all(&mut reading, &mut aids, &frame(4));
    assert_eq!(asked, ["left hip", "left ankle", "right hip", "right knee"]);
    // Opened again later the knee is asked for again, not the ankle.
    assert_eq!(placing::ask(&reading, &Aids::default(), &frame(4)), PointAsked::Nothing);
}

#[test]
fn a_turn_leads_from_the_lift_to_the_drop_and_asks_its_sense_and_size() {
    let mut reading = blank(Quantity::Turn, At::Span(frame(10), frame(10)));
    let mut aids = Aids::default();
    assert_eq!(click_all(&mut reading, &mut aids, &frame(12)), ["heel", "toe"]);
    assert_eq!(reading.at, At::Span(frame(12), frame(12)));
    assert_eq!(placing::ask(&reading, &aids, &frame(12)), PointAsked::GoTo(None));
    // A heel cannot drop before it has lifted.
    assert_eq!(placing::ask(&reading, &aids, &frame(11)), PointAsked::GoTo(None));
    assert_eq!(click_all(&mut reading, &mut aids, &frame(40)), ["heel", "toe"]);
    assert_eq!(reading.at, At::Span(frame(12), frame(40)));
    let ask = placing::ask(&reading, &aids, &frame(40));
    assert_eq!(ask, PointAsked::Rotation);
    reading = placing::directed(&reading, &ask, Travel::Right);
    assert_eq!(reading.how.rotation, Some(Rotation::Right));
    assert_eq!(placing::ask(&reading, &aids, &frame(40)), PointAsked::About);
    reading = placing::about(&reading, 2);
    assert_eq!(reading.how.about, Some(Degrees(360.0)));
    assert_eq!(placing::ask(&reading, &aids, &frame(40)), PointAsked::Nothing);
    // Later frames may be clicked on too.
    assert_eq!(placing::ask(&reading, &aids, &frame(41)), point("heel"));
}

#[test]
fn a_turn_whose_moments_are_marked_goes_there() {
    let reading = blank(Quantity::Turn, At::Span(frame(12), frame(40)));
    let mut aids = Aids::default();
    assert_eq!(placing::ask(&reading, &aids, &frame(20)), PointAsked::GoTo(Some(frame(12))));
    let mut reading = reading;
    click_all(&mut reading, &mut aids, &frame(12));
    assert_eq!(placing::ask(&reading, &aids, &frame(12)), PointAsked::GoTo(Some(frame(40))));
}

#[test]
fn repulsion_asks_for_the_direction_of_travel() {
    let mut reading = blank(Quantity::Repulsion, At::Frame(frame(4)));
    let mut aids = Aids::default();
    click_all(&mut reading, &mut aids, &frame(4));
    let ask = placing::ask(&reading, &aids, &frame(4));
    assert_eq!(ask, PointAsked::Travel);
    let said = placing::directed(&reading, &ask, Travel::Left);
    assert_eq!(said.how.travel, Some(Travel::Left));
}

#[test]
fn a_floor_asks_for_the_line_of_travel_and_a_wish_for_a_level_line() {
    let mut reading = blank(Quantity::Kick, At::Frame(frame(4)));
    let mut aids = Aids { lies: Some(Lies::Flat), ..Aids::default() };
    click_all(&mut reading, &mut aids, &frame(4));
    assert_eq!(placing::ask(&reading, &aids, &frame(4)), PointAsked::Line(0));
    reading = placing::click(&reading, &mut aids, &frame(4), Coded([1.0, 2.0]));
    assert_eq!(placing::ask(&reading, &aids, &frame(4)), PointAsked::Line(1));
    reading = placing::click(&reading, &mut aids, &frame(4), Coded([3.0, 4.0]));
    assert_eq!(reading.how.line, Some([[1.0, 2.0], [3.0, 4.0]].map(Coded)));
    assert_eq!(placing::ask(&reading, &aids, &frame(4)), PointAsked::Nothing);
}

/// Without a plane an upright and a level edge tell more together than either.
#[test]
fn a_second_wish_for_a_line_asks_for_the_other_one() {
    let mut reading = blank(Quantity::Kick, At::Frame(frame(4)));
    let mut aids = Aids::default();
    click_all(&mut reading, &mut aids, &frame(4));
    let lines = [[[1.0, 2.0], [1.0, 90.0]], [[5.0, 7.0], [90.0, 7.0]]];
    for (wish, ends) in lines.into_iter().enumerate() {
        aids.wants_line = true;
        for (first, at) in ends.into_iter().enumerate() {
            assert_eq!(placing::ask(&reading, &aids, &frame(4)), PointAsked::Line(first), "{wish}");
            reading = placing::click(&reading, &mut aids, &frame(4), Coded(at));
        }
        assert_eq!(placing::ask(&reading, &aids, &frame(4)), PointAsked::Nothing);
    }
    assert_eq!(reading.how.line, Some([[1.0, 2.0], [1.0, 90.0]].map(Coded)));
    assert_eq!(reading.how.level, Some([[5.0, 7.0], [90.0, 7.0]].map(Coded)));
    // In a plane there is none but that of travel.
    (reading.how.level, aids.lies, aids.wants_line) = (None, Some(Lies::Flat), true);
    assert_eq!(placing::ask(&reading, &aids, &frame(4)), PointAsked::Nothing);
}

#[test]
fn settling_on_another_frame_moves_no_point() {
    let mut reading = blank(Quantity::Kick, At::Frame(frame(4)));
    let mut aids = Aids::default();
    click_all(&mut reading, &mut aids, &frame(4));
    click_all(&mut reading, &mut aids, &frame(5));
    let settled = placing::settled_on(&reading, &frame(5));
    assert_eq!(settled.at, At::Frame(frame(5)));
    for index in [4, 5] {
        let on = |reading: &Reading| -> Vec<Coded> {
            let places = placing::on_frame(reading, &frame(index));
            places.into_iter().map(|place| reading.points[place].coded).collect()
        };
        assert_eq!(on(&settled), on(&reading), "frame {index}");
        assert_eq!(on(&settled).len(), 2);
    }
}

#[test]
fn every_click_is_an_edit_that_undo_takes_back() {
    let mut sheaf = Sheaf::default();
    let mut history = History::default();
    let mut reading = blank(Quantity::Kick, At::Frame(frame(4)));
    let mut aids = Aids::default();
    let empty = sheaf.clone();
    for at in [[1.0, 1.0], [2.0, 2.0]] {
        reading = placing::click(&reading, &mut aids, &frame(4), Coded(at));
        let edit = Edit::unfinished(&sheaf, Id(7), Some(reading.clone()));
        // What the journal keeps is what is read back from it.
        let text = serde_json::to_string(&Step::Do(edit)).unwrap();
        history.take(serde_json::from_str(&text).unwrap(), &mut sheaf);
    }
    assert_eq!(sheaf.unfinished(Id(7)), Some(&reading));
    assert_eq!(sheaf.highest_id(), Id(7));
    history.take(Step::Undo, &mut sheaf);
    assert_eq!(sheaf.unfinished(Id(7)).unwrap().points.len(), 1);
    history.take(Step::Undo, &mut sheaf);
    assert_eq!(sheaf, empty);
    history.take(Step::Redo, &mut sheaf);
    history.take(Step::Redo, &mut sheaf);
    assert_eq!(sheaf.unfinished(Id(7)), Some(&reading));
}

#[test]
fn a_plane_in_the_hall_has_its_corners_where_the_sizes_put_them() {
    // Heights count from the floor and feet stand on the mat: common practice, no source. A high
    // rail of 2.50 m and a low one of 1.70 m over a mat of 0.20 m; 1.60 m between the insides of
    // rails of 0.04 m is 1.64 m between their middles; by Pythagoras 1.4316 m apart along the mat.
    let bars = PlaneKind::BarsSide.plane("bars side", &[1.70, 2.50, 1.60, 0.20]).unwrap();
    let places: Vec<[f64; 2]> = bars.points.iter().map(|point| point.place.0).collect();
    let expected = [[0.0, 0.0], [1.4316, 0.0], [1.4316, 2.30], [0.0, 1.50]];
    for (found, expected) in places.iter().zip(expected) {
        assert!((found[0] - expected[0]).abs() < 1e-4 && (found[1] - expected[1]).abs() < 1e-9);
    }
    // Further points lie anywhere on an upright, which is as far along as its foot.
    for point in &bars.points[4..] {
        assert_eq!(point.along, Some(Along::Y), "{}", point.name);
        assert!([0.0, bars.points[1].place.0[0]].contains(&point.place.0[0]), "{}", point.name);
    }
    assert!(PlaneKind::BarsSide.plane("b", &[1.70, 2.50, 0.5, 0.20]).is_err());
    assert!(PlaneKind::BeamSide.plane("b", &[5.0, 1.25, 1.30]).is_err());
    assert!(PlaneKind::FloorMat.plane("m", &[0.0, 1.0]).is_err());
    assert!(PlaneKind::FloorMat.plane("m", &[f64::NAN, 1.0]).is_err());
}

/// The aim is the project's own: clicks on a plane check each other from four numbers too many on, and
/// every kind that stands in a hall offers as many. 500 cm of beam and 125 of height over a mat of 20:
/// sizes of the apparatus.
#[test]
fn every_kind_offers_points_that_check_each_other() {
    for kind in PlaneKind::ALL {
        let sizes: Vec<f64> = kind.sizes().iter().map(|size| size.usual).collect();
        let plane = kind.plane("p", &sizes).unwrap();
        let tells: usize =
            plane.points.iter().map(|it| if it.along.is_some() { 1 } else { 2 }).sum();
        assert!(tells >= 8 + 4, "{} tells {tells} numbers", kind.name());
        // Corners come first: without four of them nothing is fixed.
        assert!(plane.points[..4].iter().all(|point| point.along.is_none()));
    }
    let beam = PlaneKind::BeamSide.plane("beam", &[5.0, 1.25, 0.20]).unwrap();
    let on_top = beam.points.iter().filter(|it| (it.place.0[1] - 1.05).abs() < 1e-9);
    assert_eq!(on_top.filter(|it| it.along == Some(Along::X)).count(), 2);
}

#[test]
fn a_plane_is_an_edit_that_undo_takes_back_and_keeps_its_place() {
    let mut sheaf = Sheaf::default();
    let mut history = History::default();
    let mat = PlaneKind::FloorMat.plane("mat", &[2.0, 1.0]).unwrap();
    let beam = PlaneKind::BeamSide.plane("beam", &[5.0, 1.25, 0.2]).unwrap();
    for plane in [&mat, &beam] {
        let edit = Edit::plane(&sheaf, &plane.name, Some(plane.clone()));
        history.take(Step::Do(edit), &mut sheaf);
    }
    let before = sheaf.clone();
    let mut clicked = mat.clone();
    clicked.points[0].coded.push(Coded([3.0, 4.0]));
    let edit = Edit::plane(&sheaf, "mat", Some(clicked.clone()));
    let text = serde_json::to_string(&Step::Do(edit)).unwrap();
    history.take(serde_json::from_str(&text).unwrap(), &mut sheaf);
    assert_eq!(sheaf.planes, [clicked, beam]);
    assert_eq!(sheaf.planes[0].missing(0, &[2]), Some(1));
    history.take(Step::Undo, &mut sheaf);
    assert_eq!(sheaf, before);
}

#[test]
fn a_length_asks_for_its_depth_and_where_the_plane_tells_nothing_for_the_distance() {
    let mut reading = blank(Quantity::Length, At::Frame(frame(3)));
    let mut aids = Aids { lies: Some(Lies::Upright), ..Aids::default() };
    click_all(&mut reading, &mut aids, &frame(3));
    let asked = |reading: &Reading, aids: &Aids| placing::ask(reading, aids, &frame(3));
    assert_eq!(asked(&reading, &aids), PointAsked::Depth);
    // Three steps nearer, one back; it stays asked for until it is taken.
    aids.dial = Some(Dial::Depth);
    for steps in [1.0, 1.0, 1.0, -1.0] {
        reading = placing::turned(&reading, Dial::Depth, steps);
        assert_eq!(asked(&reading, &aids), PointAsked::Depth);
    }
    assert_eq!(reading.how.depth, Some(0.2));
    aids.dial = None;
    assert_eq!(asked(&reading, &aids), PointAsked::Nothing);
    aids.needs_distance = true;
    assert_eq!(asked(&reading, &aids), PointAsked::Distance);
    reading = placing::turned(&reading, Dial::Distance, 3.0);
    assert_eq!(reading.how.distance, Some(9.5));
    assert_eq!(asked(&reading, &aids), PointAsked::Nothing);
}

#[test]
fn what_lies_on_the_floor_has_no_depth_unless_a_line_stands_it_up() {
    let mut reading = blank(Quantity::Length, At::Frame(frame(3)));
    let mut aids = Aids { lies: Some(Lies::Flat), ..Aids::default() };
    click_all(&mut reading, &mut aids, &frame(3));
    assert_eq!(placing::ask(&reading, &aids, &frame(3)), PointAsked::Nothing);
    reading.how.line = Some([[0.0, 0.0], [10.0, 0.0]].map(Coded));
    assert_eq!(placing::ask(&reading, &aids, &frame(3)), PointAsked::Depth);
}

/// Hands leave between the last frame on which one touches and the next: the reading keeps that
/// much, and wants the same points on the frame after, which steps and clicks alone give it.
#[test]
fn a_release_wants_the_same_points_on_the_frame_after() {
    let beside = |index: u64| {
        let whole = frame(index);
        FrameRef { lo: Ticks(whole.ticks.0 - 512), hi: Ticks(whole.ticks.0 + 512), ..whole }
    };
    let mut reading = blank(Quantity::Repulsion, At::Frame(beside(4)));
    let mut aids = Aids::default();
    click_all(&mut reading, &mut aids, &beside(9));
    let kept = *reading.at.frame().unwrap();
    assert_eq!((kept.lo, kept.hi), (beside(9).ticks, beside(9).hi), "not before the frame");
    assert!(placing::wants_next(&reading));
    let again = click_all(&mut reading, &mut aids, &beside(10));
    assert_eq!(again, Quantity::Repulsion.points());
    assert!(!placing::wants_next(&reading));
    // The last frame of a clip has none after it, and a split is at its peak.
    let mut last = blank(Quantity::Repulsion, At::Frame(frame(4)));
    click_all(&mut last, &mut aids, &frame(4));
    let mut split = blank(Quantity::Split, At::Frame(beside(4)));
    click_all(&mut split, &mut aids, &beside(4));
    assert!(!placing::wants_next(&last) && !placing::wants_next(&split));
}

#[test]
fn a_mark_happened_on_the_side_of_its_frame_that_its_name_says() {
    let whole = FrameRef { lo: Ticks(0), hi: Ticks(1024), ..frame(1) };
    let ends = |what: What| match what.happened(At::Frame(whole)) {
        At::Frame(frame) => (frame.lo.0, frame.hi.0),
        other => panic!("{other:?}"),
    };
    assert_eq!(ends(What::HandRelease), (512, 1024), "the last frame on which a hand touches");
    assert_eq!(ends(What::HandContact { turn: None }), (0, 512), "the first of them");
    assert_eq!(ends(What::HeelDrop), (0, 512));
    assert_eq!(ends(What::Fall), (0, 1024), "nobody knows on which side");
    assert_eq!(What::HandRelease.happened(At::Place(3)), At::Place(3));
}
