//! What one full decode of a clip showed, as a value that can be kept.

use std::{fmt::Debug, sync::Arc};

use crate::footage::{libav, packets::scan::Scan};

use super::{soundness::Soundness, table::Shown};

/// What one full decode of a clip showed: which packet gave which picture, in the order in which
/// they came, and what each must hash to. It holds for the very packets with the very time stamps
/// that were decoded, and for the decoder that decoded them.
#[derive(Clone, Debug, PartialEq)]
pub struct Proof {
    pub(super) shown: Arc<[Shown]>,
    /// Whether decoding met damage anywhere.
    pub(super) hurt: bool,
    packets: u64,
    decoder: u32,
}

/// Keeps proofs from one opening of a clip to the next, each by the clip's content hash.
pub trait ProofKeeper: Debug + Send + Sync {
    /// Returns what is kept.
    fn find(&self, content_hash: &str) -> Option<Proof>;
    /// Keeps a proof.
    fn keep(&self, content_hash: &str, proof: &Proof);
}

/// How far proving a clip is, in packets.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Proving {
    /// So many are decoded.
    pub done: u64,
    /// So many there are.
    pub of: u64,
}

/// Which form the bytes have, and by which rules damage was told; another one is not read.
const FORM: u8 = 3;
/// Bytes before the pictures.
const HEADER: usize = 1 + 4 + 8 + 1;
/// Bytes of one picture: its packet, what is noted of it, its hash.
const PICTURE: usize = 4 + 1 + 8;

impl Proof {
    pub(super) fn new(scan: &Scan, shown: Vec<Shown>, hurt: bool) -> Self {
        Self { shown: shown.into(), hurt, packets: scan.digest(), decoder: libav::version() }
    }

    /// Returns whether it is of these packets, and by this decoder.
    pub(super) fn is_of(&self, scan: &Scan) -> bool {
        scan.is_whole
            && self.decoder == libav::version()
            && self.packets == scan.digest()
            && self.shown.iter().all(|shown| (shown.ordinal as usize) < scan.packets.len())
    }

    /// Returns it as bytes.
    pub fn to_bytes(&self) -> Vec<u8> {
        let mut bytes = Vec::with_capacity(HEADER + self.shown.len() * PICTURE);
        bytes.push(FORM);
        bytes.extend(self.decoder.to_le_bytes());
        bytes.extend(self.packets.to_le_bytes());
        bytes.push(self.hurt.into());
        for shown in &*self.shown {
            bytes.extend(shown.ordinal.to_le_bytes());
            bytes.push(number(shown.soundness) | u8::from(shown.interlaced) << 2);
            bytes.extend(shown.hash.to_le_bytes());
        }
        bytes
    }

    /// Reads what [`Self::to_bytes`] wrote; nothing where it is something else.
    pub fn from_bytes(bytes: &[u8]) -> Option<Self> {
        let (_, bytes) = bytes.split_first().filter(|(form, _)| **form == FORM)?;
        let (decoder, rest) = bytes.split_first_chunk::<4>()?;
        let (packets, rest) = rest.split_first_chunk::<8>()?;
        let (hurt, rest) = rest.split_first()?;
        let pictures = rest.chunks_exact(PICTURE);
        if !pictures.remainder().is_empty() {
            return None;
        }
        let read = |picture: &[u8]| {
            let (ordinal, rest) = picture.split_first_chunk::<4>()?;
            let (noted, hash) = rest.split_first()?;
            Some(Shown {
                ordinal: u32::from_le_bytes(*ordinal),
                hash: u64::from_le_bytes(hash.try_into().ok()?),
                soundness: soundness(noted & 3)?,
                interlaced: noted & 4 != 0,
            })
        };
        Some(Self {
            shown: pictures.map(read).collect::<Option<_>>()?,
            hurt: *hurt != 0,
            packets: u64::from_le_bytes(*packets),
            decoder: u32::from_le_bytes(*decoder),
        })
    }
}

fn number(soundness: Soundness) -> u8 {
    match soundness {
        Soundness::Sound => 0,
        Soundness::Damaged => 1,
        Soundness::Following => 2,
    }
}

fn soundness(number: u8) -> Option<Soundness> {
    [Soundness::Sound, Soundness::Damaged, Soundness::Following].get(usize::from(number)).copied()
}
