//! What a reader keeps is bounded, also with a second decoder that works ahead.

use std::{
    process::Command,
    time::{Duration, Instant},
};

use stillcall::footage::{Ahead, Footage, Means, Reader};

use crate::clips::{H264, made, source};

/// 300 pictures of 1280 x 720 in 4:2:0 take 415 MB when all are kept.
const BUDGET: usize = 64 << 20;
/// Beside the budget, up to 1080p: the pictures inside two decoders, and their own needs.
const BESIDE: usize = 150 << 20;

/// The memory of a whole process is looked at, so the walk is made in one of its own.
#[test]
fn memory_stays_within_the_budget() {
    let output = Command::new(std::env::current_exe().expect("this program"))
        .args(["--exact", "memory::a_walk_back", "--ignored", "--nocapture"])
        .output()
        .expect("it starts again");
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(output.status.success(), "{said}");
    let growth = said.split("grew by ").nth(1).and_then(|rest| rest.split(' ').next());
    let Some(growth) = growth else {
        println!("SKIPPED: this system does not tell a process's memory");
        return;
    };
    let growth: usize = growth.parse().expect("a number of bytes");
    assert!(growth <= BUDGET + BESIDE, "{} MiB", growth >> 20);
    // The walk was one: the budget was filled.
    assert!(growth >= BUDGET, "{} MiB", growth >> 20);
}

#[test]
#[ignore = "run by the test above, in a process of its own"]
fn a_walk_back() {
    let clip = made("large.mp4", &format!("{} {H264}", source(10, "1280x720", "30")));
    let Some(before) = bytes_of("VmRSS:") else { return };
    let footage = Footage::open(&clip).expect("it opens");
    let means = Means { budget: BUDGET, ahead: Ahead::Fetch };
    let reader = Reader::with_means(footage, means, || {});
    for k in (0..300).rev() {
        reader.want(k);
        let end = Instant::now() + Duration::from_secs(60);
        while reader.latest().is_none_or(|picture| picture.frame != k) {
            assert!(Instant::now() < end, "frame {k} never came: {:?}", reader.trouble());
            std::thread::sleep(Duration::from_micros(200));
        }
    }
    let most = bytes_of("VmHWM:").expect("it was told before");
    println!("grew by {} bytes", most.saturating_sub(before));
}

/// Returns a figure of this process's memory, where the system tells it.
fn bytes_of(name: &str) -> Option<usize> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix(name))?;
    Some(line.split_whitespace().next()?.parse::<usize>().ok()? * 1024)
}
