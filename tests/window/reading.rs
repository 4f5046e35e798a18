//! No file is read on the window's thread. The harness refuses it while a message is taken and while
//! a screen is drawn, in every test; here are the ways on which most is read, and what is typed
//! before it is read.

use std::{fs, panic, path::Path};

use stillcall::{marks, rulebook, store::NoReading};

use crate::screens::{assert_says, begin, fresh, marks_of, open, put, saved};

#[test]
fn a_file_that_is_read_where_none_may_be_ends_the_test_with_its_name() {
    let doors: [(&str, fn()); 4] = [
        ("a.marks.json", || drop(marks::load(Path::new("a.marks.json"), None))),
        ("own.toml", || drop(rulebook::load("own.toml"))),
        ("clip.mp4", || drop(marks::beside(Path::new("clip.mp4")))),
        ("a.sitting", || drop(stillcall::practice::sitting::read(Path::new("a.sitting")))),
    ];
    for (name, read) in doors {
        let refused = panic::catch_unwind(|| {
            let _quiet = NoReading::begin();
            read();
        });
        let said = *refused.unwrap_err().downcast::<String>().unwrap();
        assert!(said.contains(name), "{said}");
        // What held it is gone, and so is the refusal.
        read();
    }
}

#[test]
fn a_clip_its_routines_and_its_books_are_read_beside_the_window() {
    let (mut window, clip) = fresh("read-beside");
    begin(&mut window);
    put(&mut window, "pull");
    window.press(&["ctrl+n"]);
    window.write("SC-12");
    window.press(&["Return"]);
    put(&mut window, "bhc");
    // Listed and switched.
    window.press(&["ctrl+l", "Up", "Return"]);
    assert_says(&mut window, "Pull-over");
    window.press(&["ctrl+Page_Down"]);
    assert_says(&mut window, "Back hip circle");
    // Another athlete with a list of elements, another book, and back over both.
    let list = clip.with_file_name("SC-13.skills.toml");
    fs::write(&list, "this is no list").unwrap();
    window.press(&["ctrl+r"]);
    window.write("SC-13");
    window.press(&["Return"]);
    assert_says(&mut window, "SC-13.skills.toml");
    let book = clip.with_file_name("club.toml");
    let shipped = rulebook::shipped_text("saltmarsh").unwrap();
    fs::write(&book, shipped.replace("Back hip circle", "Club circle")).unwrap();
    window.press(&["Escape"]);
    window.drop_file(book.clone());
    window.press(&["Return"]);
    assert_says(&mut window, "Club circle");
    window.press(&["ctrl+z"]);
    assert_says(&mut window, "Back hip circle");
    window.press(&["ctrl+y"]);
    assert_says(&mut window, "Club circle");
    // A plane, then the clip once more.
    window.press(&["w"]);
    assert_says(&mut window, "A plane of known size");
    window.press(&["Escape"]);
    window.save();
    drop(window);
    assert_says(&mut open(&clip), "Routines of this clip");
}

#[test]
fn what_is_typed_before_the_books_are_read_is_not_lost() {
    let (mut window, clip) = fresh("typed-before");
    // The form is open at once; its fields are written in, and taking it waits for the books.
    window.press_meanwhile(&[
        "Return",
        "S",
        "7",
        "Tab",
        "J",
        "shift+Tab",
        "Tab",
        "K",
        "9",
        "Return",
    ]);
    assert_says(&mut window, "Go to the frame where an element begins");
    put(&mut window, "pull");
    window.save();
    let [marks] = &marks::beside(&clip)[..] else { panic!("one routine is there") };
    let routine = saved(marks).routine;
    assert_eq!((routine.athlete.as_str(), routine.judge.as_str()), ("S7", "K9"));
    assert_eq!(routine.book, "saltmarsh");
}

#[test]
fn what_is_typed_while_another_routine_is_read_goes_to_that_one() {
    let (mut window, clip) = fresh("typed-while");
    begin(&mut window);
    put(&mut window, "pull");
    window.press(&["ctrl+n", "Return"]);
    put(&mut window, "bhc");
    window.press_meanwhile(&["ctrl+Page_Up", "Down", "Delete"]);
    window.save();
    let count = |name: &str| saved(&marks_of(&clip, name)).marks.len();
    assert_eq!([count("1"), count("2")], [0, 1]);
}
