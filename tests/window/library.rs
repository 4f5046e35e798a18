//! The wall of clips: searched by words and by buttons, windowed, and everything that is done to
//! what is found.

use std::{
    fs,
    path::{Path, PathBuf},
    time::Duration,
};

use serde_json::json;
use stillcall::{
    footage::ApartDecoder,
    library::{Home, Shelf, quick_id, thumb_path},
    window::{Harness, OpensOn},
};

use crate::{
    clips,
    screens::{assert_says, saved},
};

const SIZE: [u32; 2] = [1280, 800];

/// A folder with clips, and a place for the library that knows it.
pub(crate) struct Club(PathBuf);

impl Club {
    pub(crate) fn new(name: &str) -> Self {
        clips::own_state();
        let folder = clips::folder("library").join(name);
        let _ = fs::remove_dir_all(&folder);
        fs::create_dir_all(folder.join("clips")).unwrap();
        Self(folder)
    }

    /// With a folder taken in, and clips: a real one, and others that only have a name.
    pub(crate) fn with(name: &str, count: usize) -> Self {
        let club = Self::new(name);
        club.take_in();
        fs::copy(clips::numbered().0, club.clip("a-real.mp4")).unwrap();
        club.mark("a-real.mp4", "SC-07", "bars", "2026-11-20");
        for number in 1..count {
            let name = format!("clip-{number:03}.mp4");
            fs::write(club.clip(&name), name.repeat(999)).unwrap();
            let (athlete, event) = (format!("SC-{number}"), ["bars", "beam"][number % 2]);
            club.mark(&name, &athlete, event, &format!("2026-10-{:02}", number % 28 + 1));
        }
        club
    }

    pub(crate) fn take_in(&self) {
        let mut shelf = Shelf::default();
        shelf.add(&self.0.join("clips")).unwrap();
        shelf.write(&self.home()).unwrap();
    }

    pub(crate) fn home(&self) -> Home {
        Home::at(self.0.join("library"))
    }

    pub(crate) fn clip(&self, name: &str) -> PathBuf {
        self.0.join("clips").canonicalize().unwrap().join(name)
    }

    pub(crate) fn marks(&self, name: &str) -> PathBuf {
        self.clip(&format!("{name}.1.J-2.marks.json"))
    }

    fn mark(&self, name: &str, athlete: &str, event: &str, date: &str) {
        let at = json!({"frame": {"ticks": 0, "index": 0, "lo": 0, "hi": 512}});
        let id = quick_id(&self.clip(name)).unwrap();
        let file = json!({
            "format": "stillcall marks", "version": 1, "document": format!("{id}{athlete}"),
            "clip": {
                "name": name, "quick_id": id, "time_base": [1, 12800],
                "upright": {
                    "coded_width": 480, "coded_height": 270, "pixel": {"width": 1, "height": 1},
                    "orientation": {"quarter_turns": 0, "mirrored": false},
                },
            },
            "routine": {
                "id": "1", "event": event, "division": "redshank", "athlete": athlete,
                "judge": "J-2", "date": date, "book": "saltmarsh",
            },
            "marks": [{"id": 1, "at": at, "kind": "fall"}],
        });
        fs::write(self.marks(name), file.to_string()).unwrap();
    }

    pub(crate) fn wall(&self) -> Harness {
        self.wall_on("")
    }

    pub(crate) fn wall_at(&self, size: [u32; 2]) -> Harness {
        let on = OpensOn::Library(Some(self.home()), String::new(), clips::apart());
        Harness::open_on(on, size, "tiny-skia").unwrap()
    }

    fn wall_on(&self, words: &str) -> Harness {
        self.wall_by(words, clips::apart())
    }

    fn wall_by(&self, words: &str, apart: ApartDecoder) -> Harness {
        let on = OpensOn::Library(Some(self.home()), words.to_owned(), apart);
        Harness::open_on(on, SIZE, "tiny-skia").unwrap()
    }

    fn thumb(&self, name: &str) -> PathBuf {
        thumb_path(&self.home(), &quick_id(&self.clip(name)).unwrap())
    }
}

pub(crate) fn consent(clip: &Path) {
    let noted = json!({
        "format": "stillcall clip", "version": 1,
        "clip": {"name": "a-real.mp4", "quick_id": quick_id(clip).unwrap()},
        "athletes": [{"code": "SC-07", "consents": [
            {"of": "athlete", "noted": "2026-11-01", "for": ["library"]},
            {"of": "parent", "noted": "2026-11-01", "for": ["library"]},
        ]}],
        "others": "none",
    });
    fs::write(format!("{}.clip.json", clip.display()), noted.to_string()).unwrap();
}

