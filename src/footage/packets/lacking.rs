//! Which pictures of MPEG-1 and MPEG-2 lean on one that is not there: each carries its place in the
//! order of showing, which begins anew with a group (ISO/IEC 13818-2, 6.3.8 and 6.3.9). That a group's
//! last one is gone tells the clock of the next group alone.

use crate::footage::libav::Structure;

use super::{
    entry::PacketEntry,
    group::{self, Group},
};

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
    /// The group that it begins.
    group: Option<Group>,
}

/// The places of one stream's pictures.
#[derive(Debug, Default)]
pub(super) struct Places {
    pictures: Vec<Option<Numbered>>,
    /// Pictures in a second, as the last header of a sequence has it.
    rate: Option<i32>,
}

impl Places {
    /// Looks at the next packet. `codec` is FFmpeg's name of it.
    pub(super) fn look(&mut self, codec: &str, packet: &[u8]) {
        if matches!(codec, "mpeg1video" | "mpeg2video") {
            self.rate = group::rate(packet).or(self.rate);
            self.pictures.push(numbered(packet, self.rate));
        }
    }

    /// Notes which of the packets lean on what is not there. Where that is so of many, these are no
    /// places: some coders write zeros.
    pub(super) fn note(&self, packets: &mut [PacketEntry]) {
        let is_field =
            |at: usize| packets.get(at).is_some_and(|packet| packet.structure == Structure::Field);
        let lacking = lacking(&self.pictures, is_field);
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
/// kind, 1 leaning on nothing and 3 between others.
fn numbered(packet: &[u8], rate: Option<i32>) -> Option<Numbered> {
    let at = packet.windows(4).position(|bytes| bytes == [0, 0, 1, 0])?;
    let header = packet.get(at + 4..at + 6)?;
    let kind = header[1] >> 3 & 7;
    let group = Group::read(packet, rate);
    Some(Numbered {
        place: i32::from(header[0]) << 2 | i32::from(header[1] >> 6),
        between: kind == 3,
        begins: kind == 1 || group.is_some(),
        group,
    })
}

fn lacking(pictures: &[Option<Numbered>], is_field: impl Fn(usize) -> bool) -> Vec<usize> {
    let mut found = Vec::new();
    // A stream without pictures between others has a place for each that they lean on.
    let has_between = pictures.iter().flatten().any(|picture| picture.between);
    let mut last: Option<i32> = None;
    let mut groups = Groups::default();
    for (at, picture) in pictures.iter().enumerate() {
        let Some(picture) = picture else {
            last = None;
            continue;
        };
        groups.look(picture);
        let step = last.map(|last| (picture.place - last).rem_euclid(ROUND));
        let is_ahead = |step: i32| (1..ROUND / 2).contains(&step);
        let lacks = match step {
            None => false,
            // It leans on one that is shown behind it.
            Some(step) if picture.between => is_ahead(step) || groups.is_lost_before(picture),
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

/// What the groups' clocks tell so far.
#[derive(Default)]
struct Groups {
    /// The group at hand, and how many pictures of it are known by their places.
    at_hand: Option<(Group, i32)>,
    /// Clocks that told as many pictures as there were, less those that did not: some coders write zeros.
    right: i32,
    /// Where the last picture of the group before is not there, the place up to which this one's lean
    /// on it.
    lacks_until: Option<i32>,
}

impl Groups {
    fn look(&mut self, picture: &Numbered) {
        if let Some(next) = picture.group {
            self.lacks_until = None;
            if let Some((group, count)) = self.at_hand
                && let Some(told) = group.until(&next)
            {
                let is_lost = told != count && self.right > 0 && !next.is_closed;
                self.lacks_until = is_lost.then_some(picture.place);
                self.right += if told == count { 1 } else { -1 };
            }
            self.at_hand = Some((next, 0));
        }
        if let Some((_, count)) = &mut self.at_hand {
            *count = (picture.place + 1).max(*count);
        }
    }

    fn is_lost_before(&self, picture: &Numbered) -> bool {
        self.lacks_until.is_some_and(|place| picture.place < place)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Headers by hand from the standard (6.2.2.6 and 6.2.3).
    #[test]
    fn places_are_read_off_headers() {
        let picture = [0, 0, 1, 0, 0b0000_0001, 0b1001_1000];
        let read = numbered(&picture, None);
        let known = Numbered { place: 6, between: true, begins: false, group: None };
        assert_eq!(read, Some(known));
        let group = [&[0, 0, 1, 0xb8, 9, 9, 9, 9][..], &[0, 0, 1, 0, 0, 2 << 3]].concat();
        let read = numbered(&group, None).expect("a picture");
        assert_eq!((read.place, read.between, read.begins), (0, false, true));
        assert_eq!(numbered(&picture[..5], None), None);
    }

    /// The header of a group by the standard (6.2.2.6), of a clock within the first second.
    fn header(clock: &str) -> Group {
        let is_closed = clock.ends_with("closed");
        let pictures: u32 = clock.trim_end_matches("closed").parse().expect("pictures");
        let bits = 1 << 19 | pictures << 7 | u32::from(is_closed) << 6;
        let bytes = [&[0, 0, 1, 0xb8][..], &u32::to_be_bytes(bits)].concat();
        Group::read(&bytes, Some(25)).expect("a header")
    }

    fn of(text: &str, are_fields: bool) -> Vec<usize> {
        let read = |word: &str| {
            let (kind, rest) = word.split_at(1);
            let (place, group) = match rest.split_once('@') {
                Some((place, clock)) => (place, Some(header(clock))),
                None => (rest, None),
            };
            let place = place.parse().expect("a place");
            Some(Numbered { place, between: kind == "B", begins: kind == "I", group })
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

    /// Three open groups of six at 25 pictures a second, their clocks by hand; the second lacks its last.
    #[test]
    fn a_lost_last_picture_is_told_by_the_next_groups_clock() {
        let whole =
            ["I2@0 B0 B1 P5 B3 B4", "I2@6 B0 B1 P5 B3 B4", "I2@12 B0 B1 P5 B3 B4"].join(" ");
        assert_eq!(of(&whole, false), [0; 0]);
        let lacking = whole.replacen("P5 B3 B4 I2@12", "I2@12", 1);
        assert_eq!(of(&lacking, false), [10, 11]);
        // As two fields; where nothing leans on the group before; and where clocks stand still.
        let fields = lacking.replace("I2@12", "I2@12 P2");
        assert_eq!(of(&fields, true), [11, 12]);
        assert_eq!(of(&lacking.replace("@12", "@12closed"), false), [0; 0]);
        assert_eq!(of(&lacking.replace("@6", "@0").replace("@12", "@0"), false), [0; 0]);
    }

    #[test]
    fn zeros_everywhere_are_no_places() {
        let mut places = Places::default();
        for _ in 0..8 {
            places.look("mpeg2video", &[0, 0, 1, 0, 1, 2 << 3]);
            places.look("mpeg2video", &[0, 0, 1, 0, 0, 2 << 3]);
        }
        assert_eq!(lacking(&places.pictures, |_| false).len(), 15);
        places.look("h264", &[0, 0, 1, 0, 0, 2 << 3]);
        assert_eq!(places.pictures.len(), 16);
    }
}
