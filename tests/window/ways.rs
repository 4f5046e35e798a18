//! Ways around: commands by their names, what is done by mouse alone, and back to where one was.

use stillcall::{
    marks::{self, What},
    units::Points,
};

use crate::{
    library::Club,
    screens::{assert_says, begin, begin_with_a_leap, fresh, marks_of, put, saved},
};

#[test]
fn a_command_is_found_by_a_part_of_its_name_and_done() {
    let (mut window, _) = fresh("found-command");
    begin(&mut window);
    assert!(window.click("Commands ?"));
    assert_says(&mut window, "next frame");
    window.write("JUDGE'S card");
    assert!(!window.says("next frame"), "only what fits");
    window.press(&["Return"]);
    assert!(!window.says("All commands (") && window.says("Close (Esc)"));
    // By mouse, and a question mark closes what is not searched.
    window.press(&["Escape", "?"]);
    assert!(window.click("play, stop"));
    assert_says(&mut window, "■ Stop");
    window.press(&["space", "?", "?"]);
    assert!(!window.says("The paper"));
}

#[test]
fn while_points_are_placed_only_what_fits_is_done_from_the_list() {
    let (mut window, clip) = fresh("found-placing");
    begin_with_a_leap(&mut window);
    window.press(&["a", "?"]);
    window.write("fall");
    window.press(&["Return"]);
    let falls = saved(&marks_of(&clip, "1")).marks.iter().any(|mark| mark.what == What::Fall);
    assert!(!falls);
}

#[test]
fn a_line_is_written_changed_and_removed_by_mouse_alone() {
    let (mut window, clip) = fresh("by-mouse");
    assert!(window.click("Set"));
    assert!(window.click("Redshank"));
    assert!(window.click("J-2"));
    assert!(window.click("Done"));
    assert!(window.click("Write what you see"));
    assert!(window.click("Jump to front support"));
    assert_says(&mut window, "✓ Jump to front support");
    let elements = || saved(&marks::path_for(&clip, "1", "J-2")).marks.len();
    assert_eq!(elements(), 1);
    assert!(window.click("Remove"));
    assert_eq!(elements(), 0);
    assert!(!window.says("✓ Jump to front support"), "what was taken back is not said");
    assert!(window.click("Undo"));
    assert_eq!(elements(), 1);
    // Written once, it is the first to be offered.
    assert!(window.click("Write what you see"));
    let texts = window.texts();
    let place = |said: &str| texts.iter().rposition(|(text, _)| text == said);
    assert!(place("Jump to front support") < place("Pull-over"));
}

#[test]
fn what_is_put_down_is_said_with_what_it_does_to_the_score() {
    let (mut window, _) = fresh("effect");
    begin(&mut window);
    put(&mut window, "pull");
    assert_says(&mut window, "✓ Pull-over");
    put(&mut window, "fall");
    // A fall of 0.8 off the twelve that a routine of this division starts from, less what is missing.
    let said: Vec<String> = window.texts().into_iter().map(|(text, _)| text).collect();
    let at = said.iter().position(|text| text == "✓ Fall").unwrap();
    let (before, after) = said[at + 1].split_once(" → ").unwrap();
    let [before, after] = [before, after].map(|score| score.parse::<f64>().unwrap());
    assert!((before - after - 0.8).abs() < 1e-9, "{before} {after}");
}

#[test]
fn from_a_clip_of_the_wall_escape_leads_back_to_where_one_was() {
    let club = Club::with("back", 9);
    let mut window = club.wall();
    window.shot();
    window.write("event bars");
    window.press(&["Return", "Down"]);
    window.press(&["Return"]);
    assert_says(&mut window, "‹ Library");
    // First the chosen line is let go, then the clip.
    window.press(&["Down", "Escape"]);
    assert_says(&mut window, "‹ Library");
    window.press(&["Escape"]);
    assert_eq!(window.title(), "Library · Stillcall");
    assert_says(&mut window, "event bars");
    assert_says(&mut window, "a-real.mp4");
    window.press(&["Return"]);
    assert!(window.click("‹ Library"), "the same clip is still chosen");
    assert_eq!(window.title(), "Library · Stillcall");
}

#[test]
fn from_a_clip_of_the_start_screen_escape_leads_back_there() {
    let (mut window, _) = fresh("back-to-start");
    assert_says(&mut window, "‹ Start");
    window.press(&["Escape"]);
    assert_says(&mut window, "Open a clip");
    assert_says(&mut window, "Opened last");
}

#[test]
fn a_dropped_folder_goes_into_the_library() {
    let club = Club::with("dropped", 2);
    let mut window = club.wall();
    let other = club.clip("..").join("other");
    std::fs::create_dir_all(&other).unwrap();
    std::fs::copy(club.clip("a-real.mp4"), other.join("b-real.mp4")).unwrap();
    window.drop_file(other);
    window.shot();
    assert_says(&mut window, "3 routines found");
}

#[test]
fn a_fault_with_several_amounts_is_taken_at_the_one_that_is_picked() {
    let (mut window, clip) = fresh("picked-amount");
    begin(&mut window);
    put(&mut window, "pull");
    window.press(&["Return"]);
    window.write("be");
    window.press(&["Down", "Return"]);
    window.save();
    let marks = saved(&marks_of(&clip, "1")).marks;
    // The book lets bent legs cost 0.05, 0.1 and more; the list goes from the least on.
    let amounts = marks.iter().filter_map(|mark| match &mark.what {
        What::Fault { fault, amount } => Some((fault.as_str(), *amount)),
        _ => None,
    });
    assert_eq!(amounts.collect::<Vec<_>>(), [("legs-bent", Some(Points(100)))]);
}