#[test]
fn an_empty_library_says_how_to_begin() {
    let club = Club::new("empty");
    let mut window = club.wall();
    assert_says(&mut window, "No folder of clips is in the library yet.");
    assert_says(&mut window, "Take a folder in (Ctrl O)");
    club.take_in();
    window.press(&["F5"]);
    assert_says(&mut window, "There is no clip in the library's folders.");
    window.press(&["Escape"]);
    assert_says(&mut window, "Open a clip");
}

#[test]
fn clips_are_found_by_words_and_opened() {
    let club = Club::with("found", 9);
    let mut window = club.wall();
    window.shot();
    assert_says(&mut window, "9 routines found");
    // The latest first, with what the gate says of it.
    assert_says(&mut window, "a-real.mp4");
    assert_says(&mut window, "bars · redshank · SC-07 · 2026-11-20");
    assert_says(&mut window, "! no consent noted");
    window.write("event be");
    assert_says(&mut window, "Tab:");
    window.press(&["Tab", "Return"]);
    assert_says(&mut window, "4 routines found");
    assert!(!window.says("a-real.mp4"));
    window.press(&["ctrl+a"]);
    window.write("athlete sc-0");
    assert!(window.click("SC-07"), "what is offered can be clicked too");
    window.press(&["Return"]);
    assert_says(&mut window, "1 routine found");
    window.press(&["Down", "Return"]);
    assert_says(&mut window, "Frame 0 of");
    assert!(window.title().starts_with("a-real.mp4"), "{}", window.title());
}

#[test]
fn what_cannot_be_understood_is_told() {
    let mut window = Club::with("fault", 2).wall();
    window.write("score above much");
    window.press(&["Return"]);
    assert_says(&mut window, "\"much\" is no number: a range is written");
    assert_says(&mut window, "2 routines found");
    window.press(&["ctrl+a"]);
    window.write("event rings");
    window.press(&["Return"]);
    assert_says(&mut window, "Nothing is found by these words.");
}

#[test]
fn buttons_write_the_words() {
    let mut window = Club::with("buttons", 9).wall();
    assert!(window.click("event beam"));
    assert_says(&mut window, "4 routines found");
    assert!(window.click("event bars"), "one event makes way for the other");
    assert_says(&mut window, "5 routines found");
    assert!(window.click("✓ event bars"));
    assert_says(&mut window, "9 routines found");
}

/// Of a thousand clips only those in sight are built and looked at.
#[test]
fn a_long_wall_is_built_only_where_it_is_seen() {
    let club = Club::with("long", 300);
    let mut window = club.wall();
    assert_says(&mut window, "300 routines found");
    window.shot();
    let tiles = |window: &mut Harness| {
        window.texts().iter().filter(|(text, _)| text.contains(" · redshank · ")).count()
    };
    assert!((8..40).contains(&tiles(&mut window)), "{}", tiles(&mut window));
    // The last one is some rows down: the arrow goes there, and the wall with it.
    window.press(&vec!["Down"; 90]);
    window.shot();
    assert!((4..40).contains(&tiles(&mut window)), "{}", tiles(&mut window));
    assert!(!window.says("a-real.mp4"), "it is out of sight");
    window.press(&["Home"]);
}

/// Moves the club's only mark to so many seconds.
fn mark_at(club: &Club, seconds: i64) {
    let path = club.marks("a-real.mp4");
    let mut file: serde_json::Value =
        serde_json::from_str(&fs::read_to_string(&path).unwrap()).unwrap();
    let ticks = seconds * 12_800;
    file["marks"][0]["at"] =
        json!({"frame": {"ticks": ticks, "index": 1, "lo": ticks, "hi": ticks}});
    fs::write(&path, file.to_string()).unwrap();
}

