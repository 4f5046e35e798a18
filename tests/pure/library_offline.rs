//! The main commands without any network interface.

#![cfg(target_os = "linux")]

use std::process::Command;

use super::library_club::{Club, Marked};

/// Returns whether a program can be run here with no network at all.
fn can_unshare() -> bool {
    let tried = Command::new("unshare").args(["-r", "-n", "true"]).output();
    tried.is_ok_and(|output| output.status.success())
}

#[test]
fn the_main_commands_need_no_network_interface() {
    if !can_unshare() {
        println!("SKIPPED: this system does not let a test run without its network interfaces");
        return;
    }
    let club = Club::new();
    club.clip("a.mp4", "a");
    club.mark(&Marked::of("a.mp4", "SC-07"));
    club.mark(&Marked { judge: "J-1", ..Marked::of("a.mp4", "SC-07") });
    club.clip("b.mp4", "b");
    let judges = ["clips/a.mp4.1.J-1.marks.json", "clips/a.mp4.1.J-2.marks.json"];
    let witnessed = ["--by", "J-2", "--witness", "office"];
    let commands: [&[&str]; 18] = [
        &["score", "clips/a.mp4.1.J-2.marks.json", "--html", "sheet.html"],
        &["measure", "clips/a.mp4.1.J-2.marks.json"],
        &["card", "--rulebook", "saltmarsh", "--event", "beam", "--division", "redshank"],
        &["rulebook", "check", "saltmarsh"],
        &["library", "add", "clips"],
        &["library", "note", "clips/a.mp4", "--nobody"],
        &["library", "info", "clips/a.mp4"],
        &["library", "scan"],
        &["library", "due", "--within", "30"],
        &["library", "find", "event bars"],
        &["library", "export", "event bars", "--out", "b.zip", "--to", "Dunlin club"],
        &["library", "import", "b.zip", "--into", "clips/from-dunlin"],
        &["library", "reference", judges[0], judges[1], "--record", judges[0]],
        &["library", "recheck", "--rulebook", "saltmarsh"],
        &["library", "set", "event bars", "--out", "clips/set.toml"],
        &["sitting", "clips/set.toml", "--slip", "slip.html"],
        &[&["library", "delete", "clips/b.mp4"], &witnessed[..]].concat(),
        &[&["library", "withdraw", "SC-07"], &witnessed[..]].concat(),
    ];
    for arguments in commands {
        let output = Command::new("unshare")
            .args(["-r", "-n", env!("CARGO_BIN_EXE_stillcall")])
            .args(arguments)
            .current_dir(club.folder.path())
            .env("STILLCALL_STATE", club.state().path())
            .output()
            .unwrap();
        assert!(output.status.success(), "{arguments:?}: {output:?}");
    }
}
