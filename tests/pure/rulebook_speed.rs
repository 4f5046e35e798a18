//! How long reading a large book takes: printed, never held against a limit, because machines
//! differ.

use std::{fmt::Write as _, time::Instant};

use stillcall::rulebook::{read, shipped, shipped_text};

/// Returns the league's book with so many more elements, spread over its events.
fn large(elements: usize) -> String {
    let mut text = shipped_text(shipped()[0]).unwrap().to_owned();
    let events = ["bars", "beam", "floor"];
    let classes = ["ripple", "wave", "breaker"];
    let tags = ["leap", "turn", "circle", "tumbling", "jump"];
    for number in 0..elements {
        let (event, class) = (events[number % 3], classes[number % 7 % 3]);
        let _ = write!(
            text,
            "\n[[element]]\nid = \"skill-{number}\"\nname = \"Skill {number}\"\n\
             event = \"{event}\"\nclass = \"{class}\"\nshorthand = \"s{number}\"\n\
             code = \"S{number}\"\ntags = [\"{}\"]\ndivisions = [\"curlew\", \"heron\"]\n\
             where = \"p. {}\"\n",
            tags[number % 5],
            40 + number / 30
        );
    }
    text
}

fn milliseconds(what: impl Fn()) -> f64 {
    let once = || {
        let begin = Instant::now();
        what();
        begin.elapsed().as_secs_f64() * 1000.0
    };
    // The least of several is the least disturbed.
    (0..5).map(|_| once()).fold(f64::INFINITY, f64::min)
}

#[test]
#[ignore = "prints a measurement"]
#[allow(clippy::print_stdout, reason = "printing is all it does")]
fn two_thousand_elements() {
    for elements in [200, 2_000, 20_000] {
        let text = large(elements);
        let whole = milliseconds(|| assert!(read(&text, "large").is_ok()));
        let parse = milliseconds(|| {
            let (_, errors) = toml::de::DeTable::parse_recoverable(&text);
            assert!(errors.is_empty());
        });
        println!(
            "{elements} elements, {} kB: {whole:.1} ms, {:.1} times the TOML parser alone",
            text.len() / 1000,
            whole / parse
        );
    }
}

#[test]
fn a_large_book_reads_without_a_word() {
    let (book, warnings) = read(&large(2_000), "large").unwrap();
    assert!(book.elements.len() > 2_000);
    assert_eq!(warnings, []);
}
