//! To win it back: tried for real, from the athlete's own list, and what is never said.

use std::fs;

use proptest::{prelude::*, sample::select};
use stillcall::{
    marks::{
        CallAnswer::{self, CantTell, Met, NotMet},
        Desk,
        Facing::Away,
        LandingOn::Feet,
        Sheaf, StateFolder, What,
    },
    report::score_sheet,
    rulebook::{Book, load},
    sheet::{Skills, WinBack, score, score_with},
    units::Points,
};

use crate::{
    books::{
        P, Q, book,
        write::{bars_but_the_cast, write},
    },
    command::{out, stillcall},
};

fn ways(book: &Book, sheaf: &Sheaf, skills: Option<&Skills>) -> Vec<WinBack> {
    score_with(book, sheaf, skills).win_back
}

fn skills(text: &str) -> Skills {
    Skills::read(text, "list").unwrap()
}

fn said(ways: &[WinBack]) -> Vec<&str> {
    ways.iter().map(|way| way.change.as_str()).collect()
}

#[test]
fn what_is_added_comes_from_the_athletes_own_list() {
    let (p, sheaf) = (book(P), bars_but_the_cast("d3").done());
    let has = "has = [\"front-hip-circle\"]\nlearning = [\"cast\"]";
    let found = ways(&p, &sheaf, Some(&skills(has)));
    let own: Vec<&WinBack> = found.iter().filter(|way| !way.learning).collect();
    let learning: Vec<&WinBack> = found.iter().filter(|way| way.learning).collect();
    assert_eq!(own.len(), 1, "{found:?}");
    assert_eq!(own[0].change, "Add Front hip circle.");
    assert_eq!(
        (own[0].start_value, own[0].wins.as_slice()),
        (Points(9_500), &["value part, low".to_owned()][..])
    );
    // The cast brings its part and its requirement, and stands apart.
    assert!(learning.iter().all(|way| way.change.contains("still being learned")), "{found:?}");
    assert_eq!(learning[0].start_value, Points(10_000));
    let page = score_sheet(&score_with(&p, &sheaf, Some(&skills(has)))).html();
    assert!(page.contains("To win it back") && page.contains("With what is still being learned"));
    assert_eq!(page.matches("A coach decides when a gymnast is ready.").count(), 1, "{page}");
    // An empty list suggests nothing to add.
    assert_eq!(said(&ways(&p, &sheaf, Some(&skills("has = []")))), Vec::<&str>::new());
}

#[test]
fn a_list_of_somebody_else_is_not_used_and_unknown_ids_are_said() {
    let p = book(P);
    let mut sheaf = bars_but_the_cast("d3").done();
    sheaf.routine.athlete = "SC-07".into();
    let other = skills("athlete = \"SC-08\"\nhas = []");
    let sheet = score_with(&p, &sheaf, Some(&other));
    assert!(sheet.remarks.iter().any(|line| line.reason.contains("SC-08")));
    assert!(!sheet.win_back.is_empty(), "as without a list");
    let unknown = skills("athlete = \"SC-07\"\nhas = [\"kipp\"]");
    let sheet = score_with(&p, &sheaf, Some(&unknown));
    assert!(sheet.remarks.iter().any(|line| line.reason == "\"kipp\" is not in this book."));
    let error = Skills::read("hass = []", "SC-07.skills.toml").unwrap_err().to_string();
    assert!(error.contains("SC-07.skills.toml") && error.contains("hass"), "{error}");
}

