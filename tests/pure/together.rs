//! A panel, several attempts, a real result and a plan, through the program.

use std::{fs, path::Path};

use serde_json::Value;
use stillcall::{
    marks::{Desk, Facing::Away, LandingOn, Sheaf, StateFolder, What},
    report::score_sheet,
    sheet::{Combined, ScoreSheet, Together, TogetherError, attempts_together, panel, score},
    units::Points,
};

use crate::{
    books::{
        Q, R, book,
        write::{Writer, plan, write},
    },
    command::{error, out, stillcall},
};

/// Puts book Q, and the marks of a judge, into the folder.
fn file(folder: &Path, name: &str, judge: &str, writer: Writer) -> String {
    fs::write(folder.join("q.toml"), Q).unwrap();
    let mut sheaf = writer.done();
    sheaf.routine.book = "q.toml".into();
    sheaf.routine.athlete = "SC-07".into();
    sheaf.routine.judge = judge.into();
    let state = StateFolder::at(folder.join("state"));
    let name = format!("{name}.marks.json");
    drop(Desk::create(&folder.join(&name), sheaf, &state).unwrap());
    name
}

fn beam(off: &str) -> Writer {
    write("beam", "optional").does(&["full-turn"]).met("turn").fault("execution", Some(off))
}

fn by(judge: &str, writer: Writer) -> Sheaf {
    let mut sheaf = writer.done();
    sheaf.routine.judge = judge.into();
    sheaf
}

#[test]
fn five_judges_make_one_score_as_text_json_and_page() {
    // (8.2 + 8.3 + 8.4) / 3 = 8.300 of 7.9 8.2 8.3 8.4 8.8 (international panel of five, the
    // highest and the lowest dropped, second-hand). The start value is 9.0 here.
    let folder = tempfile::tempdir().unwrap();
    let offs = ["1.1", "0.8", "0.7", "0.6", "0.2"];
    let judges = ["J-1", "J-2", "J-3", "J-4", "J-5"];
    let files: Vec<String> =
        judges.iter().zip(offs).map(|(j, off)| file(folder.path(), j, j, beam(off))).collect();
    let mut arguments = vec!["panel"];
    arguments.extend(files.iter().map(String::as_str));
    let run = |rest: &[&str]| out(&stillcall(folder.path(), &[&arguments[..], rest].concat()));
    let text = run(&["--html", "panel.html"]);
    assert!(text.contains("The score is 8.300.") && text.contains("J-3"), "{text}");
    assert!(text.contains("For practice"), "{text}");
    let json: Value = serde_json::from_str(&run(&["--json"])).unwrap();
    assert_eq!((&json["outcome"], &json["score"]), (&"score".into(), &"8.300".into()));
    assert_eq!(json["rows"][4]["score"], "8.800");
    let page = fs::read_to_string(folder.path().join("panel.html")).unwrap();
    assert!(page.starts_with("<!DOCTYPE html>") && page.contains("The score is 8.300."), "{page}");
    // Held against a reference score within what is allowed.
    let reference = run(&["--reference", "8.5"]);
    assert!(reference.contains("the reference 8.500 lies within"), "{reference}");
}

#[test]
fn judges_too_far_apart_or_divided_about_void_confer() {
    // 0.3 are allowed from an average of 9.0 on in this test book.
    let book = book(Q);
    let vault = |judge: &str, off: &str| {
        let vault = write("vault", "optional").hands(0).lands(LandingOn::Feet, Away, 0);
        score(&book, &by(judge, vault.fault("execution", Some(off))))
    };
    let sheets = ["0.1", "0.2", "0.6", "0.9"];
    let sheets: Vec<_> =
        sheets.iter().enumerate().map(|(at, off)| vault(&format!("J-{at}"), off)).collect();
    let apart = panel(&book, &sheets, None).unwrap();
    assert!(matches!(apart.outcome, Combined::TooFarApart { .. }), "{apart:?}");
    assert!(apart.said.contains("the judges confer"), "{}", apart.said);
    // Where they differ is said: here only in what they take off.
    let parts: Vec<&str> = apart.differ.iter().map(|part| part.part.as_str()).collect();
    assert_eq!(parts, ["Taken off"]);
    let helped = write("vault", "optional").seen(What::Spot).hands(0);
    let void = score(&book, &by("J-9", helped.lands(LandingOn::Feet, Away, 0)));
    let divided = panel(&book, &[vec![void], sheets].concat(), None).unwrap();
    assert_eq!(divided.outcome, Combined::VoidDisputed { void: 1, scored: 4 });
    assert!(divided.said.contains("no mean is taken"), "{}", divided.said);
}

