//! Where frames lie that have no time stamps.

use crate::footage::packets::{clip::Clip, entry::PacketEntry};

/// Frames a second where nothing says how many.
const USUAL_RATE: (i64, i64) = (25, 1);

/// Returns where each frame lies by the packets that show them, in ticks from the first: the k-th
/// frame is shown as long as the k-th of these packets in decoding order lasts, because a decoder
/// takes one in for each that it gives.
pub(super) fn counted(clip: &Clip, shown: impl Iterator<Item = u32>) -> Vec<i64> {
    let mut ordinals: Vec<u32> = shown.collect();
    ordinals.sort_unstable();
    let mut places = Vec::with_capacity(ordinals.len());
    let mut next = Place { at: 0, frames: 0, stated: stated(clip) };
    let mut rest = &ordinals[..];
    // A packet that shows several pictures has its length divided among them.
    while let Some(ordinal) = rest.first() {
        let (same, others) = rest.split_at(rest.partition_point(|it| it == ordinal));
        rest = others;
        let count = same.len() as i64;
        let length = others.first().and_then(|other| length(clip, *ordinal, *other));
        if let Some(length) = length {
            let at = next.ticks();
            places.extend((0..count).map(|k| at.saturating_add(part(length, k, count))));
            next = Place { at: at.saturating_add(length), frames: 0, ..next };
        } else {
            places.extend(same.iter().map(|_| {
                let at = next.ticks();
                next.frames += 1;
                at
            }));
        }
    }
    places
}

/// A place in ticks and frames of the stated rate, so that what is rounded never adds up.
#[derive(Clone, Copy)]
struct Place {
    at: i64,
    frames: i64,
    /// Ticks a frame, as a fraction.
    stated: (i64, i64),
}

impl Place {
    fn ticks(self) -> i64 {
        self.at.saturating_add(part(self.stated.0, self.frames, self.stated.1))
    }
}

/// Returns the ticks from one packet to a later one: by their own times, else by the lengths of all
/// from the one to the other, else nothing.
fn length(clip: &Clip, from: u32, to: u32) -> Option<i64> {
    let packets = clip.scan.packets.get(from as usize..=to as usize)?;
    let [first, between @ .., last] = packets else { return None };
    let of_clock = |(first, last): (i64, i64)| last.saturating_sub(first);
    if let Some(ticks) = first.dts.zip(last.dts).map(of_clock).filter(|&ticks| ticks > 0) {
        return Some(ticks);
    }
    let mut lengths =
        [first].into_iter().chain(between).map(|packet: &PacketEntry| packet.duration);
    lengths.try_fold(0_i64, |sum, length| (length > 0).then(|| sum.saturating_add(length)))
}

/// Returns the ticks of a frame at the stated rate, as a fraction.
fn stated(clip: &Clip) -> (i64, i64) {
    let [tick, per_second] = clip.time_base.parts().map(i64::from);
    let (rate, per) = match clip.stream.rate {
        (rate, per) if rate > 0 && per > 0 => (rate.into(), per.into()),
        _ => USUAL_RATE,
    };
    (per_second * per, tick * rate)
}

/// Wide, because a damaged file's numbers may be anything.
fn part(of: i64, count: i64, parts: i64) -> i64 {
    let part = i128::from(of) * i128::from(count) / i128::from(parts.max(1));
    part.clamp(i64::MIN.into(), i64::MAX.into()) as i64
}
