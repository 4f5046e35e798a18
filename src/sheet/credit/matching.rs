//! Which element takes which place: exact, ties broken by order of performance.

/// Where an element could go.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Offer {
    /// Index of the want, which has room for so many.
    pub want: usize,
    /// Of elements alike a want takes one; nothing where it takes them all.
    pub alike: Option<usize>,
}

/// Returns for each element which of its offers it takes, as many elements placed as possible.
///
/// `room[want]` says how many a want takes, `offers[element]` where each element could go. Of all
/// ways of placing the most, the elements placed are the earliest.
pub(crate) fn fill(room: &[u32], offers: &[Vec<Offer>]) -> Vec<Option<Offer>> {
    let mut seats =
        Seats { room, offers, held: vec![Vec::new(); room.len()], at: vec![None; offers.len()] };
    let mut left: u64 = room.iter().map(|room| u64::from(*room)).sum();
    // Elements that can be placed together form a matroid, so that taking each as it comes is
    // exact; a chain of moves makes way for it.
    for one in (0..offers.len()).filter(|one| !offers[*one].is_empty()) {
        if left == 0 {
            break;
        }
        let mut tried = Tried { ones: vec![one], wants: vec![false; room.len()] };
        left -= u64::from(seats.seat(one, &mut tried));
    }
    seats.at
}

/// Returns whether every want can be filled up.
pub(crate) fn fills_up(room: &[u32], offers: &[Vec<Offer>]) -> bool {
    let places: u64 = room.iter().map(|room| u64::from(*room)).sum();
    fill(room, offers).iter().flatten().count() as u64 == places
}

/// Returns how many places of each want to fill so that they are worth the most together, as far
/// as the elements reach: `worth[want]` is what each of its places is worth.
pub(crate) fn dearest(room: &[u32], worth: &[i64], offers: &[Vec<Offer>]) -> Vec<u32> {
    // Places that can be filled together form a matroid too: the worthiest first is exact.
    let mut order: Vec<usize> = (0..room.len()).collect();
    order.sort_by_key(|want| (-worth[*want], *want));
    let mut filled = vec![0; room.len()];
    for want in order {
        while filled[want] < room[want] {
            filled[want] += 1;
            if !fills_up(&filled, offers) {
                filled[want] -= 1;
                break;
            }
        }
    }
    filled
}

struct Seats<'a> {
    room: &'a [u32],
    offers: &'a [Vec<Offer>],
    held: Vec<Vec<usize>>,
    at: Vec<Option<Offer>>,
}

/// What one search has tried already.
struct Tried {
    ones: Vec<usize>,
    wants: Vec<bool>,
}