#[test]
fn a_panel_far_from_its_reference_is_averaged_with_it() {
    // Reference 8.45, panel 8.10: (8.45 + 8.10) / 2 = 8.275 (international tolerances of 2017 to
    // 2021, second-hand).
    let book = book(R);
    let judge = |judge: &str| {
        let beam = write("beam", "one").does(&["roll", "walkover"]);
        let beam = beam.seen(What::Fall).does(&["jump"]).fault("rhythm", Some("0.2"));
        score(&book, &by(judge, beam))
    };
    let sheets = [judge("J-1"), judge("J-2")];
    let own = sheets[0].score.unwrap();
    let beside = |reference: i64| panel(&book, &sheets, Some(Points(reference))).unwrap();
    // Both judges have 8.8; the same distance of 0.35 on the other side of the edge.
    assert_eq!(own, Points(8_800));
    assert_eq!(beside(8_450).outcome, Combined::Score { score: Points(8_625) });
    assert!(beside(8_450).said.contains("the mean of both"));
    assert_eq!(beside(8_700).outcome, Combined::Score { score: Points(8_800) });
}

#[test]
fn what_is_no_panel_is_refused_with_the_remedy() {
    let book = book(Q);
    let sheet = |judge: &str, event: &str| score(&book, &by(judge, write(event, "optional")));
    let one = sheet("J-1", "beam");
    assert_eq!(
        panel(&book, std::slice::from_ref(&one), None),
        Err(TogetherError::One { what: "panel" })
    );
    let refused = |other| panel(&book, &[one.clone(), other], None).unwrap_err().to_string();
    assert!(refused(sheet("J-2", "bars")).contains("differ in the event: \"beam\" and \"bars\""));
    assert!(refused(one.clone()).contains("two of the marks files are of judge \"J-1\""));
    let none = attempts_together(&book, &[one.clone(), one.clone()]).unwrap_err().to_string();
    assert!(none.contains("[[attempts]]"), "{none}");
    let folder = tempfile::tempdir().unwrap();
    let file = file(folder.path(), "a", "J-1", beam("0.1"));
    let alone = error(&stillcall(folder.path(), &["panel", &file]));
    assert!(alone.contains("two or more marks files"), "{alone}");
    let gone = error(&stillcall(folder.path(), &["panel", &file, "gone.marks.json"]));
    assert!(gone.contains("gone.marks.json"), "{gone}");
}

#[test]
fn two_parts_of_a_vault_are_added_up() {
    // 5.0 + 5.0, the first stepped up onto the mat: 0, the second as judged (a development
    // programme, stored copy); book R adds attempts up.
    let text = R.replacen(
        "[[element]]",
        "[[when]]\nid = \"stepped\"\nlabel = \"Stepped up\"\nevents = \"vault\"\nmark = \"landing\"\n\
         on = \"apparatus\"\nvoid = true\n\n[[fault]]\nid = \"legs\"\nlabel = \"Legs\"\nup_to = 1.0\n\n\
         [[element]]\nid = \"part\"\nname = \"One part\"\nevent = \"vault\"\n\
         vault = { value = 5.0, before = 0 }\n\n[[element]]",
        1,
    );
    let book = book(&text);
    let part = |on| write("vault", "one").hands(0).lands(on, Away, 0);
    let stepped = score(&book, &part(LandingOn::Apparatus).done());
    let judged = score(&book, &part(LandingOn::Feet).fault("legs", Some("0.8")).done());
    let both = attempts_together(&book, &[stepped.clone(), judged]).unwrap();
    assert_eq!(both.outcome, Combined::Score { score: Points(4_200) });
    assert_eq!((both.rows[0].name.as_str(), both.rows[0].score), ("attempt 1", None));
    let void = attempts_together(&book, &[stepped.clone(), stepped]).unwrap();
    assert_eq!(void.outcome, Combined::Void);
}

