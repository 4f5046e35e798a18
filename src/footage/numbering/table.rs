use std::ops::Range;

use crate::{
    footage::{
        libav::Structure,
        packets::{
            scan::{PacketEntry, Scan},
            session::Origin,
        },
    },
    units::{FrameRef, Packets, PictureField, Ticks},
};

use super::soundness::Soundness;

/// What is known of one frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FrameEntry {
    /// When it is shown; zero is the first frame.
    pub ticks: Ticks,
    /// Whether it can be decoded without others.
    pub key: bool,
    /// Whether the file gave its time; if not, it follows from the frame rate.
    pub timed: bool,
    /// Whether its picture is damaged; sound as far as is known, where the table is not proved.
    pub soundness: Soundness,
    /// Place of its packet in decoding order.
    pub(crate) ordinal: u32,
    /// What its picture must hash to; known for proved tables only.
    pub(crate) hash: Option<u64>,
}

/// The frames of a clip in presentation order, counted from 0.
#[derive(Clone, Debug, Default)]
pub struct FrameTable {
    entries: Vec<FrameEntry>,
    /// The first frame of each packet, by ordinal; `NONE` for packets that show none.
    frame_of: Vec<u32>,
    end: Ticks,
    /// Usual distance of two frames in ticks.
    usual: i64,
    /// Whether the numbers are final.
    counted: bool,
    proved: bool,
    /// Whether a full decode met no damage.
    unhurt: bool,
}

/// Greater than any frame.
const NONE: u32 = u32::MAX;
/// Frames within which those of one packet lie.
const SPREAD: usize = 64;

/// A picture that one full decode gave, in the order in which they came.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Shown {
    pub ordinal: u32,
    pub hash: u64,
    pub soundness: Soundness,
    pub interlaced: bool,
}

impl FrameTable {
    /// Returns the number of frames.
    pub fn len(&self) -> usize {
        self.entries.len()
    }

    /// Returns whether there is no frame.
    pub fn is_empty(&self) -> bool {
        self.entries.is_empty()
    }

    /// Returns frame `k`, or nothing beyond the last.
    pub fn entry(&self, k: usize) -> Option<&FrameEntry> {
        self.entries.get(k)
    }

    /// Returns all frames in order.
    pub fn entries(&self) -> &[FrameEntry] {
        &self.entries
    }

    /// Returns the frame on screen at an instant: the last one shown at or before it, the first
    /// one before the clip begins.
    pub fn at(&self, instant: Ticks) -> usize {
        self.entries.partition_point(|entry| entry.ticks <= instant).saturating_sub(1)
    }

    /// Returns the frame whose own instant is nearest, or nothing where the clip does not reach.
    pub fn nearest(&self, instant: Ticks) -> Option<usize> {
        let last = self.entries.last()?.ticks;
        if instant.0 < -self.usual / 2 || instant >= self.end.max(last) {
            return None;
        }
        let k = self.at(instant);
        let distance = |k: usize| Some(self.entry(k)?.ticks.0.abs_diff(instant.0));
        let next = distance(k + 1).is_some_and(|next| Some(next) < distance(k));
        Some(k + usize::from(next))
    }

    /// Returns the reference to frame `k`, or nothing beyond the last.
    ///
    /// The event lies between the neighbours' instants: it was not yet seen on the frame before
    /// and is no longer new on the frame after. Frames that repeat a picture count as one, because
    /// nobody can tell them apart. At the ends the frame's own instant stands in.
    pub fn frame_ref(&self, k: usize) -> Option<FrameRef> {
        let ticks = self.entry(k)?.ticks;
        let same = self.same_picture(k);
        let before = same.start.checked_sub(1).and_then(|k| self.entry(k));
        let after = self.entry(same.end);
        Some(FrameRef {
            ticks,
            index: k.into(),
            field: None,
            lo: before.map_or(self.entries[same.start].ticks, |entry| entry.ticks),
            hi: after.map_or(self.entries[same.end - 1].ticks, |entry| entry.ticks),
        })
    }

