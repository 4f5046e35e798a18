use std::{
    hash::{DefaultHasher, Hasher},
    path::Path,
};

use serde::{Deserialize, Serialize};

use crate::footage::{
    error::OpenError,
    libav::{self, Input, Limits, Packet, Palette, Parser, Structure},
    limits::LIMITS,
    pictures::picture,
};

use super::{beside::Beside, coded, entry::PacketEntry, lacking::Places, role, torn};

/// All packets of a clip's video in decoding order.
#[derive(Clone, Debug, Default)]
pub(crate) struct Scan {
    pub packets: Vec<PacketEntry>,
    /// Ordinals of the packets at which decoding can start, rising.
    pub keys: Vec<u32>,
    /// Whether reading stopped before the container said that it was done, or before the last of
    /// what its index names.
    pub cut_short: bool,
    /// The ordinal of the packet before which another recording lies instead, which is not read.
    pub changes_at: Option<u32>,
    /// Whether all packets were read that can be.
    pub is_whole: bool,
    /// Whether some picture comes as two fields in packets of their own.
    pub has_fields: bool,
    /// Colours that the container gave, each from the packet with this ordinal on, rising.
    palettes: Vec<(u32, Palette)>,
    /// The highest temporal layer of any picture, where all are known.
    highest_layer: Option<u8>,
    /// (fingerprint, ordinal), sorted.
    by_fingerprint: Vec<(u64, u32)>,
}

/// How much of a clip is read.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub(crate) enum Extent {
    /// All of it.
    Whole,
    /// The first [`BEGINNING`] packets.
    Beginning,
}

/// More changes of colours than this count as the end of what can be read: 64 MiB of them.
const MOST_PALETTES: usize = 1 << 16;

/// Packets that show a minute or so, and are read in a moment.
const BEGINNING: usize = 3600;

/// Which bound a clip goes beyond.
#[derive(Debug, PartialEq, Eq)]
pub(crate) enum TooMuch {
    /// It has more packets.
    Packets,
    /// The packet with this ordinal has more bytes.
    Bytes(usize),
}

impl TooMuch {
    /// Returns the error for the clip at `path`.
    pub(crate) fn of(self, path: &Path) -> OpenError {
        let path = path.to_owned();
        match self {
            Self::Packets => OpenError::TooLong { path, limit: LIMITS.packets },
            Self::Bytes(picture) => {
                OpenError::TooDense { path, picture, limit: LIMITS.packet >> 20 }
            }
        }
    }
}

impl Scan {
    /// Reads packets once, decoding nothing; nothing when `stop` said so. `codec` is FFmpeg's name
    /// of it.
    pub(crate) fn of(
        input: &mut Input,
        codec: &str,
        (extent, limits): (Extent, Limits),
        stop: &dyn Fn() -> bool,
    ) -> Result<Option<Self>, TooMuch> {
        let mut parser = input.parser();
        let (mut packets, mut palettes) = (Vec::new(), Vec::new());
        let (mut is_whole, mut beside) = (true, Beside::default());
        let mut places = Places::default();
        let cut_short = loop {
            if packets.len() == BEGINNING && extent == Extent::Beginning {
                is_whole = false;
                break false;
            }
            if stop() {
                return Ok(None);
            }
            match input.next_packet_passing(&mut |packet| beside.pass(packet)) {
                Ok(Some(packet)) if packet.bytes().len() > limits.packet => {
                    return Err(TooMuch::Bytes(packets.len()));
                }
                Ok(Some(_)) if palettes.len() == MOST_PALETTES => break true,
                Ok(Some(packet)) => {
                    palettes.extend(packet.palette().map(|it| (packets.len() as u32, *it)));
                    packets.push(entry(&packet, parser.as_mut(), codec));
                    places.look(codec, packet.bytes());
                }
                Ok(None) => break input.names_more_than_there_is(),
                Err(error) if libav::is_out_of_bounds(error) => {
                    return Err(TooMuch::Bytes(packets.len()));
                }
                Err(_) => break true,
            }
            if packets.len() > limits.packets {
                return Err(TooMuch::Packets);
            }
        };
        places.note(&mut packets);
        if input.format() == "mpegts" {
            torn::place(&mut packets);
        }
        let videos: Vec<usize> = input.videos().iter().map(|video| video.index).collect();
        let places: Vec<_> = packets.iter().map(|packet| packet.position).collect();
        let changes_at = if is_whole { beside.in_its_place(&videos, &places) } else { None };
        let scan = Self::from_packets(packets, cut_short);
        Ok(Some(Self { changes_at, is_whole, palettes, ..scan }))
    }

    /// Puts together what was read, all of it as far as one can read.
    pub(crate) fn from_packets(packets: Vec<PacketEntry>, cut_short: bool) -> Self {
        let numbered = || (0_u32..).zip(&packets);
        let keys = numbered().filter(|(_, p)| p.key).map(|(ordinal, _)| ordinal).collect();
        let mut by_fingerprint: Vec<_> = numbered().map(|(o, p)| (p.fingerprint, o)).collect();
        by_fingerprint.sort_unstable();
        let has_fields = packets.iter().any(|packet| packet.structure == Structure::Field);
        let layers = packets.iter().map(|packet| packet.layer);
        let highest_layer =
            layers.collect::<Option<Vec<_>>>().and_then(|them| them.into_iter().max());
        let (is_whole, palettes, changes_at) = (true, Vec::new(), None);
        Self {
            packets,
            keys,
            cut_short,
            changes_at,
            is_whole,
            has_fields,
            palettes,
            highest_layer,
            by_fingerprint,
        }
    }

