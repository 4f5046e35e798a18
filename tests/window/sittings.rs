//! A sitting in the window, step by step: what is on screen, and what is on the disk by then.

use std::{
    fs,
    path::{Path, PathBuf},
    thread,
    time::Duration,
};

use stillcall::{
    library::{Shows, SidecarFile},
    practice::{
        set::Answer,
        sitting::{Given, Mode, Record, read},
    },
    window::{Harness, OpensOn, SetWanted},
};

use crate::{clips, screens::assert_says};

const SIZE: [u32; 2] = [1280, 800];

/// A set of three looks of the numbered clip; its reference calls are made up.
pub(crate) const SET: &str = r#"
[set]
id = "first"
title = "First looks"
book = "saltmarsh"

[[look]]
id = "cast"
clip = "bars.mp4"
from = 0.5
to = 1.1
event = "bars"
division = "redshank"
cue = "Watch only the hips."

[[look.question]]
ask = "score"
answer = 9.4

[[look.question]]
ask = "credited"
of = "the cast"
answer = "no"
still = 1.5
number = "-7° ± 2°"
line = "Cast, body line"
why = "The hips stay below the bar."

[[look.question]]
ask = "start-value"
answer = 9.8

[[look]]
id = "close"
clip = "bars.mp4"
from = 2
to = 2.4
event = "bars"
division = "redshank"

[[look.question]]
ask = "connected"
of = "cast and hip circle"
answer = "connected"
close = true
"#;

/// Returns a set file with these looks beside a fresh clip.
pub(crate) fn set_in(folder: &str, text: &str) -> PathBuf {
    let clip = clips::fresh(folder);
    // It is drawn, so nobody has to agree to it.
    let mut noted = SidecarFile::begin(&clip).unwrap();
    noted.sidecar.shows = Shows::Nobody;
    noted.save().unwrap();
    let set = clip.with_file_name("first.toml");
    fs::write(&set, text).unwrap();
    set
}

fn sit(set: &Path) -> Harness {
    open(set, Some("J-2"), Mode::Person)
}

fn open(set: &Path, person: Option<&str>, mode: Mode) -> Harness {
    let wanted = SetWanted { set: set.to_owned(), person: person.map(str::to_owned), mode };
    Harness::open_on(OpensOn::Set(wanted), SIZE, "tiny-skia").unwrap()
}

fn kept(set: &Path) -> Vec<Record> {
    read(&set.with_file_name("first.J-2.001.sitting")).unwrap().1
}

/// Returns how many different colours the part of the window has in which pictures are shown,
/// leaving out its middle, where words stand.
fn colours(window: &mut Harness) -> usize {
    let shot = window.shot();
    let row = |y: u32| {
        let shot = &shot;
        (0..800).map(move |x| {
            let at = ((y * shot.size[0] + x) * 4) as usize;
            [shot.rgba[at], shot.rgba[at + 1], shot.rgba[at + 2]]
        })
    };
    let rows = (160..300).chain(520..640).step_by(10);
    let mut found: Vec<[u8; 3]> = rows.flat_map(row).collect();
    found.sort_unstable();
    found.dedup();
    found.len()
}

fn looks_and_answers(window: &mut Harness, keys: &[&str]) {
    window.press(&["Return"]);
    window.press(keys);
    window.play_out();
    window.press(&["ctrl+Return"]);
}

