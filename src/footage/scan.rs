use std::hash::{DefaultHasher, Hasher};

use super::libav::{Input, Packet, Parser, Structure};

/// Most packets of a clip: a day at 60 frames a second.
pub(super) const MOST_PACKETS: usize = 5_500_000;

/// What is kept of one packet; its place in the list, its ordinal, is its place in decoding order.
#[derive(Clone, Copy, Debug)]
pub(super) struct PacketEntry {
    pub pts: Option<i64>,
    pub dts: Option<i64>,
    pub duration: i64,
    pub position: Option<i64>,
    pub fingerprint: u64,
    /// Whether decoding can start here, by container and by the packet's own bytes.
    pub key: bool,
    pub hidden: bool,
    pub corrupt: bool,
    pub structure: Structure,
}

/// All packets of a clip's video in decoding order.
#[derive(Debug)]
pub(super) struct Scan {
    pub packets: Vec<PacketEntry>,
    /// Ordinals of the packets at which decoding can start, rising.
    pub keys: Vec<u32>,
    /// Whether reading stopped before the container said that it was done.
    pub cut_short: bool,
    /// (fingerprint, ordinal), sorted.
    by_fingerprint: Vec<(u64, u32)>,
}

/// More packets than [`MOST_PACKETS`].
#[derive(Debug)]
pub(super) struct TooMany;

impl Scan {
    /// Reads all packets once, decoding nothing.
    pub fn of(input: &mut Input) -> Result<Self, TooMany> {
        let mut parser = input.parser();
        let mut packets = Vec::new();
        let cut_short = loop {
            match input.next_packet() {
                Ok(Some(packet)) => packets.push(entry(&packet, parser.as_mut())),
                Ok(None) => break false,
                Err(_) => break true,
            }
            if packets.len() > MOST_PACKETS {
                return Err(TooMany);
            }
        };
        Ok(Self::from_packets(packets, cut_short))
    }

    fn from_packets(packets: Vec<PacketEntry>, cut_short: bool) -> Self {
        let numbered = || (0_u32..).zip(&packets);
        let keys = numbered().filter(|(_, p)| p.key).map(|(ordinal, _)| ordinal).collect();
        let mut by_fingerprint: Vec<_> = numbered().map(|(o, p)| (p.fingerprint, o)).collect();
        by_fingerprint.sort_unstable();
        Self { packets, keys, cut_short, by_fingerprint }
    }

    /// Returns the ordinal of a packet that was read after a seek, if it can only be that one.
    pub fn recognise(&self, packet: &Packet) -> Option<u32> {
        let fingerprint = fingerprint(packet.bytes());
        let from = self.by_fingerprint.partition_point(|&(f, _)| f < fingerprint);
        let same = self.by_fingerprint[from..].iter().take_while(|&&(f, _)| f == fingerprint);
        let ordinals: Vec<u32> = same.map(|&(_, ordinal)| ordinal).collect();
        let agrees = |ordinal: &u32| {
            let entry = &self.packets[*ordinal as usize];
            entry.pts == packet.pts()
                && entry.dts == packet.dts()
                && entry.position == packet.position()
        };
        let in_place = |ordinal: &u32| {
            self.packets[*ordinal as usize].position == packet.position()
                && packet.position().is_some()
        };
        only(ordinals.iter().filter(|o| agrees(o)))
            .or_else(|| only(ordinals.iter()))
            .or_else(|| only(ordinals.iter().filter(|o| in_place(o))))
    }

    /// Returns whether `packet` is the one with this ordinal, as far as its bytes tell.
    pub fn is_packet(&self, ordinal: u32, packet: &Packet) -> bool {
        self.packets
            .get(ordinal as usize)
            .is_some_and(|entry| entry.fingerprint == fingerprint(packet.bytes()))
    }
}

fn only<'a>(mut ordinals: impl Iterator<Item = &'a u32>) -> Option<u32> {
    let first = ordinals.next()?;
    ordinals.next().is_none().then_some(*first)
}

fn entry(packet: &Packet, parser: Option<&mut Parser>) -> PacketEntry {
    let parsed = parser.map(|parser| parser.look(packet));
    PacketEntry {
        pts: packet.pts(),
        dts: packet.dts(),
        duration: packet.duration(),
        position: packet.position(),
        fingerprint: fingerprint(packet.bytes()),
        key: packet.is_key() && parsed.and_then(|parsed| parsed.key) != Some(false),
        hidden: packet.is_hidden(),
        corrupt: packet.is_corrupt(),
        structure: parsed.map_or(Structure::Frame, |parsed| parsed.structure),
    }
}

/// Tells packets apart by their size, beginning and end.
fn fingerprint(bytes: &[u8]) -> u64 {
    let mut hasher = DefaultHasher::new();
    hasher.write_usize(bytes.len());
    hasher.write(&bytes[..bytes.len().min(256)]);
    hasher.write(&bytes[bytes.len().saturating_sub(64)..]);
    hasher.finish()
}
