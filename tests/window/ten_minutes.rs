//! The list of docs/first-ten-minutes.md, by keys alone: from a copy of the demo's clip that nobody
//! has marked to the demo's score.

use std::{
    path::{Path, PathBuf},
    process::Command,
};

use stillcall::{
    marks::{self, CallAnswer, Sheaf, StateFolder, What},
    window::{Harness, OpensOn},
};

use crate::clips;

/// Presses that the list of keys may have, letters among them.
const MOST_PRESSES: usize = 73;
const SIZE: [u32; 2] = [1366, 768];

enum Press {
    Key(String),
    Type(String),
}

/// Reads the page's list.
fn list() -> Vec<Press> {
    let page = concat!(env!("CARGO_MANIFEST_DIR"), "/docs/first-ten-minutes.md");
    let page = std::fs::read_to_string(page).unwrap();
    let lines = page.split("```").nth(1).expect("the list in the page").lines();
    let lines = lines.map(|line| line.split('#').next().unwrap().trim());
    lines
        .filter(|line| !line.is_empty())
        .flat_map(|line| {
            let (what, of) = line.split_once(' ').unwrap();
            match what {
                "type" => vec![Press::Type(of.to_owned())],
                "key" => of.split(' ').map(|key| Press::Key(key.to_owned())).collect(),
                _ => panic!("not a press: {line}"),
            }
        })
        .collect()
}

/// Makes the demo's first sample with its marks, and an unmarked copy of its clip.
fn demo(name: &str) -> (Sheaf, String, PathBuf) {
    clips::own_state();
    let folder = clips::folder(name);
    let _ = std::fs::remove_dir_all(&folder);
    let output = Command::new(env!("CARGO_BIN_EXE_stillcall"))
        .args(["demo", "--no-window", "--only", "bars-routine", "--out"])
        .arg(folder.join("demo"))
        .env("STILLCALL_STATE", folder.join("demo-state"))
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let clip = folder.join("demo").join("bars-routine.mp4");
    let state = StateFolder::at(folder.join("demo-state"));
    let file = marks::path_for(&clip, "1", "J-2");
    let sheaf = marks::load(&file, Some(&state)).unwrap();
    std::fs::create_dir_all(folder.join("copy")).unwrap();
    let copy = folder.join("copy").join("bars-routine.mp4");
    std::fs::copy(&clip, &copy).unwrap();
    (sheaf, score(&file), copy)
}

fn score(file: &Path) -> String {
    let judged = stillcall::judged::Judging::new(None).judge(file).unwrap();
    judged.sheet.range_words()
}

fn replay(window: &mut Harness, list: &[Press]) {
    for press in list {
        match press {
            Press::Key(key) => window.press(&[key]),
            Press::Type(text) => window.write(text),
        }
    }
    window.save();
}

/// Every element and fault that the demo has is there, within a frame, and nothing besides.
fn assert_alike(sheaf: &Sheaf, demo: &Sheaf) {
    let said = |sheaf: &Sheaf| -> Vec<(String, u64)> {
        let mut marks: Vec<_> = sheaf
            .marks
            .iter()
            .map(|mark| {
                let what = match &mark.what {
                    What::Element { element } => element.clone(),
                    What::Fault { fault, .. } => fault.clone(),
                    other => panic!("the demo has no such mark: {other:?}"),
                };
                (what, mark.at.frame().unwrap().index.0)
            })
            .collect();
        marks.sort_by_key(|(_, frame)| *frame);
        marks
    };
    let (ours, theirs) = (said(sheaf), said(demo));
    let names = |marks: &[(String, u64)]| -> Vec<String> {
        marks.iter().map(|(what, _)| what.clone()).collect()
    };
    assert_eq!(names(&ours), names(&theirs), "{ours:?}");
    for (our, their) in ours.iter().zip(&theirs) {
        assert!(our.1.abs_diff(their.1) <= 1, "{our:?} {their:?}");
    }
}

#[test]
fn by_keys_alone_the_demos_clip_gets_the_demos_score() {
    let list = list();
    let presses: usize = list
        .iter()
        .map(|press| match press {
            Press::Key(_) => 1,
            Press::Type(text) => text.chars().count(),
        })
        .sum();
    assert!(presses <= MOST_PRESSES, "{presses} presses");
    let (demo, score_of_demo, clip) = demo("ten-minutes-keys");
    let mut window =
        Harness::open_on(OpensOn::Clip(clip.clone(), None), SIZE, "tiny-skia").unwrap();
    replay(&mut window, &list);
    let file = marks::path_for(&clip, "1", "J-1");
    let sheaf = marks::load(&file, StateFolder::of_user().as_ref()).unwrap();
    assert_alike(&sheaf, &demo);
    assert_eq!(score(&file), score_of_demo);
    let calls: Vec<CallAnswer> = sheaf.calls.iter().map(|it| it.answer).collect();
    assert_eq!(calls, [CallAnswer::NotMet]);
}
