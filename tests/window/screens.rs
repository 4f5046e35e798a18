//! Every screen in its empty, usual, full and error state, on the headless renderer: what it
//! says, and that it can be done by keys and by the mouse.

use std::path::{Path, PathBuf};

use iced::{Point, Rectangle};
use stillcall::{
    marks::{self, StateFolder, What},
    units::FrameIndex,
    window::{Harness, OpensOn, Shot},
};

use crate::clips;

const SIZE: [u32; 2] = [1280, 800];

/// A clip of its own in a folder of its own, opened without marks.
pub(crate) fn fresh(name: &str) -> (Harness, PathBuf) {
    let clip = clips::fresh(name);
    (open(&clip), clip)
}

pub(crate) fn open(clip: &Path) -> Harness {
    Harness::open(Some(clip), SIZE, "tiny-skia").unwrap()
}

/// Fills in the header with the judge's code only.
pub(crate) fn begin(window: &mut Harness) {
    window.press(&["Return", "Tab"]);
    window.write("J-9");
    window.press(&["Return"]);
}

/// Fills in the header of a beam routine and writes a leap down.
pub(crate) fn begin_with_a_leap(window: &mut Harness) {
    window.press(&["Return"]);
    assert!(window.click("Beam"));
    window.press(&["Tab"]);
    window.write("J-9");
    window.press(&["Return"]);
    put(window, "leap");
}

pub(crate) fn put(window: &mut Harness, text: &str) {
    window.press(&["Return"]);
    window.write(text);
    window.press(&["Return"]);
}

pub(crate) fn saved(path: &Path) -> marks::Sheaf {
    marks::load(path, StateFolder::of_user().as_ref()).unwrap()
}

pub(crate) fn marks_of(clip: &Path, routine: &str) -> PathBuf {
    marks::path_for(clip, routine, "J-9")
}

#[track_caller]
pub(crate) fn assert_says(window: &mut Harness, part: &str) {
    assert!(window.says(part), "not on screen: {part}; there is {:?}", window.texts());
}

#[test]
fn the_start_screen_asks_for_a_clip_and_says_what_went_wrong() {
    clips::own_state();
    let mut window = Harness::open(None, SIZE, "tiny-skia").unwrap();
    assert_says(&mut window, "Open a clip");
    assert_says(&mut window, "or type its path");
    window.write("/nowhere/at all.mp4");
    window.press(&["Return"]);
    assert_says(&mut window, "/nowhere/at all.mp4");
    assert_says(&mut window, "✗");
    assert_eq!(window.title(), "Stillcall");
}

#[test]
fn a_clip_can_be_watched_before_anything_is_asked() {
    let (mut window, clip) = fresh("watched");
    assert_says(&mut window, "Nothing is written yet");
    window.press(&["Right", "shift+Right"]);
    assert_says(&mut window, "Frame 11 of");
    window.press(&["Home"]);
    assert_says(&mut window, "Frame 0 of");
    assert!(marks::beside(&clip).is_empty());
}

#[test]
fn what_is_written_stands_on_the_paper_and_can_be_written_anew_in_its_place() {
    let (mut window, clip) = fresh("anew");
    begin(&mut window);
    assert_says(&mut window, "Go to the frame where an element begins");
    window.press(&["Right", "Right"]);
    put(&mut window, "pull");
    assert_says(&mut window, "Pull-over");
    window.press(&["shift+Right", "F2"]);
    window.write("bhc");
    window.press(&["Return"]);
    assert_says(&mut window, "Back hip circle");
    assert!(!window.texts().iter().any(|(text, _)| text == "Pull-over"));
    // In its place: the frame is still the one where it was written.
    let sheaf = saved(&marks_of(&clip, "1"));
    assert_eq!(sheaf.marks[0].at.frame().unwrap().index, FrameIndex(2));
    window.press(&["ctrl+z"]);
    assert_says(&mut window, "Pull-over");
    // Another sort of thing does not take its place.
    window.press(&["Up", "F2"]);
    window.write("angle 12");
    window.press(&["Return"]);
    assert_says(&mut window, "Pull-over");
    window.press(&["v"]);
    assert_says(&mut window, "did not happen");
}

