//! Requirements whose elements serve one by one, wherever they stand, each element one requirement.

use crate::rulebook::Requirement;

use super::{
    matching::{Offer, fill, fills_up},
    ways::{Serving, are_apart},
};

/// One requirement with what could serve it.
pub(crate) struct Slot {
    /// Which requirement it is.
    pub at: usize,
    price: i64,
    count: u32,
    each: bool,
    /// Of acts that are alike only one serves it.
    alike: Option<Vec<usize>>,
    /// How many acts it takes of which.
    kinds: Vec<(u32, Vec<bool>)>,
}

impl Slot {
    /// Returns it where its acts can be given out one by one; nothing where only whole ways can.
    pub(crate) fn of(at: usize, servings: &[Serving<'_>]) -> Option<Self> {
        let serving = &servings[at];
        let rule = serving.rule;
        let is_split = rule.each_tag || !rule.with.is_empty();
        let is_apart = |other: &Serving<'_>| are_apart(rule, other.rule);
        if rule.connected
            || servings.iter().any(is_apart)
            || is_split && (rule.distinct && !has_one(rule) || rule.each)
        {
            return None;
        }
        let kinds = if rule.each_tag {
            if !rule.with.is_empty() || rule.count as usize != rule.tags.len() {
                return None;
            }
            (0..rule.tags.len()).map(|tag| (1, serving.fits_by(tag))).collect()
        } else if rule.with.is_empty() {
            vec![(rule.count, serving.fits.clone())]
        } else {
            let both = serving.fits.iter().zip(&serving.with);
            let with = both.map(|(fits, with)| *fits && *with).collect();
            vec![(1, with), (rule.count.saturating_sub(1), serving.fits.clone())]
        };
        let alike = (rule.distinct && !is_split).then(|| serving.kinds());
        let (price, count, each) = (rule.price.0, rule.count, rule.each);
        Some(Self { at, price, count, each, alike, kinds })
    }

    /// Returns the most that it can be worth.
    pub(crate) fn most(&self) -> i64 {
        self.price * if self.each { i64::from(self.count) } else { 1 }
    }

    fn rooms(&self, is_met: bool) -> Vec<u32> {
        self.kinds.iter().map(|(room, _)| if is_met { *room } else { 0 }).collect()
    }
}

/// Returns whether only one element is asked for, so that no two can be alike.
const fn has_one(rule: &Requirement) -> bool {
    rule.count < 2
}

/// Returns what the slots are worth together with the free acts, and which acts serve each; nothing
/// that is worth no more than `least` is looked for.
pub(crate) fn fill_slots(
    slots: &[Slot],
    is_free: &dyn Fn(usize) -> bool,
    least: i64,
) -> (i64, Vec<Vec<usize>>) {
    let acts = slots.first().map_or(0, |slot| slot.kinds[0].1.len());
    let mut wants = Vec::new();
    for (at, slot) in slots.iter().enumerate() {
        wants.extend((0..slot.kinds.len()).map(|kind| (at, kind)));
    }
    let offers: Vec<Vec<Offer>> = (0..acts)
        .map(|act| {
            let fits = |(_, (at, kind)): &(usize, &(usize, usize))| {
                is_free(act) && slots[*at].kinds[*kind].1[act]
            };
            let offer = |(want, (at, _)): (usize, &(usize, usize))| Offer {
                want,
                alike: slots[*at].alike.as_ref().map(|alike| alike[act]),
            };
            wants.iter().enumerate().filter(fits).map(offer).collect()
        })
        .collect();
    let mut order: Vec<usize> = (0..slots.len()).filter(|at| !slots[*at].each).collect();
    order.sort_by_key(|at| (-slots[*at].price, *at));
    let mut search = Search { slots, offers: &offers, order: &order, best: (least, Vec::new()) };
    search.go(0, &mut vec![false; slots.len()], 0);
    let (worth, rooms) = search.best;
    let mut served = vec![Vec::new(); slots.len()];
    if !rooms.is_empty() {
        for (act, offer) in fill(&rooms, &offers).into_iter().enumerate() {
            if let Some(offer) = offer {
                served[wants[offer.want].0].push(act);
            }
        }
    }
    (worth, served)
}

/// Which of the requirements that are paid as a whole are met; those paid by the element fill up what
/// is left, the dearest first.
struct Search<'s> {
    slots: &'s [Slot],
    offers: &'s [Vec<Offer>],
    order: &'s [usize],
    best: (i64, Vec<u32>),
}

impl Search<'_> {
    fn go(&mut self, place: usize, met: &mut Vec<bool>, worth: i64) {
        let rest: i64 = self.order[place..].iter().map(|at| self.slots[*at].price).sum();
        let by_one = self.slots.iter().filter(|slot| slot.each).map(Slot::most).sum::<i64>();
        if worth + rest + by_one <= self.best.0 {
            return;
        }
        let Some(&at) = self.order.get(place) else {
            let (more, rooms) = self.filled_up(self.rooms(met));
            if worth + more > self.best.0 {
                self.best = (worth + more, rooms);
            }
            return;
        };
        met[at] = true;
        if fills_up(&self.rooms(met), self.offers) {
            self.go(place + 1, met, worth + self.slots[at].price);
        }
        met[at] = false;
        self.go(place + 1, met, worth);
    }

    fn rooms(&self, met: &[bool]) -> Vec<u32> {
        self.slots.iter().zip(met).flat_map(|(slot, met)| slot.rooms(*met)).collect()
    }

    /// Places that can be filled together form a matroid: the dearest first is exact.
    fn filled_up(&self, mut rooms: Vec<u32>) -> (i64, Vec<u32>) {
        let mut want = 0;
        let mut by_one = Vec::new();
        for slot in self.slots {
            if slot.each {
                by_one.push((slot.price, want, slot.count));
            }
            want += slot.kinds.len();
        }
        by_one.sort_by_key(|(price, want, _)| (-price, *want));
        let mut worth = 0;
        for (price, want, count) in by_one {
            while rooms[want] < count {
                rooms[want] += 1;
                if !fills_up(&rooms, self.offers) {
                    rooms[want] -= 1;
                    break;
                }
                worth += price;
            }
        }
        (worth, rooms)
    }
}