/// The first picture might show a split: it is shown only where somebody marked the clip, and
/// nothing within a second of it.
#[test]
fn thumbnails_are_kept_and_never_of_a_marked_moment() {
    let club = Club::with("thumbs", 1);
    let thumb = club.thumb("a-real.mp4");
    let shows = |club: &Club| {
        let mut window = club.wall();
        window.shot();
        let shows = !window.says("no picture");
        assert_eq!(shows, club.thumb("a-real.mp4").exists());
        shows
    };
    assert!(!shows(&club), "a fall is marked on the first frame");
    mark_at(&club, 2);
    assert!(shows(&club));
    assert_eq!(image::open(&thumb).unwrap().height(), 150);
    // Marked later, what is kept goes.
    mark_at(&club, 1);
    assert!(!shows(&club));
    mark_at(&club, 2);
    assert!(shows(&club));
    let marks = club.marks("a-real.mp4");
    let text = fs::read_to_string(&marks).unwrap();
    fs::write(&marks, "no marks").unwrap();
    assert!(!shows(&club), "marks that cannot be read may say anything");
    fs::remove_file(&marks).unwrap();
    assert!(!shows(&club), "nobody marked it");
    fs::write(&marks, text).unwrap();
    assert!(shows(&club));
    let record = format!("{}.clip.json", club.clip("a-real.mp4").display());
    fs::write(&record, "no record").unwrap();
    assert!(!shows(&club), "somebody may have withdrawn");
    fs::remove_file(&record).unwrap();
    assert!(shows(&club));
    // With the clip goes its thumbnail, also where it was deleted by other means.
    let mut window = club.wall();
    fs::remove_file(club.clip("a-real.mp4")).unwrap();
    window.press(&["F5"]);
    assert!(!thumb.exists());
}

/// A clip that ends its decoder is told on its tile, and the next one has its picture all the same.
#[test]
fn a_clip_that_cannot_be_decoded_safely_is_told_on_its_tile() {
    let club = Club::with("unsafe", 2);
    mark_at(&club, 2);
    let (clip, thumb) = (club.clip("a-real.mp4"), club.thumb("a-real.mp4"));
    let late = clips::apart().trying("asleep").patient_for(Duration::from_millis(100));
    let mut window = club.wall_by("", late);
    window.shot();
    assert_says(&mut window, "no picture: could not be decoded safely");
    assert!(!thumb.exists() && clip.exists());
    let mut window = club.wall();
    window.shot();
    assert!(!window.says("could not be decoded safely"));
    assert!(thumb.exists());
    // What is no clip at all is told too, and in other words.
    fs::remove_file(&thumb).unwrap();
    let bytes = fs::read(&clip).unwrap();
    fs::write(&clip, &bytes[..bytes.len() / 9]).unwrap();
    club.mark("a-real.mp4", "SC-07", "bars", "2026-11-20");
    mark_at(&club, 2);
    let mut window = club.wall();
    window.shot();
    assert_says(&mut window, "no picture: cannot be decoded");
}

#[test]
fn searches_are_kept_and_become_sets() {
    let club = Club::with("sets", 4);
    consent(&club.clip("a-real.mp4"));
    let mut window = club.wall();
    window.write("event bars");
    window.press(&["Return", "ctrl+s"]);
    assert_says(&mut window, "Keep this search as");
    window.write("All bars");
    window.press(&["Return"]);
    assert_says(&mut window, "★ All bars");
    let shelf = Shelf::read(&club.home()).unwrap();
    assert_eq!(shelf.searches["All bars"], "event bars");
    // Another one does not take its place.
    window.press(&["ctrl+a"]);
    window.write("event beam");
    window.press(&["Return", "ctrl+s"]);
    window.write("All bars");
    window.press(&["Return"]);
    assert_says(&mut window, "There is another search \"All bars\"");
    assert_eq!(Shelf::read(&club.home()).unwrap().searches["All bars"], "event bars");
    assert!(window.click("★ All bars"));
    // Of two on bars one has consent noted.
    window.press(&["ctrl+m"]);
    window.write("First looks");
    window.press(&["Return"]);
    assert_says(&mut window, "1 look in");
    assert_says(&mut window, "1 left out; the first: ");
    assert!(club.clip("first-looks.toml").exists());
    assert!(window.click("Sit the set"));
    assert_says(&mut window, "First looks");
    assert_says(&mut window, "1 look,");
}

