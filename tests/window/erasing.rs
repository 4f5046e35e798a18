//! Deleting a clip and withdrawing an athlete from the wall: first the whole list, then a deliberate
//! confirmation, then what came of it.

use std::fs;

use stillcall::{
    library::{Deletion, Home, Ledger, Shelf},
    marks::StateFolder,
    units::counted,
    window::Harness,
};

use crate::{
    library::Club,
    screens::{assert_says, fresh, saved},
};

fn deletions(club: &Club) -> Vec<Deletion> {
    Ledger::<Deletion>::open(&club.home()).unwrap().lines().unwrap()
}

fn fill_in(window: &mut Harness, fields: &[&str]) {
    for (place, field) in fields.iter().enumerate() {
        if place > 0 {
            window.press(&["Tab"]);
        }
        window.write(field);
    }
}

/// The proof of the clip's frames goes too, where another test has looked at it.
fn assert_goes(window: &mut Harness, files: usize, what: &str) {
    let said = [files, files + 1].map(|files| format!("{} {what}", counted(files, "file")));
    assert!(said.iter().any(|said| window.says(said)), "{said:?}");
}

#[test]
fn a_clip_goes_only_after_the_list_and_not_by_enter() {
    let club = Club::with("erase-clip", 3);
    let (clip, marks) = (club.clip("a-real.mp4"), club.marks("a-real.mp4"));
    let mut window = club.wall();
    window.press(&["Delete"]);
    assert!(!window.says("Delete a clip"), "nothing is chosen, so that a letter would go");
    window.press(&["Down", "Delete"]);
    assert_says(&mut window, "Delete a clip");
    assert_says(&mut window, &clip.display().to_string());
    window.press(&["Return"]);
    assert_says(&mut window, "Say who deletes, and who looks on: a second adult.");
    fill_in(&mut window, &["J-2", "J-2"]);
    window.press(&["Return"]);
    assert_says(&mut window, "Deleting needs a witness other than \"J-2\"");
    window.press(&["shift+Tab", "Tab"]);
    window.write("welfare officer");
    window.press(&["Return"]);
    assert_goes(&mut window, 2, "would go. Nothing is deleted yet.");
    assert_says(&mut window, "Deletes: J-2 · Looks on: welfare officer");
    assert_says(&mut window, "1 clip");
    assert_says(&mut window, "1 marks file");
    assert_says(&mut window, &marks.display().to_string());
    assert_says(&mut window, "Not reached, and for the club to see to");
    window.press(&["Return", "space", "Escape"]);
    assert!(clip.exists() && marks.exists(), "neither Enter nor Escape deletes");
    assert!(deletions(&club).is_empty());
    // Marks may be kept; by the mouse this time.
    assert_says(&mut window, "3 routines found");
    assert!(window.click("Delete it (Delete)"));
    fill_in(&mut window, &["J-2", "welfare officer"]);
    assert!(window.click("Keep marks and numbers; they hold no pictures"));
    assert!(window.click("Show what would go (Enter)"));
    assert_goes(&mut window, 1, "would go. Nothing is deleted yet.");
    window.press(&["ctrl+Return"]);
    assert_goes(&mut window, 1, "deleted");
    assert_says(&mut window, "the log of deletions says what was found");
    assert!(!clip.exists() && marks.exists());
    let log = deletions(&club);
    assert_eq!((log[0].by.as_str(), log[0].witness.as_str()), ("J-2", "welfare officer"));
    window.press(&["Escape"]);
    assert_says(&mut window, "○ clip not there");
}

