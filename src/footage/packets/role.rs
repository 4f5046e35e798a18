//! What a picture leans on, and whether others lean on it, by its packet's own bytes.

use super::coded;

/// What a packet's picture is to those after it in decoding order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Role {
    pub begins: Begins,
    /// Whether another picture may lean on it.
    pub leaned_on: bool,
}

/// What no longer leans on anything before a picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Begins {
    /// Nothing does that comes after it in decoding order.
    All,
    /// Nothing does that is shown after it.
    Shown,
    /// Nothing does once so many pictures that others lean on have passed.
    Gradually(u8),
    /// What comes after it leans on it and on what is before.
    Nothing,
}

/// Returns a picture's role. `key` says whether decoding can begin there, by container and by the
/// packet; of a codec that is not read here, that is all that is known.
pub(crate) fn role(codec: &str, packet: &[u8], key: bool) -> Role {
    let begins = if key { Begins::Shown } else { Begins::Nothing };
    match codec {
        "h264" => h264(packet, begins),
        "hevc" => hevc(packet, begins),
        "mpeg1video" | "mpeg2video" => Role { begins, leaned_on: !mpeg_is_between(packet) },
        "mpeg4" => Role { begins, leaned_on: !mpeg4_is_between(packet) },
        _ => Role { begins, leaned_on: true },
    }
}

/// A unit's first byte: one bit of zero, two that are zero where no picture leans on this one, five
/// of kind; kinds 1 to 5 are slices, 5 of a picture that refreshes all (ITU-T H.264, 7.4.1).
fn h264(packet: &[u8], begins: Begins) -> Role {
    let units = coded::units(packet).unwrap_or_default();
    let slice = units.iter().find(|unit| (1..=5).contains(&(unit[0] & 31)));
    let recovers = || units.iter().filter(|unit| unit[0] & 31 == 6).find_map(|it| recovery(it));
    let begins = match (begins, slice.map(|unit| unit[0] & 31)) {
        (Begins::Shown, Some(5)) => Begins::All,
        (Begins::Nothing, Some(_)) => recovers().map_or(Begins::Nothing, Begins::Gradually),
        (begins, _) => begins,
    };
    // On units without a slice nothing leans; of what cannot be split nobody knows.
    let leaned_on = slice.map_or(units.is_empty(), |unit| unit[0] >> 5 & 3 != 0);
    Role { begins, leaned_on }
}

/// Returns how many pictures a recovery point takes: a remark (kind 6) whose subject is 6 begins
/// with that number (ITU-T H.264, D.1.8), in Exp-Golomb code. Numbers that do not fit in two bytes
/// of code are none.
fn recovery(unit: &[u8]) -> Option<u8> {
    let mut rest = unit.get(1..)?;
    loop {
        let (&subject, after) = rest.split_first()?;
        let (&length, after) = after.split_first()?;
        if subject == 255 || length == 255 {
            return None;
        }
        if subject == 6 {
            let code = u16::from_be_bytes([*after.first()?, *after.get(1)?]);
            let zeros = code.leading_zeros();
            return u8::try_from((code >> 15u32.checked_sub(2 * zeros)?) - 1).ok();
        }
        rest = after.get(usize::from(length)..)?;
    }
}

/// A unit's kind lies in six bits behind the first; even ones up to 14 are of pictures on which none
/// of the same layer leans, 16 to 21 begin something, all of it where they are 18 to 20 (HEVC, table
/// 7-1).
fn hevc(packet: &[u8], begins: Begins) -> Role {
    let units = coded::units(packet).unwrap_or_default();
    let kind = units.iter().map(|unit| unit[0] >> 1 & 63).find(|kind| *kind < 32);
    let begins = match (begins, kind) {
        (Begins::Shown, Some(18..=20)) => Begins::All,
        (begins, _) => begins,
    };
    let leaned_on = kind.map_or(units.is_empty(), |kind| kind > 14 || kind % 2 == 1);
    Role { begins, leaned_on }
}

/// The kind of a picture lies behind ten bits of the header, whose start code ends in zero: 3 are B
/// pictures (ISO/IEC 13818-2, 6.2.3).
fn mpeg_is_between(packet: &[u8]) -> bool {
    let header = packet.windows(6).find(|bytes| bytes.starts_with(&[0, 0, 1, 0]));
    header.is_some_and(|bytes| bytes[5] >> 3 & 7 == 3)
}

/// The kind lies in the two bits behind the start code: 2 are B pictures. A packet of several
/// pictures is taken for the first (ISO/IEC 14496-2, 6.2.5).
fn mpeg4_is_between(packet: &[u8]) -> bool {
    let header = packet.windows(5).find(|bytes| bytes.starts_with(&[0, 0, 1, 0xb6]));
    header.is_some_and(|bytes| bytes[4] >> 6 == 2)
}

/// Returns whether a packet's bytes cannot be what its codec writes: in H.264 and HEVC no two zeros
/// are followed by 0, 1 or 2 within a unit (ITU-T H.264, 7.4.1; HEVC, 7.4.2). Bytes that are cut
/// into units in another way are not looked at.
pub(crate) fn is_malformed(codec: &str, packet: &[u8]) -> bool {
    // Nothing should stand behind a unit, but zeros do. An H.264 decoder says itself what they took
    // the place of.
    let most_behind = match codec {
        "h264" => usize::MAX,
        "hevc" => 3,
        _ => return false,
    };
    if let Some(units) = coded::behind_lengths(packet) {
        return units.into_iter().any(|unit| has_zeros(unit, most_behind));
    }
    coded::behind_start_codes(packet).is_some_and(|_| stream_has_zeros(packet))
}