#[test]
fn all_that_is_found_is_given_the_same_day() {
    let club = Club::with("assign", 5);
    let mut window = club.wall();
    window.write("event bars");
    window.press(&["Return", "ctrl+g"]);
    window.write("date 2026-11-26 division gold");
    window.press(&["Return"]);
    assert_says(&mut window, "no division \"gold\"");
    window.press(&["ctrl+g"]);
    window.write("date 2026-11-26");
    window.press(&["Return"]);
    assert_says(&mut window, "3 changed, 0 were so already");
    assert_eq!(saved(&club.marks("a-real.mp4")).routine.date, "2026-11-26");
    assert_eq!(saved(&club.marks("clip-001.mp4")).routine.date, "2026-10-02", "that is beam");
    window.press(&["ctrl+g"]);
    window.write("name Anna");
    window.press(&["Return"]);
    assert_says(&mut window, "\"name\" is none of event, division, athlete, judge, date");
}

#[test]
fn judges_are_put_side_by_side_and_agree() {
    let club = Club::with("judges", 2);
    let mut window = club.wall();
    window.press(&["ctrl+j"]);
    assert_says(&mut window, "Choose a clip first.");
    window.press(&["Down", "ctrl+j"]);
    assert_says(&mut window, "only J-2 has marked this routine");
    window.press(&["Escape"]);
    // Another judge saw no fall.
    let text = fs::read_to_string(club.marks("a-real.mp4")).unwrap();
    let mut file: serde_json::Value = serde_json::from_str(&text).unwrap();
    file["routine"]["judge"] = "J-3".into();
    file["document"] = "another".into();
    let at = file["marks"][0]["at"].clone();
    (file["marks"], file["readings"]) = (json!([]), json!([]));
    let other = club.clip("a-real.mp4.1.J-3.marks.json");
    fs::write(&other, file.to_string()).unwrap();
    window.press(&["F5"]);
    assert_says(&mut window, "3 routines found");
    assert_says(&mut window, "nobody watched it yet");
    window.press(&["ctrl+j"]);
    assert_says(&mut window, "only J-2 has marked this routine");
    window.press(&["Escape"]);
    file["marks"] = json!([{ "id": 1, "at": at, "kind": "note", "note": "nobody fell" }]);
    fs::write(&other, file.to_string()).unwrap();
    window.press(&["F5"]);
    assert_says(&mut window, "3 routines found");
    window.press(&["ctrl+j"]);
    assert_says(&mut window, "Judges side by side");
    assert!(window.says("J-2") && window.says("J-3") && window.says("≠"));
    assert!(window.click("All agree on this"));
    assert_says(&mut window, "✓ agreed");
    let record = fs::read_to_string(club.clip("a-real.mp4.clip.json")).unwrap();
    let record: serde_json::Value = serde_json::from_str(&record).unwrap();
    assert_eq!(record["agreed"][0]["by"], json!(["J-2", "J-3"]));
    assert_eq!(record["agreed"][0]["marks"], "a-real.mp4.1.J-2.marks.json");
    // It stands on the marks as they were: a judge who takes hers back did not agree to that.
    window.press(&["ctrl+j"]);
    assert_says(&mut window, "✓ Agreed by J-2, J-3 on ");
    window.press(&["Escape"]);
    file["marks"][0]["note"] = "nobody fell, I think".into();
    fs::write(&other, file.to_string()).unwrap();
    window.press(&["F5"]);
    assert_says(&mut window, "✓ agreed");
    file["marks"][0] = json!({ "id": 1, "at": file["marks"][0]["at"], "kind": "spot" });
    fs::write(&other, file.to_string()).unwrap();
    window.press(&["F5"]);
    assert!(!window.says("✓ agreed"), "a remark changes nothing, a spot does");
    window.press(&["ctrl+j"]);
    assert_says(&mut window, "but a-real.mp4.1.J-3.marks.json was changed since");
    // Agreed anew it holds again, until the marks that were agreed on change.
    window.press(&["ctrl+Return"]);
    assert_says(&mut window, "✓ agreed");
    let own = club.marks("a-real.mp4");
    let text = fs::read_to_string(&own).unwrap();
    fs::write(&own, text.replace("\"fall\"", "\"stop\"")).unwrap();
    window.press(&["F5"]);
    assert!(!window.says("✓ agreed"));
    fs::write(&own, text).unwrap();
    window.press(&["F5"]);
    assert_says(&mut window, "✓ agreed");
}

