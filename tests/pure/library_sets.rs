//! What may be in a set, when it is made and when it is sat.

use std::{fs, process::Stdio};

use stillcall::{
    library::{NotPlayed, Reason, SidecarFile, clip_of_look},
    practice::set::{self, Answer, Ask, Set},
    units::Points,
};

use super::library_club::{Club, Marked};

/// One clip that may be in the club's sets and one of which nothing is noted.
fn club() -> Club {
    let club = Club::new();
    for (name, athlete) in [("a.mp4", "SC-07"), ("b.mp4", "SC-08")] {
        club.clip(name, name);
        club.mark(&Marked { judge: "J-1", cast: 12.0, ..Marked::of(name, athlete) });
    }
    agree_to(&club, "library");
    club
}

fn agree_to(club: &Club, purposes: &str) {
    let consent = ["--athlete", "SC-07", "--consent", "both", "--by", "office", "--for", purposes];
    club.says(
        &[&["library", "note", "clips/a.mp4", "--others", "recognisable"], &consent[..]].concat(),
    );
}

fn note(club: &Club, change: impl FnOnce(&mut stillcall::library::Sidecar)) {
    let mut file = SidecarFile::open(&club.clips().join("a.mp4")).unwrap();
    change(&mut file.sidecar);
    file.save().unwrap();
}

const MAKE: [&str; 5] = ["library", "set", "event bars", "--out", "clips/set.toml"];

fn made(club: &Club) -> Set {
    set::load(&club.clips().join("set.toml")).unwrap().0
}

fn refusal(club: &Club, set: &Set) -> Vec<Reason> {
    match clip_of_look(&club.clips().join("set.toml"), set, &set.looks[0]) {
        Err(NotPlayed::Refused(refused)) => refused.reasons,
        other => panic!("{other:?}"),
    }
}

#[test]
fn only_what_was_agreed_to_comes_into_a_set() {
    let club = club();
    let output = club.run(&MAKE);
    assert!(output.status.success(), "{output:?}");
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("b.mp4 may not be in a set for the club library"), "{said}");
    assert!(!said.contains("a.mp4"), "{said}");
    let set = made(&club);
    assert_eq!((set.purpose.as_str(), set.examination, set.looks.len()), ("library", false, 1));
    let look = &set.looks[0];
    assert_eq!((look.clip.as_str(), look.routine.as_str()), ("a.mp4", "1"));
    // Eight marks, 512 ticks of 1/12800 s apart: 0 to 280 ms, with 3 s around, by hand.
    assert_eq!((look.from_ms, look.to_ms), (0, 3280));
    let asks: Vec<Ask> = look.questions.iter().map(|question| question.ask).collect();
    assert_eq!(asks, [Ask::StartValue, Ask::Void, Ask::Score]);
    assert!(look.questions.iter().all(|question| question.reference.is_none()));
    assert!(clip_of_look(&club.clips().join("set.toml"), &set, look).is_ok());
    let again = club.refuses(&MAKE);
    assert!(again.contains("set.toml"), "nothing is written over: {again}");
}

#[test]
fn another_purpose_needs_a_consent_of_its_own() {
    let club = club();
    let said = club.refuses(&[&MAKE[..], &["--for", "course"]].concat());
    assert!(said.contains("has not agreed to a course"), "{said}");
    assert!(!club.clips().join("set.toml").exists());
}

#[test]
fn an_examination_asks_for_an_agreed_reference_and_carries_it() {
    let club = club();
    let said = club.refuses(&[&MAKE[..], &["--examination"]].concat());
    assert!(said.contains("no reference is agreed on for routine 1"), "{said}");
    club.mark(&Marked { judge: "J-2", cast: 12.0, ..Marked::of("a.mp4", "SC-07") });
    let files = ["clips/a.mp4.1.J-1.marks.json", "clips/a.mp4.1.J-2.marks.json"];
    let agree = ["library", "reference", files[0], files[1], "--record", files[0]];
    club.says(&agree);
    club.says(&[&MAKE[..], &["--examination"]].concat());
    let set = made(&club);
    assert_eq!(set.looks.len(), 1, "two judges' files of one routine are one look");
    let sheet = club.says(&["score", files[0], "--json"]);
    let sheet: serde_json::Value = serde_json::from_str(&sheet).unwrap();
    let thousandths: i64 = sheet["score"].as_str().unwrap().replace('.', "").parse().unwrap();
    let of = |ask| set.looks[0].questions.iter().find(|question| question.ask == ask).unwrap();
    assert_eq!(of(Ask::Void).reference, Some(Answer::Word("score".to_owned())));
    assert_eq!(of(Ask::Score).reference, Some(Answer::Points(Points(thousandths))));
    note(&club, |noted| noted.agreed.clear());
    assert_eq!(refusal(&club, &set), [Reason::NotAgreed("1".to_owned())]);
}

