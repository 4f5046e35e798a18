//! Opening a clip with every frame proved, and saying meanwhile how long that takes.

use std::{
    cell::RefCell,
    path::Path,
    time::{Duration, Instant},
};

use stillcall::{
    footage::{Footage, Proving},
    proofs,
};

use crate::command::printed;

/// How often something is said.
const PACE: Duration = Duration::from_millis(500);

/// Opens a clip whose pictures are to leave, or whose frames are to be named.
pub(crate) fn open(clip: &Path) -> anyhow::Result<Footage> {
    let begun = Instant::now();
    let said = RefCell::new(begun);
    let told = |proving: Proving| {
        let now = Instant::now();
        if now - *said.borrow() >= PACE {
            said.replace(now);
            printed::in_place(&format!("{:<70}", words(proving, now - begun)));
        }
    };
    let opened = proofs::open_proved(clip, &told);
    if *said.borrow() > begun {
        printed::in_place(&format!("{:<70}\r", ""));
    }
    Ok(opened?)
}

fn words(Proving { done, of }: Proving, elapsed: Duration) -> String {
    let left = elapsed.as_secs_f64() * of.saturating_sub(done) as f64 / done.max(1) as f64;
    format!(
        "proving the frames, the first time only: {} %, about {} s left",
        100 * done / of.max(1),
        left.ceil()
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_rest_takes_as_long_as_what_was_decoded() {
        let said = words(Proving { done: 300, of: 1200 }, Duration::from_secs(10));
        assert_eq!(said, "proving the frames, the first time only: 25 %, about 30 s left");
    }
}
