//! What is noted of a clip, entered in the window.

use stillcall::library::{Others, Purpose, SidecarFile, Who};

use crate::{library::Club, screens::assert_says};

#[test]
fn who_is_filmed_and_who_agreed_is_noted_and_the_wall_knows_it_at_once() {
    let club = Club::with("record", 2);
    let mut window = club.wall();
    window.shot();
    assert_says(&mut window, "! no consent noted");
    window.press(&["Down", "ctrl+e"]);
    assert_says(&mut window, "What is noted of a-real.mp4");
    // Whoever is judged on it is offered; a name is refused at once.
    assert_says(&mut window, "SC-07");
    window.press(&["ctrl+a"]);
    window.write("Anna");
    window.press(&["Return"]);
    assert_says(&mut window, "\"Anna\" is no");
    window.press(&["ctrl+a"]);
    window.write("SC-07");
    window.press(&["Return"]);
    assert_says(&mut window, "✓ SC-07");
    // What for comes before the form's holder; both are asked for.
    window.press(&["Return"]);
    assert_says(&mut window, "Press what the consent is for.");
    assert!(window.click("the club library"));
    window.press(&["Return"]);
    assert_says(&mut window, "Write who holds the signed form.");
    window.write("office");
    window.press(&["Return"]);
    assert!(window.click("nobody"));
    window.press(&["Tab", "Tab"]);
    window.write("2031-02-30");
    window.press(&["ctrl+s"]);
    assert_says(&mut window, "write a day as 2026-10-17");
    window.press(&["ctrl+a"]);
    window.write("2031-02-28");
    window.press(&["ctrl+s"]);
    assert_says(&mut window, "Noted.");
    window.shot();
    let noted = SidecarFile::open(&club.clip("a-real.mp4")).unwrap().sidecar;
    let consents = &noted.athlete("SC-07").unwrap().consents;
    assert_eq!(consents.iter().map(|it| it.of).collect::<Vec<_>>(), [Who::Athlete, Who::Parent]);
    assert!(consents.iter().all(|it| it.purposes.iter().eq([&Purpose::Library])));
    assert!(consents.iter().all(|it| it.by == "office"));
    assert_eq!(noted.others, Others::None);
    assert_eq!(noted.delete_by.unwrap().to_string(), "2031-02-28");
    let warned = window.texts().iter().filter(|(text, _)| text == "! no consent noted").count();
    assert_eq!(warned, 1, "the other clip alone");
}

#[test]
fn what_somebody_noted_meanwhile_is_not_written_over() {
    let club = Club::with("record-twice", 1);
    let mut window = club.wall();
    window.press(&["Down", "ctrl+e", "Return"]);
    let mut file = SidecarFile::begin(&club.clip("a-real.mp4")).unwrap();
    file.sidecar.notes = "theirs".to_owned();
    file.save().unwrap();
    window.press(&["ctrl+s"]);
    assert_says(&mut window, "was noted anew meanwhile");
    window.press(&["Escape"]);
    assert_says(&mut window, "1 routine found");
    let noted = SidecarFile::open(&club.clip("a-real.mp4")).unwrap().sidecar;
    assert_eq!((noted.notes.as_str(), noted.athletes.len()), ("theirs", 0));
}

#[test]
fn beside_a_clip_the_same_form_is_one_press_away() {
    let (mut window, clip) = crate::screens::fresh("record-beside");
    crate::screens::begin(&mut window);
    assert!(window.click("Consent"));
    assert_says(&mut window, "What is noted of bars.mp4");
    assert!(window.click("Nobody: drawn, or empty"));
    assert!(window.click("yes"));
    window.press(&["ctrl+s"]);
    assert!(!window.says("What is noted of"));
    let noted = SidecarFile::open(&clip).unwrap().sidecar;
    assert!(noted.injury_or_distress);
    assert_eq!(noted.shows, stillcall::library::Shows::Nobody);
}
