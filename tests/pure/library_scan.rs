//! Files are the truth: what a scan makes of moved, altered and lost files, and of a lost index.

use std::{fs, ops::ControlFlow, path::Path, process::Stdio, time::Duration};

use stillcall::{
    library::{Index, IndexError, Scan, Shelf, sidecar_path},
    marks::{Desk, Edit, Item, Step},
};

use super::library_club::{Club, Marked, patiently};

fn club() -> Club {
    let club = Club::new();
    for (clip, athlete) in [("a.mp4", "SC-01"), ("b.mp4", "SC-02")] {
        club.clip(clip, clip);
        club.mark(&Marked::of(clip, athlete));
    }
    club
}

#[test]
fn a_scan_without_changes_finds_none() {
    let club = club();
    let first = club.scan();
    assert_eq!((first.clips, first.marks, first.new.len()), (2, 2, 2));
    let second = club.scan();
    assert_eq!((second.clips, second.marks), (2, 2));
    assert!(second.new.is_empty() && second.moved.is_empty() && second.gone.is_empty());
    assert!(
        second.altered.is_empty() && second.duplicates.is_empty() && second.problems.is_empty()
    );
}

#[test]
fn a_moved_or_renamed_clip_keeps_its_marks_its_record_and_its_history() {
    let club = club();
    club.says(&["library", "note", "clips/a.mp4", "--others", "none"]);
    let old_marks = club.clips().join("a.mp4.1.J-2.marks.json");
    let mut desk = Desk::open(&old_marks, &club.state()).unwrap();
    let mut cast = desk.sheaf().readings[0].clone();
    cast.value = stillcall::units::Magnitude(3.0);
    let edit = Edit::change(desk.sheaf(), Item::Reading(cast));
    desk.take(Step::Do(edit)).unwrap();
    // Not saved: the change is only in the journal.
    drop(desk);
    club.scan();
    let (old, new) = (club.clips().join("a.mp4"), club.clips().join("autumn/renamed.mp4"));
    fs::create_dir(club.clips().join("autumn")).unwrap();
    fs::rename(&old, &new).unwrap();
    let scanned = club.scan();
    assert_eq!(scanned.moved, [(old.clone(), new.clone())]);
    assert!(scanned.gone.is_empty() && scanned.new.is_empty());
    let new_marks = club.clips().join("autumn/renamed.mp4.1.J-2.marks.json");
    assert!(new_marks.exists() && !old_marks.exists());
    assert!(sidecar_path(&new).exists() && !sidecar_path(&old).exists());
    let mut desk = Desk::open(&new_marks, &club.state()).unwrap();
    assert_eq!(desk.sheaf().readings[0].value.0, 3.0, "what was only in the journal");
    assert_eq!(desk.sheaf().clip.as_ref().unwrap().name, "renamed.mp4");
    assert!(desk.take(Step::Undo).unwrap(), "undo goes on where it was");
    assert_eq!(desk.sheaf().readings[0].value.0, 20.0);
    assert_eq!(club.find("athlete SC-01")[0].clip, Some(new));
}

/// As a kill leaves it between the new record and the end of the old one.
#[test]
fn a_record_that_was_moved_when_the_scan_was_killed_is_not_there_twice_for_ever() {
    let club = club();
    club.says(&["library", "note", "clips/a.mp4", "--others", "none"]);
    club.scan();
    let (old, new) = (club.clips().join("a.mp4"), club.clips().join("renamed.mp4"));
    fs::rename(&old, &new).unwrap();
    let text = fs::read_to_string(sidecar_path(&old)).unwrap();
    assert!(text.contains("\"a.mp4\""), "{text}");
    fs::write(sidecar_path(&new), text.replace("\"a.mp4\"", "\"renamed.mp4\"")).unwrap();
    club.scan();
    assert!(sidecar_path(&new).exists() && !sidecar_path(&old).exists());
}

/// A folder that is taken out of the library is not gone: what lies there stays there, also when a
/// copy of its clip lies in a folder that is taken in.
#[test]
fn marks_and_records_never_leave_a_clip_that_is_still_there() {
    let club = club();
    club.says(&["library", "note", "clips/a.mp4", "--others", "none"]);
    club.scan();
    let (old, other) = (club.clips().join("a.mp4"), club.folder.path().join("other"));
    fs::create_dir(&other).unwrap();
    let copy = other.canonicalize().unwrap().join("a.mp4");
    fs::copy(&old, &copy).unwrap();
    let mut shelf = Shelf::read(&club.home()).unwrap();
    shelf.folders.clear();
    shelf.add(&other).unwrap();
    shelf.write(&club.home()).unwrap();
    let scanned = club.scan();
    assert!(club.clips().join("a.mp4.1.J-2.marks.json").exists(), "its marks");
    assert!(sidecar_path(&old).exists(), "its record");
    assert!(scanned.moved.is_empty() && scanned.followed.is_empty());
    assert_eq!(scanned.new, [copy]);
}