fn has_zeros(unit: &[u8], most_behind: usize) -> bool {
    zeros(unit).is_some_and(|at| {
        let behind = unit.len() - at;
        unit[at..].iter().any(|&byte| byte != 0) || behind > most_behind
    })
}

/// Between start codes, and at the end, there may be any number of zeros.
fn stream_has_zeros(packet: &[u8]) -> bool {
    let mut rest = packet;
    while let Some(at) = zeros(rest) {
        let after = &rest[at..];
        let length = after.iter().take_while(|&&byte| byte == 0).count();
        match after.get(length) {
            Some(1) => rest = &after[length + 1..],
            None => return false,
            Some(_) => return true,
        }
    }
    false
}

/// Returns where two zeros stand with 0, 1 or 2 behind them.
fn zeros(bytes: &[u8]) -> Option<usize> {
    // Only every second byte need be looked at to find two zeros in a row.
    let mut at = 1;
    while at < bytes.len() {
        if bytes[at] == 0 {
            for first in [at - 1, at] {
                if let Some([0, 0, 0..=2]) = bytes.get(first..first + 3) {
                    return Some(first);
                }
            }
        }
        at += 2;
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    fn with_length(unit: &[u8]) -> Vec<u8> {
        [&(unit.len() as u32).to_be_bytes()[..], unit].concat()
    }

    /// Bytes by hand from the standards that the functions name.
    #[test]
    fn roles_are_read_off_the_first_slice() {
        use Begins::{All, Gradually, Nothing, Shown};
        let of = |codec: &str, packet: &[u8], key| {
            let role = role(codec, packet, key);
            (role.begins, role.leaned_on)
        };
        assert_eq!(of("h264", &with_length(&[0x65, 9]), true), (All, true));
        assert_eq!(of("h264", &with_length(&[0x41, 9]), true), (Shown, true));
        assert_eq!(of("h264", &with_length(&[0x01, 9]), false), (Nothing, false));
        // A remark of one byte (5), then a recovery point after 4 pictures: 00101 is 4 in their code.
        let remark = with_length(&[6, 5, 1, 7, 6, 2, 0b0010_1100, 0x40, 0x80]);
        let slice = with_length(&[0x41, 9]);
        assert_eq!(of("h264", &[remark, slice].concat(), false), (Gradually(4), true));
        let hevc = |kind: u8| with_length(&[kind << 1, 1, 9]);
        // Remarks alone (39 of HEVC) are no picture; what cannot be split may be one.
        assert!(
            !of("h264", &with_length(&[6, 5, 1, 7]), false).1 && !of("hevc", &hevc(39), false).1
        );
        assert!(of("h264", &[9, 9, 9], false).1 && of("hevc", &[9, 9, 9], false).1);
        assert_eq!(of("hevc", &hevc(19), true), (All, true));
        assert_eq!(of("hevc", &hevc(21), true), (Shown, true));
        assert_eq!(
            [0, 1, 8, 9].map(|it| of("hevc", &hevc(it), false).1),
            [false, true, false, true]
        );
        for (kind, leaned_on) in [(1, true), (2, true), (3, false)] {
            assert_eq!(of("mpeg2video", &[0, 0, 1, 0, 0, kind << 3], false).1, leaned_on);
        }
        for (kind, leaned_on) in [(0, true), (1, true), (2, false), (3, true)] {
            assert_eq!(of("mpeg4", &[0, 0, 1, 0xb6, kind << 6], false).1, leaned_on);
        }
        assert_eq!(of("vp9", &[0x82], true), (Shown, true));
    }

    #[test]
    fn zeros_that_no_encoder_writes_are_found() {
        let is = |packet: &[u8]| is_malformed("h264", packet);
        assert!(!is(&with_length(&[0x65, 7, 0, 0, 3, 0, 0, 3, 1, 0, 9])));
        for bad in [0, 1, 2] {
            for before in 1..4 {
                let unit = [&vec![7; before][..], &[0, 0, bad, 9]].concat();
                assert!(is(&with_length(&unit)), "{bad} after {before}");
            }
        }
        assert!(!is(&[0, 0, 0, 1, 0x65, 7, 0, 0, 1, 0x65, 7, 0, 0, 0, 1, 0x65, 7, 0, 0, 0, 0]));
        assert!(is(&[0, 0, 0, 1, 0x65, 7, 0, 0, 0, 0, 0, 7]));
        assert!(is(&[0, 0, 0, 1, 0x65, 7, 0, 0, 2, 7]));
        // Zeros behind the last byte, which a decoder of H.264 takes for nothing.
        let padded = with_length(&[0x65, 7, 0, 0, 0, 0]);
        assert!(!is(&padded) && is_malformed("hevc", &padded));
        // Lengths of two bytes are not read.
        assert!(!is(&[0, 4, 0x65, 0, 0, 1]));
        assert!(!is_malformed("vp9", &[0, 0, 0, 0]));
    }
}