#[test]
fn a_withdrawal_asks_for_the_code_again_and_tells_a_wrong_one_at_once() {
    let club = Club::with("erase-athlete", 3);
    fs::copy(club.clip("a-real.mp4"), club.clip("copy of it.mp4")).unwrap();
    let mut window = club.wall();
    window.press(&["F5", "ctrl+w"]);
    assert_says(&mut window, "An athlete withdraws");
    fill_in(&mut window, &["Anna", "J-2", "welfare officer"]);
    window.press(&["Return"]);
    assert_says(&mut window, "\"Anna\" is not a code.");
    window.press(&["shift+Tab", "shift+Tab"]);
    window.write("SC-99");
    window.press(&["Return"]);
    assert_says(&mut window, "Nothing here names SC-99, so nothing was deleted.");
    window.press(&["ctrl+a"]);
    window.write("SC-07");
    window.press(&["Return"]);
    assert_says(&mut window, "Nothing is deleted yet.");
    assert_says(&mut window, "2 clips");
    assert_says(&mut window, "copy of it.mp4");
    assert_says(&mut window, "Word for other computers, by a hash of the code (2)");
    window.press(&["ctrl+Return"]);
    assert_says(&mut window, "Write SC-07 once more, and nothing else.");
    window.write("sc-1");
    assert_says(&mut window, "This is not SC-07.");
    assert!(club.clip("a-real.mp4").exists());
    window.press(&["BackSpace"]);
    assert!(!window.says("This is not"));
    window.write("07");
    window.press(&["Return"]);
    assert!(club.clip("a-real.mp4").exists(), "Enter alone does not do it");
    window.press(&["ctrl+Return"]);
    assert_says(&mut window, "deleted");
    for name in ["a-real.mp4", "copy of it.mp4", "a-real.mp4.1.J-2.marks.json"] {
        assert!(!club.clip(name).exists(), "{name}");
    }
    assert!(club.clip("clip-001.mp4").exists(), "that is another athlete");
    assert_eq!(deletions(&club)[0].why, "consent withdrawn");
    window.press(&["Escape"]);
    assert_says(&mut window, "2 routines found");
    // Her code is given to nobody any more, in the words of the command line.
    window.press(&["ctrl+g"]);
    window.write("athlete SC-07");
    window.press(&["Return"]);
    assert_says(&mut window, "SC-07 withdrew on ");
    assert_says(&mut window, "; whoever it is now needs another code");
    assert_eq!(saved(&club.marks("clip-001.mp4")).routine.athlete, "SC-1");
}

/// What is open elsewhere is told before anything goes.
#[test]
fn what_cannot_go_is_told_and_nothing_goes() {
    let club = Club::with("erase-open", 2);
    let marks = club.marks("a-real.mp4");
    let desk = stillcall::marks::Desk::open(&marks, &StateFolder::of_user().unwrap()).unwrap();
    let mut window = club.wall();
    window.press(&["Down", "Delete"]);
    fill_in(&mut window, &["J-2", "welfare officer"]);
    window.press(&["Return", "ctrl+Return"]);
    assert_says(&mut window, "is open in a window of this program. Close it, then delete again");
    assert!(club.clip("a-real.mp4").exists() && marks.exists());
    drop(desk);
    window.press(&["Return", "ctrl+Return"]);
    assert_says(&mut window, "deleted");
    assert!(!club.clip("a-real.mp4").exists());
}

#[test]
fn a_routine_is_not_given_the_code_of_somebody_who_withdrew() {
    let (mut window, clip) = fresh("withdrawn-code");
    let (state, folder) = (StateFolder::of_user().unwrap(), clip.parent().unwrap().to_owned());
    let home = Home::at(state.path().join("library"));
    let mut shelf = Shelf::default();
    shelf.add(&folder).unwrap();
    shelf.write(&home).unwrap();
    // Word of a withdrawal, as another computer leaves it: salt and hash of the code.
    let hash = blake3::hash(b"pepper sc-55").to_hex().to_string();
    let word = serde_json::json!({
        "format": "stillcall withdrawal", "version": 1, "id": "0123456789abcdef",
        "on": "2026-11-02", "salt": "pepper", "code": hash,
        "witnessed": {"by": "J-2", "witness": "welfare officer"},
        "shared": "Close", "contents": [], "written": [],
    });
    fs::write(folder.join("withdrawn-0123456789abcdef.stillcall.json"), word.to_string()).unwrap();
    let refused = "SC-55 withdrew on 2026-11-02; whoever it is now needs another code.";
    window.press(&["Return"]);
    fill_in(&mut window, &["SC-55", "J-9"]);
    window.press(&["Return"]);
    assert_says(&mut window, refused);
    assert!(stillcall::marks::beside(&clip).is_empty());
    window.press(&["shift+Tab"]);
    window.write("SC-56");
    window.press(&["Return"]);
    let marks = crate::screens::marks_of(&clip, "1");
    assert_eq!(saved(&marks).routine.athlete, "SC-56");
    window.press(&["ctrl+r"]);
    window.write("SC-55");
    window.press(&["Return"]);
    assert_says(&mut window, refused);
    assert_eq!(saved(&marks).routine.athlete, "SC-56");
    fs::remove_dir_all(home.path()).unwrap();
}