/// Two judges put the clip's routine between other frames. What is shown and what is asked are from
/// the marks that were agreed on, whoever was found first.
#[test]
fn a_look_shows_what_the_agreed_marks_are_of() {
    let club = club();
    let end = |ticks: i64| serde_json::json!({"ticks": ticks, "index": ticks / 512, "lo": ticks, "hi": ticks});
    let span = |from: i64, to: i64| {
        move |file: &mut serde_json::Value| {
            file["routine"]["span"] = serde_json::json!([end(from), end(to)]);
        }
    };
    let of = |judge| Marked { judge, cast: 12.0, ..Marked::of("a.mp4", "SC-07") };
    club.mark_with(&of("J-1"), span(0, 12_800));
    club.mark_with(&of("J-2"), span(25_600, 64_000));
    let files = ["clips/a.mp4.1.J-1.marks.json", "clips/a.mp4.1.J-2.marks.json"];
    for (agreed, from_s, to_s) in [(files[1], 2, 5), (files[0], 0, 1)] {
        club.says(&["library", "reference", files[0], files[1], "--record", agreed]);
        club.says(&MAKE);
        let look = made(&club).looks[0].clone();
        // 12,800 ticks are a second.
        assert_eq!((look.from_ms, look.to_ms), (from_s * 1000, to_s * 1000), "{agreed}");
        fs::remove_file(club.clips().join("set.toml")).unwrap();
    }
    // It is found again under another name.
    for (was, is) in [("a.mp4", "c.mp4"), ("c.mp4", "a.mp4")] {
        fs::rename(club.clips().join(was), club.clips().join(is)).unwrap();
        club.says(&["library", "scan"]);
        club.says(&MAKE);
        assert_eq!((&*made(&club).looks[0].clip, made(&club).looks[0].to_ms), (is, 1000));
        fs::remove_file(club.clips().join("set.toml")).unwrap();
    }
    // Without the marks that were agreed on there are answers, but nothing that they are of.
    fs::remove_file(club.clips().join("a.mp4.1.J-1.marks.json")).unwrap();
    let said = club.refuses(&MAKE);
    assert!(said.contains("a.mp4.1.J-1.marks.json") && said.contains("agreed on"), "{said}");
}

/// What is asked about elements and requirements is what the score sheet of the agreed marks says.
#[test]
fn questions_about_elements_come_from_the_reference() {
    let club = club();
    club.mark(&Marked { judge: "J-2", cast: 12.0, ..Marked::of("a.mp4", "SC-07") });
    let files = ["clips/a.mp4.1.J-1.marks.json", "clips/a.mp4.1.J-2.marks.json"];
    club.says(&["library", "reference", files[0], files[1], "--record", files[0]]);
    club.says(&[&MAKE[..], &["--ask", "elements,credited,missing"]].concat());
    let set = made(&club);
    let sheet = club.says(&["score", files[0], "--json"]);
    let sheet: serde_json::Value = serde_json::from_str(&sheet).unwrap();
    let list = |key: &str| sheet[key].as_array().unwrap().clone();
    let text = |of: &serde_json::Value, key: &str| of[key].as_str().unwrap().to_owned();
    let elements: Vec<String> = list("elements").iter().map(|it| text(it, "element")).collect();
    let missed = list("requirements");
    let missed = missed.iter().filter(|it| it["status"] == "missed");
    let missed: Vec<String> = missed.map(|it| text(it, "id")).collect();
    assert!(elements.len() > 2, "{elements:?}");
    let questions = &set.looks[0].questions;
    let of = |ask| questions.iter().find(|question| question.ask == ask).unwrap();
    assert_eq!(of(Ask::Elements).reference, Some(Answer::Words(elements)));
    assert_eq!(of(Ask::Missing).reference, Some(Answer::Words(missed)));
    let credited = questions.iter().filter(|question| question.ask == Ask::Credited);
    let judged = list("elements");
    let judged = judged.iter().filter(|it| it["status"] != "not_counted");
    assert_eq!(credited.count(), judged.count());
}

#[test]
fn a_set_that_was_made_is_asked_about_again_when_it_is_sat() {
    let club = club();
    club.says(&MAKE);
    let set = made(&club);
    note(&club, |noted| noted.injury_or_distress = true);
    assert_eq!(refusal(&club, &set), [Reason::InjuryOrDistress]);
    note(&club, |noted| {
        noted.injury_or_distress = false;
        noted.athletes.clear();
    });
    // She is judged on it, so that she is on it although her consent is noted no longer.
    assert!(
        matches!(&refusal(&club, &set)[..], [Reason::NoConsent { code, .. }, _] if code == "SC-07")
    );
    let mut sitting = club.command();
    sitting.args(["sitting", "clips/set.toml", "--typed"]).stdin(Stdio::null());
    let output = sitting.output().unwrap();
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(said.contains("may not be in a set") && said.contains("left out"), "{said}");
    assert!(!said.contains("score, void"), "nothing is asked: {said}");
}

#[test]
fn an_examination_names_its_routines() {
    let club = club();
    club.says(&MAKE);
    let path = club.clips().join("set.toml");
    let text = fs::read_to_string(&path).unwrap();
    let text =
        text.replace("examination = false", "examination = true").replace("routine = \"1\"\n", "");
    fs::write(&path, text).unwrap();
    let error = set::load(&path).unwrap_err().to_string();
    assert!(error.contains("names no routine"), "{error}");
}