/// Two vaults of different families add 0.2 to their mean; the same one twice, or a void one, nothing. An
/// invented book; common practice, no source.
#[test]
fn two_different_vaults_add_a_bonus() {
    let vault = |id: &str, after: u16, more: &str| {
        format!(
            "[[element]]\nid = \"{id}\"\nname = \"{id}\"\nevent = \"vault\"\n{more}\
             vault = {{ value = 9.0, before = 0, after = {after}, facing = \"away\" }}\n\n"
        )
    };
    let vaults = [
        vault("over", 0, "family = \"over\"\n"),
        vault("over-with-half", 180, "family = \"over\"\n"),
        vault("over-with-full", 360, ""),
    ];
    let text = R.replacen("[[element]]", &format!("{}[[element]]", vaults.concat()), 1);
    let text = text.replacen("take = \"sum\"", "take = \"mean\"\nunlike_adds = 0.2", 1);
    let book = book(&text);
    let turned = |after: u16| {
        score(&book, &write("vault", "one").hands(0).lands(LandingOn::Feet, Away, after).done())
    };
    let score_of = |sheets: &[ScoreSheet]| match attempts_together(&book, sheets).unwrap() {
        Together { outcome: Combined::Score { score }, how, .. } => (score, how),
        other => panic!("{other:?}"),
    };
    let (score, how) = score_of(&[turned(0), turned(360)]);
    assert_eq!(score, Points(9_200));
    assert!(how.ends_with("Different elements add 0.2."), "{how}");
    assert_eq!(score_of(&[turned(0), turned(0)]).0, Points(9_000));
    assert_eq!(score_of(&[turned(0), turned(180)]).0, Points(9_000));
    let void = ScoreSheet { void: true, score: None, ..turned(360) };
    assert_eq!(score_of(&[turned(0), void]).0, Points(4_500));
}

#[test]
fn a_result_typed_in_stands_beside_the_sheet_part_by_part() {
    let folder = tempfile::tempdir().unwrap();
    let marks = file(folder.path(), "a", "J-1", beam("0.5"));
    let run =
        |arguments: &[&str]| stillcall(folder.path(), &[&["result", &marks], arguments].concat());
    assert!(run(&["--start", "9.5", "--judge", "J-4=8.7"]).status.success());
    assert!(run(&["--judge", "J-5=8.9", "--average", "8.8"]).status.success());
    // Here: start value 9.0, taken off 0.5, score 8.5. There: 9.5, 0.7, 8.7, 8.9, 8.8.
    let json: Value =
        serde_json::from_str(&out(&stillcall(folder.path(), &["score", &marks, "--json"])))
            .unwrap();
    let parts: Vec<[&str; 4]> = json["result"]
        .as_array()
        .unwrap()
        .iter()
        .map(|part| ["part", "sheet", "given", "difference"].map(|key| part[key].as_str().unwrap()))
        .collect();
    assert_eq!(
        parts,
        [
            ["Start value", "9.000", "9.500", "-0.500"],
            ["Taken off, by the average", "0.500", "0.700", "-0.200"],
            ["Score of judge J-4", "8.500", "8.700", "-0.200"],
            ["Score of judge J-5", "8.500", "8.900", "-0.400"],
            ["Average", "8.500", "8.800", "-0.300"],
        ]
    );
    let text = out(&stillcall(folder.path(), &["score", &marks, "--html", "s.html"]));
    assert!(text.contains("given 9.500, here 9.000, 0.500 less here"), "{text}");
    let page = fs::read_to_string(folder.path().join("s.html")).unwrap();
    assert!(page.contains("Beside the result of the meet") && page.contains("0.500 less here"));
    // A judge typed in again is put right, and all can be taken out.
    assert!(run(&["--judge", "J-4=8.5"]).status.success());
    let again = out(&stillcall(folder.path(), &["score", &marks]));
    assert!(again.contains("given 8.500, here 8.500, the same here"), "{again}");
    assert!(run(&["--clear"]).status.success());
    assert!(!out(&stillcall(folder.path(), &["score", &marks])).contains("Beside the result"));
}