#[test]
fn a_line_of_text_has_a_cursor_a_selection_and_a_clipboard() {
    let (mut window, _) = fresh("text");
    begin(&mut window);
    window.press(&["Return"]);
    window.write("hip circle");
    window.press(&["ctrl+a", "ctrl+c", "Home"]);
    window.write("back ");
    assert_says(&mut window, "back hip circle");
    window.press(&["ctrl+a", "ctrl+v"]);
    assert!(window.texts().iter().any(|(text, _)| text == "hip circle"));
    window.press(&["Left", "BackSpace", "Delete"]);
    assert!(window.texts().iter().any(|(text, _)| text == "hip circ"));
}

/// A code, a remark or a name of a file may hold what turns the text after it round.
#[test]
fn what_would_turn_text_round_is_written_out() {
    let (mut window, _) = fresh("turned-text");
    window.press(&["Return"]);
    window.write("SC-\u{202e}07");
    assert_says(&mut window, "SC-\u{fffd}07");
    window.press(&["Tab"]);
    assert_says(&mut window, "\"SC-\\u202e07\" is not a code.");
    assert!(!window.says("\u{202e}"), "{:?}", window.texts());
}

#[test]
fn a_name_is_refused_at_its_field_and_an_old_one_stays() {
    let (mut window, clip) = fresh("names");
    window.press(&["Return"]);
    window.write("Anna");
    assert!(!window.says("is not a code"), "not while it is being written");
    window.press(&["Tab"]);
    assert_says(&mut window, "\"Anna\" is not a code.");
    assert_says(&mut window, "such as SC-07 or J-3; children's names stay out of files.");
    window.write("Coach");
    window.press(&["Return"]);
    assert_says(&mut window, "\"Coach\" is not a code.");
    assert!(marks::beside(&clip).is_empty());
    // The first of them is selected, so that writing replaces it.
    window.write("SC-07");
    window.press(&["Tab"]);
    window.write("J-9");
    window.press(&["Return"]);
    put(&mut window, "pull");
    window.save();
    drop(window);
    let path = marks_of(&clip, "1");
    let mut file: serde_json::Value =
        serde_json::from_slice(&std::fs::read(&path).unwrap()).unwrap();
    assert_eq!(file["routine"]["athlete"], "SC-07");
    // A file of an earlier version.
    file["routine"]["athlete"] = "Anna".into();
    std::fs::write(&path, file.to_string()).unwrap();
    let mut window = open(&clip);
    assert_says(&mut window, "Pull-over");
    window.press(&["ctrl+r", "Down", "Return"]);
    assert!(!window.says("is not a code"), "{:?}", window.texts());
    window.save();
    assert_eq!(saved(&path).routine.athlete, "Anna");
}

#[test]
fn a_call_that_nobody_can_tell_shows_the_range_as_the_score() {
    let (mut window, _) = fresh("range");
    window.press(&["Return", "Tab"]);
    window.write("J-9");
    // The third division, Redshank, asks for a cast to horizontal.
    window.press(&["Down", "Down", "Return"]);
    assert_says(&mut window, "Ready for the first mark");
    assert!(!window.says("Start value"), "the sheet comes with the first mark");
    assert_eq!(window.title(), "bars.mp4 · Stillcall");
    put(&mut window, "cast");
    assert_says(&mut window, "Start value");
    window.press(&["u"]);
    assert_says(&mut window, "Score, open");
    let title = window.title();
    let range = title.split(" · ").nth(1).unwrap().to_owned();
    let ends: Vec<f64> = range.split(" to ").map(|end| end.parse().unwrap()).collect();
    assert!(ends.len() == 2 && ends[0] < ends[1], "{title}");
    assert_says(&mut window, &range);
    window.press(&["y"]);
    assert!(!window.says("Score, open"));
    assert!(!window.title().contains(" to "), "{}", window.title());
    // Taken back to the beginning, it invites again.
    window.press(&["ctrl+z", "ctrl+z", "ctrl+z"]);
    assert_says(&mut window, "Ready for the first mark");
}

#[test]
fn a_sample_is_opened_on_what_was_measured_in_it() {
    let (mut window, clip) = fresh("sample");
    window.press(&["Return", "Tab"]);
    window.write("J-9");
    window.press(&["Down", "Down", "Return"]);
    put(&mut window, "pull");
    window.press(&["shift+Right", "Right"]);
    put(&mut window, "cast");
    put(&mut window, "angle 12");
    window.save();
    assert_eq!(saved(&marks_of(&clip, "1")).readings.len(), 1);
    drop(window);
    let mut window = Harness::open_on(OpensOn::Sample(clip), SIZE, "tiny-skia").unwrap();
    assert_says(&mut window, "Frame 11 of");
}

