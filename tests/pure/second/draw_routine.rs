//! Draws a routine: few elements, many of them the same.

use stillcall::marks::{Facing, LandingOn, Quantity, What as Marked};

use super::{
    chance::Chance,
    draw::{ELEMENTS, FAULTS},
    routine::{Done, Step, What},
    switches,
};

/// Returns a routine under a book.
pub(super) fn routine(chance: &mut Chance, book: &str) -> Done {
    let mut done = Done {
        event: "beam".to_owned(),
        division: chance.pick(&["d1", "d2"]).to_owned(),
        ticks: 90_000,
        ..Done::default()
    };
    if chance.is(30) {
        let board = chance.pick(&["soft", "20", "15", "14.9", "30"]);
        done.facts.insert("board".to_owned(), board.to_owned());
    }
    let is_apart = ["[[too_few]]", "[[text]]", "plus_value"].iter().all(|key| !book.contains(key));
    if is_apart && chance.is(20) {
        return vault(chance, done, book);
    }
    if chance.is(20) {
        seen(chance, &mut done, book);
    }
    let split = book.split("\n\n").find(|row| row.contains("id = \"split\"\n")).unwrap_or_default();
    // What loses its credit leaves the place of a family to another.
    let is_kind = ["family =", "becomes ="].iter().any(|key| book.contains(key));
    let is_kind = is_kind || split.contains("counts =");
    let is_once = is_kind && !switches::OPEN_AND_KIND;
    let gates = split.lines().find(|line| line.starts_with("gates =")).unwrap_or_default();
    let matters = gates.contains("value-part") || gates.contains("requirement");
    let is_idle = !matters && !switches::OPEN_WITHOUT_GATES;
    let mut is_read = is_once || is_idle || chance.is(50);
    for _ in 0..chance.below(8) {
        let mut step = Step::new(What::Element(chance.pick(&ELEMENTS).to_owned()));
        if chance.is(20) {
            step.lasts = chance.pick(&[870, 900, 930]);
        }
        if is_read || chance.is(70) {
            let split = [120.0, 110.0, 100.0, 99.6, 99.4, 90.0, 89.9, 80.0, 79.5, 70.0, 69.9, 0.0];
            step.readings.push((Quantity::Split, chance.pick(&split)));
        } else {
            // One that nobody read is enough.
            is_read = true;
        }
        if chance.is(20) {
            step.calls.push(("line".to_owned(), chance.is(50)));
        } else {
            let line = chance.pick(&[0.0, 9.9, 10.0, 10.1, 30.0]);
            step.readings.push((Quantity::OffVertical, line));
        }
        done.steps.push(step);
        while chance.is(35) {
            seen(chance, &mut done, book);
        }
        if chance.is(10) {
            done.steps.last_mut().unwrap().pause = 480;
        }
    }
    done.ticks = chance.pick(&[870, 900, 930, 90_000]);
    if done.times().last().is_some_and(|last| *last > done.ticks) {
        done.ticks = 90_000;
    }
    done
}

/// The one vault of the book, with faults in all of its phases.
fn vault(chance: &mut Chance, mut done: Done, book: &str) -> Done {
    "vault".clone_into(&mut done.event);
    let (facing, turn) = (Some(Facing::Away), Some(0));
    let phases = [
        Some(Marked::HandContact { turn }),
        Some(Marked::HandRelease),
        Some(Marked::Landing { on: LandingOn::Feet, facing, turn }),
        None,
    ];
    for phase in phases {
        while chance.is(50) {
            if chance.is(25) {
                done.steps.push(Step::new(What::Fault("head".to_owned(), None)));
            } else {
                seen(chance, &mut done, book);
            }
        }
        done.steps.extend(phase.map(|phase| Step::new(What::Seen(phase))));
    }
    // The guide does not say what a vault is worth as an element.
    done.steps.retain(|step| step.what != What::Fault("valued".to_owned(), None));
    done
}

/// A fault, or something that was seen.
fn seen(chance: &mut Chance, done: &mut Done, book: &str) {
    let what = if chance.is(65) {
        let fault = chance.pick(&FAULTS);
        let chosen = match fault {
            "up" => chance.pick(&[None, Some(100), Some(200), Some(400), Some(500)]),
            "choice" => chance.pick(&[None, Some(100), Some(300)]),
            _ => None,
        };
        What::Fault(fault.to_owned(), chosen)
    } else {
        let marks = [Marked::Stop, Marked::Fall, Marked::Swing, Marked::Spot];
        What::Seen(marks[chance.below(4)].clone())
    };
    let is_timed = matches!(what, What::Seen(Marked::Stop | Marked::Fall));
    let mut step = Step::new(what);
    if is_timed && chance.is(30) {
        step.lasts = chance.pick(&[870, 900, 930]);
    }
    step.is_open = chance.is(switches::OPEN_MARKS) && !may_be_kind(&step.what, book);
    done.steps.push(step);
}

/// Returns whether a rule makes others cost less: later ones by counting once, or by standing for them.
fn may_be_kind(what: &What, book: &str) -> bool {
    let rule = match what {
        What::Element(_) => return false,
        What::Fault(fault, _) => fault.as_str(),
        What::Seen(Marked::Stop) => "stop",
        What::Seen(Marked::Fall) => "fall",
        What::Seen(Marked::Swing) => "swing",
        What::Seen(_) => "spot",
    };
    let name = format!("id = \"{rule}\"\n");
    let has = |key: &str| book.split("\n\n").any(|row| row.contains(&name) && row.contains(key));
    // What loses its credit leaves the place of its family to another.
    let counts_once = has("counts =") || has("removes =") && book.contains("family =");
    let stands = book.contains(&format!("[[replace]]\nrule = \"{rule}\""));
    (counts_once || stands) && !switches::OPEN_AND_KIND
}