#[test]
fn a_look_is_shown_once_and_its_still_only_after_the_answers_are_on_the_disk() {
    let set = set_in("sat", SET);
    let mut window = sit(&set);
    assert_says(&mut window, "Watch only the hips.");
    assert_says(&mut window, "Plays once, 0.6 s");
    assert!(window.title().starts_with("Look 1 of 2: ready"), "{}", window.title());
    assert_eq!(colours(&mut window), 1, "no picture with the cue");
    assert!(kept(&set).is_empty());

    window.press(&["Return"]);
    assert_eq!(kept(&set), [Record::Looked { look: "cast".into() }], "before the first picture");
    assert!(colours(&mut window) > 4, "the picture plays");
    // The start value comes before the score, wherever it stands in the set.
    assert_says(&mut window, "What is the start value?");
    window.write("9.8");
    window.press(&["Return", "y", "Tab"]);
    window.write("9.5");
    window.play_out();
    assert!(window.title().starts_with("Look 1 of 2: answers"), "{}", window.title());
    assert_says(&mut window, "The look is over.");
    assert_eq!(colours(&mut window), 1, "no picture while answers are open");
    // No second look, no stepping, no stopping.
    window.press(&["space", "Home", "Left"]);
    assert_eq!((colours(&mut window), kept(&set).len()), (1, 1));
    assert!(window.says("9.8") && window.says("9.5"), "typed while it ran");
    assert_says(&mut window, "Hand in 3 of 3");

    window.press(&["ctrl+Return"]);
    let records = kept(&set);
    let Record::Answered { answers, time_up: false, interrupted: false, dropped, .. } = &records[1]
    else {
        panic!("{records:?}")
    };
    assert!(*dropped < 18, "18 pictures in 0.6 s at 30 a second: {dropped}");
    let word = |word: &str| Some(Answer::Word(word.to_owned()));
    let of = |id: &str| answers.iter().find(|given| given.question == id).unwrap().answer.clone();
    assert_eq!(of("2"), word("yes"));
    assert_eq!(of("3"), Some(Answer::Points(stillcall::units::Points(9800))));

    // The start value is the first question; it has no still.
    assert_says(&mut window, "Question 1 of 3");
    assert_says(&mut window, "No still is named for this question.");
    window.press(&["Return", "Return", "Return"]);
    assert_says(&mut window, "Question 2 of 3");
    assert_says(&mut window, "Is the cast credited?");
    assert!(colours(&mut window) > 4, "the still");
    assert!(!window.says("-7°") && !window.says("stay below"), "one thing after the other");
    assert_says(&mut window, "yes");
    window.press(&["n", "Return"]);
    let after = Given { question: "2".into(), answer: word("no") };
    assert_eq!(kept(&set).last(), Some(&Record::After { look: "cast".into(), given: after }));
    assert_says(&mut window, "Cast, body line: -7° ± 2°");
    assert!(!window.says("stay below"));
    window.press(&["Return"]);
    assert_says(&mut window, "The hips stay below the bar.");
    assert_says(&mut window, "Not the reference call; it comes back in a later sitting.");

    window.press(&["Return", "Return", "Return", "Return"]);
    assert!(window.title().starts_with("Look 2 of 2: ready"), "{}", window.title());
    looks_and_answers(&mut window, &["b"]);
    window.press(&["Return", "Return"]);
    assert_says(&mut window, "A close call: right either way.");
    window.press(&["Return"]);
    assert_says(&mut window, "2 of 3 right from one look");
    assert_says(&mut window, "1 close call, right either way");
    assert_says(&mut window, "1 look comes back in the next sitting.");
    // From here to all sittings of this person, compared with the reference calls.
    window.press(&["ctrl+Return"]);
    assert_says(&mut window, "Agreement with First looks");
    assert_says(&mut window, "credited or not, after the stills");
    window.press(&["Escape"]);
    assert_says(&mut window, "Open a clip");
}

#[test]
fn an_answer_that_cannot_be_read_is_told_and_not_handed_in() {
    let set = set_in("unreadable", SET);
    let mut window = sit(&set);
    window.press(&["Return", "Tab", "Tab"]);
    window.write("9.5");
    assert_says(&mut window, "give the start value first");
    window.press(&["Up", "Up"]);
    window.write("nine");
    window.play_out();
    window.press(&["ctrl+Return"]);
    assert_eq!(kept(&set).len(), 1, "nothing is handed in");
    window.press(&["ctrl+a"]);
    window.write("9.8");
    assert!(!window.says("give the start value first"), "the score is taken now");
    window.press(&["ctrl+Return"]);
    assert_eq!(kept(&set).len(), 2);
}

#[test]
fn when_the_time_is_up_the_answers_are_handed_in() {
    let set = set_in("time-up", &SET.replace("[set]", "[set]\nseconds = 1"));
    let mut window = sit(&set);
    window.press(&["Return"]);
    window.write("9.8");
    window.play_out();
    assert_says(&mut window, "1 s");
    window.tick();
    assert_eq!(kept(&set).len(), 1);
    thread::sleep(Duration::from_millis(1100));
    window.tick();
    let records = kept(&set);
    assert!(matches!(records[1], Record::Answered { time_up: true, .. }), "{records:?}");
    assert_says(&mut window, "From one look");
    assert_says(&mut window, "9.8");
}

#[test]
fn a_clip_that_is_missing_or_changed_is_told_and_the_rest_goes_on() {
    let changed = format!("to = 1.1\nclip_hash = \"{}\"", "0".repeat(64));
    let text = SET.replace("to = 1.1", &changed);
    let gone = text.replacen(
        "id = \"close\"\nclip = \"bars.mp4\"",
        "id = \"close\"\nclip = \"no.mp4\"",
        1,
    );
    let last = SET.split("[[look]]").nth(2).unwrap().replace("id = \"close\"", "id = \"last\"");
    let set = set_in("gone-clip", &format!("{gone}\n[[look]]{last}"));
    let mut window = sit(&set);
    assert_says(&mut window, "is not the one that the set was made with");
    assert_says(&mut window, "the rest goes on");
    window.press(&["Return"]);
    assert_says(&mut window, "no.mp4 is not there");
    window.press(&["Return"]);
    assert!(window.title().starts_with("Look 3 of 3: ready"), "{}", window.title());
    looks_and_answers(&mut window, &["c"]);
    window.press(&["Return", "Return", "Return"]);
    assert_says(&mut window, "Left out. The clip");
    assert_says(&mut window, "2 looks come back in the next sitting.");
}