#[test]
fn a_clip_holds_several_routines_and_one_is_asked_for() {
    let (mut window, clip) = fresh("several");
    begin(&mut window);
    put(&mut window, "pull");
    window.press(&["shift+Right", "]", "shift+Right", "ctrl+n"]);
    // The last settings are offered again, and the name is the next number.
    assert_says(&mut window, "J-9");
    window.write("SC-12");
    window.press(&["Return"]);
    put(&mut window, "bhc");
    let first = saved(&marks_of(&clip, "1"));
    let second = saved(&marks_of(&clip, "2"));
    assert_eq!(first.routine.span.unwrap().map(|at| at.index), [0, 10].map(FrameIndex));
    assert_eq!(second.routine.span.unwrap()[0].index, FrameIndex(20));
    assert_eq!((second.routine.athlete.as_str(), second.routine.judge.as_str()), ("SC-12", "J-9"));
    assert_says(&mut window, "Back hip circle");
    window.press(&["ctrl+Page_Up"]);
    assert_says(&mut window, "Pull-over");
    drop(window);
    // Opened again, the clip asks which; a refusal would keep people from their marks.
    let mut again = open(&clip);
    assert_says(&mut again, "Routines of this clip");
    again.press(&["Down", "Return"]);
    assert_says(&mut again, "Back hip circle");
    assert_says(&mut again, "Frame 20 of");
}

#[test]
fn a_folder_that_cannot_be_written_to_offers_another_place() {
    use std::os::unix::fs::PermissionsExt as _;
    let (mut window, clip) = fresh("read-only");
    let folder = clip.parent().unwrap().to_owned();
    std::fs::set_permissions(&folder, std::fs::Permissions::from_mode(0o555)).unwrap();
    if std::fs::write(folder.join("probe"), "").is_ok() {
        println!("SKIPPED: this user may write into read-only folders");
        std::fs::set_permissions(&folder, std::fs::Permissions::from_mode(0o755)).unwrap();
        return;
    }
    begin(&mut window);
    assert_says(&mut window, "Keep the marks in");
    window.press(&["ctrl+Return"]);
    put(&mut window, "pull");
    assert_says(&mut window, "Pull-over");
    drop(window);
    // Opened again from the same folder, they are found where they are.
    let mut again = open(&clip);
    assert_says(&mut again, "Pull-over");
    std::fs::set_permissions(&folder, std::fs::Permissions::from_mode(0o755)).unwrap();
}

#[test]
fn a_file_changed_underneath_is_told_and_both_are_kept() {
    let (mut window, clip) = fresh("underneath");
    begin(&mut window);
    put(&mut window, "pull");
    window.save();
    let path = marks_of(&clip, "1");
    let theirs = std::fs::read_to_string(&path).unwrap().replace("\"J-9\"", "\"J-8\"");
    std::fs::write(&path, &theirs).unwrap();
    put(&mut window, "bhc");
    window.save();
    assert_says(&mut window, "was changed by another program");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), theirs, "nothing is overwritten");
    window.press(&["ctrl+2"]);
    assert_says(&mut window, "Back hip circle");
    assert_eq!(std::fs::read_to_string(&path).unwrap(), theirs);
    assert_eq!(marks::beside(&clip).len(), 2);
    assert_eq!(saved(&marks::path_for(&clip, "1", "J-9-2")).marks.len(), 2);
}

#[test]
fn marks_find_their_clip_and_ask_for_it_when_it_is_gone() {
    let (mut window, clip) = fresh("moved");
    begin(&mut window);
    put(&mut window, "pull");
    window.save();
    drop(window);
    let path = marks_of(&clip, "1");
    let mut by_marks = open(&path);
    assert_says(&mut by_marks, "Pull-over");
    drop(by_marks);
    let moved = clip.with_file_name("elsewhere.mp4");
    std::fs::rename(&clip, &moved).unwrap();
    let mut lost = open(&path);
    assert_says(&mut lost, "is not in their folder any more");
    lost.write(&moved.to_string_lossy());
    lost.press(&["Return"]);
    assert_says(&mut lost, "Pull-over");
    drop(lost);
    // Another file in its place is told.
    std::fs::copy(clips::coded("420.mp4", "-c:v libx264 -pix_fmt yuv420p"), &clip).unwrap();
    let mut other = open(&path);
    assert_says(&mut other, "These marks were made on another file");
}

