//! Which packets of a transport stream are not complete.
//!
//! FFmpeg calls a packet corrupt where the stream's own packets are not counted on without a gap. It
//! cuts what it read into pictures afterwards, and finds where one ends when the next begins: so the
//! word stands with the picture before the one that is meant.

use super::entry::PacketEntry;

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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::footage::{
        libav::Structure,
        packets::role::{Begins, Role},
    };

    fn packet(dts: i64, key: bool, corrupt: bool) -> PacketEntry {
        PacketEntry {
            pts: Some(dts),
            dts: Some(dts),
            duration: 3000,
            position: None,
            fingerprint: 0,
            key,
            hidden: false,
            corrupt,
            lacking: false,
            structure: Structure::Frame,
            order: None,
            pictures: 1,
            layer: Some(0),
            role: Role { begins: Begins::Nothing, leaned_on: true },
        }
    }

    fn torn(mut packets: Vec<PacketEntry>) -> Vec<usize> {
        place(&mut packets);
        (0..packets.len()).filter(|at| packets[*at].corrupt).collect()
    }

    #[test]
    fn the_word_stands_one_picture_early() {
        let packets = (0..6).map(|k| packet(3000 * k, k == 3, [1, 2, 5].contains(&k)));
        // 2 and 3 are meant; behind the last there is none.
        assert_eq!(torn(packets.collect()), [2, 3]);
    }

    #[test]
    fn only_where_the_clock_leaps_to_a_key_picture_is_nothing_missing() {
        let joined = |clock: [i64; 4], key| {
            let packets = (0..4).zip(clock);
            torn(packets.map(|(k, dts)| packet(dts, k == 3 && key, k == 1)).collect())
        };
        assert_eq!(joined([0, 3000, 6000, 0], true), [0; 0]);
        assert_eq!(joined([0, 3000, 6000, 900_000], true), [0; 0]);
        assert_eq!(joined([0, 3000, 6000, 0], false), [2]);
        assert_eq!(joined([0, 3000, 6000, 9000], true), [2]);
    }
}
