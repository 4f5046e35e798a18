//! Captions of a sheet, written out by hand after <https://www.w3.org/TR/webvtt1/>.

use stillcall::{
    marks::{At, What},
    report::captions,
    sheet::score,
};

use crate::books::{
    ask::like_base,
    write::{at, write},
};

const CAUTION: &str =
    "For practice. Not an official score and not for an inquiry; the current rule book decides.";

/// Marks lie ten frames apart at 30 frames a second; a moment stands for two seconds, the head for
/// five.
#[test]
fn each_line_stands_over_its_own_frames() {
    let book = like_base("");
    let mut sheaf = write("beam", "low").does(&["roll", "handstand"]).fault("feet", None).done();
    // Half a minute and 31 minutes in, over two and a half seconds.
    sheaf.marks[1].at = At::Span(at(30 * 900), at(30 * 900 + 2250));
    sheaf.marks[2].at = At::Frame(at(1860 * 900 + 30));
    // No class of this book makes value parts of them.
    let expected = format!(
        "WEBVTT\n\n00:00:00.000 --> 00:00:05.000\nStart value 10.000, score 9.900\n{CAUTION}\n\n\
         00:00:00.333 --> 00:00:02.333\n1. Roll: not counted\n\n\
         00:00:30.000 --> 00:00:32.500\n2. Handstand: not counted\n\n\
         00:31:00.033 --> 00:31:02.033\nFeet: \u{2212}0.100\n"
    );
    assert_eq!(captions(&score(&book, &sheaf)), expected);
}

/// Nothing in a name ends a cue, begins another or turns the text round.
#[test]
fn what_a_name_holds_stays_its_name() {
    let element = "a\n\n00:00 --> 00:09\n<b>&\u{202e}".into();
    let sheaf = write("beam", "low").seen(What::Element { element }).done();
    let captions = captions(&score(&like_base(""), &sheaf));
    assert_eq!(captions.matches(" --> ").count(), captions.matches("\n\n").count(), "{captions}");
    assert!(captions.contains("1. a\n00:00 --&gt; 00:09\n&lt;b&gt;&amp;\\u202e: "), "{captions}");
}

#[test]
fn a_plan_has_no_moment_in_any_video() {
    let sheaf = crate::books::write::plan("beam", "low").does(&["roll"]).done();
    let captions = captions(&score(&like_base(""), &sheaf));
    assert_eq!(captions.matches(" --> ").count(), 1, "{captions}");
}
