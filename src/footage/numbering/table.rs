use std::ops::Range;

use crate::{
    footage::{
        libav::Structure,
        packets::{clip::Clip, entry::PacketEntry, scan::Scan, session::Origin},
    },
    units::{FrameRef, Packets, PictureField, Ticks},
};

use super::{
    counted::counted,
    mend::{Line, TimeSource, mend},
    order::{Order, SPREAD, agrees, by_stamps},
    soundness::Soundness,
};

/// What is known of one frame.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FrameEntry {
    /// When it is shown; zero is the first frame.
    pub ticks: Ticks,
    /// Whether it can be decoded without others.
    pub key: bool,
    /// How its time is known.
    pub source: TimeSource,
    /// Whether its picture is damaged; sound as far as is known, where the table is not proved.
    pub soundness: Soundness,
    /// Place of its packet in decoding order.
    pub(crate) ordinal: u32,
    /// What its picture must hash to; known for proved tables only.
    pub(crate) hash: Option<u64>,
}

impl FrameEntry {
    /// Returns whether a full decode has shown it: number, picture and soundness are sure.
    pub fn is_proved(&self) -> bool {
        self.hash.is_some()
    }
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

    /// Returns the same frames, those proved that a full decode has shown so far; it may go on to
    /// show others where this table is wrong, and there this one ends to know more.
    pub(crate) fn proved_so_far(&self, shown: &[Shown]) -> Self {
        let mut table = self.clone();
        let same = |(entry, shown): &(&mut FrameEntry, &Shown)| entry.ordinal == shown.ordinal;
        for (entry, shown) in table.entries.iter_mut().zip(shown).take_while(same) {
            (entry.hash, entry.soundness) = (Some(shown.hash), shown.soundness);
        }
        table
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
    pub(crate) fn from_stamps(clip: &Clip) -> Option<Self> {
        let scan = &clip.scan;
        let shown = (0_u32..).zip(&scan.packets).filter(|(_, packet)| packet.is_shown());
        let shown: Vec<u32> = shown.map(|(ordinal, _)| ordinal).collect();
        let order = trusted(clip).then(|| by_stamps(scan, &shown, clip.stream.turn()))??;
        let is_shown_so = order.is_one_piece && agrees(scan, &order.ordinals);
        let table = is_shown_so.then(|| Self::ordered(clip, order))?;
        Some(Self { counted: true, ..table })
    }

    /// Builds the table that a full decode will most likely give, where the clip is too long to
    /// wait for one: by time stamp, if every packet has one of its own; two fields are one frame.
    pub(crate) fn likely(clip: &Clip) -> Option<Self> {
        let mut first_field = true;
        let mut starts_frame = |packet: &PacketEntry| {
            first_field = packet.structure == Structure::Frame || !first_field;
            packet.structure == Structure::Frame || !first_field
        };
        let shown: Vec<u32> = (0_u32..)
            .zip(&clip.scan.packets)
            .filter(|(_, packet)| starts_frame(packet) && packet.is_shown())
            .map(|(ordinal, _)| ordinal)
            .collect();
        Some(Self::ordered(clip, by_stamps(&clip.scan, &shown, clip.stream.turn())?))
    }

    fn ordered(clip: &Clip, Order { ordinals, .. }: Order) -> Self {
        // What comes before the first picture that decodes is not shown; times count from that one.
        let first =
            clip.first.as_ref().and_then(|(first, _)| ordinals.iter().position(|it| it == first));
        let shown = ordinals.into_iter().skip(first.unwrap_or(0)).map(|ordinal| (ordinal, None));
        let mut table = Self::build(clip, &shown.collect::<Vec<_>>());
        if !clip.scan.is_whole {
            // Packets not read yet may be shown between the last ones.
            table.cut(table.len().saturating_sub(SPREAD), &clip.scan);
        }
        table
    }

    /// Builds the table from what one full decode showed.
    pub(crate) fn from_decode(clip: &Clip, (shown, hurt): (&[Shown], bool)) -> Self {
        let unhurt = !hurt && shown.iter().all(|shown| shown.soundness == Soundness::Sound);
        let shown: Vec<_> = shown.iter().map(|shown| (shown.ordinal, Some(*shown))).collect();
        Self { counted: true, proved: true, unhurt, ..Self::build(clip, &shown) }
    }

    fn build(clip: &Clip, shown: &[(u32, Option<Shown>)]) -> Self {
        let scan = &clip.scan;
        let packet = |ordinal: u32| &scan.packets[ordinal as usize];
        let stamps: Vec<_> = shown.iter().map(|&(ordinal, _)| packet(ordinal).pts).collect();
        let counted = counted(clip, shown.iter().map(|&(ordinal, _)| ordinal));
        let line = Line { stamps: &stamps, counted: &counted, turn: clip.stream.turn() };
        let entry =
            |(&(ordinal, decoded), (ticks, source)): (&(u32, Option<Shown>), _)| FrameEntry {
                ticks,
                key: packet(ordinal).key,
                source,
                soundness: decoded.map_or(Soundness::Sound, |decoded| decoded.soundness),
                ordinal,
                hash: decoded.map(|decoded| decoded.hash),
            };
        let entries = shown.iter().zip(mend(line)).map(entry).collect();
        let mut table = Self { entries, ..Self::default() };
        table.cut(shown.len(), scan);
        table
    }

    /// Keeps so many frames.
    fn cut(&mut self, frames: usize, scan: &Scan) {
        self.entries.truncate(frames);
        self.frame_of = vec![NONE; scan.packets.len()];
        for (frame, entry) in (0..).zip(&self.entries) {
            let first = &mut self.frame_of[entry.ordinal as usize];
            *first = (*first).min(frame);
        }
        self.usual = usual_distance(&self.entries);
        self.end = end_of(scan, &self.entries, self.usual);
    }
}

/// Returns whether sorting by time stamp gives the order of a full decode, where one clock runs
/// through the clip and each packet has a stamp of its own.
///
/// Found on a corpus of corner cases: it does in containers that index every picture, when no
/// picture is coded as two fields, no packet holds two pictures, and the first packet starts a run
/// with nothing before it.
fn trusted(clip: &Clip) -> bool {
    let scan = &clip.scan;
    let Some(first) = scan.packets.first() else { return false };
    let is_plain = |packet: &PacketEntry| {
        let leads = packet.is_shown() && packet.pts < first.pts;
        !packet.corrupt && packet.structure == Structure::Frame && packet.pictures < 2 && !leads
    };
    !scan.cut_short
        && clip.container.packets == Packets::Indexed
        && first.key
        && scan.packets.iter().all(is_plain)
}

/// Returns where the last frame ends: its packet's duration, else the usual distance of frames.
fn end_of(scan: &Scan, entries: &[FrameEntry], usual: i64) -> Ticks {
    let Some(last) = entries.last() else { return Ticks(0) };
    let packet = &scan.packets[last.ordinal as usize];
    // The packet of a field lasts half as long as the frame, and where a file gives no times its
    // packets may last anything.
    let whole = packet.structure == Structure::Frame
        && last.source != TimeSource::Assumed
        && packet.duration > 0;
    let length = if whole { packet.duration } else { usual };
    Ticks(last.ticks.0.saturating_add(length))
}

fn usual_distance(entries: &[FrameEntry]) -> i64 {
    let mut steps: Vec<i64> =
        entries.windows(2).map(|pair| pair[1].ticks.0.saturating_sub(pair[0].ticks.0)).collect();
    steps.sort_unstable();
    steps.get(steps.len() / 2).copied().unwrap_or(0)
}
