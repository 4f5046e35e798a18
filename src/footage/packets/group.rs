//! Groups of pictures of MPEG-1 and MPEG-2, and the clock that each carries (ISO/IEC 13818-2, 6.2.2.6
//! and 6.3.8).

/// What the header of a group says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Group {
    /// Its clock, in pictures, and its minute; nothing where no rate is known.
    clock: Option<(i32, i32)>,
    /// Whether the clock leaves out two numbers at most minutes.
    drops: bool,
    /// Whether nothing of it leans on the group before.
    pub(super) is_closed: bool,
}

impl Group {
    /// Reads the first header of a group in the bytes: of 27 bits one says whether the clock drops
    /// numbers, five are hours, six minutes, a one, six seconds, six pictures, and one says whether it
    /// is closed.
    pub(super) fn read(bytes: &[u8], rate: Option<i32>) -> Option<Self> {
        let header = behind(bytes, 0xb8)?.first_chunk()?;
        let bits = u32::from_be_bytes(*header);
        let of = |from: u32, count: u32| (bits >> (32 - from - count) & ((1 << count) - 1)) as i32;
        let (hours, minutes, seconds, pictures) = (of(1, 5), of(6, 6), of(13, 6), of(19, 6));
        let minute = hours * 60 + minutes;
        Some(Self {
            clock: rate.map(|rate| ((minute * 60 + seconds) * rate + pictures, minute)),
            drops: of(0, 1) == 1,
            is_closed: of(25, 1) == 1,
        })
    }

    /// Returns how many pictures lie from this group's beginning to the next one's; nothing where the
    /// clocks do not tell.
    pub(super) fn until(&self, next: &Self) -> Option<i32> {
        let ((at, minute), (next_at, next_minute)) = (self.clock?, next.clock?);
        let tells = minute == next_minute || !self.drops && !next.drops;
        tells.then_some(next_at - at)
    }
}

/// Returns the whole number of pictures in a second that the clock counts in, where the bytes have the
/// header of a sequence (6.3.3): 23.976 counts as 24.
pub(super) fn rate(bytes: &[u8]) -> Option<i32> {
    let code = behind(bytes, 0xb3)?.get(3)? & 15;
    Some(match code {
        1 | 2 => 24,
        3 => 25,
        4 | 5 => 30,
        6 => 50,
        7 | 8 => 60,
        _ => return None,
    })
}

/// Returns what follows the first start code of this kind before that of a picture.
fn behind(bytes: &[u8], kind: u8) -> Option<&[u8]> {
    let at =
        bytes.windows(4).position(|four| four[..3] == [0, 0, 1] && [0, kind].contains(&four[3]))?;
    (bytes[at + 3] == kind).then(|| &bytes[at + 4..])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn group(code: [u32; 4], drops: bool, is_closed: bool, rate: i32) -> Group {
        let [hours, minutes, seconds, pictures] = code;
        let bits = u32::from(drops) << 31
            | hours << 26
            | minutes << 20
            | 1 << 19
            | seconds << 13
            | pictures << 7
            | u32::from(is_closed) << 6;
        let header = [&[0, 0, 1, 0xb8][..], &bits.to_be_bytes(), &[0, 0, 1, 0]].concat();
        Group::read(&header, Some(rate)).expect("a header")
    }

    /// Headers by hand from the standard.
    #[test]
    fn a_groups_clock_is_read() {
        let [one, next] = [[0, 0, 59, 20], [0, 1, 0, 7]].map(|code| group(code, false, false, 25));
        assert_eq!(one.until(&next), Some(12));
        assert!(!one.is_closed && group([1, 2, 3, 4], false, true, 25).is_closed);
        let [dropping, next] =
            [[0, 0, 59, 20], [0, 1, 0, 9]].map(|code| group(code, true, false, 30));
        assert_eq!(dropping.until(&next), None);
        assert_eq!(group([0, 1, 0, 9], true, false, 30).until(&next), Some(0));
        assert_eq!(Group::read(&[0, 0, 1, 0xb8, 0, 0], Some(25)), None);
        // A picture comes first.
        assert_eq!(Group::read(&[0, 0, 1, 0, 0, 0, 1, 0xb8, 0, 0, 0, 0], Some(25)), None);
    }

    #[test]
    fn a_sequences_rate_is_read() {
        assert_eq!(rate(&[0, 0, 1, 0xb3, 0x0c, 0x00, 0x70, 0x13]), Some(25));
        assert_eq!(rate(&[0, 0, 1, 0xb3, 0x0c, 0x00, 0x70, 0x14]), Some(30));
        assert_eq!(rate(&[0, 0, 1, 0xb3, 0x0c, 0x00, 0x70, 0x10]), None);
        assert_eq!(rate(&[0, 0, 1, 0xb8, 0, 0, 0, 0]), None);
    }
}
