//! Word of a withdrawal reaches other computers, and nothing comes back unseen.

use std::{
    fs,
    path::{Path, PathBuf},
};

use stillcall::library::{
    Deletion, Home, Ledger, Records, SidecarFile, Withdrawn, import, quick_id, sidecar_path,
};

use super::{
    library_club::{Club, Marked},
    library_erase::{WITNESSED, club, nothing_is_left_of_her, withdraw},
};

/// Puts every file of one folder into another, as a program does that keeps folders in step.
fn bring(from: &Path, to: &Path) {
    for path in fs::read_dir(from).unwrap().flatten().map(|entry| entry.path()) {
        fs::copy(&path, to.join(path.file_name().unwrap())).unwrap();
    }
}

fn words(club: &Club) -> Vec<PathBuf> {
    let all = fs::read_dir(club.clips()).unwrap().flatten().map(|entry| entry.path());
    all.filter(|path| path.to_string_lossy().ends_with(".stillcall.json")).collect()
}

#[test]
fn a_withdrawal_leaves_word_that_names_nobody_in_letters() {
    let club = club();
    let id = quick_id(&club.clips().join("a.mp4")).unwrap();
    withdraw(&club);
    let [word] = &words(&club)[..] else { panic!("one word in the folder") };
    let text = fs::read_to_string(word).unwrap();
    assert!(!text.contains("SC-07") && text.contains(&id), "{text}");
    let known = Withdrawn::known(None, &[club.clips()]);
    assert!(known.since("sc-07").is_some() && known.since("SC-08").is_none());
    // Each folder has a salt of its own, so that two cannot be laid side by side.
    let own = Withdrawn::known(Some(&club.home()), &[]);
    assert!(own.since("SC-07").is_some());
    let text = |word: &Withdrawn| format!("{:?}", word.all());
    assert_ne!(text(&own), text(&known));
}

#[test]
fn another_computer_carries_a_withdrawal_out_when_it_next_scans() {
    let (club, other) = (club(), Club::new());
    // Both keep the same folder, and the other one made pages of it.
    bring(&club.clips(), &other.clips());
    other.says(&["library", "scan"]);
    other.says(&["score", "clips/a.mp4.1.J-2.marks.json", "--html", "sheet.html"]);
    fs::copy(other.clips().join("a.mp4"), other.clips().join("copy of it.mp4")).unwrap();
    withdraw(&club);
    // Of the deletions nothing has arrived yet, but word has.
    bring(&club.clips(), &other.clips());
    let output = other.run(&["library", "scan"]);
    assert!(output.status.success(), "{output:?}");
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("a withdrawal by J-2, witnessed by welfare officer"), "{said}");
    nothing_is_left_of_her(&other);
    assert!(!other.folder.path().join("sheet.html").exists());
    assert!(!other.clips().join("copy of it.mp4").exists());
    assert!(other.clips().join("b.mp4").exists());
    let lines = Ledger::<Deletion>::open(&other.home()).unwrap().lines().unwrap();
    assert_eq!(lines.len(), 1, "{lines:?}");
    other.says(&["library", "scan"]);
    let lines = Ledger::<Deletion>::open(&other.home()).unwrap().lines().unwrap();
    assert_eq!(lines.len(), 1, "it is carried out once: {lines:?}");
}

#[test]
fn what_is_brought_back_is_told_and_erased_again() {
    let club = club();
    let kept = tempfile::tempdir().unwrap();
    bring(&club.clips(), kept.path());
    withdraw(&club);
    for file in ["a.mp4", "a.mp4.clip.json", "a.mp4.1.J-2.marks.json"] {
        fs::copy(kept.path().join(file), club.clips().join(file)).unwrap();
    }
    let output = club.run(&["library", "scan"]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("brought back") && said.contains("a.mp4"), "{said}");
    assert!(!said.contains("name her again"), "nothing does any more: {said}");
    nothing_is_left_of_her(&club);
    // Marks alone, without their clip.
    let marks = "a.mp4.1.J-2.marks.json";
    fs::copy(kept.path().join(marks), club.clips().join(marks)).unwrap();
    club.run(&["library", "scan"]);
    nothing_is_left_of_her(&club);
}

#[test]
fn what_is_new_under_a_withdrawn_code_is_told_and_kept() {
    let club = club();
    withdraw(&club);
    let clip = club.clip("new.mp4", "somebody else under her code");
    club.mark(&Marked::of("new.mp4", "SC-07"));
    let output = club.run(&["library", "scan"]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("SC-07 withdrew on") && said.contains("another code"), "{said}");
    assert!(clip.exists(), "nothing that was made since is deleted unasked");
    let note = ["library", "note", "clips/new.mp4", "--athlete", "SC-07"];
    assert!(club.refuses(&note).contains("needs another code"));
    assert!(!sidecar_path(&clip).exists());
}

