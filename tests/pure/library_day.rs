//! Consents and periods go by the records as they are now, and by a clock that never goes back.

use std::{fs, ops::ControlFlow, thread};

use stillcall::library::{
    EraseWish, Index, OwnHands, Places, Scan, Shared, Shelf, SidecarFile, Witnessed, clock_day,
    due, erase,
};

use super::library_erase::{club, nothing_is_left_of_her};

#[test]
fn what_is_due_is_asked_of_the_records_as_they_are_now() {
    let club = club();
    club.scan();
    let index = Index::open(&club.home()).unwrap();
    let clip = club.clips().join("a.mp4");
    assert!(due(&index, clock_day()).unwrap().is_empty());
    let note = |day| {
        let mut noted = SidecarFile::open(&clip).unwrap();
        noted.sidecar.delete_by = day;
        noted.save().unwrap();
    };
    // Noted, noted otherwise and taken back within one tick of a coarse clock; no scan between.
    note(Some(clock_day()));
    assert_eq!(due(&index, clock_day()).unwrap(), [(clip.clone(), clock_day())]);
    note(Some(clock_day().yesterday().unwrap()));
    assert_eq!(due(&index, clock_day()).unwrap()[0].1, clock_day().yesterday().unwrap());
    assert_eq!(club.find("due").len(), 1, "the search asks the same");
    note(None);
    assert!(due(&index, clock_day()).unwrap().is_empty());
    assert!(club.says(&["library", "due"]).contains("nothing is due"));
}

#[test]
fn a_search_for_what_may_be_used_asks_the_records_as_they_are_now() {
    let club = club();
    club.scan();
    assert_eq!(club.who("sets library"), ["SC-07", "SC-08"]);
    let mut noted = SidecarFile::open(&club.clips().join("a.mp4")).unwrap();
    noted.sidecar.athletes[0].consents.clear();
    noted.save().unwrap();
    assert_eq!(club.who("sets library"), ["SC-08"]);
}

#[test]
fn a_record_on_a_disk_that_is_not_there_is_not_taken_for_gone() {
    let club = club();
    let mut noted = SidecarFile::open(&club.clips().join("a.mp4")).unwrap();
    noted.sidecar.delete_by = Some(clock_day());
    noted.save().unwrap();
    club.scan();
    let index = Index::open(&club.home()).unwrap();
    fs::rename(club.clips(), club.folder.path().join("away")).unwrap();
    assert_eq!(due(&index, clock_day()).unwrap().len(), 1);
}

#[test]
fn an_expired_consent_does_not_come_back_when_the_clock_goes_back() {
    let club = club();
    let day = club.home().path().join("latest-day");
    club.says(&["library", "scan"]);
    assert_eq!(fs::read_to_string(&day).unwrap(), clock_day().to_string(), "the day is kept");
    let mut noted = SidecarFile::open(&club.clips().join("a.mp4")).unwrap();
    for consent in &mut noted.sidecar.athletes[0].consents {
        consent.until = Some(clock_day().tomorrow().unwrap());
    }
    noted.save().unwrap();
    let make = ["library", "set", "event bars", "--out"];
    club.says(&[&make[..], &["one.toml"]].concat());
    // A library that has seen the day after tomorrow, and a clock that says today again.
    let later = clock_day().tomorrow().unwrap().tomorrow().unwrap();
    fs::write(&day, later.to_string()).unwrap();
    let output = club.run(&[&make[..], &["two.toml"]].concat());
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("of SC-07") && said.contains("ran out on"), "{said}");
    assert!(said.contains("counts as today") && said.contains("latest-day"), "{said}");
    let set = fs::read_to_string(club.folder.path().join("two.toml")).unwrap();
    assert!(!set.contains("a.mp4"), "{set}");
    assert_eq!(fs::read_to_string(&day).unwrap(), later.to_string(), "it is not set back");
}

#[test]
fn a_withdrawal_waits_for_no_scan() {
    let club = club();
    club.scan();
    // It would take a scan minutes to name this by its content; it takes no room on the disk.
    let long = fs::File::create(club.clips().join("long.mp4")).unwrap();
    long.set_len(256 << 30).unwrap();
    let (home, state) = (club.home(), club.state());
    let shelf = Shelf::read(&home).unwrap();
    let (begun, begins) = std::sync::mpsc::channel();
    let came_to_its_end = thread::scope(|scope| {
        let naming = scope.spawn(|| {
            let mut index = Index::open(&home).unwrap();
            let mut scan =
                Scan { index: &mut index, home: &home, shelf: &shelf, state: Some(&state) };
            scan.run(&mut |_| ControlFlow::Continue(())).unwrap();
            scan.hash(&mut |_| {
                begun.send(()).unwrap();
                ControlFlow::Continue(())
            })
            .unwrap()
        });
        begins.recv().unwrap();
        let index = Index::open(&home).unwrap();
        let places = Places { home: &home, shelf: &shelf, index: &index, state: Some(&state) };
        let code = "SC-07".parse().unwrap();
        let wish = EraseWish::Athlete { code, shared: Shared::Close };
        let witnessed = Witnessed { by: "J-2".to_owned(), witness: "office".to_owned() };
        assert!(erase(places, &wish, &witnessed, &mut OwnHands).unwrap().is_finished());
        naming.join().unwrap()
    });
    assert!(!came_to_its_end, "the scan gave way");
    fs::remove_file(club.clips().join("long.mp4")).unwrap();
    nothing_is_left_of_her(&club);
}