#[test]
fn one_judges_marks_become_the_reference_and_are_no_agreement() {
    let club = Club::with("judge-alone", 2);
    let mut window = club.wall();
    window.press(&["Down", "ctrl+j"]);
    assert_says(&mut window, "One judge");
    // The fall lies on frame 0; the picture leads there.
    assert!(window.click("Fall"));
    assert_says(&mut window, "frame 0 · 0:00.000");
    assert!(window.click("Take it as the reference"));
    assert_says(&mut window, "✓ reference");
    assert!(!window.says("✓ agreed"));
    for (words, found) in [("reference", 1), ("agreed", 0), ("not reference", 1)] {
        window.press(&["ctrl+a"]);
        window.write(words);
        window.press(&["Return"]);
        let counted = if found == 1 { "1 routine found" } else { "0 routines found" };
        assert_says(&mut window, counted);
    }
    window.press(&["ctrl+a"]);
    window.write("reference");
    window.press(&["Return", "Down", "ctrl+j"]);
    assert_says(&mut window, "✓ Reference by J-2 alone, ");
    window.press(&["Return"]);
    assert!(window.title().starts_with("a-real.mp4"), "{}", window.title());
    // A clip that nobody marked has no judges.
    fs::remove_file(club.marks("clip-001.mp4")).unwrap();
    let mut window = club.wall_on("not marked");
    window.press(&["Down", "ctrl+j"]);
    assert_says(&mut window, "Nobody has marked this routine yet.");
}

/// One routine of which one judge saw a fall on the first frame, and another two later on.
fn with_two_judges(name: &str) -> Club {
    let club = Club::with(name, 1);
    let text = fs::read_to_string(club.marks("a-real.mp4")).unwrap();
    let mut file: serde_json::Value = serde_json::from_str(&text).unwrap();
    (file["routine"]["judge"], file["document"]) = ("J-3".into(), "another".into());
    // As the clip says: thirty frames a second, each so many ticks.
    let frames = clips::numbered().1.frames;
    file["clip"]["time_base"] = json!([1, 30 * frames[1].ticks]);
    let at = |index: usize| {
        let ticks = frames[index].ticks;
        json!({"frame": {"ticks": ticks, "index": index, "lo": ticks, "hi": ticks}})
    };
    file["marks"] = json!([
        { "id": 1, "at": at(20), "kind": "fall" }, { "id": 2, "at": at(40), "kind": "fall" },
    ]);
    fs::write(club.clip("a-real.mp4.1.J-3.marks.json"), file.to_string()).unwrap();
    club
}

/// The question about falls.
fn choose_fall(window: &mut Harness) {
    window.press(&["Down", "ctrl+j"]);
    assert_says(window, "Judges side by side");
    assert!(window.click("Fall"));
}

#[test]
fn frames_of_a_difference_are_shown_for_each_judge_and_lead_there() {
    let club = with_two_judges("judge-frames");
    let mut window = club.wall();
    choose_fall(&mut window);
    for said in ["frame 0 · 0:00.000", "frame 20 · ", "frame 40 · "] {
        assert_says(&mut window, said);
    }
    let there = window.texts().into_iter().find(|(text, _)| text.starts_with("frame 40 · "));
    window.click_at(there.unwrap().1.center());
    assert_says(&mut window, "Frame 40 of");
    assert!(window.says("J-3"), "that judge's marks are open");
    // From there the way leads back to the judges, as they are by now.
    window.press(&["ctrl+BackSpace"]);
    assert_says(&mut window, "Judges side by side");
    window.press(&["Escape"]);
    assert_says(&mut window, "2 routines found");
}

#[test]
fn a_difference_is_settled_by_taking_one_judges_answer() {
    let club = with_two_judges("judge-settle");
    let mut window = club.wall();
    choose_fall(&mut window);
    window.press(&["Right", "t"]);
    assert_says(&mut window, "begun with J-2's marks");
    assert_says(&mut window, "1.600 ✓ J-3");
    // What is summed up of others follows from them.
    assert!(window.click("Score"));
    window.press(&["Left", "t"]);
    assert_says(&mut window, "✗ This follows from other answers; settle those.");
    // The mouse takes the other one's answer back; two buttons, one for each judge.
    assert!(window.click("Fall"));
    assert!(window.click("Take this"));
    assert_says(&mut window, "0.800 ✓ J-2");
    window.press(&["Right", "t", "Right", "ctrl+Return"]);
    assert_says(&mut window, "✓ agreed");
    let kept = saved(&club.clip("a-real.mp4.1.REF-1.marks.json"));
    assert_eq!(kept.marks.len(), 2, "both falls");
    let record = fs::read_to_string(club.clip("a-real.mp4.clip.json")).unwrap();
    let record: serde_json::Value = serde_json::from_str(&record).unwrap();
    assert_eq!(record["agreed"][0]["by"], json!(["J-2", "J-3"]));
    assert_eq!(record["agreed"][0]["marks"], "a-real.mp4.1.REF-1.marks.json");
    // What was put together is no judge.
    window.press(&["ctrl+j"]);
    assert_says(&mut window, "✓ Agreed by J-2, J-3 on ");
    assert!(!window.texts().iter().any(|(text, _)| text == "REF-1"));
    // Begun anew with the other judge's marks, all of it is as that one has it.
    window.press(&["t", "Right", "b"]);
    assert_says(&mut window, "begun with J-3's marks");
}