#[test]
fn what_is_in_the_way_of_a_moved_clip_is_left_as_it_is() {
    let club = club();
    club.scan();
    let there = club.clips().join("c.mp4.1.J-2.marks.json");
    fs::write(&there, "somebody else's").unwrap();
    fs::rename(club.clips().join("a.mp4"), club.clips().join("c.mp4")).unwrap();
    let scanned = club.scan();
    assert_eq!(fs::read_to_string(&there).unwrap(), "somebody else's");
    assert!(club.clips().join("a.mp4.1.J-2.marks.json").exists());
    assert!(scanned.problems.iter().any(|line| line.contains("stayed where it was")));
    assert_eq!(club.who("athlete SC-01"), ["SC-01"], "its marks are still known by content");
}

#[test]
fn duplicates_and_altered_clips_are_told_apart() {
    let club = club();
    fs::copy(club.clips().join("a.mp4"), club.clips().join("z.mp4")).unwrap();
    let scanned = club.scan();
    assert_eq!(scanned.duplicates, [[club.clips().join("a.mp4"), club.clips().join("z.mp4")]]);
    assert_eq!(club.find("duplicate").len(), 2);
    // The same length, but other bytes.
    let b = club.clips().join("b.mp4");
    fs::write(&b, "B.mp4".repeat(1000)).unwrap();
    let scanned = club.scan();
    assert_eq!(scanned.altered, std::slice::from_ref(&b));
    assert_eq!(club.find("altered").len(), 1);
    assert_eq!(club.scan().altered, [b], "and it is told until it is settled");
    assert_eq!(club.find("gone athlete SC-02").len(), 1, "its marks are of other content");
}

#[test]
fn a_clip_altered_in_its_middle_is_told_when_its_whole_content_is_known() {
    let club = Club::new();
    // Longer than the two ends that the quick name looks at.
    let mut bytes = vec![7_u8; 400_000];
    let clip = club.clips().join("long.mp4");
    fs::write(&clip, &bytes).unwrap();
    club.scan();
    bytes[200_000] = 8;
    fs::write(&clip, &bytes).unwrap();
    let later = fs::File::options().write(true).open(&clip).unwrap();
    later.set_modified(std::time::SystemTime::now() + Duration::from_secs(5)).unwrap();
    assert_eq!(club.scan().altered, [clip]);
}

#[test]
fn a_clip_that_is_gone_leaves_its_marks_findable() {
    let club = club();
    club.scan();
    fs::remove_file(club.clips().join("a.mp4")).unwrap();
    assert_eq!(club.scan().gone, [club.clips().join("a.mp4")]);
    assert_eq!(club.who("gone"), ["SC-01"]);
    assert!(club.clips().join("a.mp4.1.J-2.marks.json").exists());
}

#[test]
fn a_folder_that_is_gone_loses_nothing_and_comes_back() {
    let club = club();
    club.scan();
    let aside = club.folder.path().join("unplugged");
    fs::rename(club.clips(), &aside).unwrap();
    let clips = aside.with_file_name("clips");
    let scanned = club.scan();
    assert!(scanned.gone.is_empty());
    assert!(scanned.problems.iter().any(|line| line.contains("is not there now")));
    assert_eq!(club.who("event bars"), ["SC-01", "SC-02"]);
    fs::rename(aside, clips).unwrap();
    let scanned = club.scan();
    assert!(scanned.new.is_empty() && scanned.problems.is_empty(), "{scanned:?}");
}

