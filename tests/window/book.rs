//! One's own rule book: begun from a shape of scoring, filled in by forms, with rows of a spreadsheet.

use std::{cell::Cell, fs, path::PathBuf};

use stillcall::{
    rulebook::{Book, read},
    sheet::score,
    units::Points,
    window::Harness,
};

use crate::{clips, screens::assert_says};

const SIZE: [u32; 2] = [1366, 768];

fn begun(name: &str) -> (Harness, PathBuf) {
    clips::own_state();
    let folder = clips::folder("books").join(name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).unwrap();
    let path = folder.join("my-league.toml");
    let mut window = Harness::open(None, SIZE, "tiny-skia").unwrap();
    window.press(&["ctrl+r"]);
    assert_says(&mut window, "what does a score look like?");
    window.write(path.to_str().unwrap());
    window.press(&["Return"]);
    (window, path)
}

fn text_of(path: &PathBuf) -> String {
    fs::read_to_string(path).unwrap()
}

fn book_of(path: &PathBuf) -> Book {
    read(&text_of(path), "my-league").unwrap().0
}

/// Writes values into the fields of a row, one after the other.
fn fill(window: &mut Harness, values: &[&str]) {
    for value in values {
        window.press(&["ctrl+a"]);
        window.write(value);
        window.press(&["Return"]);
    }
}

/// Presses the event in the dialogue, not the one of the example behind it.
fn take_in(window: &mut Harness) {
    let texts = window.texts();
    let (_, at) = texts.iter().rfind(|(text, _)| text == "beam").unwrap();
    window.click_at(at.center());
}

#[test]
fn a_book_is_begun_from_a_shape_and_written_at_once() {
    let (mut window, path) = begun("begun");
    assert_says(&mut window, "✓ The book can be used");
    assert!(window.title().starts_with("my-league.toml · Rule book"));
    assert!(text_of(&path).contains("id = \"my-league\""));
    // Title and edition of the book itself, by Tab from the top.
    window.press(&["Tab", "Tab"]);
    fill(&mut window, &["Our league", "2027"]);
    let book = book_of(&path);
    assert_eq!((book.title.as_str(), book.edition.as_str()), ("Our league", "2027"));
    window.press(&["Escape", "Escape"]);
    assert_says(&mut window, "Open a clip");
}

#[test]
fn rows_are_filled_in_and_every_step_can_be_undone() {
    let (mut window, path) = begun("rows");
    assert!(window.click("Division"));
    window.press(&["Tab"]);
    fill(&mut window, &["gull", "Gull"]);
    window.press(&["ctrl+n"]);
    fill(&mut window, &["tern", "Tern"]);
    let names = |path: &PathBuf| -> Vec<String> {
        book_of(path).divisions.iter().map(|division| division.name.clone()).collect()
    };
    assert_eq!(names(&path), ["Gull", "Tern"]);
    // The harder one first, and back.
    assert!(window.click("Up"));
    assert_eq!(names(&path), ["Tern", "Gull"]);
    window.press(&["ctrl+z"]);
    assert_eq!(names(&path), ["Gull", "Tern"]);
    assert!(window.click("Undo (Ctrl Z)"));
    assert!(!text_of(&path).contains("\"Tern\""));
    assert!(window.click("Redo (Ctrl Y)"));
    assert_eq!(names(&path), ["Gull", "Tern"]);
}

#[test]
fn words_of_a_few_are_pressed_and_what_is_wrong_stands_at_its_field() {
    let (mut window, path) = begun("words");
    assert!(window.click("Scoring"));
    assert!(window.click("start-minus-half"));
    assert!(text_of(&path).contains("formula = \"start-minus-half\""));
    window.press(&["Tab"]);
    fill(&mut window, &["ten or so"]);
    assert_says(&mut window, "\"ten or so\" is neither a number nor a name");
    window.press(&["Escape"]);
    // A name that no division has a number for.
    window.press(&["Tab"]);
    fill(&mut window, &["usual"]);
    assert_says(&mut window, "✗ ");
    assert_says(&mut window, "to mend before it can be used");
    window.press(&["ctrl+z"]);
    assert_says(&mut window, "✓ The book can be used");
    // The first is pressed of what may be added.
    assert!(window.click("Floor"));
    fill(&mut window, &["2,5"]);
    assert!(text_of(&path).contains("floor = 2.5"));
}

#[test]
fn rows_inside_a_row_have_fields_of_their_own() {
    let (mut window, path) = begun("inside");
    assert!(window.click("Value parts"));
    assert!(window.click("Add one"));
    assert!(text_of(&path).contains("price"));
    assert_says(&mut window, "✗ ");
    // Of the new one the class is pressed, and count and price are written.
    let texts = window.texts();
    let (_, at) = texts.iter().rfind(|(text, _)| text == "a").unwrap();
    let at = at.center();
    window.press(&["Escape"]);
    window.click_at(at);
    window.press(&["Tab", "Tab", "Tab"]);
    fill(&mut window, &["3", "0.2"]);
    assert!(text_of(&path).contains("price = 0.2"), "{}", text_of(&path));
    assert_says(&mut window, "✓ The book can be used");
}