#[test]
fn what_the_division_may_not_use_is_replaced_or_left_out() {
    // 0.5 off in the fourth division, and no part (what this test book states).
    let p = book(P);
    let text = P.replace("id = \"squat-on\"\nname = \"Squat on\"\nevent = \"bars\"\nclass = \"low\"",
        "id = \"squat-on\"\nname = \"Squat on\"\nevent = \"bars\"\nclass = \"low\"\ndivisions = [\"d1\"]");
    assert_ne!(text, P);
    let not_allowed = book(&text);
    let sheaf = bars_but_the_cast("d3").does(&["cast"]).met("horizontal").done();
    let found = ways(&not_allowed, &sheaf, Some(&skills("has = [\"front-hip-circle\"]")));
    let way = found.iter().find(|way| way.change.starts_with("Replace Squat on")).unwrap();
    assert!(way.change.contains("by Front hip circle"), "{}", way.change);
    assert_eq!((way.start_value, way.score), (Points(10_000), Some(Points(10_000))));
    // A dismount is never suggested, so that only leaving it out is left.
    let dismount = write("bars", "d4").does(&["tap-swing-half-dismount"]).done();
    let found = ways(&p, &dismount, Some(&skills("has = []")));
    assert_eq!(
        said(&found),
        ["Leave out Tap swing half turn dismount, which this division may not use."]
    );
}

#[test]
fn all_swings_after_one_element_are_left_out_together() {
    // Three at 0.3 stop at 0.6, so that leaving one out would win nothing (cap second-hand).
    let q = book(Q);
    let swung = (0..3)
        .fold(write("bars", "optional").does(&["a1"]), |routine, _| routine.seen(What::Swing));
    let found = ways(&q, &swung.done(), Some(&skills("has = []")));
    let way = found.iter().find(|way| way.change.starts_with("Leave out")).unwrap();
    assert_eq!(way.change, "Leave out \"Extra swing\", all 3. It follows A1.");
}

#[test]
fn flight_dismounts_and_the_spot_are_never_suggested() {
    // Without a series of flight and without a leap: the leap is offered, the flight is not.
    let q = book(Q);
    let found = ways(&q, &write("beam", "optional").does(&["full-turn"]).met("turn").done(), None);
    assert_eq!(said(&found), ["Add Leap."]);
    // Without a dismount none is offered, not even from the list.
    let p = book(P);
    let sheaf = write("bars", "d3").does(&["pull-over"]).done();
    let list = skills("has = [\"tap-swing-dismount\", \"back-hip-circle\"]");
    for found in [ways(&p, &sheaf, None), ways(&p, &sheaf, Some(&list))] {
        assert!(said(&found).iter().all(|change| !change.contains("dismount")), "{found:?}");
        assert!(!found.is_empty());
    }
    // Help cost a vault 1.0; to leave it away is no advice that a program gives.
    let spotted = write("vault", "d2").hands(0).seen(What::Spot).lands(Feet, Away, 0).done();
    assert_eq!(score(&p, &spotted).score, Some(Points(9_000)));
    assert_eq!(ways(&p, &spotted, None), []);
}

#[test]
fn an_element_is_added_beside_its_like_where_a_series_is_asked() {
    // Two different forward elements in a row are asked for; the walkover stands alone.
    let r = book(crate::books::R);
    let sheaf = write("beam", "one").does(&["walkover", "double"]).done();
    let found = ways(&r, &sheaf, Some(&skills("has = [\"roll\"]")));
    assert_eq!(said(&found), ["Add Roll directly after Walkover."]);
    assert_eq!(found[0].wins, ["Two forward elements in a row"]);
}

#[test]
fn two_missing_of_one_requirement_are_added_together() {
    let q = book(Q);
    let sheaf = write("bars", "buckets").does(&["a1", "a2", "a3", "a4", "a5"]).done();
    let list = skills("has = [\"circle\", \"circle-2\"]");
    let found = ways(&q, &sheaf, Some(&list));
    assert!(said(&found).contains(&"Add Circle and Another circle."), "{found:?}");
}

