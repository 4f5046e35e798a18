use crate::footage::libav::Packet;

/// Most other streams that are looked at.
const MOST: usize = 64;

/// What was passed over while the packets of one stream were read: where in the file others lie.
#[derive(Debug, Default)]
pub(super) struct Beside(Vec<Other>);

#[derive(Debug, PartialEq)]
struct Other {
    stream: usize,
    first: i64,
    last: i64,
}

impl Beside {
    /// Notes a packet of another stream.
    pub(super) fn pass(&mut self, packet: &Packet) {
        if let Some(position) = packet.position() {
            self.note(packet.stream(), position);
        }
    }

    fn note(&mut self, stream: usize, position: i64) {
        let room = self.0.len() < MOST;
        if let Some(other) = self.0.iter_mut().find(|other| other.stream == stream) {
            other.first = other.first.min(position);
            other.last = other.last.max(position);
        } else if room {
            self.0.push(Other { stream, first: position, last: position });
        }
    }

    /// Returns the ordinal of the packet before which another of these streams lies in the place of the
    /// chosen one, whose packets lie at `places`: none of them is between its own. So it is where
    /// recordings were joined; what was filmed at the same time lies between each other.
    pub(super) fn in_its_place(&self, videos: &[usize], places: &[Option<i64>]) -> Option<u32> {
        let known = || (1_u32..).zip(places).filter_map(|(next, it)| Some((next, (*it)?)));
        let others = self.0.iter().filter(|other| videos.contains(&other.stream));
        let alone =
            others.filter(|other| !known().any(|(_, it)| (other.first..=other.last).contains(&it)));
        let before = |other: &Other| {
            known().filter(|(_, it)| *it < other.first).map(|(next, _)| next).max().unwrap_or(0)
        };
        alone.map(before).min()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Where the other stream lies, and behind which packet it is said to.
    #[test]
    fn only_a_stream_that_lies_by_itself_is_in_its_place() {
        // One place is not known.
        let own = [Some(100), Some(200), None, Some(300), Some(900), Some(1000)];
        for (places, behind) in [
            (&[1100, 1200][..], Some(6)),
            (&[400, 800], Some(4)),
            (&[10, 90], Some(0)),
            (&[150, 250, 350], None),
            (&[10, 2000], None),
            (&[], None),
        ] {
            let mut beside = Beside::default();
            // A stream of sound, which lies by itself, too.
            beside.note(7, 1);
            for place in places {
                beside.note(2, *place);
            }
            assert_eq!(beside.in_its_place(&[1, 2], &own), behind, "{places:?}");
        }
    }
}