    /// Returns the reference to one field of interlaced frame `k`, of which `first` was taken
    /// first; nothing beyond the last frame.
    ///
    /// The later field was taken half a frame after the earlier one. The event lies between the
    /// instants of the fields before and after; where a picture repeats, as for the whole frame.
    /// A half tick is rounded down, and outwards in `lo` and `hi`.
    pub fn field_ref(
        &self,
        k: usize,
        field: PictureField,
        first: PictureField,
    ) -> Option<FrameRef> {
        let whole = self.frame_ref(k)?;
        let number = 2 * k + usize::from(field != first);
        let [ticks, _] = self.field_instant(number)?;
        let mut reference = FrameRef { ticks, field: Some(field), ..whole };
        if self.same_picture(k).len() == 1 {
            let before = number.checked_sub(1).and_then(|number| self.field_instant(number));
            let after = self.field_instant(number + 1);
            reference.lo = before.map_or(ticks, |[down, _]| down);
            reference.hi = after.map_or(ticks, |[_, up]| up);
        }
        Some(reference)
    }

    /// Returns when a field was taken, rounded down and up; fields count from 0, two a frame.
    fn field_instant(&self, number: usize) -> Option<[Ticks; 2]> {
        let start = self.entry(number / 2)?.ticks.0;
        if number.is_multiple_of(2) {
            return Some([Ticks(start); 2]);
        }
        let next = self.entry(number / 2 + 1).map_or(self.end, |entry| entry.ticks);
        // After a gap in the recording the next frame is far, but the later field is not.
        let length = next.0.saturating_sub(start).min(self.usual);
        Some([length / 2, length - length / 2].map(|half| Ticks(start.saturating_add(half))))
    }

    /// Returns the frames in a row that have the same picture as frame `k`, itself among them;
    /// only a proved table knows of any other.
    pub fn same_picture(&self, k: usize) -> Range<usize> {
        let hash = |k: usize| self.entries.get(k).and_then(|entry| entry.hash);
        let Some(own) = hash(k) else { return k..k + 1 };
        let start = (0..k).rev().take_while(|&k| hash(k) == Some(own)).last().unwrap_or(k);
        let end = (k + 1..self.len()).find(|&k| hash(k) != Some(own)).unwrap_or(self.len());
        start..end
    }

    /// Returns whether frame `k` has the same picture as the one before, as far as is known.
    pub(crate) fn repeats(&self, k: usize) -> bool {
        let hash = |k: usize| self.entries.get(k).and_then(|entry| entry.hash);
        k > 0 && hash(k).is_some() && hash(k) == hash(k - 1)
    }

    /// Returns the instant at which the last frame ends.
    pub fn end(&self) -> Ticks {
        self.end
    }

    /// Returns whether a full decode has confirmed the table.
    pub fn is_proved(&self) -> bool {
        self.proved
    }

    /// Returns whether a full decode met no damage, so that any other linear one gives the same.
    pub(crate) fn is_unhurt(&self) -> bool {
        self.unhurt
    }

    /// Returns whether the numbers are those of a full decode.
    pub fn is_counted(&self) -> bool {
        self.counted
    }

    /// Returns whether this table only goes on where the other one ends.
    pub(crate) fn continues(&self, other: &Self) -> bool {
        let same = |(new, old): (&FrameEntry, &FrameEntry)| {
            (new.ticks, new.ordinal) == (old.ticks, old.ordinal)
        };
        self.len() >= other.len() && self.entries.iter().zip(&other.entries).all(same)
    }

    /// Returns the frame that a picture is; a packet may hold several.
    pub(crate) fn frame_of(&self, Origin { ordinal, part }: Origin) -> Option<usize> {
        let first = self.first_frame_of(ordinal)?;
        if part == 0 {
            return Some(first);
        }
        let of_packet = |k: &usize| self.entries[*k].ordinal == ordinal;
        (first..self.len()).take(SPREAD).filter(of_packet).nth(part as usize)
    }