#[test]
fn a_result_that_is_none_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let marks = file(folder.path(), "a", "J-1", beam("0.5"));
    assert!(error(&stillcall(folder.path(), &["result", &marks])).contains("nothing was typed in"));
    for wrong in [
        ["--start", "-1"],
        ["--start", "nine"],
        ["--judge", "8.7"],
        ["--judge", "=8.7"],
        ["--judge", "Anna=8.7"],
    ] {
        let [option, value] = wrong;
        let argument = format!("{option}={value}");
        let output = stillcall(folder.path(), &["result", &marks, &argument]);
        assert_eq!(output.status.code(), Some(2), "{wrong:?}");
    }
}

#[test]
fn a_void_sheet_beside_a_result_says_void() {
    let book = book(Q);
    let helped = write("vault", "optional").seen(What::Spot).hands(0);
    let mut sheaf = helped.lands(LandingOn::Feet, Away, 0).done();
    sheaf.routine.result.average = Some(Points(8_000));
    let sheet = score(&book, &sheaf);
    assert_eq!((sheet.result[0].sheet, sheet.result[0].difference), (None, None));
    assert!(score_sheet(&sheet).text().contains("given 8.000, here void"));
}

#[test]
fn a_routine_is_shown_beside_its_plan() {
    let folder = tempfile::tempdir().unwrap();
    let planned = plan("bars", "optional").does(&["circle", "a1", "cast", "a2"]);
    let done = write("bars", "optional").does(&["circle", "a3", "a2", "a4"]);
    let planned = file(folder.path(), "plan", "J-1", planned);
    let marks = file(folder.path(), "done", "J-1", done);
    let run = |rest: &[&str]| {
        out(&stillcall(folder.path(), &[&["score", &marks, "--plan", &planned], rest].concat()))
    };
    let text = run(&["--html", "s.html"]);
    let page = fs::read_to_string(folder.path().join("s.html")).unwrap();
    for said in [
        "A3 was done in the place of A1.",
        "Cast was planned and not done.",
        "A4 was done and not planned.",
    ] {
        assert!(text.contains(said) && page.contains(said), "{said} in {text}");
    }
    // The plan shows three of six A and the B; done are four A and no B: 0.1 won, 0.3 lost.
    assert!(text.contains("Start value 0.200 less as done"), "{text}");
    let json: Value = serde_json::from_str(&run(&["--json"])).unwrap();
    let kinds: Vec<&str> = json["plan"]["changes"]
        .as_array()
        .unwrap()
        .iter()
        .map(|change| change["kind"].as_str().unwrap())
        .collect();
    assert_eq!(kinds, ["changed", "dropped", "added"]);
    assert_eq!(json["plan"]["difference"], "-0.200");
    let same = out(&stillcall(folder.path(), &["score", &marks, "--plan", &marks]));
    assert!(same.contains("Every element was done as planned."), "{same}");
}

#[test]
fn divisions_and_causes_are_printed_as_json_too() {
    let folder = tempfile::tempdir().unwrap();
    let marks = file(folder.path(), "a", "J-1", beam("0.5"));
    let run = |how: &str| -> Value {
        serde_json::from_str(&out(&stillcall(folder.path(), &["score", &marks, how, "--json"])))
            .unwrap()
    };
    let divisions = run("--all-divisions");
    assert_eq!(divisions.as_array().unwrap().len(), 4);
    assert_eq!(divisions[1]["standing"]["division"], "half");
    assert_eq!(run("--by-cause")[0]["amount"], "0.500");
}
