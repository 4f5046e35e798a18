//! A reference put together of what several judges marked, held against marks files written by hand.

use serde_json::{Value, json};
use stillcall::{
    judged::Judging,
    library::{Draft, Judges, NotSettled, REFERENCE, SidecarFile, Standing},
    marks,
};

use super::library_club::{Club, Marked};

fn add(file: &mut Value, mark: Value) {
    file["marks"].as_array_mut().unwrap().push(mark);
}

fn at(k: i64) -> Value {
    json!({"frame": {"ticks": k * 512, "index": k, "lo": k * 512, "hi": k * 512}})
}

fn legs_bent(file: &mut Value) {
    let fault = json!({
        "id": 32, "of": 3, "at": at(2), "kind": "fault", "fault": "legs-bent", "amount": "0.300",
    });
    add(file, fault);
}

fn fall(file: &mut Value) {
    add(file, json!({"id": 40, "of": 4, "at": at(4), "kind": "fall"}));
}

/// One saw the cast above horizontal and bent legs; the other saw it below, a fall, and one element
/// less.
fn club() -> Club {
    let club = Club::new();
    club.clip("a.mp4", "a");
    club.mark_with(&Marked { judge: "J-1", cast: 12.0, ..Marked::of("a.mp4", "SC-07") }, legs_bent);
    club.mark_with(&Marked { judge: "J-2", cast: -7.0, ..Marked::of("a.mp4", "SC-07") }, |file| {
        file["marks"].as_array_mut().unwrap().pop();
        fall(file);
    });
    club
}

fn judges(club: &Club, also: &[&str]) -> Judges {
    let codes = ["J-1", "J-2"].iter().chain(also);
    let files = codes.map(|code| club.clips().join(format!("a.mp4.1.{code}.marks.json")));
    Judges::of(&files.collect::<Vec<_>>(), &mut Judging::new(None)).unwrap()
}

fn row(judges: &Judges, asks: &str) -> usize {
    let asked: Vec<&str> = judges.rows.iter().map(|row| row.asks.as_str()).collect();
    asked.iter().position(|it| *it == asks).unwrap_or_else(|| panic!("{asks} of {asked:?}"))
}

/// Every question comes out as for the judge in this place.
fn assert_comes_out_as(judges: &Judges, draft: &Draft, place: usize) {
    for (row, answer) in judges.rows.iter().zip(&draft.answers) {
        assert_eq!(*answer, row.answers[place], "{}", row.asks);
    }
}

#[test]
fn one_answer_is_taken_and_all_else_stays() {
    let club = club();
    // By hand: the cast as the second judge read it, all else as the first.
    let by_hand = Marked { judge: "J-3", cast: -7.0, ..Marked::of("a.mp4", "SC-07") };
    club.mark_with(&by_hand, legs_bent);
    // And a fall beside all that the first one marked.
    let with_fall = Marked { judge: "J-4", cast: 12.0, ..Marked::of("a.mp4", "SC-07") };
    club.mark_with(&with_fall, |file| {
        legs_bent(file);
        fall(file);
    });
    let judges = judges(&club, &["J-3", "J-4"]);
    let draft = judges.draft(0).unwrap();
    assert_comes_out_as(&judges, &draft, 0);
    for asks in ["requirement cast", "cast-line at cast 1"] {
        let settled = judges.settle(&draft, row(&judges, asks), 1).unwrap();
        assert_comes_out_as(&judges, &settled, 2);
    }
    let fell = judges.rows.iter().find(|row| row.label == "Fall").unwrap().asks.clone();
    let settled = judges.settle(&draft, row(&judges, &fell), 1).unwrap();
    assert_comes_out_as(&judges, &settled, 3);
    // Taken back it is as it was.
    let back = judges.settle(&settled, row(&judges, &fell), 0).unwrap();
    assert_comes_out_as(&judges, &back, 0);
}

#[test]
fn with_every_answer_of_one_judge_it_comes_out_as_hers() {
    let club = club();
    let judges = judges(&club, &[]);
    for (from, to) in [(0, 1), (1, 0)] {
        let mut draft = judges.draft(from).unwrap();
        for row in 0..judges.rows.len() {
            match judges.settle(&draft, row, to) {
                Ok(settled) => draft = settled,
                Err(NotSettled::Follows | NotSettled::Otherwise { .. }) => {}
            }
        }
        assert_comes_out_as(&judges, &draft, to);
    }
}

#[test]
fn what_follows_from_other_answers_is_not_taken_by_itself() {
    let club = club();
    let judges = judges(&club, &[]);
    let draft = judges.draft(0).unwrap();
    let score = row(&judges, "score");
    assert!(judges.rows[score].differs());
    assert_eq!(judges.settle(&draft, score, 1).unwrap_err(), NotSettled::Follows);
}

#[test]
fn what_was_put_together_is_kept_beside_theirs_and_agreed_on() {
    let club = club();
    let judges = judges(&club, &[]);
    let state = club.state();
    let cast = row(&judges, "requirement cast");
    let begun = judges.draft(0).unwrap();
    let draft = judges.settle(&begun, cast, 1).unwrap();
    let agree = |draft: &Draft| {
        judges.agree_on_draft(draft, &Judging::new(Some(&state)), &state).unwrap();
        let agreed = SidecarFile::open(&club.clips().join("a.mp4")).unwrap().sidecar.agreed;
        assert_eq!(agreed.len(), 1);
        let seal_of = |name: &str| {
            let sheaf = marks::load(&club.clips().join(name), Some(&state)).ok()?;
            Some(marks::seal(&sheaf))
        };
        assert_eq!(agreed[0].standing(seal_of), Standing::Holds);
        assert_eq!(agreed[0].marks, format!("a.mp4.1.{REFERENCE}.marks.json"));
        assert_eq!((agreed[0].by.len(), agreed[0].of.len()), (2, 3));
        agreed[0].calls.iter().find(|call| call.asks == "requirement cast").unwrap().answer.clone()
    };
    assert_eq!(agree(&draft), "missed");
    club.scan();
    assert_eq!(club.find("agreed").len(), 3);
    // Put together anew it takes the place of the one before, which undo brings back.
    assert_eq!(agree(&begun), "met");
    club.scan();
    assert_eq!(club.find("agreed").len(), 3);
}
