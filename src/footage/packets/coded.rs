//! What a packet's own bytes say about how many pictures it shows.

/// Returns how many pictures a packet shows; one where the codec always shows one.
///
/// VP8 and VP9 hide pictures that only serve as references, and VP9 packs several into one packet.
pub(crate) fn pictures_shown(codec: &str, packet: &[u8]) -> usize {
    match codec {
        _ if packet.is_empty() => 0,
        "vp8" => usize::from(packet.first().is_none_or(|byte| byte >> 4 & 1 == 1)),
        "vp9" => parts(packet).into_iter().filter(|part| vp9_is_shown(part)).count(),
        _ => 1,
    }
}

/// Returns the temporal layer of a packet's picture, the lowest being 0; nothing where that is not
/// known, so that nobody knows whether another picture leans on it.
///
/// A picture that its stream calls no reference is none for pictures of its own layer alone; those
/// of higher layers may lean on it (HEVC, table 7-1).
pub(crate) fn temporal_layer(codec: &str, packet: &[u8]) -> Option<u8> {
    match codec {
        // One layer: what is no reference (nal_ref_idc 0, a B picture) is none for anybody.
        "h264" | "mpeg1video" | "mpeg2video" => Some(0),
        "hevc" => hevc_layer(packet),
        _ => None,
    }
}

/// Reads it off the first slice's header: one bit of zero, six of kind, six of the view's layer,
/// three of the temporal layer, counted from 1 (HEVC, 7.3.1.2); kinds below 32 are slices.
fn hevc_layer(packet: &[u8]) -> Option<u8> {
    let slice = units(packet)?.into_iter().find(|unit| unit[0] >> 1 & 63 < 32)?;
    (slice[1] & 7).checked_sub(1)
}

/// Splits a packet into units of at least two bytes: behind their lengths in four bytes each, as
/// MP4 and MKV have them, or behind start codes.
pub(super) fn units(packet: &[u8]) -> Option<Vec<&[u8]>> {
    let units = behind_lengths(packet).or_else(|| behind_start_codes(packet))?;
    Some(units.into_iter().filter(|unit| unit.len() >= 2).collect())
}

pub(super) fn behind_lengths(mut rest: &[u8]) -> Option<Vec<&[u8]>> {
    let mut units = Vec::new();
    while !rest.is_empty() {
        let (length, after) = rest.split_first_chunk::<4>()?;
        let (unit, after) = after.split_at_checked(u32::from_be_bytes(*length) as usize)?;
        units.push(unit);
        rest = after;
    }
    Some(units)
}

/// Splits a packet as [`units`] does, and finds where each ends.
pub(super) fn whole_units(packet: &[u8]) -> Option<Vec<&[u8]>> {
    let units = behind_lengths(packet).or_else(|| {
        let ends = |unit: &[u8]| unit.windows(3).position(|three| three == [0, 0, 1]);
        let cut = |unit: &'_ [u8]| -> usize { ends(unit).unwrap_or(unit.len()) };
        let units = behind_start_codes(packet)?;
        Some(units.into_iter().map(|unit| &unit[..cut(unit)]).collect())
    })?;
    Some(units.into_iter().filter(|unit| unit.len() >= 2).collect())
}

pub(super) fn behind_start_codes(packet: &[u8]) -> Option<Vec<&[u8]>> {
    const CODE: [u8; 3] = [0, 0, 1];
    let places = packet.windows(3).enumerate().filter(|(_, three)| *three == CODE);
    let units: Vec<&[u8]> = places.map(|(at, _)| &packet[at + 3..]).collect();
    // The first is found at once: nobody looks beyond it for the others' ends.
    (packet.starts_with(&CODE) || packet.starts_with(&[0, 0, 0, 1])).then_some(units)
}

/// Splits a VP9 packet by the index at its end (VP9 bitstream specification, annex B); a packet
/// without a sound one is one part.
fn parts(packet: &[u8]) -> Vec<&[u8]> {
    index(packet).unwrap_or_else(|| vec![packet])
}

