//! Who may read what is written: what lies beside clips as any new file there, what the program
//! keeps for itself the user alone.

use std::{
    fs,
    os::unix::fs::{MetadataExt as _, PermissionsExt as _, chown},
    path::{Path, PathBuf},
    process::Command,
};

use super::library_club::{Club, Marked};

/// Runs a command of the program under a mask, as a shell hands it on.
fn run(club: &Club, mask: &str, arguments: &[&str]) {
    let mut command = Command::new("sh");
    command.args(["-c", &format!("umask {mask}; exec \"$@\""), "sh"]);
    command.arg(env!("CARGO_BIN_EXE_stillcall")).args(arguments);
    command.current_dir(club.folder.path()).env("STILLCALL_STATE", club.state().path());
    let output = command.output().unwrap();
    assert!(output.status.success(), "{arguments:?}: {output:?}");
}

/// Makes a file as any program does.
fn plain(folder: &Path, mask: &str) -> PathBuf {
    let path = folder.join("plain");
    let script = format!("umask {mask}; : > \"$1\"");
    assert!(Command::new("sh").args(["-c", &script, "sh"]).arg(&path).status().unwrap().success());
    path
}

fn rights(path: &Path) -> (u32, u32) {
    let facts = fs::metadata(path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    (facts.permissions().mode() & 0o777, facts.gid())
}

fn files_below(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).unwrap().flatten().map(|entry| entry.path());
    let (folders, files): (Vec<PathBuf>, Vec<PathBuf>) = entries.partition(|path| path.is_dir());
    let below = folders.iter().flat_map(|folder| files_below(folder));
    files.into_iter().chain(below).chain(folders.clone()).collect()
}

#[test]
fn what_lies_beside_clips_is_as_readable_as_any_new_file_there() {
    for mask in ["002", "027"] {
        let club = Club::new();
        let folder = club.clips();
        // A shared folder hands its group on; giving files to another group takes a right that not
        // everybody has who runs this.
        let _ = chown(&folder, None, Some(7));
        fs::set_permissions(&folder, fs::Permissions::from_mode(0o2775)).unwrap();
        club.clip("one.mp4", "a");
        let marks = club.mark(&Marked::of("one.mp4", "SC-07"));
        run(&club, mask, &["library", "note", "clips/one.mp4", "--source", "phone"]);
        let page = marks.with_extension("html");
        let (marks, html) = (marks.display().to_string(), page.display().to_string());
        run(&club, mask, &["score", &marks, "--html", &html]);
        run(&club, mask, &["library", "scan"]);
        let bundle = folder.join("b.zip").display().to_string();
        run(&club, mask, &["library", "export", "bars", "--out", &bundle, "--to", "Dunlin club"]);
        fs::create_dir(folder.join("in")).unwrap();
        run(&club, mask, &["library", "import", &bundle, "--into", "clips/in"]);
        let asked = rights(&plain(&folder, mask));
        let imported = fs::read_dir(folder.join("in")).unwrap().flatten();
        let imported: Vec<PathBuf> = imported.map(|entry| entry.path()).collect();
        assert!(imported.len() > 1, "marks and a record");
        for path in
            imported.iter().chain([&folder.join("one.mp4.clip.json"), &page, &bundle.into()])
        {
            assert_eq!(rights(path), asked, "{} under {mask}", path.display());
        }
    }
}

#[test]
fn a_file_that_is_replaced_keeps_its_rights_and_its_group() {
    let club = Club::new();
    club.clip("one.mp4", "a");
    let marks = club.mark(&Marked::of("one.mp4", "SC-07"));
    let _ = chown(&marks, None, Some(7));
    fs::set_permissions(&marks, fs::Permissions::from_mode(0o664)).unwrap();
    let before = rights(&marks);
    run(&club, "077", &["result", &marks.display().to_string(), "--average", "9.150"]);
    assert!(fs::read_to_string(&marks).unwrap().contains("9.150"), "it was written anew");
    assert_eq!(rights(&marks), before);
}

#[test]
fn what_the_program_keeps_for_itself_is_the_users_alone() {
    let club = Club::new();
    club.clip("one.mp4", "a");
    let marks = club.mark(&Marked::of("one.mp4", "SC-07")).display().to_string();
    fs::remove_dir_all(club.state().path()).unwrap();
    run(&club, "002", &["library", "add", "clips"]);
    run(&club, "002", &["library", "scan"]);
    run(&club, "002", &["result", &marks, "--average", "9.150"]);
    run(&club, "002", &["score", &marks, "--html", "sheet.html"]);
    assert_eq!(rights(club.state().path()).0, 0o700);
    let kept = files_below(club.state().path());
    for ending in ["journal", "sqlite", "jsonl"] {
        let is_of = |path: &&PathBuf| path.extension().is_some_and(|it| it == ending);
        assert!(kept.iter().any(|path| is_of(&path)), "{ending}: {kept:?}");
    }
    for path in kept {
        let asked = if path.is_dir() { 0o700 } else { 0o600 };
        assert_eq!(rights(&path).0, asked, "{}", path.display());
    }
}
