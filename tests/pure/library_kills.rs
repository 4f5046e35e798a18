//! Killed at any moment of a withdrawal, the next command of the library finishes it.

use std::{
    process::Stdio,
    thread,
    time::{Duration, Instant},
};

use super::{
    library_club::Club,
    library_erase::{WITNESSED, club, fill, nothing_is_left_of_her, withdraw},
};

/// Begins a withdrawal and kills it after a while; returns whether it came to its end before.
fn killed_after(club: &Club, while_: Duration) -> bool {
    let mut child = club
        .command()
        .args([&["library", "withdraw", "SC-07"], &WITNESSED[..]].concat())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    thread::sleep(while_);
    let ended = child.try_wait().unwrap().is_some();
    child.kill().unwrap();
    child.wait().unwrap();
    ended
}

fn every_one_is_finished(kills: u32) {
    let measured = club();
    fill(&measured);
    let since = Instant::now();
    withdraw(&measured);
    let whole = since.elapsed();
    let mut interrupted = 0;
    for kill in 0..kills {
        let club = club();
        fill(&club);
        // Spread over the whole of it, in no order.
        let part = kill * 7919 % kills;
        let ended = killed_after(&club, whole * part / kills);
        let was_begun = club.home().path().join("erasing").exists();
        interrupted += u32::from(was_begun && !ended);
        // Killed while it was finished, too.
        let again = club.command().args(["library", "find", "bars"]).stdout(Stdio::null()).spawn();
        let mut again = again.unwrap();
        thread::sleep(whole * (kill % 7) / 14);
        again.kill().unwrap();
        again.wait().unwrap();
        club.run(&["library", "find", "bars"]);
        if club.clips().join("a.mp4").exists() {
            // Killed before anything was written down, it did nothing; whoever killed it knows.
            withdraw(&club);
        }
        nothing_is_left_of_her(&club);
    }
    assert!(interrupted > kills / 5, "only {interrupted} of {kills} were killed at work");
}

#[test]
fn a_killed_withdrawal_is_finished() {
    every_one_is_finished(10);
}

#[test]
#[ignore = "200 kills; make kills"]
fn killed_two_hundred_times_withdrawals_are_finished() {
    every_one_is_finished(200);
}