fn index(packet: &[u8]) -> Option<Vec<&[u8]>> {
    let marker = *packet.last()?;
    let (width, count) = (usize::from(marker >> 3 & 3) + 1, usize::from(marker & 7) + 1);
    let start = packet.len().checked_sub(2 + width * count)?;
    if marker >> 5 != 0b110 || packet[start] != marker {
        return None;
    }
    let (mut rest, sizes) = (&packet[..start], &packet[start + 1..packet.len() - 1]);
    let mut parts = Vec::with_capacity(count);
    for size in sizes.chunks(width) {
        let size = size.iter().rev().fold(0, |size, &byte| size << 8 | usize::from(byte));
        let (part, after) = rest.split_at_checked(size)?;
        parts.push(part);
        rest = after;
    }
    Some(parts)
}

/// Reads the first bits of a VP9 picture (VP9 bitstream specification, 6.2): two of marker, two
/// of profile (and one more in profile 3), then whether a kept picture is shown, the kind, and
/// whether this one is.
fn vp9_is_shown(picture: &[u8]) -> bool {
    let Some(&first) = picture.first() else { return false };
    let bits = u16::from(first) << 8 | u16::from(picture.get(1).copied().unwrap_or_default());
    let bit = |at: u32| bits >> (15 - at) & 1 == 1;
    let at = if bit(2) && bit(3) { 5 } else { 4 };
    bit(at) || bit(at + 2)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Bits by hand from the specification: marker 10, profile 00, then existing, kind, shown.
    #[test]
    fn hidden_pictures_are_told_by_their_first_bits() {
        for (byte, shown) in [(0b1000_0010, 1), (0b1000_0000, 0), (0b1000_1000, 1)] {
            assert_eq!(pictures_shown("vp9", &[byte, 0, 0]), shown, "{byte:b}");
        }
        // Profile 3 has one more bit before them.
        assert_eq!(pictures_shown("vp9", &[0b1011_0001, 0, 0]), 1);
        // VP8 (RFC 6386, 9.1): the fifth bit from below says whether it is shown.
        assert_eq!(pictures_shown("vp8", &[0b0001_0000, 0, 0]), 1);
        assert_eq!(pictures_shown("vp8", &[0b0000_0000, 0, 0]), 0);
    }

    /// Units by hand from the specification: a parameter set (kind 33), then a slice of the kind
    /// "no reference" (0) in layer 2, which is written as 3.
    #[test]
    fn the_layer_of_a_picture_is_read_off_its_first_slice() {
        let (set, slice) = ([33 << 1, 1, 9, 9, 9], [0, 3, 7]);
        let lengths = [&[0, 0, 0, 5][..], &set, &[0, 0, 0, 3], &slice].concat();
        let codes = [&[0, 0, 0, 1][..], &set, &[0, 0, 1], &slice].concat();
        assert_eq!([&lengths, &codes].map(|it| temporal_layer("hevc", it)), [Some(2); 2]);
        // Neither lengths nor start codes, a parameter set alone, and a codec that nobody here reads.
        assert_eq!(temporal_layer("hevc", &slice), None);
        assert_eq!(temporal_layer("hevc", &[&[0, 0, 0, 5][..], &set].concat()), None);
        assert_eq!(temporal_layer("vp9", &slice), None);
        assert_eq!(temporal_layer("h264", &slice), Some(0));
    }

    #[test]
    fn every_picture_of_a_packet_counts() {
        let (shown, hidden) = ([0b1000_0010, 7, 7], [0b1000_0000, 7, 7]);
        let pack = |pictures: &[[u8; 3]]| {
            let marker = 0b1100_0000 | (pictures.len() - 1) as u8;
            let index = [&[marker][..], &vec![3; pictures.len()], &[marker]].concat();
            [pictures.concat(), index].concat()
        };
        assert_eq!(pictures_shown("vp9", &pack(&[hidden, shown])), 1);
        assert_eq!(pictures_shown("vp9", &pack(&[shown, shown])), 2);
        assert_eq!(pictures_shown("vp9", &pack(&[hidden])), 0);
        // Sizes that do not fit in the packet make no index.
        let mut torn = pack(&[shown, shown]);
        let at = torn.len() - 2;
        torn[at] = 200;
        assert_eq!(pictures_shown("vp9", &torn), 1);
    }
}
