//! In which order the pictures of packets are shown, by their time stamps alone.

use crate::footage::packets::scan::Scan;

/// Pictures that are decoded before one and shown behind it: no codec lets a decoder keep more.
const MOST_KEPT: usize = 16;
/// Pictures that are decoded behind one and shown before it; coders take half as many at most.
pub(super) const SPREAD: usize = 64;

/// Packets in the order in which their stamps say that they are shown.
pub(super) struct Order {
    pub ordinals: Vec<u32>,
    /// Whether one clock runs through all of them.
    pub is_one_piece: bool,
}

/// Returns the order of the packets `shown`, where each has a stamp of its own and a decoder could
/// give their pictures out so; after `turn` ticks the clock begins again at zero.
///
/// Where a clock starts anew, as in joined recordings, the stamps of the pieces say nothing of each
/// other, but one is decoded and so shown behind the other. Such a place shows in a key picture that
/// by its stamp lies before what was decoded already, which no coder makes otherwise.
pub(super) fn by_stamps(scan: &Scan, shown: &[u32], turn: Option<i64>) -> Option<Order> {
    let mut pieces: Vec<Vec<(i64, u32)>> = Vec::new();
    let (mut before, mut last, mut highest) = (None, 0, 0);
    for &ordinal in shown {
        let packet = scan.packets.get(ordinal as usize)?;
        let (pts, dts) = (packet.pts?, packet.dts);
        // Where the clock has begun again, stamps go on all the same.
        last = before.map_or(pts, |(before, _)| step(before, pts, turn).saturating_add(last));
        let back = |(_, before): (i64, Option<i64>)| Some(step(before?, dts?, turn) < 0);
        if pieces.is_empty() || (packet.key && last <= highest) {
            pieces.push(Vec::new());
            highest = last;
        } else if before.and_then(back) == Some(true) {
            return None;
        }
        pieces.last_mut()?.push((last, ordinal));
        highest = highest.max(last);
        before = Some((pts, dts));
    }
    let is_one_piece = pieces.len() < 2;
    let mut ordinals = Vec::with_capacity(shown.len());
    for (index, piece) in pieces.into_iter().enumerate() {
        let sorted = sorted(&piece)?;
        // What would be shown before the key picture leans on pictures of the other recording.
        if index > 0 && sorted.first() != piece.first().map(|(_, ordinal)| ordinal) {
            return None;
        }
        ordinals.extend(sorted);
    }
    Some(Order { ordinals, is_one_piece })
}

/// Returns whether an order is not another one than the pictures themselves tell, as far as they do.
pub(super) fn agrees(scan: &Scan, ordinals: &[u32]) -> bool {
    let mut run = 0;
    let counts = scan.packets.iter().map(|packet| {
        run += u32::from(packet.order == Some(0));
        packet.order.map(|order| (run, order))
    });
    let counts: Vec<_> = counts.collect();
    let told = ordinals.iter().filter_map(|&ordinal| *counts.get(ordinal as usize)?);
    told.is_sorted()
}

/// Returns the ordinals of one piece by their stamps, unless two have the same or one lies farther
/// away than a decoder could have put it.
fn sorted(piece: &[(i64, u32)]) -> Option<Vec<u32>> {
    let mut by_stamp: Vec<(i64, usize)> =
        piece.iter().enumerate().map(|(decoded, &(stamp, _))| (stamp, decoded)).collect();
    by_stamp.sort_unstable();
    let is_doubled = by_stamp.windows(2).any(|pair| pair[0].0 == pair[1].0);
    let is_possible = |(shown, &(_, decoded)): (usize, &(i64, usize))| {
        decoded <= shown + MOST_KEPT && shown <= decoded + SPREAD
    };
    let is_sound = !is_doubled && by_stamp.iter().enumerate().all(is_possible);
    is_sound.then(|| by_stamp.iter().map(|&(_, decoded)| piece[decoded].1).collect())
}

/// Returns the ticks from one stamp to another, the shorter way round the clock.
fn step(from: i64, to: i64, turn: Option<i64>) -> i64 {
    let step = to.saturating_sub(from);
    turn.map_or(step, |turn| {
        step.saturating_add(turn / 2).rem_euclid(turn).saturating_sub(turn / 2)
    })
}