#[test]
fn whoever_is_given_her_code_on_another_computer_later_is_not_erased() {
    let (club, other) = (club(), Club::new());
    withdraw(&club);
    for word in words(&club) {
        fs::copy(&word, other.clips().join(word.file_name().unwrap())).unwrap();
    }
    other.says(&["library", "scan"]);
    let clip = other.clip("new.mp4", "somebody else under her code");
    other.mark(&Marked::of("new.mp4", "SC-07"));
    let output = other.run(&["library", "scan"]);
    let said = String::from_utf8(output.stderr).unwrap();
    assert!(said.contains("SC-07 withdrew on") && clip.exists(), "{said}");
}

#[test]
fn what_was_withdrawn_is_not_taken_in_again() {
    let club = club();
    club.says(&["library", "scan"]);
    club.says(&["library", "export", "event bars", "--out", "bundle.zip", "--to", "Dunlin club"]);
    let kept = tempfile::tempdir().unwrap();
    let bundle = kept.path().join("bundle.zip");
    fs::copy(club.folder.path().join("bundle.zip"), &bundle).unwrap();
    withdraw(&club);
    let name = bundle.display().to_string();
    let said = club.says(&["library", "import", &name, "--into", "clips/from-dunlin"]);
    assert!(said.contains("2 not taken in"), "her marks and the record that names her: {said}");
    nothing_is_left_of_her(&club);
    let taken = club.clips().join("from-dunlin");
    assert_eq!(fs::read_dir(&taken).unwrap().count(), 2, "what is SC-08's was taken in");
    // Nor into another folder, nor by another computer that shares the folder.
    let elsewhere = kept.path().join("elsewhere");
    let own = import(&bundle, &elsewhere, (None, Some(&club.home())), Records::Asked).unwrap();
    assert_eq!(own.refused, 2);
    let other = Home::at(kept.path().join("another computer"));
    let shared =
        import(&bundle, &club.clips().join("again"), (None, Some(&other)), Records::Asked).unwrap();
    assert_eq!(shared.refused, 2);
}

#[test]
fn a_bundle_with_her_clip_leaves_the_clip_outside() {
    // Somebody else's marks of the same clip are theirs; the pictures show her.
    let club = club();
    let other = Club::new();
    other.clip("a.mp4", "a.mp4");
    other.mark(&Marked::of("a.mp4", "SC-07"));
    let marks = fs::read(other.clips().join("a.mp4.1.J-2.marks.json")).unwrap();
    withdraw(&club);
    let bundle = other.folder.path().join("made.zip");
    let clip = "a".repeat(9000).into_bytes();
    write_bundle(&bundle, &[("files/x.mp4", &clip), ("files/x.mp4.1.J-2.marks.json", &marks)]);
    let done =
        import(&bundle, &club.clips().join("in"), (None, Some(&club.home())), Records::Asked)
            .unwrap();
    assert_eq!((done.refused, done.new.len()), (2, 0));
}

/// Writes a bundle as its format says: each file stored, with its hash in the list.
fn write_bundle(path: &Path, files: &[(&str, &[u8])]) {
    use std::io::Write as _;
    use zip::{CompressionMethod, ZipWriter, write::SimpleFileOptions};
    let listed: Vec<_> = files
        .iter()
        .map(|(name, bytes)| {
            serde_json::json!({
                "name": name, "bytes": bytes.len(), "hash": blake3::hash(bytes).to_hex().as_str(),
            })
        })
        .collect();
    let manifest = serde_json::json!({
        "format": "stillcall bundle", "version": 1, "made": "2026-10-17", "files": listed,
    });
    let stored = SimpleFileOptions::default().compression_method(CompressionMethod::Stored);
    let mut archive = ZipWriter::new(fs::File::create(path).unwrap());
    archive.start_file("manifest.json", stored).unwrap();
    archive.write_all(manifest.to_string().as_bytes()).unwrap();
    for (name, bytes) in files {
        archive.start_file(*name, stored).unwrap();
        archive.write_all(bytes).unwrap();
    }
    archive.finish().unwrap();
}

#[test]
fn a_clip_that_shows_others_stays_closed_on_every_computer() {
    let club = club();
    club.clip("both.mp4", "both");
    club.mark(&Marked::of("both.mp4", "SC-07"));
    club.mark(&Marked { judge: "J-3", ..Marked::of("both.mp4", "SC-08") });
    let other = Club::new();
    bring(&club.clips(), &other.clips());
    other.says(&["library", "scan"]);
    let said = club.says(&[&["library", "withdraw", "SC-07"], &WITNESSED[..]].concat());
    assert!(said.contains("both.mp4") && said.contains("closed"), "{said}");
    for word in words(&club) {
        fs::copy(&word, other.clips().join(word.file_name().unwrap())).unwrap();
    }
    other.says(&["library", "scan"]);
    for place in [&club, &other] {
        let noted = SidecarFile::open(&place.clips().join("both.mp4")).unwrap().sidecar;
        assert!(noted.somebody_withdrew && noted.athlete("SC-07").is_none());
        nothing_is_left_of_her(place);
    }
}