    /// Returns whether a picture that its stream calls no reference may be left out where it is not
    /// shown: only in the highest temporal layer does no other one lean on it. Packets that are not
    /// read yet may have a higher one.
    pub(crate) fn may_leave_out(&self, ordinal: u32) -> bool {
        let layer = self.packets.get(ordinal as usize).and_then(|packet| packet.layer);
        self.is_whole && layer.is_some() && layer == self.highest_layer
    }

    /// Returns whether another picture may lean on that of a packet.
    pub(crate) fn is_leaned_on(&self, ordinal: u32) -> bool {
        let packet = self.packets.get(ordinal as usize);
        // Below the highest layer, those above may lean on what is no reference to its own.
        let is_below =
            || packet.is_some_and(|packet| packet.layer.is_some()) && !self.may_leave_out(ordinal);
        packet.is_none_or(|packet| packet.role.leaned_on) || is_below()
    }

    /// Returns a hash of all packets in their order, by their ends and their time stamps.
    pub(crate) fn digest(&self) -> u64 {
        let mut hasher = blake3::Hasher::new();
        for packet in &self.packets {
            hasher.update(&packet.fingerprint.to_le_bytes());
            hasher.update(&packet.pts.unwrap_or(i64::MIN).to_le_bytes());
            hasher.update(&[packet.hidden.into()]);
        }
        picture::first_bytes(&hasher.finalize())
    }

    /// Returns the ordinal of a packet that was read after a seek, if it can only be that one.
    pub(crate) fn recognise(&self, packet: &Packet) -> Option<u32> {
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

    /// Returns the colours that hold at a packet, where the container gave any up to there.
    pub(crate) fn palette_at(&self, ordinal: u32) -> Option<&Palette> {
        let upto = self.palettes.partition_point(|&(from, _)| from <= ordinal);
        Some(&self.palettes[..upto].last()?.1)
    }

    /// Returns whether `packet` is the one with this ordinal, as far as its bytes tell.
    pub(crate) fn is_packet(&self, ordinal: u32, packet: &Packet) -> bool {
        self.packets
            .get(ordinal as usize)
            .is_some_and(|entry| entry.fingerprint == fingerprint(packet.bytes()))
    }
}

fn only<'a>(mut ordinals: impl Iterator<Item = &'a u32>) -> Option<u32> {
    let first = ordinals.next()?;
    ordinals.next().is_none().then_some(*first)
}

fn entry(packet: &Packet, parser: Option<&mut Parser>, codec: &str) -> PacketEntry {
    let parsed = parser.map(|parser| parser.look(packet));
    let key = packet.is_key() && parsed.and_then(|parsed| parsed.key) != Some(false);
    PacketEntry {
        pts: packet.pts(),
        dts: packet.dts(),
        duration: packet.duration(),
        position: packet.position(),
        fingerprint: fingerprint(packet.bytes()),
        key,
        hidden: packet.is_hidden(),
        corrupt: packet.is_corrupt(),
        lacking: false,
        structure: parsed.map_or(Structure::Frame, |parsed| parsed.structure),
        order: parsed.and_then(|parsed| parsed.order),
        pictures: coded::pictures_shown(codec, packet.bytes()) as u8,
        layer: coded::temporal_layer(codec, packet.bytes()),
        role: role::role(codec, packet.bytes(), key),
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

#[cfg(test)]
mod tests {
    use std::io::Cursor;

    use super::*;

    /// An IVF file (32 bytes of header; length and time before each packet) of VP9 packets with so
    /// many bytes each.
    fn ivf(packets: usize, bytes: usize) -> Vec<u8> {
        let header = b"DKIF\0\0\x20\0VP90\x40\0\x40\0\x19\0\0\0\x01\0\0\0\0\0\0\0\0\0\0\0";
        let packet = |time: usize| {
            let length = (bytes as u32).to_le_bytes();
            [&length[..], &(time as u64).to_le_bytes(), &vec![0x82; bytes]].concat()
        };
        let packets = (0..packets).map(packet);
        [header.to_vec()].into_iter().chain(packets).collect::<Vec<_>>().concat()
    }

    fn scan(file: Vec<u8>, limits: Limits) -> Result<Option<Scan>, TooMuch> {
        let file = Cursor::new(file);
        let mut input = Input::open(file, "clip.ivf", LIMITS).expect("a file");
        input.choose(0);
        Scan::of(&mut input, "vp9", (Extent::Whole, limits), &|| false)
    }

    #[test]
    fn every_bound_stops_the_reading() {
        let limits = Limits { packets: 5, packet: 100, ..LIMITS };
        let within = scan(ivf(5, 100), limits).expect("within bounds").expect("not stopped");
        assert_eq!((within.packets.len(), within.is_whole), (5, true));
        assert_eq!(scan(ivf(6, 100), limits).err(), Some(TooMuch::Packets));
        assert_eq!(scan(ivf(2, 101), limits).err(), Some(TooMuch::Bytes(0)));
        let error = TooMuch::Packets.of(Path::new("clip.mp4")).to_string();
        assert!(error.contains("clip.mp4: has more than 5500000 pictures"), "{error}");
    }
}
