//! Three whole books of invented programmes, each with routines that are worked out by hand beside it, in
//! `tests/pure/programmes`.

use stillcall::{
    rulebook::{Book, read, render},
    sheet::{Combined, ScoreSheet, panel, score},
    units::Points,
};

use crate::books::{ask::points, lines::routine_of};

/// A book and its routines.
pub(crate) struct Programme {
    pub(crate) name: &'static str,
    pub(crate) book: &'static str,
    routines: &'static str,
}

macro_rules! programme {
    ($name:literal) => {
        Programme {
            name: $name,
            book: include_str!(concat!("programmes/", $name, ".toml")),
            routines: include_str!(concat!("programmes/", $name, ".md")),
        }
    };
}

pub(crate) const PROGRAMMES: [Programme; 3] =
    [programme!("skerry-open"), programme!("spindrift-cup"), programme!("fathom-set")];

fn book_of(programme: &Programme) -> Book {
    match read(programme.book, programme.name) {
        Ok((book, warnings)) => {
            assert!(warnings.is_empty(), "{}", render(&warnings, programme.book, programme.name));
            book
        }
        Err(errors) => panic!("{}", render(&errors, programme.book, programme.name)),
    }
}

/// The rows of the table: a routine, its score, its parts.
fn rows(text: &str) -> Vec<[&str; 3]> {
    let rows = text.lines().filter_map(|line| line.strip_prefix("| ")?.strip_suffix(" |"));
    let cells = rows.map(|row| row.split('|').map(str::trim).collect::<Vec<_>>());
    cells
        .map(|cells| {
            let [routine, makes, parts, because] = cells[..] else { panic!("{cells:?}") };
            assert!(!because.is_empty(), "{routine}");
            [routine, makes, parts]
        })
        .filter(|[routine, ..]| *routine != "routine")
        .collect()
}

#[test]
fn three_programmes_score_as_worked_out_by_hand() {
    let mut wrong = Vec::new();
    for programme in &PROGRAMMES {
        let book = book_of(programme);
        let rows = rows(programme.routines);
        assert!(rows.len() >= 20, "{}: {}", programme.name, rows.len());
        for [routine, makes, parts] in rows {
            let sheet = score(&book, &routine_of(&book, routine));
            let came = |sheet: &ScoreSheet| -> Vec<Points> {
                sheet.parts.iter().map(|part| part.comes_to).collect()
            };
            let mut asked: Vec<Points> =
                parts.split(", ").filter(|part| !part.is_empty()).map(points).collect();
            let mut parts = came(&sheet);
            // What a routine has nothing of may be left out.
            asked.retain(|part| *part != Points::ZERO);
            parts.retain(|part| *part != Points::ZERO);
            let is_right = sheet.score == Some(points(makes))
                && (asked.is_empty() || parts == asked)
                && sheet.score_range.low == sheet.score_range.high;
            if !is_right {
                let lines: Vec<String> = (sheet.deductions.iter())
                    .map(|line| format!("{} {}: {}", line.rule, line.amount, line.reason))
                    .collect();
                wrong.push(format!(
                    "{}: {routine}\n  asked {makes} {asked:?}, came {:?} {parts:?}\n  {lines:#?}",
                    programme.name, sheet.score
                ));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Five judges of one routine: execution of each, difficulty and neutral deductions of the first.
#[test]
fn a_panel_puts_execution_together_and_takes_difficulty_from_one() {
    let book = book_of(&PROGRAMMES[0]);
    // Difficulty 2.6 as worked out there. Execution: 9.5, 9.6, 9.3, 8.9 and 9.7, of which 9.7 and 8.9
    // are left out: (9.5 + 9.6 + 9.3) / 3 = 9.466 cut. The first judge alone saw 0.1 out of the area.
    let pass = "front-tuck, stop, round-off, back-handspring, full-twist, double-tuck";
    let judged =
        ["legs 0.5, out 0.1", "legs 0.3, step", "legs 0.5, 2 × step", "fall, step", "legs 0.3"];
    let sheets: Vec<ScoreSheet> = judged
        .iter()
        .zip(1..)
        .map(|(faults, judge)| {
            let mut sheaf = routine_of(&book, &format!("floor open: {pass}, {faults}"));
            sheaf.routine.judge = format!("J-{judge}");
            score(&book, &sheaf)
        })
        .collect();
    let together = panel(&book, &sheets, None).unwrap();
    let of = |id: &str| together.parts.iter().find(|part| part.id == id).unwrap().outcome.clone();
    let score = |text: &str| Combined::Score { score: points(text) };
    assert_eq!(of("difficulty"), score("2.6"));
    assert_eq!(of("execution"), score("9.466"));
    assert_eq!(of("neutral"), score("-0.1"));
    assert_eq!(together.outcome, score("11.966"));
}
