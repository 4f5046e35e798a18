//! Figures for the eye: their angle is what the measuring room measures on them.

use stillcall::{
    geometry::{
        Quantity,
        angle::{Point, Shape, wrap},
    },
    practice::eye::{Figure, Task, Trainer},
    units::Degrees,
};

fn measured(task: &Task) -> f64 {
    let Figure { joints, .. } = &task.figure;
    let names: Vec<&str> = joints.iter().map(|(name, _)| *name).collect();
    let points: Vec<Point> = joints.iter().map(|(_, at)| *at).collect();
    if task.quantity == Quantity::Turn {
        let heading = |from: usize| {
            Shape::of(Quantity::Turn, &["heel", "toe"])
                .unwrap()
                .degrees(&points[from..from + 2], 1.0)
        };
        return wrap(heading(2) - heading(0));
    }
    Shape::of(task.quantity, &names).unwrap().degrees(&points, 1.0)
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
    assert_eq!(seen.len(), Quantity::ALL.len(), "every quantity comes up");
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
