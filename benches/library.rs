//! How fast the library finds, pages and scans, without any video: 10,000 clips and 200,000 marks,
//! beside 1,000 and 20,000 to see how it grows; `-- 100000` measures as many clips as are named.
//!
//! The clips are small files, because what counts is how many there are; hashing whole clips runs
//! at the speed of the disk and is left out.

#![allow(
    clippy::unwrap_used,
    clippy::print_stdout,
    clippy::expect_used,
    missing_docs,
    reason = "a bench prints, and fails by panicking"
)]

use std::{
    fmt::Write as _,
    fs,
    ops::ControlFlow,
    path::Path,
    time::{Duration, Instant},
};

use stillcall::{
    library::{Home, Index, Page, Scan, Scanned, Shelf, find, known, parse, today},
    marks::StateFolder,
};

/// Searches as people type them: by words, by what was seen, by what came out.
const SEARCHES: [&str; 12] = [
    "event bars",
    "athlete SC-07",
    "cast within 5 of horizontal",
    "split 110 to 125",
    "requirement cast missed",
    "moment fall",
    "fault above 0.3",
    "division redshank date 2026-03 not moment fall",
    "close or void",
    "pullover wobble",
    "score 8 to 8.5 judge J-3",
    "(event bars or event beam) cast above 10 not agreed",
];

fn main() {
    let mut rows = Vec::new();
    let said: Vec<usize> = std::env::args().filter_map(|word| word.parse().ok()).collect();
    let sizes = if said.is_empty() { vec![1_000, 10_000] } else { said };
    for clips in sizes {
        rows.push(measure(clips));
    }
    println!("clips   marks   first scan   rescan   search median / worst   first page     names");
    for row in rows {
        println!("{row}");
    }
}

fn measure(clips: usize) -> String {
    let folder = tempfile::tempdir().unwrap();
    let root = folder.path().canonicalize().unwrap();
    generate(&root.join("clips"), clips);
    let home = Home::at(root.join("state/library"));
    let state = StateFolder::at(root.join("state"));
    let mut shelf = Shelf::default();
    shelf.add(&root.join("clips")).unwrap();
    let mut index = Index::open(&home).unwrap();
    let scan = |index: &mut Index| -> (Scanned, Duration) {
        let begun = Instant::now();
        let mut scan = Scan { index, home: &home, shelf: &shelf, state: Some(&state) };
        let scanned = scan.run(&mut |_| ControlFlow::Continue(())).unwrap();
        (scanned, begun.elapsed())
    };
    let (scanned, first) = scan(&mut index);
    assert_eq!((scanned.clips, scanned.marks), (clips, clips));
    let (scanned, again) = scan(&mut index);
    assert!(scanned.new.is_empty() && scanned.gone.is_empty());
    let mut times = Vec::new();
    for _ in 0..5 {
        for search in SEARCHES {
            let begun = Instant::now();
            let query = parse(search).unwrap();
            let page = Page { from: 0, most: 50 };
            find(&index, &query, page, today()).unwrap();
            times.push(begun.elapsed());
        }
    }
    times.sort();
    // As when the program is started: open the index, then the first page of everything.
    drop(index);
    let begun = Instant::now();
    let index = Index::open(&home).unwrap();
    let page = Page { from: 0, most: 60 };
    let (hits, all) = find(&index, &parse("").unwrap(), page, today()).unwrap();
    let opened = begun.elapsed();
    let begun = Instant::now();
    known(&index).unwrap();
    let known = begun.elapsed();
    assert_eq!((hits.len(), all as usize), (60, clips));
    format!(
        "{clips:>6}  {:>6}   {:>8.2} s   {:>4.2} s   {:>6.1} ms / {:>6.1} ms      {:>6.1} ms   {:>6.1} ms",
        clips * 20,
        first.as_secs_f64(),
        again.as_secs_f64(),
        times[times.len() / 2].as_secs_f64() * 1e3,
        times[times.len() - 1].as_secs_f64() * 1e3,
        opened.as_secs_f64() * 1e3,
        known.as_secs_f64() * 1e3,
    )
}

