//! Which pictures are damaged, and which lean on damage.

use crate::footage::{
    libav::Structure,
    packets::{entry::PacketEntry, role::Begins, scan::Scan, trouble::Trouble},
};

use super::{soundness::Soundness, table::Shown};

/// Notes at every picture how sound it is. `troubles` is what a decode from the first packet to the
/// last met with each packet. Returns whether any picture is not sound.
pub(super) fn judge(scan: &Scan, troubles: &[Trouble], shown: &mut [Shown]) -> bool {
    let mut is_shown = vec![false; scan.packets.len()];
    for shown in &*shown {
        if let Some(is_shown) = is_shown.get_mut(shown.ordinal as usize) {
            *is_shown = true;
        }
    }
    let uneven = troubles.iter().filter(|trouble| trouble.is(Trouble::UNEVEN)).count();
    // Where hardly any adds up, this is a kind of stream that is not read rightly here.
    let trusted = if 2 * uneven > troubles.len() { Trouble::KNOWN } else { Trouble::ALL };
    let troubles: Vec<_> = troubles.iter().map(|trouble| trouble.only(trusted)).collect();
    let found = of_packets(scan, &troubles, &is_shown);
    for shown in shown {
        let of = |ordinal: usize| found.get(ordinal).copied().unwrap_or_default();
        let own = shown.ordinal as usize;
        // A second field has a packet of its own, and no picture.
        let is_field = |ordinal: usize| {
            scan.packets.get(ordinal).is_some_and(|it| it.structure == Structure::Field)
        };
        let second = is_field(own) && is_field(own + 1) && !is_shown[own + 1];
        shown.soundness = if second { of(own).max(of(own + 1)) } else { of(own) };
    }
    found.iter().any(|found| *found != Soundness::Sound)
}

/// Returns how sound the picture of each packet is.
fn of_packets(scan: &Scan, troubles: &[Trouble], is_shown: &[bool]) -> Vec<Soundness> {
    let mut walk = Walk::default();
    let facts = troubles.iter().zip(is_shown);
    let packets = (0_u32..).zip(&scan.packets).zip(facts);
    let judge = |((ordinal, packet), (&trouble, &is_shown))| {
        walk.step(packet, scan.is_leaned_on(ordinal), (trouble, is_shown))
    };
    packets.map(judge).collect()
}

/// What is known on the way through the packets in decoding order.
#[derive(Default)]
struct Walk {
    /// Whether a picture on which the next one may lean is not sound.
    hurt: bool,
    /// Likewise, of those that are shown before the last picture that begins something.
    hurt_before: bool,
    /// When that one is shown, where its packet says so, and whether one after it was leaned on.
    begun: Option<(Option<i64>, bool)>,
    /// Pictures until those after them lean on nothing that was hurt.
    left: Option<u8>,
}

impl Walk {
    fn step(
        &mut self,
        packet: &PacketEntry,
        is_leaned_on: bool,
        (trouble, is_shown): (Trouble, bool),
    ) -> Soundness {
        match packet.role.begins {
            Begins::All => *self = Self::default(),
            Begins::Shown => {
                *self = Self { hurt_before: self.hurt, ..Self::default() };
                self.begun = Some((packet.pts, false));
            }
            Begins::Gradually(pictures) if self.hurt => self.left = Some(pictures),
            Begins::Gradually(_) | Begins::Nothing => {}
        }
        let begins = matches!(packet.role.begins, Begins::All | Begins::Shown);
        let is_before = !begins && self.is_before(packet, is_leaned_on);
        let leans = self.hurt || is_before && self.hurt_before;
        // What begins something leans on nothing that could be missing.
        let is_missing = (packet.lacking || trouble.is(Trouble::MISSING)) && !begins;
        let is_damaged = packet.corrupt
            || trouble.is(Trouble::BROKEN)
            || is_missing
            // One that is not shown was passed over on purpose.
            || trouble.is(Trouble::UNEVEN)
            || trouble.is(Trouble::UNFINISHED) && is_shown;
        // What is missing is missed by later pictures too, whoever leans on this one.
        if is_leaned_on || is_missing {
            if is_before {
                self.hurt_before |= is_damaged || leans;
            } else {
                self.recover(is_damaged);
                self.hurt |= is_damaged;
                if let (false, Some((_, passed))) = (begins, &mut self.begun) {
                    *passed |= is_leaned_on;
                }
            }
        }
        match (is_damaged, leans) {
            (true, _) => Soundness::Damaged,
            (false, true) => Soundness::Following,
            (false, false) => Soundness::Sound,
        }
    }

    /// Counts a picture that others lean on; new damage makes a recovery void.
    fn recover(&mut self, is_damaged: bool) {
        match self.left {
            _ if is_damaged => self.left = None,
            Some(0) => (self.left, self.hurt) = (None, false),
            Some(left) => self.left = Some(left - 1),
            None => {}
        }
    }