    /// Returns the first frame that a packet shows.
    pub(crate) fn first_frame_of(&self, ordinal: u32) -> Option<usize> {
        let frame = *self.frame_of.get(ordinal as usize)?;
        (frame != NONE).then_some(frame as usize)
    }

    /// Builds the table from time stamps alone, where they can be trusted to tell what a full
    /// decode would show.
    pub(crate) fn from_stamps(scan: &Scan, packets: Packets) -> Option<Self> {
        if !trusted(scan, packets) {
            return None;
        }
        let shown = (0_u32..).zip(&scan.packets).filter(|(_, packet)| packet.is_shown());
        let shown = shown.map(|(ordinal, _)| ordinal).collect();
        Some(Self { counted: true, ..Self::sorted(scan, shown) })
    }

    /// Builds the table that a full decode will most likely give, where the clip is too long to
    /// wait for one: by time stamp, if every packet has one of its own; two fields are one frame.
    pub(crate) fn likely(scan: &Scan) -> Option<Self> {
        let mut first_field = true;
        let mut starts_frame = |packet: &PacketEntry| {
            first_field = packet.structure == Structure::Frame || !first_field;
            packet.structure == Structure::Frame || !first_field
        };
        let shown: Vec<u32> = (0_u32..)
            .zip(&scan.packets)
            .filter(|(_, packet)| starts_frame(packet) && packet.is_shown())
            .map(|(ordinal, _)| ordinal)
            .collect();
        let mut stamps: Vec<_> =
            shown.iter().map(|&ordinal| scan.packets[ordinal as usize].pts).collect();
        stamps.sort_unstable();
        let sound = stamps.first().is_some_and(Option::is_some)
            && stamps.windows(2).all(|pair| pair[0] != pair[1]);
        sound.then(|| Self::sorted(scan, shown))
    }

    fn sorted(scan: &Scan, mut shown: Vec<u32>) -> Self {
        shown.sort_by_key(|&ordinal| scan.packets[ordinal as usize].pts);
        if !scan.is_whole {
            // Packets not read yet may be shown between the last ones.
            shown.truncate(shown.len().saturating_sub(SPREAD));
        }
        let shown = shown.into_iter().map(|ordinal| (ordinal, None));
        Self::build(scan, &shown.collect::<Vec<_>>(), (1, 1))
    }

    /// Builds the table from what one full decode showed; `frame_ticks` is the length of a frame
    /// in ticks as a fraction, for clips without time stamps.
    pub(crate) fn from_decode(
        scan: &Scan,
        (shown, hurt): (&[Shown], bool),
        frame_ticks: (i64, i64),
    ) -> Self {
        let unhurt = !hurt && shown.iter().all(|shown| shown.soundness == Soundness::Sound);
        let shown: Vec<_> = shown.iter().map(|shown| (shown.ordinal, Some(*shown))).collect();
        Self { counted: true, proved: true, unhurt, ..Self::build(scan, &shown, frame_ticks) }
    }

    fn build(scan: &Scan, shown: &[(u32, Option<Shown>)], frame_ticks: (i64, i64)) -> Self {
        let stamps: Vec<Option<i64>> =
            shown.iter().map(|&(ordinal, _)| scan.packets[ordinal as usize].pts).collect();
        let times = times(&stamps, frame_ticks);
        let mut frame_of = vec![NONE; scan.packets.len()];
        let mut entries = Vec::with_capacity(shown.len());
        for (&(ordinal, decoded), (ticks, timed)) in shown.iter().zip(times) {
            let first = &mut frame_of[ordinal as usize];
            *first = (*first).min(entries.len() as u32);
            entries.push(FrameEntry {
                ticks,
                key: scan.packets[ordinal as usize].key,
                timed,
                soundness: decoded.map_or(Soundness::Sound, |decoded| decoded.soundness),
                ordinal,
                hash: decoded.map(|decoded| decoded.hash),
            });
        }
        let usual = usual_distance(&entries);
        let end = end_of(scan, &entries, usual);
        Self { entries, frame_of, end, usual, counted: false, proved: false, unhurt: false }
    }
}