#[test]
fn a_damaged_index_is_made_anew_and_said() {
    let club = Club::with("damaged", 3);
    drop(club.wall());
    let index = club.home().path().join("index.sqlite");
    fs::write(&index, "no index").unwrap();
    let mut window = club.wall();
    assert_says(&mut window, "3 routines found");
    assert_says(&mut window, "was damaged and is made anew");
}

#[test]
fn a_folder_that_is_gone_loses_nothing() {
    let club = Club::with("gone", 3);
    drop(club.wall());
    fs::rename(club.0.join("clips"), club.0.join("away")).unwrap();
    let mut window = club.wall();
    assert_says(&mut window, "3 routines found");
    fs::rename(club.0.join("away"), club.0.join("clips")).unwrap();
    window.press(&["F5"]);
    assert_says(&mut window, "3 routines found");
}

/// Whole clips are read after the folders are looked through; what is there twice is then known.
#[test]
fn new_clips_are_known_by_all_of_their_content() {
    let club = Club::with("named", 3);
    fs::copy(club.clip("clip-001.mp4"), club.clip("copy.mp4")).unwrap();
    drop(club.wall());
    let mut window = club.wall_on("duplicate");
    assert_says(&mut window, "copy.mp4");
    assert_says(&mut window, "clip-001.mp4");
    assert!(!window.says("clip-002.mp4"));
    let index = stillcall::library::Index::open(&club.home()).unwrap();
    let clips = stillcall::library::clips(&index).unwrap();
    assert_eq!(clips.len(), 4);
}

#[test]
fn what_is_due_is_told_on_the_start_screen_and_leads_to_the_wall() {
    let club = Club::with("due", 3);
    let clip = club.clip("clip-001.mp4");
    let noted = json!({
        "format": "stillcall clip", "version": 1, "delete_by": "2026-01-01",
        "clip": {"name": "clip-001.mp4", "quick_id": quick_id(&clip).unwrap()},
    });
    fs::write(format!("{}.clip.json", clip.display()), noted.to_string()).unwrap();
    let mut window = club.wall();
    assert_says(&mut window, "! 1 clip to be deleted");
    window.press(&["Escape"]);
    assert_says(&mut window, "! 1 clip of the library to be deleted by today");
    assert!(window.click("Show"));
    assert_says(&mut window, "1 routine found");
    assert_says(&mut window, "clip-001.mp4");
}

#[test]
fn judges_sheets_come_together_as_a_panel() {
    let club = with_two_judges("judge-panel");
    let mut window = club.wall();
    window.press(&["Down", "ctrl+j"]);
    assert!(window.click("As a panel (P)"));
    // The book's mean of 6.100 and 5.300, by hand.
    assert_says(&mut window, "The mean of all judges counts.");
    assert_says(&mut window, "The score is 5.700.");
    window.press(&["Down", "Escape", "p"]);
    assert_says(&mut window, "The score is 5.700.");
    window.press(&["Return"]);
    assert_says(&mut window, "Judges side by side");
}

#[test]
fn what_is_found_comes_together_as_one_athletes_attempts() {
    let club = Club::with("attempts", 3);
    for name in ["clip-001.mp4", "clip-002.mp4"] {
        club.mark(name, "SC-1", "vault", "2026-10-02");
    }
    let mut window = club.wall();
    window.press(&["ctrl+p"]);
    assert_says(&mut window, "The marks files differ in the ");
    window.write("event vault athlete sc-1");
    window.press(&["Return"]);
    assert!(window.click("Attempts (Ctrl P)"));
    assert_says(&mut window, "Attempts SC-1");
    // The shipped book takes the best of them in this division.
    assert_says(&mut window, "The best attempt counts.");
    assert!(window.says("attempt 1") && window.says("attempt 2"));
    window.press(&["Escape"]);
    assert_says(&mut window, "2 routines found");
}