    /// Returns whether a picture is shown before the last one that begins something. Without times,
    /// those are that nobody leans on and that follow it at once.
    fn is_before(&self, packet: &PacketEntry, is_leaned_on: bool) -> bool {
        match (self.begun, packet.pts) {
            (Some((Some(begun), _)), Some(pts)) => pts < begun,
            (Some((_, passed)), _) => !is_leaned_on && !passed,
            (None, _) => false,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{super::soundness::Soundness::*, *};
    use crate::footage::packets::role::Role;

    fn packet(pts: i64, begins: Begins, leaned_on: bool) -> PacketEntry {
        PacketEntry {
            pts: Some(pts),
            dts: None,
            duration: 1,
            position: None,
            fingerprint: pts as u64,
            key: begins == Begins::All || begins == Begins::Shown,
            hidden: false,
            corrupt: false,
            lacking: false,
            structure: Structure::Frame,
            pictures: 1,
            order: None,
            layer: Some(0),
            role: Role { begins, leaned_on },
        }
    }

    const BROKEN: Trouble = Trouble::BROKEN;
    const MISSING: Trouble = Trouble::MISSING;

    fn of(packets: &[PacketEntry], troubles: &[(usize, Trouble)]) -> Vec<Soundness> {
        let scan = Scan::from_packets(packets.to_vec(), false);
        let mut each = vec![Trouble::default(); packets.len()];
        for &(ordinal, trouble) in troubles {
            each[ordinal] = trouble;
        }
        of_packets(&scan, &each, &vec![true; packets.len()])
    }

    /// By what leans on what in MPEG's kinds of pictures (ISO/IEC 13818-2, 6.1.1.7): P on the one before
    /// that is no B, B on its two neighbours that are none.
    #[test]
    fn damage_goes_on_to_what_leans_on_it_and_no_further() {
        use Begins::{Nothing, Shown};
        let i = |pts| packet(pts, Shown, true);
        let p = |pts| packet(pts, Nothing, true);
        let b = |pts| packet(pts, Nothing, false);
        // In decoding order: I0 P2 B1 P4 B3 I6 B5 P8 B7.
        let run = [i(0), p(2), b(1), p(4), b(3), i(6), b(5), p(8), b(7)];
        assert_eq!(of(&run, &[]), [Sound; 9]);
        // A B picture hurts itself alone.
        let alone = [Sound, Sound, Damaged, Sound, Sound, Sound, Sound, Sound, Sound];
        assert_eq!(of(&run, &[(2, BROKEN)]), alone);
        // P4 hurts the B pictures on both sides, also the one behind the next I picture.
        let both = [Sound, Sound, Sound, Damaged, Following, Sound, Following, Sound, Sound];
        assert_eq!(of(&run, &[(3, BROKEN)]), both);
        // The I picture hurts all that follow; the B before it leans on it as well.
        let all = [Sound, Sound, Sound, Sound, Sound, Damaged, Following, Following, Following];
        assert_eq!(of(&run, &[(5, BROKEN)])[..6], all[..6]);
        assert_eq!(of(&run, &[(5, BROKEN)])[7..], all[7..]);
        assert_eq!(of(&run, &[(5, BROKEN)])[6], Following);
        // A B picture that misses one says that one was lost.
        let lost = [Sound, Sound, Damaged, Following, Following, Sound, Following, Sound, Sound];
        assert_eq!(of(&run, &[(2, MISSING)]), lost);
        // What an I picture would lean on cannot be missing.
        assert_eq!(of(&run, &[(5, MISSING)]), [Sound; 9]);
    }

    #[test]
    fn a_picture_that_refreshes_all_ends_it() {
        use Begins::{All, Nothing};
        let run = [
            packet(0, All, true),
            packet(1, Nothing, true),
            packet(2, Nothing, true),
            packet(3, All, true),
            packet(4, Nothing, true),
        ];
        assert_eq!(of(&run, &[(1, MISSING)]), [Sound, Damaged, Following, Sound, Sound]);
    }

    #[test]
    fn a_recovery_ends_it_once_its_pictures_have_passed() {
        use Begins::{All, Gradually, Nothing};
        let mut run: Vec<_> = (0..8).map(|pts| packet(pts, Nothing, true)).collect();
        run[0] = packet(0, All, true);
        run[3] = packet(3, Gradually(2), true);
        let expected = [Sound, Damaged, Following, Following, Following, Following, Sound, Sound];
        assert_eq!(of(&run, &[(1, BROKEN)]), expected);
        // Damage on the way makes it void.
        assert_eq!(of(&run, &[(1, BROKEN), (4, BROKEN)])[7], Following);
    }
}
