//! Figures for the eye: their angle is what the measuring room measures on them.

use stillcall::{
    geometry::{Quantity, angle::wrap},
    practice::eye::{Diary, Figure, Noted, Task, Trainer, Tried, progress},
    units::{Degrees, OnPlane},
};

fn measured(task: &Task) -> f64 {
    let Figure { joints, .. } = &task.figure;
    let names: Vec<&str> = joints.iter().map(|(name, _)| *name).collect();
    let points: Vec<OnPlane> = joints.iter().map(|(_, at)| OnPlane(*at)).collect();
    if task.quantity == Quantity::Turn {
        let heading = |from: usize| {
            Quantity::Turn.shape(&["heel", "toe"]).unwrap().value(&points[from..from + 2], 1.0)
        };
        return wrap(heading(2) - heading(0));
    }
    task.quantity.shape(&names).unwrap().value(&points, 1.0)
}

#[test]
fn what_is_drawn_square_on_is_what_measuring_finds() {
    let mut trainer = Trainer::new(5);
    let mut seen = std::collections::BTreeSet::new();
    for _ in 0..300 {
        let task = trainer.next_task();
        assert_eq!(task.off_square, 0.0, "nothing answered, so still the first level");
        let found = measured(&task);
        assert!((found.abs() - task.truth.0.abs()).abs() < 1e-9, "{:?}: {found}", task.quantity);
        assert!(task.quantity.is_size() || (found - task.truth.0).abs() < 1e-9);
        seen.insert(task.quantity);
    }
    assert_eq!(seen.len(), 9, "every angle comes up");
}

/// The arc that tells the truth turns as far as the angle, about the point where the lines meet.
#[test]
fn the_arc_of_the_truth_is_the_angle() {
    let mut trainer = Trainer::new(8);
    for _ in 0..200 {
        let task = trainer.next_task();
        let about = match task.quantity {
            Quantity::BodyLine => task.figure.joints[1].1,
            _ => [0.0, 0.0],
        };
        let heading = |at: &[f64; 2]| (at[1] - about[1]).atan2(at[0] - about[0]).to_degrees();
        let turned: f64 = task
            .square_on
            .arc
            .windows(2)
            .map(|pair| wrap(heading(&pair[1]) - heading(&pair[0])))
            .sum();
        let size = turned.abs();
        assert!((size - task.truth.0.abs()).abs() < 1e-6, "{:?}: {turned}", task.quantity);
    }
}

fn tried(quantity: Quantity, truth: f64, answer: f64) -> Tried {
    Tried { quantity, truth: Degrees(truth), answer: Degrees(answer), level: 0 }
}

#[test]
fn a_diary_goes_on_after_a_torn_line_and_the_level_with_it() {
    let folder = tempfile::tempdir().unwrap();
    let (mut diary, noted) = Diary::open(folder.path(), "J/2").unwrap();
    assert!(noted.is_empty());
    let note = |answer: f64| Noted {
        date: "2026-11-24".to_owned(),
        tried: tried(Quantity::Kick, 90.0, answer),
    };
    for _ in 0..6 {
        diary.note(&note(91.0)).unwrap();
    }
    drop(diary);
    let path = folder.path().join("J-2.eye");
    let torn = std::fs::read_to_string(&path).unwrap() + "{\"date\":\"2026-";
    std::fs::write(&path, torn).unwrap();
    let (mut diary, noted) = Diary::open(folder.path(), "J/2").unwrap();
    assert_eq!(noted, vec![note(91.0); 6]);
    diary.note(&note(95.0)).unwrap();
    let (_, noted) = Diary::open(folder.path(), "J/2").unwrap();
    assert_eq!(noted.len(), 7, "what comes after a torn line is whole");
    let earlier = noted.iter().take(6).map(|noted| noted.tried);
    assert_eq!(Trainer::going_on(1, earlier).level(), 1, "six sure answers");
}

/// Four errors of 1, −3, 5 and 1 degrees, worked by hand: sizes 10 / 4, bias 4 / 4.
#[test]
fn progress_tells_size_and_bias() {
    let errors = [1.0, -3.0, 5.0, 1.0];
    let noted: Vec<Noted> = errors
        .iter()
        .map(|off| Noted {
            date: "2026-11-24".to_owned(),
            tried: tried(Quantity::Split, 170.0, 170.0 + off),
        })
        .collect();
    let found = progress(&noted);
    let (quantity, line) = found.quantities[0];
    assert_eq!((quantity, line.answers, line.mean_error), (Quantity::Split, 4, Degrees(2.5)));
    assert_eq!(line.bias.unwrap().bias, 1.0);
    assert_eq!(found.days[0].1, line);
    assert!(progress(&noted[..1]).days[0].1.bias.is_err(), "one answer has no bias");
    assert!(progress(&[]).quantities.is_empty());
}

/// Answers that are off by so many degrees, and returns the level at the end.
fn course(off: f64, answers: usize) -> Trainer {
    let mut trainer = Trainer::new(9);
    for _ in 0..answers {
        let task = trainer.next_task();
        let error = trainer.answer(&task, Degrees(task.truth.0 + off)).unwrap();
        assert_eq!(error, Degrees(off));
    }
    trainer
}

#[test]
fn difficulty_follows_the_own_error() {
    assert_eq!(course(2.0, 5).level(), 0, "one round is six answers");
    assert_eq!(course(2.0, 6).level(), 1);
    assert_eq!(course(2.0, 100).level(), 5, "as hard as it gets");
    assert_eq!(course(-6.0, 100).level(), 0, "neither sure nor lost");
    let mut trainer = course(1.0, 12);
    assert_eq!(trainer.level(), 2);
    assert!(trainer.next_task().off_square > 0.0, "off square is a level");
    for _ in 0..6 {
        let task = trainer.next_task();
        trainer.answer(&task, Degrees(task.truth.0 - 20.0));
    }
    assert_eq!(trainer.level(), 1, "down again");
}

#[test]
fn the_quantity_that_is_missed_most_comes_most() {
    let mut trainer = Trainer::new(3);
    let mut kicks = 0;
    for answered in 0..400 {
        let task = trainer.next_task();
        let is_kick = task.quantity == Quantity::Kick;
        kicks += usize::from(is_kick && answered >= 100);
        trainer.answer(&task, Degrees(task.truth.0 + if is_kick { 30.0 } else { 1.0 }));
    }
    // One of six would be 50 of 300.
    assert!(kicks > 150, "{kicks}");
    assert!(trainer.answer(&trainer.clone().next_task(), Degrees(f64::NAN)).is_none());
}
