//! How long a search of the wall takes in a large library: printed, never held against a limit,
//! because machines differ.

use std::time::{Duration, Instant};

use rusqlite::{Connection, params};
use stillcall::library::{Index, Page, due, find, known, parse, today};

use super::library_club::Club;

const CLIPS: i64 = 100_000;
/// What the index has so that no search looks at more routines than it has to.
const INDEXES: [&str; 6] = [
    "routines_by_event",
    "routines_by_division",
    "routines_by_athlete",
    "routines_by_judge",
    "routines_by_book",
    "clips_by_day",
];

/// Writes the rows that a scan of so many clips would write.
fn fill(index: &Connection) {
    index.execute_batch("BEGIN").unwrap();
    let mut clip = index
        .prepare("INSERT INTO clips(id, path, size, modified, quick_id) VALUES (?1, ?2, 9, 1, ?3)")
        .unwrap();
    let mut routine = index
        .prepare(
            "INSERT INTO routines(id, clip, marks, quick_id, routine, event, division, athlete,
                 judge, date, book, score, watched)
             VALUES (?1, ?1, ?2, ?3, '1', ?4, ?5, ?6, ?7, ?8, 'saltmarsh', 9000, 1)",
        )
        .unwrap();
    let mut words = index.prepare("INSERT INTO words(rowid, text) VALUES (?1, ?2)").unwrap();
    for id in 1..=CLIPS {
        let path = format!("/club/clips/2026-{:02}/{id}.mp4", 1 + id % 12);
        let quick = format!("{id:032x}");
        clip.execute(params![id, path, quick]).unwrap();
        let marks = format!("{path}.1.J-2.marks.json");
        let event = ["bars", "beam", "floor", "vault"][id as usize % 4];
        let division = ["dunlin", "redshank", "curlew"][id as usize % 3];
        let [athlete, judge] = [format!("SC-{:02}", id % 90), format!("J-{}", id % 5)];
        let date = format!("2026-{:02}-{:02}", 1 + id % 12, 1 + id * 7 % 28);
        let row = params![id, marks, quick, event, division, athlete, judge, date];
        routine.execute(row).unwrap();
        words.execute(params![id, format!("pull-over cast {event} note{}", id % 1000)]).unwrap();
    }
    index.execute_batch("COMMIT; PRAGMA wal_checkpoint(TRUNCATE)").unwrap();
}

/// Prints what each part of a search of the wall takes, with those indexes and without.
#[test]
#[ignore = "prints a measurement"]
fn a_hundred_thousand_clips() {
    let club = Club::new();
    drop(Index::open(&club.home()).unwrap());
    let raw = Connection::open(club.index_file()).unwrap();
    fill(&raw);
    let with = measured(&club);
    for name in INDEXES {
        raw.execute_batch(&format!("DROP INDEX {name}")).unwrap();
    }
    for ((name, with), (_, without)) in with.into_iter().zip(measured(&club)) {
        let ratio = without.as_secs_f64() / with.as_secs_f64();
        println!("{name}: {with:?} with, {without:?} without: {ratio:.1} times");
    }
}

fn measured(club: &Club) -> Vec<(&'static str, Duration)> {
    let mut times = Vec::new();
    for words in ["", "event bars", "division redshank", "athlete SC-07", "note77", "cast"] {
        let query = parse(words).unwrap();
        let page = Page { from: 0, most: 60 };
        times.push((words, best(club, |index| drop(find(index, &query, page, today()).unwrap()))));
    }
    times.push(("what is due", best(club, |index| drop(due(index, today()).unwrap()))));
    times.push(("names to complete", best(club, |index| drop(known(index).unwrap()))));
    times
}

/// Returns the shortest of three, each with the index opened anew, as the wall does.
fn best(club: &Club, run: impl Fn(&Index)) -> Duration {
    let times = (0..3).map(|_| {
        let begun = Instant::now();
        run(&Index::open(&club.home()).unwrap());
        begun.elapsed()
    });
    times.min().unwrap_or_default()
}
