//! Which packets of a transport stream are not complete.
//!
//! FFmpeg calls a packet corrupt where the stream's own packets are not counted on without a gap. It
//! cuts what it read into pictures afterwards, and finds where one ends when the next begins: so the
//! word stands with the picture before the one that is meant.

use super::scan::PacketEntry;

/// A step of the clock that no camera makes from one picture to the next: a second of 90 kHz.
const LEAP: i64 = 90_000;

/// Moves the word to the picture that is meant. Where recordings were joined by their bytes, the count
/// begins anew between two whole pictures, and nothing is missing.
pub(super) fn place(packets: &mut [PacketEntry]) {
    let said: Vec<bool> = packets.iter().map(|packet| packet.corrupt).collect();
    for (at, is_said) in said.into_iter().enumerate().rev() {
        packets[at].corrupt = false;
        let follows = packets.get(at + 2);
        if let Some(meant) = packets.get(at + 1).filter(|_| is_said) {
            packets[at + 1].corrupt = !follows.is_some_and(|next| begins_anew(meant, next));
        }
    }
}

/// Returns whether a picture begins another recording than the one before it.
fn begins_anew(before: &PacketEntry, next: &PacketEntry) -> bool {
    let step = before.dts.zip(next.dts).map(|(before, next)| next.saturating_sub(before));
    next.key && step.is_some_and(|step| !(0..=LEAP).contains(&step))
}
