//! Whether the camera stood still, on pictures that are drawn from spots of light of known place and so
//! share nothing with what looks for patches in them.

use proptest::prelude::*;
use stillcall::geometry::{
    camera::{grey::Grey, moved::Motion},
    rng::Rng,
};

const WIDE: usize = 640;
const HIGH: usize = 360;
const CENTRE: [f64; 2] = [320.0, 180.0];

/// Where a camera moves what it sees.
#[derive(Clone, Copy, Default)]
struct Move {
    by: [f64; 2],
    turned: f64,
    grown: f64,
}

impl Move {
    fn of(self, place: [f64; 2]) -> [f64; 2] {
        let (sin, cos) = self.turned.to_radians().sin_cos();
        let [x, y] = [place[0] - CENTRE[0], place[1] - CENTRE[1]];
        let size = 1.0 + self.grown;
        [
            CENTRE[0] + self.by[0] + size * (cos * x - sin * y),
            CENTRE[1] + self.by[1] + size * (sin * x + cos * y),
        ]
    }
}

/// A spot: its place, how far it reaches and how bright it is.
type Spot = ([f64; 2], f64, f64);

fn hall(seed: u64) -> Vec<Spot> {
    let mut rng = Rng::new(seed);
    let mut spot = || {
        let at = [rng.between(-300.0, 940.0), rng.between(-200.0, 560.0)];
        (at, rng.between(1.5, 8.0), rng.between(-70.0, 70.0))
    };
    (0..900).map(|_| spot()).collect()
}

/// A picture of the hall with somebody in it, who covers what is behind, in a camera's noise.
fn filmed(hall: &[Spot], moved: Move, body: [f64; 2], (light, seed): (f64, u64)) -> Grey {
    let mut picture = vec![110.0; WIDE * HIGH];
    for (at, reach, bright) in hall {
        let [x, y] = moved.of(*at);
        let span = |c: f64, most: usize| {
            let end = |c: f64| c.clamp(0.0, most as f64) as usize;
            end(c - 3.5 * reach)..end(c + 3.5 * reach)
        };
        for v in span(y, HIGH) {
            for u in span(x, WIDE) {
                let square = (u as f64 - x).powi(2) + (v as f64 - y).powi(2);
                picture[v * WIDE + u] += bright * (-square / (2.0 * reach * reach)).exp();
            }
        }
    }
    let mut rng = Rng::new(seed);
    let grey = (0..WIDE * HIGH).map(|place| {
        let [x, y] = [place % WIDE, place / WIDE].map(|c| c as f64);
        let is_body = (x - body[0]).abs() < 40.0 && (y - body[1]).abs() < 110.0;
        // Stripes that go with the body.
        let of_body = 90.0 + 60.0 * ((x - body[0]) / 5.0).sin() * ((y - body[1]) / 7.0).cos();
        let seen = if is_body { of_body } else { picture[place] };
        (light * seen + 3.0 * rng.normal()).clamp(0.0, 255.0).round() as f32
    });
    Grey::new(WIDE, grey.collect()).unwrap()
}

/// Within what is said of it, and a fifth of a pixel at most where the motion is small.
#[test]
fn a_background_that_moves_by_a_known_step_is_followed_whatever_the_athlete_does() {
    let hall = hall(1);
    let [left, right] = [[200.0, 190.0], [420.0, 160.0]];
    let before = filmed(&hall, Move::default(), left, (1.0, 11));
    for (by, turned, grown) in [
        ([0.0, 0.0], 0.0, 0.0),
        ([0.3, -0.2], 0.0, 0.0),
        ([1.7, 0.6], 0.0, 0.0),
        ([5.0, -3.0], 0.5, 0.0),
        ([0.0, 0.0], 1.5, 0.0),
        ([0.0, 0.0], 0.0, 0.015),
        ([20.0, 9.0], 0.0, 0.0),
        ([150.0, -40.0], 0.0, 0.0),
    ] {
        let moved = Move { by, turned, grown };
        let after = filmed(&hall, moved, right, (0.9, 12));
        let found = Motion::between(&before, &after).unwrap();
        for place in [[60.0, 60.0], CENTRE, [580.0, 300.0]] {
            let [x, y] = moved.of(place);
            let [dx, dy] = found.off(place);
            let miss = (place[0] + dx - x).hypot(place[1] + dy - y);
            let (far, u) = found.at(place);
            assert!(miss < 0.3 && miss < 4.0 * u, "{by:?} {turned} {grown}: {miss} ± {u}");
            assert!((far - (x - place[0]).hypot(y - place[1])).abs() < 0.3);
        }
    }
}

#[test]
fn what_pictures_do_not_tell_is_not_told() {
    let [here, other] = [hall(1), hall(2)];
    let body = [320.0, 180.0];
    let picture = |hall: &[Spot]| filmed(hall, Move::default(), body, (1.0, 21));
    assert!(Motion::between(&picture(&here), &picture(&other)).is_none(), "another hall");
    // Nothing but noise; and a picture of another size.
    let plain = |seed| filmed(&[], Move::default(), [-900.0, 0.0], (1.0, seed));
    assert!(Motion::between(&plain(1), &plain(2)).is_none(), "a bare wall");
    let small = Grey::new(100, vec![1.0; 5000]).unwrap();
    assert!(Motion::between(&picture(&here), &small).is_none());
    // Panned by more than a third of its width.
    let far = Move { by: [400.0, 0.0], ..Move::default() };
    let gone = filmed(&here, far, body, (1.0, 22));
    assert!(Motion::between(&picture(&here), &gone).is_none(), "panned away");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]
    #[test]
    fn pictures_of_any_size_are_looked_at_without_trouble(
        wide in 1_usize..90,
        light in prop::collection::vec(0.0_f32..255.0, 0..4000),
    ) {
        let rows = light.len() / wide * wide;
        if let Some(grey) = Grey::new(wide, light[..rows].to_vec()) {
            let _ = Motion::between(&grey, &grey);
        }
        prop_assert!(Grey::new(0, Vec::new()).is_none());
        prop_assert!(Grey::new(3, vec![f32::NAN; 3]).is_none());
    }
}