#[test]
fn card_chart_and_guide_are_one_key_away() {
    let (mut window, _) = fresh("pages");
    begin(&mut window);
    window.press(&["k"]);
    assert_says(&mut window, "Faults that differ");
    assert_says(&mut window, "A cast as high as the division asks");
    window.press(&["Escape", "e"]);
    assert_says(&mut window, "Back hip circle");
    assert_says(&mut window, "Heron");
    window.press(&["Escape", "i"]);
    assert_says(&mut window, "Guide, 1 of");
    window.press(&["i"]);
    assert_says(&mut window, "Guide, 2 of");
    window.press(&["Escape"]);
    assert!(!window.says("Guide, "));
}

/// A click that comes with the key that begins measuring is the first point; one that came long
/// before is nothing.
#[test]
fn a_click_in_one_batch_with_its_key_is_not_lost() {
    let (mut window, clip) = fresh("batch");
    begin_with_a_leap(&mut window);
    window.shot();
    window.press_and_click_at("a", Point::new(400.0, 300.0));
    let points = |clip: &Path| {
        saved(&marks_of(clip, "1")).unfinished.iter().map(|it| it.points.len()).sum::<usize>()
    };
    assert_eq!(points(&clip), 1);
    window.click_at(Point::new(430.0, 320.0));
    assert_eq!(points(&clip), 2, "the next one as ever");
    window.press(&["Escape"]);
    window.click_at(Point::new(460.0, 340.0));
    std::thread::sleep(std::time::Duration::from_millis(60));
    window.press(&["a"]);
    assert_eq!(points(&clip), 2, "too long before");
}

/// Buttons are there also for what no key asks for meanwhile: one thing at a time, and points that
/// were placed stay.
#[test]
fn whoever_begins_to_write_while_measuring_stops_measuring() {
    let (mut window, clip) = fresh("modes");
    begin_with_a_leap(&mut window);
    window.shot();
    window.press(&["a"]);
    window.click_at(Point::new(400.0, 300.0));
    assert_says(&mut window, "Leave Esc");
    assert!(window.click("Write what you see"));
    assert!(!window.says("Leave Esc"), "{:?}", window.texts());
    window.write("fall");
    assert!(window.click("Go on measuring A"), "{:?}", window.texts());
    assert_says(&mut window, "Leave Esc");
    assert_says(&mut window, "Write what you see");
    window.click_at(Point::new(430.0, 320.0));
    let unfinished = saved(&marks_of(&clip, "1")).unfinished;
    assert_eq!(unfinished.iter().map(|it| it.points.len()).sum::<usize>(), 2);
}

/// A value that no longer is what its points give is told on opening, and undo takes it back.
#[test]
fn a_value_that_comes_out_otherwise_is_told() {
    let (mut window, clip) = fresh("anew");
    begin_with_a_leap(&mut window);
    window.shot();
    window.press(&["a"]);
    for (x, y) in [(380.0, 250.0), (260.0, 290.0), (384.0, 250.0), (500.0, 300.0)] {
        window.click_at(Point::new(x, y));
    }
    window.press(&["Return"]);
    window.save();
    drop(window);
    let path = marks_of(&clip, "1");
    let kept = saved(&path).readings[0].value;
    let mut file: serde_json::Value =
        serde_json::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
    file["readings"][0]["value"] = 99.0.into();
    std::fs::write(&path, file.to_string()).unwrap();
    let mut again = open(&clip);
    assert_says(&mut again, "Worked out anew");
    assert_says(&mut again, "was 99°");
    assert_eq!(saved(&path).readings[0].value, kept);
    again.press(&["ctrl+z"]);
    assert_eq!(saved(&path).readings[0].value.0, 99.0);
}

/// A book that asks how far a leap goes, and marks with a side seen square on, 100 px to the metre.
fn ask_for_a_length(clip: &Path) {
    let book = clip.with_file_name("own.toml");
    let league = stillcall::rulebook::shipped_text("saltmarsh").unwrap();
    let asks = "[[angle]]\nid = \"far\"\nlabel = \"Leap, how far\"\nevents = [\"beam\"]\n\
                tags = [\"leap\"]\nquantity = \"length\"\ntarget = 0.5\nside = \"at-least\"\n\
                bands = [{ amount = 0.1 }]\n";
    std::fs::write(&book, format!("{league}\n{asks}")).unwrap();
    let path = marks_of(clip, "1");
    let mut file: serde_json::Value =
        serde_json::from_str(&std::fs::read_to_string(&path).unwrap()).unwrap();
    file["routine"]["book"] = book.to_string_lossy().into();
    let corner = |x: f64, y: f64| serde_json::json!({ "place": [x, y], "coded": [[100.0 + 100.0 * x, 200.0 - 100.0 * y]] });
    let points = [corner(0.0, 0.0), corner(1.5, 0.0), corner(1.5, 1.0), corner(0.0, 1.0)];
    file["routine"].as_object_mut().unwrap().remove("book_hash");
    file["planes"] = serde_json::json!([{ "name": "side", "lies": "upright", "points": points }]);
    std::fs::write(&path, file.to_string()).unwrap();
}