/// Returns whether sorting by time stamp gives the order of a full decode.
///
/// Found on a corpus of corner cases: it does in containers that index every picture, when no
/// stamp is missing or doubled, no picture is coded as two fields, no packet holds two pictures,
/// and the first packet starts a run with nothing before it.
fn trusted(scan: &Scan, packets: Packets) -> bool {
    let Some(first) = scan.packets.first() else { return false };
    let mut stamps = Vec::with_capacity(scan.packets.len());
    for packet in &scan.packets {
        if packet.corrupt || packet.structure == Structure::Field || packet.pictures > 1 {
            return false;
        }
        if packet.is_shown() {
            stamps.push(packet.pts);
        }
    }
    let leads = |stamp: &Option<i64>| *stamp < first.pts;
    if scan.cut_short || packets != Packets::Indexed || !first.key || stamps.iter().any(leads) {
        return false;
    }
    stamps.sort_unstable();
    stamps.first().is_some_and(Option::is_some) && stamps.windows(2).all(|pair| pair[0] != pair[1])
}

/// Returns each frame's time and whether the file gave it.
///
/// Where stamps are missing or run backwards, times follow from the frame length instead; a
/// single gap is filled from the frame before it.
fn times(stamps: &[Option<i64>], frame_ticks: (i64, i64)) -> Vec<(Ticks, bool)> {
    // Wide, because a damaged file's frame length may be anything.
    let counted = |k: usize| {
        (k as i128 * i128::from(frame_ticks.0) / i128::from(frame_ticks.1.max(1))) as i64
    };
    let given: Vec<i64> = stamps.iter().copied().flatten().collect();
    let usable = given.len() * 2 > stamps.len() && given.is_sorted();
    if !usable {
        return (0..stamps.len()).map(|k| (Ticks(counted(k)), false)).collect();
    }
    // The first given stamp, carried back to the first frame.
    let lead = stamps.iter().take_while(|stamp| stamp.is_none()).count();
    let zero = given[0].saturating_sub(counted(lead));
    let mut times: Vec<(Ticks, bool)> = Vec::with_capacity(stamps.len());
    let mut later = given.into_iter().peekable();
    for stamp in stamps {
        let limit = later.peek().map_or(i64::MAX, |next| next.saturating_sub(zero));
        times.push(match (stamp, times.last()) {
            (Some(_), _) => (Ticks(limit), true),
            (None, Some((before, _))) => {
                (Ticks(before.0.saturating_add(counted(1)).min(limit)), false)
            }
            (None, None) => (Ticks(0), false),
        });
        if stamp.is_some() {
            later.next();
        }
    }
    times
}

/// Returns where the last frame ends: its packet's duration, else the usual distance of frames.
fn end_of(scan: &Scan, entries: &[FrameEntry], usual: i64) -> Ticks {
    let Some(last) = entries.last() else { return Ticks(0) };
    let packet = &scan.packets[last.ordinal as usize];
    // The packet of a field lasts half as long as the frame.
    let whole = packet.structure == Structure::Frame && packet.duration > 0;
    let length = if whole { packet.duration } else { usual };
    Ticks(last.ticks.0.saturating_add(length))
}

fn usual_distance(entries: &[FrameEntry]) -> i64 {
    let mut steps: Vec<i64> =
        entries.windows(2).map(|pair| pair[1].ticks.0.saturating_sub(pair[0].ticks.0)).collect();
    steps.sort_unstable();
    steps.get(steps.len() / 2).copied().unwrap_or(0)
}
