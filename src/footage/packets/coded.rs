//! What a packet's own bytes say about how many pictures it shows.

/// Returns how many pictures a packet shows; one where the codec always shows one.
///
/// VP8 and VP9 hide pictures that only serve as references, and VP9 packs several into one packet.
pub(crate) fn pictures_shown(codec: &str, packet: &[u8]) -> usize {
    match codec {
        "vp8" => usize::from(packet.first().is_none_or(|byte| byte >> 4 & 1 == 1)),
        "vp9" => parts(packet).into_iter().filter(|part| vp9_is_shown(part)).count(),
        _ => 1,
    }
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
