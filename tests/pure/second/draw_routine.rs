//! Draws a routine: few elements, many of them the same.

use stillcall::marks::What as Marked;

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
    let may_begin = !book.contains("per = \"element\"") || switches::BEFORE_THE_FIRST_UNDER_CAPS;
    if may_begin && chance.is(20) {
        seen(chance, &mut done, book);
    }
    for _ in 0..chance.below(8) {
        let mut step = Step::new(What::Element(chance.pick(&ELEMENTS).to_owned()));
        if chance.is(20) {
            step.lasts = chance.pick(&[870, 900, 930]);
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

/// A fault, or something that was seen.
fn seen(chance: &mut Chance, done: &mut Done, book: &str) {
    let what = if switches::DEDUCTIONS && chance.is(65) {
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
    let of_rule = book.split("\n\n").filter(|row| row.contains(&format!("id = \"{rule}\"\n")));
    let counts_once = of_rule.into_iter().any(|row| row.contains("counts ="));
    let stands = book.contains(&format!("[[replace]]\nrule = \"{rule}\""));
    (counts_once || stands) && !switches::OPEN_AND_KIND
}
