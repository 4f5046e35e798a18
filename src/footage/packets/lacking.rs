//! Which pictures of MPEG-1 and MPEG-2 lean on one that is not there: each carries its place in the
//! order of showing, which begins anew with a group (ISO/IEC 13818-2, 6.3.8 and 6.3.9).

use crate::footage::libav::Structure;

use super::entry::PacketEntry;

/// Places are counted on behind this many from zero.
const ROUND: i32 = 1024;

/// What is known of one packet's picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct Numbered {
    /// Its place.
    place: i32,
    /// Whether it is shown between two others and no picture leans on it.
    between: bool,
    /// Whether it begins a group, or leans on nothing.
    begins: bool,
}

/// The places of one stream's pictures.
#[derive(Debug, Default)]
pub(super) struct Places(Vec<Option<Numbered>>);

impl Places {
    /// Looks at the next packet. `codec` is FFmpeg's name of it.
    pub(super) fn look(&mut self, codec: &str, packet: &[u8]) {
        if matches!(codec, "mpeg1video" | "mpeg2video") {
            self.0.push(numbered(packet));
        }
    }

    /// Notes which of the packets lean on what is not there. Where that is so of many, these are no
    /// places: some coders write zeros.
    pub(super) fn note(&self, packets: &mut [PacketEntry]) {
        let is_field =
            |at: usize| packets.get(at).is_some_and(|packet| packet.structure == Structure::Field);
        let lacking = lacking(&self.0, is_field);
        if lacking.len() * 2 <= packets.len() {
            for at in lacking {
                if let Some(packet) = packets.get_mut(at) {
                    packet.lacking = true;
                }
            }
        }
    }
}

/// Reads a picture's header: ten bits of place behind the start code that ends in zero, then three of
/// kind, 1 leaning on nothing and 3 between others; a group's ends in B8.
fn numbered(packet: &[u8]) -> Option<Numbered> {
    let at = packet.windows(4).position(|bytes| bytes == [0, 0, 1, 0])?;
    let (before, header) = packet.split_at(at);
    let header = header.get(4..6)?;
    let kind = header[1] >> 3 & 7;
    Some(Numbered {
        place: i32::from(header[0]) << 2 | i32::from(header[1] >> 6),
        between: kind == 3,
        begins: kind == 1 || before.windows(4).any(|bytes| bytes == [0, 0, 1, 0xb8]),
    })
}

fn lacking(pictures: &[Option<Numbered>], is_field: impl Fn(usize) -> bool) -> Vec<usize> {
    let mut found = Vec::new();
    // A stream without pictures between others has a place for each that they lean on.
    let has_between = pictures.iter().flatten().any(|picture| picture.between);
    let mut last: Option<i32> = None;
    for (at, picture) in pictures.iter().enumerate() {
        let Some(picture) = picture else {
            last = None;
            continue;
        };
        let step = last.map(|last| (picture.place - last).rem_euclid(ROUND));
        let is_ahead = |step: i32| (1..ROUND / 2).contains(&step);
        let lacks = match step {
            None => false,
            // It leans on one that is shown behind it.
            Some(step) if picture.between => is_ahead(step),
            Some(_) if picture.begins => false,
            // The second field of a picture has its place too.
            Some(0) if is_field(at) => false,
            Some(step) => !is_ahead(step) || !has_between && step > 1,
        };
        if lacks {
            found.push(at);
        }
        if !picture.between {
            last = Some(picture.place);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Headers by hand from the standard (6.2.2.6 and 6.2.3).
    #[test]
    fn places_are_read_off_headers() {
        let picture = [0, 0, 1, 0, 0b0000_0001, 0b1001_1000];
        let read = numbered(&picture);
        assert_eq!(read, Some(Numbered { place: 6, between: true, begins: false }));
        let group = [&[0, 0, 1, 0xb8, 9, 9, 9, 9][..], &[0, 0, 1, 0, 0, 2 << 3]].concat();
        let read = numbered(&group);
        assert_eq!(read, Some(Numbered { place: 0, between: false, begins: true }));
        assert_eq!(numbered(&picture[..5]), None);
    }

    fn of(text: &str, are_fields: bool) -> Vec<usize> {
        let read = |word: &str| {
            let (kind, place) = word.split_at(1);
            let place = place.parse().expect("a place");
            Some(Numbered { place, between: kind == "B", begins: kind == "I" })
        };
        lacking(&text.split(' ').map(read).collect::<Vec<_>>(), |_| are_fields)
    }

    /// The order of coding from the standard's own picture of it (6.1.1.11): I and P before the B that
    /// are shown before them.
    #[test]
    fn what_leans_on_a_lost_picture_is_found() {
        assert_eq!(of("I2 B0 B1 P5 B3 B4 P8 B6 B7 I2 B0 B1 P5", false), [0; 0]);
        // P5 is lost.
        assert_eq!(of("I2 B0 B1 B3 B4 P8 B6 B7", false), [3, 4]);
        // A lost B leaves nothing behind.
        assert_eq!(of("I2 B0 B1 P5 B4 P8 B6 B7", false), [0; 0]);
        // The I picture of the second group is lost.
        assert_eq!(of("I2 B0 B1 P5 B3 B4 P5 B3 B4", false), [6]);
        assert_eq!(of("I2 B0 B1 P5 B3 B4 P8 B6 B7 P5 B3 B4", false), [9]);
        // Without pictures between, and as two fields.
        assert_eq!(of("I0 P1 P2 P4 P5 I0 P1", false), [3]);
        assert_eq!(of("I0 P0 P1 P1 P2 P2", true), [0; 0]);
        // Places go on from zero.
        assert_eq!(of("I1022 P1023 P0 P1", false), [0; 0]);
    }

    #[test]
    fn zeros_everywhere_are_no_places() {
        let mut places = Places::default();
        for _ in 0..8 {
            places.look("mpeg2video", &[0, 0, 1, 0, 1, 2 << 3]);
            places.look("mpeg2video", &[0, 0, 1, 0, 0, 2 << 3]);
        }
        assert_eq!(lacking(&places.0, |_| false).len(), 15);
        places.look("h264", &[0, 0, 1, 0, 0, 2 << 3]);
        assert_eq!(places.0.len(), 16);
    }
}
