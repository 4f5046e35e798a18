//! Packets of a clip as bytes.

use crate::footage::{
    libav::Structure,
    packets::{
        entry::PacketEntry,
        role::{Begins, Role},
    },
};

use super::talk::LONGEST_TAIL;

/// Bytes of one packet.
const RECORD: usize = 50;
/// Stands for a temporal layer that is not known.
const NO_LAYER: u8 = u8::MAX;
/// Packets that are told at once.
pub(super) const AT_ONCE: usize = LONGEST_TAIL / RECORD;

pub(super) fn packed(packets: &[PacketEntry]) -> Vec<u8> {
    packets.iter().flat_map(record).collect()
}

/// Returns the packets; nothing where the bytes are none, or are more than `most`.
pub(super) fn unpacked(bytes: &[u8], most: usize) -> Option<impl Iterator<Item = PacketEntry>> {
    let (records, rest) = bytes.as_chunks::<RECORD>();
    let fits = rest.is_empty() && !records.is_empty() && records.len() <= most;
    fits.then(|| records.iter().map(entry))
}

fn record(entry: &PacketEntry) -> [u8; RECORD] {
    let flags = [
        entry.key,
        entry.hidden,
        entry.corrupt,
        entry.structure == Structure::Field,
        entry.pts.is_some(),
        entry.dts.is_some(),
        entry.position.is_some(),
        entry.order.is_some(),
    ];
    let flags = (0..).zip(flags).map(|(bit, flag)| u8::from(flag) << bit).sum();
    let numbers = [entry.pts, entry.dts, Some(entry.duration), entry.position];
    let numbers = numbers.map(|number| number.unwrap_or_default().to_le_bytes());
    let mut record = [0; RECORD];
    record[..2].copy_from_slice(&[flags, entry.pictures]);
    record[2..34].copy_from_slice(numbers.as_flattened());
    record[34..42].copy_from_slice(&entry.fingerprint.to_le_bytes());
    record[42] = entry.layer.unwrap_or(NO_LAYER);
    record[43..47].copy_from_slice(&entry.order.unwrap_or_default().to_le_bytes());
    record[47..49].copy_from_slice(&match entry.role.begins {
        Begins::Nothing => [0, 0],
        Begins::All => [1, 0],
        Begins::Shown => [2, 0],
        Begins::Gradually(pictures) => [3, pictures],
    });
    record[49] = u8::from(entry.role.leaned_on) | u8::from(entry.lacking) << 1;
    record
}

fn entry(record: &[u8; RECORD]) -> PacketEntry {
    let flag = |bit: u8| record[0] >> bit & 1 == 1;
    let number = |at: usize| {
        let mut bytes = [0; 8];
        bytes.copy_from_slice(&record[2 + 8 * at..][..8]);
        i64::from_le_bytes(bytes)
    };
    let begins = match record[47] {
        1 => Begins::All,
        2 => Begins::Shown,
        3 => Begins::Gradually(record[48]),
        _ => Begins::Nothing,
    };
    PacketEntry {
        pts: flag(4).then(|| number(0)),
        dts: flag(5).then(|| number(1)),
        duration: number(2),
        position: flag(6).then(|| number(3)),
        fingerprint: number(4) as u64,
        key: flag(0),
        hidden: flag(1),
        corrupt: flag(2),
        lacking: record[49] >> 1 == 1,
        structure: if flag(3) { Structure::Field } else { Structure::Frame },
        order: flag(7)
            .then(|| i32::from_le_bytes([record[43], record[44], record[45], record[46]])),
        pictures: record[1],
        layer: Some(record[42]).filter(|&layer| layer != NO_LAYER),
        role: Role { begins, leaned_on: record[49] & 1 == 1 },
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn packets_come_through_as_they_are() {
        let plain = PacketEntry {
            pts: Some(-3),
            dts: None,
            duration: i64::MAX,
            position: Some(i64::MIN),
            fingerprint: u64::MAX - 1,
            key: true,
            hidden: false,
            corrupt: true,
            lacking: false,
            structure: Structure::Field,
            order: Some(-7),
            pictures: 200,
            layer: Some(6),
            role: Role { begins: Begins::Gradually(7), leaned_on: false },
        };
        let other = PacketEntry {
            pts: None,
            dts: Some(0),
            position: None,
            key: false,
            hidden: true,
            corrupt: false,
            lacking: true,
            structure: Structure::Frame,
            order: None,
            layer: None,
            role: Role { begins: Begins::All, leaned_on: true },
            ..plain
        };
        let bytes = packed(&[plain, other]);
        let read: Vec<_> = unpacked(&bytes, 2).unwrap().collect();
        assert_eq!(format!("{read:?}"), format!("{:?}", [plain, other]));
        assert!(unpacked(&bytes, 1).is_none(), "more than there may be");
        assert!(unpacked(&bytes[1..], 2).is_none(), "half a packet");
        assert!(unpacked(&[], 2).is_none());
    }
}