/// Routines of the shipped league with something missing.
fn league_routine() -> impl Strategy<Value = Sheaf> {
    let book = load("saltmarsh").unwrap();
    let ids: Vec<String> = book.elements_of("bars").map(|element| element.id.clone()).collect();
    let calls = proptest::collection::vec((0_u64..8, select(&[Met, NotMet, CantTell][..])), 0..5);
    let divisions = select(&["sanderling", "dunlin", "redshank", "curlew", "heron"][..]);
    let elements = proptest::collection::vec(select(ids), 1..8);
    (divisions, elements, calls, 0_usize..3).prop_map(|(division, elements, calls, swings)| {
        let book = load("saltmarsh").unwrap();
        let mut writer = write("bars", division);
        for (at, element) in elements.iter().enumerate() {
            writer = writer.does(&[element]);
            let called: Vec<CallAnswer> = calls
                .iter()
                .filter(|(of, _)| *of == at as u64)
                .map(|(_, answer)| *answer)
                .collect();
            let element = book.element("bars", element).unwrap();
            for (rule, answer) in book.angles_of(element, "bars", division).iter().zip(called) {
                writer = writer.call(&rule.id, answer);
            }
        }
        for _ in 0..swings {
            writer = writer.seen(What::Swing);
        }
        let mut sheaf = writer.done();
        sheaf.routine.book = "saltmarsh".into();
        sheaf
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, failure_persistence: None, ..ProptestConfig::default() })]

    /// What winning back promised is what the changed marks file scores through the program.
    #[test]
    fn what_is_promised_is_what_the_changed_file_scores(sheaf in league_routine()) {
        let folder = tempfile::tempdir().unwrap();
        let state = StateFolder::at(folder.path().join("state"));
        let found = ways(&load("saltmarsh").unwrap(), &sheaf, None);
        for (at, way) in found.iter().take(3).enumerate() {
            let name = format!("{at}.marks.json");
            let desk = Desk::create(&folder.path().join(&name), (*way.changed).clone(), &state);
            drop(desk.unwrap());
            let output = stillcall(folder.path(), &["score", &name, "--json"]);
            let sheet: serde_json::Value = serde_json::from_str(&out(&output)).unwrap();
            prop_assert_eq!(&sheet["start_value"], &serde_json::json!(way.start_value));
            prop_assert_eq!(&sheet["score"], &serde_json::json!(way.score));
        }
    }

    #[test]
    fn every_way_wins_something_and_leaves_readiness_to_a_coach(sheaf in league_routine()) {
        let sheet = score(&load("saltmarsh").unwrap(), &sheaf);
        let page = score_sheet(&sheet).text().replace('\n', " ");
        let times = page.matches("coach decides when").count();
        prop_assert_eq!(times, usize::from(!sheet.win_back.is_empty()), "{}", page);
        prop_assert_eq!(&sheet.to_json()["readiness"], sheet.readiness);
        for way in &sheet.win_back {
            prop_assert!(way.start_value > sheet.start_value.unwrap() || way.score > sheet.score);
            prop_assert!(way.start_value >= sheet.start_value.unwrap() && way.score >= sheet.score);
            prop_assert!(!way.change.contains("ready"), "{}", way.change);
        }
    }
}

#[test]
fn the_program_takes_the_list_beside_the_marks_or_the_one_named() {
    let folder = tempfile::tempdir().unwrap();
    let mut sheaf = write("bars", "redshank").does(&["pull-over"]).done();
    sheaf.routine.book = "saltmarsh".into();
    sheaf.routine.athlete = "SC-07".into();
    let state = StateFolder::at(folder.path().join("state"));
    drop(Desk::create(&folder.path().join("m.marks.json"), sheaf, &state).unwrap());
    let adds = |arguments: &[&str]| {
        let text =
            out(&stillcall(folder.path(), &[&["score", "m.marks.json"], arguments].concat()));
        text.lines().filter(|line| line.trim_start().starts_with("Add ")).count()
    };
    assert!(adds(&[]) > 1);
    fs::write(folder.path().join("own.toml"), "has = [\"back-hip-circle\"]").unwrap();
    assert_eq!(adds(&["--skills", "own.toml"]), 1);
    fs::write(folder.path().join("SC-07.skills.toml"), "has = []").unwrap();
    assert_eq!(adds(&[]), 0);
    let gone = stillcall(folder.path(), &["score", "m.marks.json", "--skills", "gone.toml"]);
    assert_eq!(gone.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&gone.stderr).contains("gone.toml"));
}