/// A disk that is not plugged in leaves the folder on which it is mounted, and nothing in it.
#[test]
fn an_empty_mount_point_keeps_all_that_is_known() {
    let club = club();
    let consent = ["--athlete", "SC-01", "--consent", "both", "--by", "office", "--for", "library"];
    club.says(&[&["library", "note", "clips/a.mp4", "--others", "none"], &consent[..]].concat());
    let plan = club.clips().join("plan.marks.json");
    fs::write(&plan, "not to be read").unwrap();
    club.scan();
    let known = |club: &Club| ["", "sets library", "marked", "pull-over"].map(|it| club.who(it));
    let before = known(&club);
    assert_eq!((before[0].len(), &before[1][..]), (3, &["SC-01".to_owned()][..]));
    let aside = club.folder.path().join("unplugged");
    fs::rename(club.clips(), &aside).unwrap();
    let clips = aside.with_file_name("clips");
    fs::create_dir(&clips).unwrap();
    let said = club.says(&["library", "scan"]);
    assert!(!said.contains("gone"), "{said}");
    assert!(said.contains("is empty now") && said.contains("2 clips are out of reach"), "{said}");
    assert_eq!(known(&club), before);
    assert!(club.find("gone").is_empty());
    assert_eq!(club.who("away"), ["SC-01", "SC-02"]);
    let found = club.says(&["library", "find", "athlete SC-02"]);
    assert!(found.contains("out of reach"), "{found}");
    fs::remove_dir(&clips).unwrap();
    fs::rename(aside, clips).unwrap();
    let scanned = club.scan();
    assert!(scanned.new.is_empty() && scanned.moved.is_empty() && scanned.gone.is_empty());
    assert!(club.find("away").is_empty());
    assert_eq!(known(&club), before);
}

/// Who empties a folder of the library into another one has moved his clips.
#[test]
#[cfg(unix)]
fn clips_that_were_moved_out_of_a_folder_are_not_out_of_reach() {
    let club = club();
    club.scan();
    let other = club.folder.path().canonicalize().unwrap().join("other");
    fs::create_dir(&other).unwrap();
    let mut shelf = Shelf::read(&club.home()).unwrap();
    shelf.add(&other).unwrap();
    shelf.write(&club.home()).unwrap();
    for entry in fs::read_dir(club.clips()).unwrap().flatten() {
        fs::rename(entry.path(), other.join(entry.file_name())).unwrap();
    }
    let scanned = club.scan();
    assert_eq!(scanned.moved.len(), 2, "{scanned:?}");
    assert!(scanned.new.is_empty() && scanned.gone.is_empty());
    assert!(club.find("away").is_empty());
    assert_eq!(club.who("marked"), ["SC-01", "SC-02"]);
}

/// What took long to find out is kept, and the rest is read again.
#[test]
fn an_index_of_the_version_before_grows() {
    let club = club();
    club.scan();
    let index = rusqlite::Connection::open(club.index_file()).unwrap();
    index
        .execute_batch(
            "ALTER TABLE clips DROP COLUMN disk; ALTER TABLE clips DROP COLUMN away;
             ALTER TABLE routines DROP COLUMN watched; ALTER TABLE routines DROP COLUMN low;
             ALTER TABLE routines DROP COLUMN high; ALTER TABLE routines DROP COLUMN may_be_void;
             ALTER TABLE routines DROP COLUMN seal; UPDATE clips SET content_hash = 'known';
             PRAGMA user_version = 1; PRAGMA wal_checkpoint(TRUNCATE);",
        )
        .unwrap();
    drop(index);
    assert!(club.says(&["library", "find", "marked"]).contains("2 found"));
    let index = rusqlite::Connection::open(club.index_file()).unwrap();
    let kept = "SELECT count(*) FROM clips WHERE content_hash = 'known' AND disk IS NOT NULL";
    let kept: i64 = index.query_row(kept, [], |row| row.get(0)).unwrap();
    assert_eq!(kept, 2);
}

/// The range of a score came with the third version; the second one kept the score alone.
#[test]
fn an_index_without_ranges_reads_them_from_the_marks() {
    let club = club();
    club.scan();
    let index = rusqlite::Connection::open(club.index_file()).unwrap();
    let ranges = "SELECT count(*) FROM routines WHERE low IS NOT NULL AND high >= low";
    let before: i64 = index.query_row(ranges, [], |row| row.get(0)).unwrap();
    assert_eq!(before, 2);
    index
        .execute_batch(
            "ALTER TABLE routines DROP COLUMN low; ALTER TABLE routines DROP COLUMN high;
             ALTER TABLE routines DROP COLUMN may_be_void; ALTER TABLE routines DROP COLUMN seal;
             PRAGMA user_version = 2; PRAGMA wal_checkpoint(TRUNCATE);",
        )
        .unwrap();
    drop(index);
    assert!(club.says(&["library", "find", "marked"]).contains("2 found"));
    let index = rusqlite::Connection::open(club.index_file()).unwrap();
    let after: i64 = index.query_row(ranges, [], |row| row.get(0)).unwrap();
    assert_eq!(after, 2);
}