impl Seats<'_> {
    /// Places `one`, moving others along a chain where needed.
    fn seat(&mut self, one: usize, tried: &mut Tried) -> bool {
        let offers = self.offers;
        let stays = self.at[one].map(|offer| offer.want);
        for offer in offers[one].iter().filter(|offer| Some(offer.want) != stays) {
            if self.make_way(*offer, tried) {
                self.place(one, *offer);
                return true;
            }
        }
        false
    }

    fn make_way(&mut self, offer: Offer, tried: &mut Tried) -> bool {
        let held = &self.held[offer.want];
        let is_alike = |other: &&usize| {
            offer.alike.is_some() && self.at[**other].is_some_and(|at| at.alike == offer.alike)
        };
        if let Some(twin) = held.iter().find(is_alike).copied() {
            return self.move_on(twin, tried);
        }
        if held.len() < self.room[offer.want] as usize {
            return true;
        }
        if std::mem::replace(&mut tried.wants[offer.want], true) {
            return false;
        }
        held.clone().into_iter().any(|other| self.move_on(other, tried))
    }

    fn move_on(&mut self, one: usize, tried: &mut Tried) -> bool {
        if tried.ones.contains(&one) {
            return false;
        }
        tried.ones.push(one);
        self.seat(one, tried)
    }

    fn place(&mut self, one: usize, offer: Offer) {
        if let Some(before) = self.at[one] {
            self.held[before.want].retain(|other| *other != one);
        }
        self.held[offer.want].push(one);
        self.at[one] = Some(offer);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn any(wants: &[usize]) -> Vec<Offer> {
        wants.iter().map(|want| Offer { want: *want, alike: None }).collect()
    }

    fn wants(placed: &[Option<Offer>]) -> Vec<Option<usize>> {
        placed.iter().map(|offer| offer.map(|offer| offer.want)).collect()
    }

    #[test]
    fn makes_way_along_a_chain() {
        // The first element could go to both wants, the second to the first want only.
        let offers = [any(&[0, 1]), any(&[0])];
        assert_eq!(wants(&fill(&[1, 1], &offers)), [Some(1), Some(0)]);
        assert!(fills_up(&[1, 1], &offers) && !fills_up(&[2, 1], &offers));
    }

    #[test]
    fn fills_the_dearest_place_when_not_all_can_be() {
        assert_eq!(dearest(&[1, 1], &[1, 3], &[any(&[0, 1])]), [0, 1]);
        assert_eq!(dearest(&[2, 1], &[1, 3], &[any(&[0, 1]), any(&[0])]), [1, 1]);
    }

    #[test]
    fn takes_the_earliest_elements() {
        let offers = [any(&[0]), any(&[0]), any(&[0])];
        assert_eq!(wants(&fill(&[2], &offers)), [Some(0), Some(0), None]);
    }

    #[test]
    fn takes_one_of_those_alike() {
        let alike = |want, kind| vec![Offer { want, alike: Some(kind) }];
        let offers = [alike(0, 7), alike(0, 7), alike(0, 8)];
        assert_eq!(wants(&fill(&[2], &offers)), [Some(0), None, Some(0)]);
        // Its twin moves elsewhere when that lets both stay.
        let first = [alike(0, 7), any(&[1])].concat();
        assert_eq!(wants(&fill(&[1, 1], &[first, alike(0, 7)])), [Some(1), Some(0)]);
    }

    /// Every placing tried, for a few elements and wants, tells how many can be placed.
    fn most(room: &[u32], offers: &[Vec<Offer>], placed: &mut Vec<Option<Offer>>) -> usize {
        let Some(next) = offers.get(placed.len()) else {
            return placed.iter().flatten().count();
        };
        let mut best = 0;
        for offer in next.iter().map(|offer| Some(*offer)).chain([None]) {
            let held = |want: usize| placed.iter().flatten().filter(move |o| o.want == want);
            let fits = offer.as_ref().is_none_or(|offer| {
                held(offer.want).count() < room[offer.want] as usize
                    && (offer.alike.is_none() || held(offer.want).all(|o| o.alike != offer.alike))
            });
            if fits {
                placed.push(offer);
                best = best.max(most(room, offers, placed));
                placed.pop();
            }
        }
        best
    }

    #[test]
    fn places_as_many_as_trying_every_placing_does() {
        let mut state = 7_u64;
        let mut roll = move |sides: u64| {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (state >> 33) % sides
        };
        for _ in 0..400 {
            let room: Vec<u32> = (0..3).map(|_| roll(3) as u32).collect();
            let distinct: Vec<bool> = (0..3).map(|_| roll(2) == 0).collect();
            let offers: Vec<Vec<Offer>> = (0..5)
                .map(|_| {
                    let kind = roll(3) as usize;
                    let alike = |want: usize| distinct[want].then_some(kind);
                    let some = (0..3).filter(|_| roll(2) == 0).collect::<Vec<usize>>();
                    some.into_iter().map(|want| Offer { want, alike: alike(want) }).collect()
                })
                .collect();
            let placed = fill(&room, &offers).iter().flatten().count();
            assert_eq!(placed, most(&room, &offers, &mut Vec::new()), "{room:?} {offers:?}");
        }
    }
}