/// What is noted of a clip counts at the look, whatever it was when the set was made.
#[test]
fn a_clip_that_nobody_agreed_to_is_told_and_no_picture_of_it_shown() {
    let set = set_in("no-consent", SET);
    fs::remove_file(set.with_file_name("bars.mp4.clip.json")).unwrap();
    let mut window = sit(&set);
    assert_says(&mut window, "This look is left out; the rest goes on.");
    assert_eq!(colours(&mut window), 1);
    window.press(&["Return", "Return"]);
    assert_says(&mut window, "2 looks come back in the next sitting.");
}

#[test]
fn a_look_that_was_broken_off_is_not_shown_again() {
    let set = set_in("broken-off", SET);
    let mut window = sit(&set);
    window.press(&["Return"]);
    window.press(&["Escape"]);
    assert_says(&mut window, "Stop once more to stop all the same.");
    drop(window);
    let mut again = sit(&set);
    assert_says(&mut again, "The look was broken off. It is not shown again.");
    assert_eq!(colours(&mut again), 1);
    again.press(&["ctrl+Return"]);
    let records = kept(&set);
    assert!(matches!(records[1], Record::Answered { interrupted: true, .. }), "{records:?}");
}

#[test]
fn a_set_is_opened_from_the_start_screen_and_the_window_asks_who() {
    let set = set_in("from-start", SET);
    let mut window = Harness::open(None, SIZE, "tiny-skia").unwrap();
    window.write(&set.to_string_lossy());
    window.press(&["Return"]);
    assert_says(&mut window, "2 looks, no time limit");
    window.press(&["Return"]);
    assert_says(&mut window, "Write a code, such as J-2. Never a name.");
    window.write("Anna");
    window.press(&["Return"]);
    assert_says(&mut window, "\"Anna\" is not a code.");
    window.press(&["ctrl+a"]);
    window.write("J-7");
    window.press(&["Return"]);
    assert_says(&mut window, "Watch only the hips.");
    assert!(set.with_file_name("first.J-7.001.sitting").exists());
    // Somebody sits it in another window.
    let mut other = open(&set, Some("J-7"), Mode::Person);
    assert_says(&mut other, "is being sat in another window");
    window.press(&["Escape"]);
    assert_says(&mut window, "first.toml");
}

#[test]
fn what_is_wrong_with_a_set_is_said() {
    let set = set_in("wrong-set", &SET.replace("ask = \"score\"", "ask = \"scor\""));
    let mut window = sit(&set);
    assert_says(&mut window, "has 2 errors");
    assert_says(&mut window, "did you mean \"score\"?");
}

#[test]
fn a_group_raises_its_hands_before_and_after_the_still() {
    let set = set_in("group", SET);
    let mut window = open(&set, Some("course"), Mode::Group);
    window.press(&["Return"]);
    window.play_out();
    // Hands can only be raised for words; nobody calls out a score.
    assert_says(&mut window, "Is the cast credited?");
    assert!(!window.says("score") && !window.says("start value"));
    window.write("7");
    window.press(&["Tab"]);
    window.write("13");
    // From ten metres one reads letters of 50 mm, as signs are commonly made (a two-hundredth of
    // the distance, no source): a twentieth of a projected picture one metre high. Of a line two
    // thirds of its 1 / 1.3 are letter in this font (from memory).
    let height = SIZE[1] as f32;
    for said in ["Is the cast credited?", "yes", "13"] {
        let texts = window.texts();
        let (_, bounds) = texts.iter().find(|(text, _)| text == said).unwrap();
        let letter = bounds.height / 1.3 * 0.66;
        assert!(letter >= height / 20.0, "{said}: {letter}");
    }
    window.press(&["Return", "Return"]);
    assert_says(&mut window, "7 yes, 13 no. And now?");
    window.write("3");
    window.press(&["Return"]);
    window.write("17");
    window.press(&["Return", "Return"]);
    assert_says(&mut window, "Reference call: no");
    assert_says(&mut window, "7 yes, 13 no; after the still 3 yes, 17 no");
    let records = read(&set.with_file_name("first.course.001.sitting")).unwrap().1;
    let Record::Answered { answers, .. } = &records[1] else { panic!("{records:?}") };
    assert_eq!(answers[0].answer, Some(Answer::Hands(vec![7, 13])));
    let Record::After { given, .. } = &records[2] else { panic!("{records:?}") };
    assert_eq!(given.answer, Some(Answer::Hands(vec![3, 17])));
}