#[test]
fn rows_of_a_spreadsheet_are_pasted_and_the_example_shows_what_they_do() {
    let (mut window, path) = begun("pasted");
    assert!(window.click("Element"));
    assert_says(&mut window, "1 element once each, no deduction");
    assert!(window.click("Paste rows …"));
    assert_says(&mut window, "Nothing to paste");
    window.put_on_clipboard("Name\tClass\nSplit leap\tA\nTuck jump\tA\nWolf jump\tA\n");
    assert!(window.click("Paste rows …"));
    assert_says(&mut window, "3 rows from the clipboard");
    take_in(&mut window);
    assert_says(&mut window, "4 elements once each, no deduction");
    let book = book_of(&path);
    let names: Vec<&str> = book.elements.iter().map(|element| element.name.as_str()).collect();
    assert_eq!(names, ["Leap", "Split leap", "Tuck jump", "Wolf jump"]);
    // Without the one value part that is asked for the score is 0.5 less.
    assert!(window.click("Value parts"));
    window.press(&["Tab"]);
    fill(&mut window, &["5"]);
    assert_says(&mut window, "was 10.000");
    assert_says(&mut window, "9.500");
}

#[test]
fn a_file_that_was_changed_meanwhile_is_not_written_over() {
    let (mut window, path) = begun("changed");
    let theirs = text_of(&path).replace("edition = \"1\"", "edition = \"9\"");
    fs::write(&path, &theirs).unwrap();
    window.press(&["Tab", "Tab"]);
    fill(&mut window, &["Mine"]);
    assert_says(&mut window, "was changed by something else");
    assert_eq!(text_of(&path), theirs);
    assert!(text_of(&path.with_extension("1.toml")).contains("title = \"Mine\""));
}

#[test]
fn a_routine_is_offered_the_book_that_was_typed_in() {
    let (mut window, path) = begun("offered");
    window.press(&["Escape"]);
    let clip = clips::fresh("offered-book");
    window.drop_file(clip);
    window.press(&["Return"]);
    assert_says(&mut window, "my-league");
    drop(path);
}

/// Five divisions, one event, six requirements, thirty elements out of a spreadsheet, twelve faults and
/// three angle rules; letters and digits of names and numbers aside, every press and click is counted.
#[test]
fn a_league_of_ones_own_takes_few_presses() {
    let (mut window, path) = begun("league");
    let presses = Cell::new(0);
    let press = |window: &mut Harness, keys: &[&str]| {
        presses.set(presses.get() + keys.len());
        window.press(keys);
    };
    let clicks = |more: usize| presses.set(presses.get() + more);
    let write = |window: &mut Harness, text: &str| window.write(text);
    press(&mut window, &["Page_Down", "Tab"]);
    for (at, name) in ["Plover", "Gull", "Tern", "Petrel", "Auk"].iter().enumerate() {
        if at > 0 {
            press(&mut window, &["ctrl+n"]);
        }
        write(&mut window, &name.to_lowercase());
        press(&mut window, &["Return"]);
        write(&mut window, name);
        press(&mut window, &["Return"]);
    }
    let row = |number: usize| format!("Element {number}\tA\tkind-{}\n", number % 6);
    let elements = (1..=30).map(row).collect::<Vec<_>>().concat();
    window.put_on_clipboard(&format!("Name\tClass\tTags\n{elements}"));
    clicks(3);
    assert!(window.click("Element") && window.click("Paste rows …"));
    take_in(&mut window);
    clicks(1);
    assert!(window.click("Requirement"));
    for number in 0..6 {
        press(&mut window, &["ctrl+n"]);
        for value in [&format!("asked-{number}"), &format!("Kind {number}"), "0.5"] {
            write(&mut window, value);
            press(&mut window, &["Return"]);
        }
        clicks(1);
        assert!(window.click("Tags"));
        // Six tags are words of a few.
        clicks(1);
        assert!(window.click(&format!("kind-{number}")));
    }
    clicks(1);
    assert!(window.click("Fault"));
    for number in 1..12 {
        press(&mut window, &["ctrl+n"]);
        for value in [format!("fault-{number}"), format!("Fault {number}")] {
            write(&mut window, &value);
            press(&mut window, &["Return"]);
        }
        clicks(1);
        assert!(window.click("Amount"), "{number}: {:?}", window.texts());
        write(&mut window, "0.1");
        press(&mut window, &["Return"]);
    }
    clicks(1);
    assert!(window.click("Angle"));
    for number in 0..3 {
        press(&mut window, &["ctrl+n"]);
        for value in [format!("angle-{number}"), format!("Split {number}")] {
            write(&mut window, &value);
            press(&mut window, &["Return"]);
        }
        clicks(2);
        assert!(window.click("split") && window.click("at-least"));
        press(&mut window, &["Tab", "Tab", "Tab"]);
        write(&mut window, "100");
        press(&mut window, &["Return"]);
        clicks(2);
        assert!(window.click("Tags") && window.click(&format!("kind-{number}")));
    }
    let book = book_of(&path);
    let counts = [
        book.divisions.len(),
        book.requirements.len(),
        book.elements.len(),
        book.faults.len(),
        book.angles.len(),
    ];
    assert_eq!(counts, [5, 6, 31, 12, 3], "{}", text_of(&path));
    let presses = presses.get();
    println!("{presses} presses and clicks");
    assert!(presses <= 250, "{presses}");
    // An empty exercise lacks six requirements at 0.5 and one value part at 0.5.
    let mut sheaf = stillcall::marks::Sheaf::default();
    (sheaf.routine.event, sheaf.routine.division) = ("beam".to_owned(), "gull".to_owned());
    assert_eq!(score(&book, &sheaf).score, Some(Points(6_500)));
}