/// A length is clicked in its plane; where it lies and how far the camera stands are asked for, as
/// a plane seen square on tells neither. From 8 m, 0.2 m nearer looks 8 / 7.8 times as long.
#[test]
fn a_length_asks_where_it_lies_and_is_shown_in_metres() {
    let (mut window, clip) = fresh("length");
    begin_with_a_leap(&mut window);
    window.save();
    drop(window);
    ask_for_a_length(&clip);
    let mut window = open(&clip);
    assert!(window.click("Leap, how far"), "{:?}", window.texts());
    window.shot();
    window.press(&["a"]);
    assert_says(&mut window, "Click the near end");
    window.click_at(Point::new(380.0, 250.0));
    window.click_at(Point::new(500.0, 250.0));
    assert_says(&mut window, "in the plane (");
    window.press(&["Right", "Right"]);
    assert_says(&mut window, "0.2 m nearer to the camera");
    window.press(&["Return"]);
    assert_says(&mut window, "How far does the camera stand from the plane? 8.0 m");
    window.press(&["Return"]);
    assert_says(&mut window, "(at least 0.5 m)");
    window.press(&["Return"]);
    window.save();
    let sheaf = saved(&marks_of(&clip, "1"));
    let reading = &sheaf.readings[0];
    assert_eq!((reading.how.depth, reading.how.distance), (Some(0.2), Some(8.0)));
    let [a, b] = [0, 1].map(|end| reading.points[end].coded);
    let seen = a.distance(b) / 100.0;
    assert!((reading.value.0 - seen * 7.8 / 8.0).abs() < 1e-9, "{reading:?}");
    assert_says(&mut window, " m");
    window.press(&["ctrl+z"]);
    assert!(saved(&marks_of(&clip, "1")).readings.is_empty());
}

#[test]
fn a_wrongly_tagged_picture_is_turned_and_that_can_be_undone() {
    let (mut window, clip) = fresh("turned");
    begin(&mut window);
    let turned = |path: &Path| saved(path).clip.unwrap().orientation_override;
    window.press(&["q"]);
    assert_eq!(turned(&marks_of(&clip, "1")).unwrap().quarter_turns, 1);
    window.press(&["x"]);
    let both = turned(&marks_of(&clip, "1")).unwrap();
    assert_eq!((both.quarter_turns, both.mirrored), (3, true));
    window.press(&["ctrl+z", "ctrl+z"]);
    assert_eq!(turned(&marks_of(&clip, "1")), None);
}

#[test]
fn the_help_sheet_lists_every_group_and_closes() {
    let (mut window, _) = fresh("help");
    window.press(&["?"]);
    for heading in ["Going through the clip", "The paper", "The routine", "The program"] {
        assert_says(&mut window, heading);
    }
    assert!(window.click("Close (Esc)"));
    assert!(!window.says("Going through the clip"));
}

/// At twice the size everything that must be there still lies within the window.
#[test]
fn at_twice_the_size_nothing_needed_is_cut_off() {
    let (mut window, _) = fresh("large");
    begin(&mut window);
    put(&mut window, "pull");
    for _ in 0..6 {
        window.press(&["ctrl+="]);
    }
    let size = window.logical();
    assert_eq!(size.width, 640.0);
    let screen = Rectangle::with_size(size);
    for needed in ["Write what you see", "Score", "Pull-over", "Change"] {
        let (_, bounds) = window.texts().into_iter().find(|(text, _)| text == needed).unwrap();
        assert!(screen.contains(bounds.center()), "{needed}: {bounds:?} in {size:?}");
        assert!(bounds.x + bounds.width <= size.width + 0.5, "{needed}: {bounds:?}");
    }
    window.press(&["ctrl+0"]);
}