/// Somebody who says stop does not wait until a long clip is read to its end.
#[test]
fn reading_whole_clips_stops_within_one() {
    let club = Club::new();
    let clip = club.clips().join("long.mp4");
    fs::write(&clip, vec![7_u8; 8 << 20]).unwrap();
    let (home, state) = (club.home(), club.state());
    let shelf = Shelf::read(&home).unwrap();
    let mut index = Index::open(&home).unwrap();
    let mut scan = Scan { index: &mut index, home: &home, shelf: &shelf, state: Some(&state) };
    let stop_at = |most: usize| {
        let mut told = 0;
        move |_| {
            told += 1;
            if told > most { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        }
    };
    patiently(|| scan.run(&mut stop_at(100)));
    assert!(!patiently(|| scan.hash(&mut stop_at(3))), "three pieces of it, and no more");
    assert!(patiently(|| scan.hash(&mut stop_at(100))), "and it is read from its beginning again");
    // A clip that was touched is read through to see whether it was altered.
    let touched = fs::File::options().write(true).open(&clip).unwrap();
    touched.set_modified(std::time::SystemTime::now() + Duration::from_secs(5)).unwrap();
    assert!(patiently(|| scan.run(&mut stop_at(3))).stopped);
    let scanned = patiently(|| scan.run(&mut stop_at(100)));
    assert!(!scanned.stopped && scanned.altered.is_empty());
}

#[test]
fn an_index_that_is_deleted_or_damaged_is_made_anew() {
    let club = club();
    club.scan();
    let index = club.index_file();
    fs::remove_file(&index).unwrap();
    let found = club.says(&["library", "find", "event bars"]);
    assert!(found.contains("2 found"), "{found}");
    // Damaged in the head, in the middle, and cut off.
    let whole = fs::read(&index).unwrap();
    let mut middle = whole.clone();
    let half = whole.len() / 2;
    middle[half - 3000..half + 3000].fill(0xA5);
    for damaged in [vec![b'x'; 5000], middle, whole[..half].to_vec()] {
        for ending in ["-wal", "-shm"] {
            let _ = fs::remove_file(format!("{}{ending}", index.display()));
        }
        fs::write(&index, damaged).unwrap();
        // A scan reads all of it; a search meets the damage only where it looks.
        let output = club.run(&["library", "scan"]);
        let (out, error) = (String::from_utf8(output.stdout), String::from_utf8(output.stderr));
        let (out, error) = (out.unwrap(), error.unwrap());
        assert!(out.contains("2 clips, 2 marks files"), "{out}{error}");
        assert!(error.contains("damaged and is made anew"), "{error}");
        assert!(club.says(&["library", "find", "event bars"]).contains("2 found"));
    }
    // A search meets it as well where every page is spoilt but the first.
    let mut all = whole.clone();
    all[4096..].fill(0xA5);
    fs::write(&index, all).unwrap();
    assert!(club.says(&["library", "find", "event bars"]).contains("2 found"));
    assert!(club.clips().join("a.mp4.1.J-2.marks.json").exists());
}

#[test]
fn an_index_of_a_newer_version_is_refused_and_left_alone() {
    let club = club();
    club.scan();
    let connection = rusqlite::Connection::open(club.index_file()).unwrap();
    connection.execute_batch("PRAGMA user_version = 99; PRAGMA wal_checkpoint(TRUNCATE)").unwrap();
    drop(connection);
    let before = fs::read(club.index_file()).unwrap();
    assert!(matches!(Index::open(&club.home()), Err(IndexError::Newer { found: 99, .. })));
    let error = club.refuses(&["library", "find", "event bars"]);
    assert!(error.contains("newer version") && error.contains("delete that file"), "{error}");
    assert_eq!(fs::read(club.index_file()).unwrap(), before);
}

#[test]
fn two_scans_at_once_do_not_meet() {
    let club = club();
    let mut both: Vec<_> = (0..2)
        .map(|_| {
            let mut command = club.command();
            command.args(["library", "scan"]).stdout(Stdio::piped()).stderr(Stdio::piped());
            command.spawn().unwrap()
        })
        .collect();
    let outputs: Vec<_> = both.drain(..).map(|child| child.wait_with_output().unwrap()).collect();
    assert!(outputs.iter().any(|output| output.status.success()), "{outputs:?}");
    for output in outputs.iter().filter(|output| !output.status.success()) {
        let error = String::from_utf8_lossy(&output.stderr);
        assert!(error.contains("another scan"), "{error}");
    }
    assert_eq!(club.scan().clips, 2);
    assert_eq!(club.who("event bars"), ["SC-01", "SC-02"]);
}

#[test]
fn one_may_search_while_another_scans() {
    let club = club();
    club.scan();
    let writer = rusqlite::Connection::open(club.index_file()).unwrap();
    writer.execute_batch("BEGIN IMMEDIATE; DELETE FROM routines").unwrap();
    assert_eq!(club.who("event bars"), ["SC-01", "SC-02"], "as it was before");
    writer.execute_batch("ROLLBACK").unwrap();
}

/// What is in the index at moments of a scan, as questions that are above 0 from then on.
#[cfg(unix)]
const MOMENTS: [&str; 5] = [
    "SELECT count(*) FROM sqlite_schema",
    "SELECT count(*) FROM clips",
    "SELECT count(*) FROM routines WHERE marks IS NOT NULL",
    "SELECT count(*) FROM clips WHERE content_hash IS NOT NULL",
    "SELECT count(*) - 30 FROM clips WHERE content_hash IS NOT NULL",
];

#[cfg(unix)]
fn is_reached(club: &Club, moment: &str) -> bool {
    let flags = rusqlite::OpenFlags::SQLITE_OPEN_READ_ONLY;
    let asked = rusqlite::Connection::open_with_flags(club.index_file(), flags)
        .and_then(|index| index.query_row(moment, [], |row| row.get::<_, i64>(0)));
    asked.is_ok_and(|count| count > 0)
}

/// Kills a scan again and again, each time later; what is found then is what one scan in
/// peace finds.
#[test]
#[cfg(unix)]
fn a_scan_killed_at_any_moment_loses_nothing() {
    let club = Club::new();
    for number in 0..60 {
        let name = format!("{number}.mp4");
        club.clip(&name, &name);
        club.mark(&Marked::of(&name, &format!("SC-{number}")));
    }
    let mut killed = 0;
    for moment in MOMENTS {
        let mut command = club.command();
        command.args(["library", "scan"]).stdout(Stdio::null()).stderr(Stdio::null());
        let mut child = command.spawn().unwrap();
        while child.try_wait().unwrap().is_none() {
            if is_reached(&club, moment) {
                child.kill().unwrap();
                killed += 1;
                break;
            }
        }
        child.wait().unwrap();
    }
    assert!(killed > 2, "only {killed} scans were killed at work");
    let scanned = club.scan();
    assert_eq!((scanned.clips, scanned.marks), (60, 60));
    assert!(scanned.problems.is_empty() && scanned.altered.is_empty(), "{scanned:?}");
    assert_eq!(club.find("event bars").len(), 60);
    assert_eq!(club.find("pull-over").len(), 60);
}

/// A file may not grow beyond 64 KiB, as on a disk that is full.
#[test]
#[cfg(unix)]
fn a_full_disk_is_told_in_clear_words_and_loses_nothing() {
    let club = Club::new();
    for number in 0..60 {
        let name = format!("{number}.mp4");
        club.clip(&name, &name);
        club.mark(&Marked::of(&name, &format!("SC-{number}")));
    }
    let program = env!("CARGO_BIN_EXE_stillcall");
    // With the signal ignored the system refuses the writing instead of ending the program.
    let script = format!("trap '' XFSZ; ulimit -f 64 || exit 77; exec '{program}' library scan");
    let output = std::process::Command::new("bash")
        .args(["-c", &script])
        .current_dir(club.folder.path())
        .env("STILLCALL_STATE", club.state().path())
        .output();
    let Ok(output) = output.map_err(|error| println!("SKIPPED: no bash: {error}")) else { return };
    if output.status.code() == Some(77) {
        println!("SKIPPED: the size of files cannot be limited here");
        return;
    }
    let error = String::from_utf8_lossy(&output.stderr);
    assert_eq!(output.status.code(), Some(1), "{output:?}");
    assert!(error.contains("free space") || error.contains("free some space"), "{error}");
    // With room again it goes on.
    assert_eq!(club.scan().marks, 60);
    assert_eq!(club.find("event bars").len(), 60);
}

#[test]
fn a_second_copy_of_a_record_is_told() {
    let club = club();
    fs::write(club.clips().join("a.mp4.clip (copy).json"), "{}").unwrap();
    let scanned = club.scan();
    assert!(scanned.problems.iter().any(|line| line.contains("a.mp4.clip (copy).json")));
}

#[test]
fn folders_are_added_once_and_never_inside_another() {
    let club = club();
    club.says(&["library", "add", "clips"]);
    let found = club.says(&["library", "scan"]);
    assert!(found.contains("2 clips, 2 marks files"), "{found}");
    fs::create_dir(club.clips().join("in")).unwrap();
    for (folder, words) in
        [("clips/in", "overlaps"), ("nowhere", "nowhere"), ("clips/a.mp4", "not a folder")]
    {
        let error = club.refuses(&["library", "add", folder]);
        assert!(error.contains(words), "{error}");
    }
    assert!(Path::new(&club.clips()).exists());
}
