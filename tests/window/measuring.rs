//! Placing the points of an angle by keys and clicks.

use iced::Point;
use stillcall::{marks::What, units::FrameIndex};

use crate::screens::{assert_says, fresh, marks_of, put, saved};

/// The hands leave between two frames, so that the window asks for the same points on the next one;
/// one key shows it.
#[test]
fn a_release_is_asked_for_on_the_frame_after_as_well() {
    let (mut window, clip) = fresh("release");
    window.press(&["Return"]);
    assert!(window.click("Vault") && window.click("Curlew"));
    window.press(&["Tab"]);
    window.write("J-9");
    window.press(&["Return"]);
    window.press(&["Return"]);
    window.write("handspring");
    window.press(&["Return", "Right", "Right"]);
    window.shot();
    window.press(&["r"]);
    window.shot();
    window.press(&["a"]);
    window.shot();
    let place = |window: &mut stillcall::window::Harness, hips: f32| {
        for (x, y) in [(400.0, 400.0), (404.0, 400.0), (hips, 250.0), (hips + 3.0, 250.0)] {
            window.click_at(Point::new(x, y));
        }
    };
    assert_says(&mut window, "Click the left hand");
    place(&mut window, 400.0);
    assert_says(&mut window, "Which way does the athlete travel?");
    window.press(&["Right"]);
    assert_says(&mut window, "The hands leave before the next frame: . shows it");
    assert_says(&mut window, "moment between frames");
    window.press(&["."]);
    window.shot();
    assert_says(&mut window, "Click the left hand");
    place(&mut window, 430.0);
    assert_says(&mut window, "Read half way between");
    assert!(!window.says("The hands leave before"), "{:?}", window.texts());
    window.press(&["Return"]);
    window.save();
    let sheaf = saved(&marks_of(&clip, "1"));
    let released = sheaf.marks.iter().find(|it| it.what == What::HandRelease).unwrap();
    let [of_mark, of_reading] =
        [&released.at, &sheaf.readings[0].at].map(|at| *at.frame().unwrap());
    assert_eq!(of_reading.index, FrameIndex(2));
    for frame in [of_mark, of_reading] {
        assert_eq!(frame.lo, frame.ticks, "nothing of it lies before the last touch");
        assert!(frame.hi > frame.ticks);
    }
    assert_eq!(sheaf.readings[0].points.iter().filter(|it| it.frame.is_some()).count(), 4);
}

/// Whoever places points again is known by her clicks from then on, is told so, and can have them
/// forgotten.
#[test]
fn a_persons_own_clicks_are_learnt_told_and_forgotten() {
    let (mut window, _) = fresh("own-clicks");
    window.press(&["Return"]);
    assert!(window.click("Beam"));
    window.press(&["Tab"]);
    window.write("J-41");
    window.press(&["Return"]);
    put(&mut window, "leap");
    window.shot();
    window.press(&["a"]);
    window.shot();
    assert!(!window.says("your clicks"), "nothing is known of her");
    for round in 0..3_u8 {
        if round > 0 {
            window.press(&["r"]);
        }
        for (x, y) in [(380.0, 250.0), (260.0, 290.0), (420.0, 250.0), (540.0, 300.0)] {
            let off = 2.0 * f32::from(round);
            window.click_at(Point::new(x + off, y - off));
        }
    }
    window.press(&["Return"]);
    window.shot();
    window.press(&["Right", "Right", "Right"]);
    window.shot();
    put(&mut window, "leap");
    window.shot();
    window.press(&["a"]);
    assert_says(&mut window, "px from 8 repeats (Shift R forgets)");
    // Going on with it later keeps it, and it can be forgotten on the way.
    window.click_at(Point::new(380.0, 250.0));
    assert_says(&mut window, "your clicks: ");
    window.press(&["shift+r"]);
    assert!(!window.says("your clicks"), "{:?}", window.texts());
}

/// A plane asks for points until they check each other, and what is measured in it on another frame
/// says what the pictures tell of the camera since.
#[test]
fn a_plane_asks_for_points_that_check_it_and_is_held_against_the_frame_of_an_angle() {
    let (mut window, clip) = fresh("plane-checked");
    window.press(&["Return"]);
    assert!(window.click("Beam"));
    window.press(&["Tab"]);
    window.write("J-9");
    window.press(&["Return"]);
    window.shot();
    window.press(&["w", "Return"]);
    window.shot();
    assert_says(&mut window, "click the mat straight below the left end");
    for (x, y) in [(100.0, 505.0), (700.0, 505.0), (700.0, 365.0), (100.0, 365.0)] {
        window.click_at(Point::new(x, y));
    }
    assert_says(&mut window, "Four points fix it, and nothing checks them");
    assert_says(&mut window, "Too few points to check each other");
    assert_says(&mut window, "click the top edge, a third of the way from the left");
    // What is not there is passed over; two seams are clicked, which with two edges make six points.
    for (x, y) in [(300.0, 366.0), (500.0, 364.0), (300.0, 505.0)] {
        window.click_at(Point::new(x, y));
    }
    assert_says(&mut window, "Too few points to check each other");
    window.click_at(Point::new(500.0, 506.0));
    assert_says(&mut window, "It fits; its points miss their places by");
    assert_says(&mut window, "By itself it leaves ±");
    assert!(!window.says("Too few points"), "{:?}", window.texts());
    window.press(&["Return"]);
    window.shot();
    window.press(&["Right", "Right", "Right"]);
    window.shot();
    put(&mut window, "leap");
    window.shot();
    window.press(&["a"]);
    window.shot();
    window.settle();
    assert_says(&mut window, "in the plane “beam side”, camera stood still since");
    for (x, y) in [(380.0, 250.0), (260.0, 290.0), (420.0, 250.0), (540.0, 300.0)] {
        window.click_at(Point::new(x, y));
    }
    window.press(&["Return"]);
    window.save();
    let sheaf = saved(&marks_of(&clip, "1"));
    let camera = sheaf.readings[0].how.camera.as_ref().unwrap();
    assert_eq!(Some(camera.plane), sheaf.planes[0].frame);
    assert!(camera.moved.is_some_and(stillcall::marks::Moved::is_still), "{camera:?}");
    assert_eq!(sheaf.planes[0].points.len(), 8);
}