/// The paper is light in one look, dark in the next, black in the last; the stage stays dark.
#[test]
fn the_looks_differ_on_the_paper_and_not_on_the_stage() {
    let (mut window, _) = fresh("looks");
    let corner = |shot: &Shot, x: u32, y: u32| shot.rgba[((y * shot.size[0] + x) * 4) as usize];
    let mut papers = Vec::new();
    for _ in 0..3 {
        let shot = window.shot();
        papers.push(corner(&shot, SIZE[0] - 3, 3));
        assert!(corner(&shot, 3, 3) < 40, "the stage is dark");
        window.press(&["ctrl+t"]);
    }
    assert!(papers[0] > 220 && papers[1] < 60 && papers[2] < 5, "{papers:?}");
}

/// What a rule waits for is said where it is missing, and no longer once it is there.
#[test]
fn a_moment_that_nobody_has_set_stands_under_its_element() {
    let (mut window, _) = fresh("moments");
    window.press(&["Return"]);
    assert!(window.click("Beam"));
    window.press(&["Tab"]);
    window.write("J-9");
    window.press(&["Return"]);
    put(&mut window, "1/2t");
    assert_says(&mut window, "The heel drop is not set yet.");
    assert_says(&mut window, "The heel lift is not set yet.");
    window.press(&["shift+Right", "d"]);
    assert!(!window.says("The heel drop"));
    assert_says(&mut window, "The heel lift is not set yet.");
}

/// What belongs to an element by time may belong to an earlier one; the order stays that of time.
#[test]
fn a_fault_is_hung_under_an_earlier_element_and_not_under_a_later_one() {
    let (mut window, clip) = fresh("hung");
    begin(&mut window);
    put(&mut window, "pull");
    window.press(&["shift+Right"]);
    put(&mut window, "bhc");
    window.press(&["Right"]);
    put(&mut window, "fall");
    window.press(&["shift+Right"]);
    put(&mut window, "so");
    let path = marks_of(&clip, "1");
    let of = || saved(&path).marks.iter().find(|it| it.what == What::Fall).unwrap().of;
    let under = |window: &mut Harness| {
        let order: Vec<String> = window.texts().into_iter().map(|(text, _)| text).collect();
        let place = |said: &str| order.iter().position(|text| text == said).unwrap();
        place("Fall") < place("Back hip circle")
    };
    assert_eq!(of(), None);
    assert!(window.drag("Fall", "Pull-over"));
    let first = saved(&path).marks[0].id;
    assert_eq!(of(), Some(first));
    assert!(under(&mut window));
    // Undone, and done by key; back where time puts it, nothing is kept.
    window.press(&["ctrl+z"]);
    assert_eq!(of(), None);
    assert!(!under(&mut window));
    assert!(window.click("Fall"));
    window.press(&["shift+Up"]);
    assert_eq!(of(), Some(first));
    window.press(&["shift+Down"]);
    assert_eq!(of(), None);
    window.press(&["shift+Down"]);
    assert_says(&mut window, "That element begins after this was seen.");
    assert!(window.drag("Squat on", "Pull-over"));
    assert_says(&mut window, "Elements stand in the order of time.");
    assert_eq!(of(), None);
}

/// A club judges by its own book: dropped on the window it is offered, named by its file, and
/// what is wrong with it is said.
#[test]
fn a_book_of_ones_own_is_used_and_its_errors_are_said() {
    let (mut window, clip) = fresh("own-book");
    begin(&mut window);
    let book = clip.with_file_name("club.toml");
    std::fs::write(&book, "title = 3").unwrap();
    window.drop_file(book.clone());
    assert_says(&mut window, "errors");
    let shipped = stillcall::rulebook::shipped_text("saltmarsh").unwrap();
    std::fs::write(&book, shipped.replace("Pull-over", "Club pull-over")).unwrap();
    window.drop_file(book.clone());
    window.press(&["Return"]);
    put(&mut window, "club");
    assert_says(&mut window, "Club pull-over");
    let named = saved(&marks_of(&clip, "1")).routine.book;
    assert_eq!(Path::new(&named), book);
    window.save();
    drop(window);
    let mut again = open(&clip);
    assert_says(&mut again, "Club pull-over");
}

/// While a page lies over the clip, keys move the page and nothing happens behind it.
#[test]
fn behind_a_page_nothing_happens() {
    let (mut window, clip) = fresh("behind");
    begin(&mut window);
    window.press(&["?", "Down", "f", "Right"]);
    assert_says(&mut window, "Going through the clip");
    window.press(&["Escape"]);
    assert_says(&mut window, "Frame 0 of");
    assert!(saved(&marks_of(&clip, "1")).marks.is_empty());
}