/// Writes clips of a few bytes, each with a marks file of 20 marks.
fn generate(folder: &Path, clips: usize) {
    let mut random = 42_u64;
    let mut next = |below: u64| {
        random =
            random.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (random >> 33) % below
    };
    for number in 0..clips {
        let day = folder.join(format!("2026-{:02}", 1 + number % 12));
        fs::create_dir_all(&day).unwrap();
        let clip = day.join(format!("{number}.mp4"));
        let content = format!("clip {number}");
        fs::write(&clip, &content).unwrap();
        let bytes = content.as_bytes();
        let quick =
            stillcall::units::quick_id(&mut std::io::Cursor::new(bytes), bytes.len() as u64);
        let marks = marks_of(number, &quick.unwrap(), &mut next);
        fs::write(stillcall::marks::path_for(&clip, "1", "J-2"), marks).unwrap();
    }
}

/// Returns the marks file of one routine: elements, moments, a fault or two, remarks.
fn marks_of(number: usize, quick: &str, next: &mut dyn FnMut(u64) -> u64) -> String {
    const BARS: [&str; 8] = [
        "pull-over",
        "cast",
        "back-hip-circle",
        "squat-on",
        "jump-to-high-bar",
        "tap-swing",
        "counter-swing",
        "tap-swing-dismount",
    ];
    let event = ["bars", "bars", "beam", "floor"][number % 4];
    let division = ["dunlin", "redshank", "curlew", "heron"][next(4) as usize];
    let mut marks = String::new();
    for id in 1..=20 {
        let at = format!(
            "\"at\":{{\"frame\":{{\"ticks\":{0},\"index\":{id},\"lo\":{0},\"hi\":{0}}}}}",
            id * 512
        );
        let what = match (id, event) {
            (1..=8, "bars") => format!("\"kind\":\"element\",\"element\":\"{}\"", BARS[id - 1]),
            (1..=8, _) => "\"kind\":\"element\",\"element\":\"split-leap\"".to_owned(),
            (9, _) if next(5) == 0 => "\"kind\":\"fall\"".to_owned(),
            (10, _) if next(3) == 0 => {
                let amount = 50 * (1 + next(7));
                format!("\"kind\":\"fault\",\"fault\":\"legs-bent\",\"amount\":\"0.{amount:03}\"")
            }
            (11, _) => "\"kind\":\"landing\",\"on\":\"feet\"".to_owned(),
            _ => {
                let note = ["wobble", "late", "nice pullover", "low"][next(4) as usize];
                format!("\"kind\":\"note\",\"note\":\"{note} {}\"", next(1000))
            }
        };
        let _ = write!(marks, "{}{{\"id\":{id},{at},{what}}}", if id > 1 { "," } else { "" });
    }
    let (quantity, of, value) = match event {
        "bars" => ("body-line", 2, next(60) as i64 - 30),
        _ => ("split", 2, 90 + next(90) as i64),
    };
    format!(
        "{{\"format\":\"stillcall marks\",\"version\":1,\"document\":\"d{number}\",\
         \"clip\":{{\"name\":\"{number}.mp4\",\"quick_id\":\"{quick}\",\"time_base\":[1,12800],\
         \"upright\":{{\"coded_width\":64,\"coded_height\":48,\"pixel\":{{\"width\":1,\"height\":1}},\
         \"orientation\":{{\"quarter_turns\":0,\"mirrored\":false}}}}}},\
         \"routine\":{{\"id\":\"1\",\"event\":\"{event}\",\"division\":\"{division}\",\
         \"athlete\":\"SC-{:02}\",\"judge\":\"J-{}\",\"date\":\"2026-{:02}-{:02}\",\
         \"book\":\"saltmarsh\"}},\"marks\":[{marks}],\
         \"readings\":[{{\"id\":30,\"of\":{of},\"quantity\":\"{quantity}\",\"value\":{value},\
         \"u\":1.5,\"at\":{{\"place\":1}}}}]}}",
        next(90),
        1 + next(5),
        1 + number % 12,
        1 + next(28),
    )
}
