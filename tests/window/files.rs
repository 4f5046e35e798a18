//! What becomes of the files under the program: a clip that goes away or is another copy, a rule
//! book that was changed since.

use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

use stillcall::{marks, window::Harness};

use crate::screens::{assert_says, begin, fresh, marks_of, open, put, saved};

#[test]
fn a_clip_that_goes_away_is_told_and_looked_for() {
    let (mut window, clip) = fresh("gone");
    begin(&mut window);
    put(&mut window, "pull");
    window.save();
    let moved = clip.with_file_name("elsewhere.mp4");
    fs::rename(&clip, &moved).unwrap();
    window.look_at_files();
    assert_says(&mut window, "bars.mp4 is not in its folder any more");
    // What is on screen stays, and so does everything that was written.
    assert_says(&mut window, "Pull-over");
    fs::rename(&moved, &clip).unwrap();
    window.look_at_files();
    assert!(!window.says("any more"), "it is back");
    fs::rename(&clip, &moved).unwrap();
    window.look_at_files();
    window.press(&["ctrl+1"]);
    assert_says(&mut window, "Open it where it is now");
    window.write(&moved.to_string_lossy());
    window.press(&["Return"]);
    assert_says(&mut window, "Pull-over");
}

#[test]
fn a_clip_that_was_written_to_or_cut_is_told() {
    let (mut window, clip) = fresh("written-to");
    let whole = fs::read(&clip).unwrap();
    fs::write(&clip, &whole[..whole.len() / 2]).unwrap();
    window.look_at_files();
    assert_says(&mut window, "was cut short");
    fs::write(&clip, [whole.as_slice(), b"more"].concat()).unwrap();
    window.look_at_files();
    assert_says(&mut window, "was changed by another program");
    window.press(&["ctrl+1"]);
    assert_says(&mut window, "Frame 0 of");
    assert!(!window.says("was changed"));
}

/// Returns a copy of the clip without its first frames, coded anew.
fn cut_copy(clip: &Path, frames: u32) -> PathBuf {
    let copy = clip.with_file_name("cut bars.mp4");
    let filter = format!("trim=start_frame={frames},setpts=PTS-STARTPTS");
    let output = Command::new("ffmpeg")
        .args(["-loglevel", "error", "-y", "-i"])
        .arg(clip)
        .args(["-vf", &filter, "-c:v", "libx264", "-crf", "30", "-pix_fmt", "yuv420p"])
        .arg(&copy)
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    copy
}

#[test]
fn marks_move_to_another_copy_of_their_clip_by_one_line() {
    let (mut window, clip) = fresh("copy");
    begin(&mut window);
    window.press(&["shift+Right"]);
    put(&mut window, "pull");
    window.press(&["shift+Right", "Right", "Right"]);
    put(&mut window, "bhc");
    window.save();
    drop(window);
    let path = marks_of(&clip, "1");
    let frames = |path: &Path| {
        let sheaf = saved(path);
        sheaf.marks.iter().map(|mark| mark.at.frame().unwrap().index.0).collect::<Vec<_>>()
    };
    assert_eq!(frames(&path), [10, 22]);

    let copy = cut_copy(&clip, 7);
    let of_copy = marks::path_for(&copy, "1", "J-9");
    fs::rename(&path, &of_copy).unwrap();
    let mut window = open(&copy);
    assert_says(&mut window, "These marks were made on another file, bars.mp4");
    // By their times they would lie seven frames late. Frame 10 is frame 3 here.
    window.press(&["ctrl+2"]);
    assert_says(&mut window, "Choose a line of the paper first");
    window.press(&["Down", "Home", "Right", "Right", "Right", "ctrl+2"]);
    assert!(!window.says("Choose a line"));
    window.save();
    assert_eq!(frames(&of_copy), [3, 15]);
    // It is a step like any other.
    window.press(&["ctrl+z"]);
    window.save();
    assert_eq!(frames(&of_copy), [10, 22]);
    drop(window);
    let mut again = open(&copy);
    again.press(&["ctrl+1"]);
    again.save();
    assert_eq!(frames(&of_copy), [10, 22]);
    assert_eq!(saved(&of_copy).clip.unwrap().name, "cut bars.mp4");
}

/// Judges a routine of one element under a book of one's own, which is then changed.
fn judged_under_a_book_that_was_changed(name: &str) -> (PathBuf, PathBuf) {
    let (mut window, clip) = fresh(name);
    let book = clip.with_file_name("club.toml");
    let shipped = stillcall::rulebook::shipped_text("saltmarsh").unwrap();
    fs::write(&book, shipped.replace("Pull-over", "Club pull-over")).unwrap();
    window.drop_file(book.clone());
    window.press(&["Tab"]);
    window.write("J-9");
    window.press(&["Return"]);
    put(&mut window, "club");
    assert_says(&mut window, "Club pull-over");
    window.save();
    drop(window);
    fs::write(&book, shipped.replace("Pull-over", "Renamed pull-over")).unwrap();
    (clip, book)
}

#[test]
fn marks_are_reopened_under_the_edition_they_were_scored_with() {
    let (clip, _) = judged_under_a_book_that_was_changed("edition");
    let hash = |clip: &Path| saved(&marks_of(clip, "1")).routine.book_hash;
    let then = hash(&clip);
    let mut window = open(&clip);
    assert_says(&mut window, "Club pull-over");
    says_soon(&mut window, "Scored under the kept text");
    // The header offers both, and leaves it at the one that was scored with.
    window.press(&["Escape", "ctrl+r", "Return"]);
    window.save();
    assert_eq!(hash(&clip), then);
    window.press(&["ctrl+r"]);
    assert_says(&mut window, "as scored");
    window.press(&["Page_Up", "Return"]);
    window.save();
    assert_says(&mut window, "Renamed pull-over");
    assert_ne!(hash(&clip), then);
    window.press(&["ctrl+z"]);
    assert_says(&mut window, "Club pull-over");
}

#[test]
fn a_book_that_is_written_in_is_followed_and_a_kept_edition_is_not() {
    let (clip, book) = judged_under_a_book_that_was_changed("followed");
    let shipped = stillcall::rulebook::shipped_text("saltmarsh").unwrap();
    let name = |name: &str| fs::write(&book, shipped.replace("Pull-over", name)).unwrap();
    let mut window = open(&clip);
    name("Later pull-over");
    window.look_at_files();
    assert_says(&mut window, "Club pull-over");
    // Under the book as it is now, what is typed in it shows at once, and its errors are said.
    window.press(&["ctrl+r", "Page_Up", "Return"]);
    assert_says(&mut window, "Later pull-over");
    name("Latest pull-over");
    window.look_at_files();
    assert_says(&mut window, "Latest pull-over");
    fs::write(&book, "title = 3").unwrap();
    window.look_at_files();
    assert_says(&mut window, "club.toml");
    assert_says(&mut window, "Latest pull-over");
    // The new text came like any other step.
    window.press(&["Escape", "ctrl+z"]);
    assert_says(&mut window, "Later pull-over");
}

/// Whatever happens next brings up what is still to be said.
#[track_caller]
fn says_soon(window: &mut Harness, part: &str) {
    window.press(&["Home"]);
    assert_says(window, part);
}
