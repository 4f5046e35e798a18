//! The ways in which elements serve one requirement: in a series, with one of a tag, of each tag once.

use std::collections::{BTreeMap, BTreeSet};

use crate::{
    rulebook::{Place, Requirement},
    sheet::routine::{scene::Scene, world::World},
};

use super::{
    earned::{Earned, State},
    matching::{Offer, fills_up},
    series::Follow,
};

/// Of one requirement no more ways than this are looked at, and no more steps are made to find them.
const MOST: usize = 4096;
const MOST_STEPS: usize = 1 << 16;

/// The question which elements serve a requirement.
pub(crate) struct Serving<'s> {
    /// The requirement.
    pub rule: &'s Requirement,
    /// Which acts may serve it.
    pub fits: Vec<bool>,
    /// Which acts are the one that `with` asks for.
    pub with: Vec<bool>,
    earned: &'s [Earned<'s>],
    follow: Follow<'s>,
}

/// Ways of serving a requirement, by their acts: those with the most acts first, of equals the earliest.
#[derive(Default)]
pub(crate) struct Ways {
    pub list: Vec<Vec<usize>>,
    /// Whether these are all.
    pub are_all: bool,
}

impl<'s> Serving<'s> {
    /// Prepares the question.
    pub(crate) fn new(
        scene: &'s Scene<'s>,
        world: &World,
        earned: &'s [Earned<'s>],
        rule: &'s Requirement,
        [fits, with]: [Vec<bool>; 2],
    ) -> Self {
        let follow = Follow::new(scene, world, earned, &rule.follow);
        let fits = (0..fits.len()).map(|act| fits[act] && is_in_place(rule, earned, act));
        Self { rule, fits: fits.collect(), with, earned, follow }
    }

    /// Returns what so many acts that serve it are worth.
    pub(crate) fn worth(&self, acts: usize) -> i64 {
        let count = self.rule.count as usize;
        let times = if self.rule.each { acts.min(count) } else { usize::from(acts >= count) };
        self.rule.price.0 * times as i64
    }

    /// Returns every way that is worth something.
    pub(crate) fn ways(&self) -> Ways {
        let is_worth = |acts: &[usize]| self.worth(acts.len()) > 0 && self.is_whole(acts);
        let mut search =
            Search { serving: self, is_free: &|_| true, ways: Ways::default(), steps: 0 };
        search.ways.are_all = true;
        search.go(&mut Vec::new(), &is_worth);
        let mut ways = search.ways;
        ways.list.sort_by(|one, other| other.len().cmp(&one.len()).then_with(|| one.cmp(other)));
        ways
    }

    /// Returns the first way that serves it, else one that comes nearest to it, of free acts alone, and
    /// whether nothing could come nearer.
    pub(crate) fn nearest(&self, is_free: &dyn Fn(usize) -> bool) -> (Vec<usize>, bool) {
        let rule = self.rule;
        if !rule.connected && !rule.each_tag && rule.with.is_empty() {
            return (self.earliest(is_free), true);
        }
        let count = self.rule.count as usize;
        let bound = self.bound(is_free);
        let has_with = self.rule.with.is_empty()
            || (0..self.fits.len()).any(|act| self.fits[act] && self.with[act] && is_free(act));
        let longest = |enough: usize| {
            let mut search = Search { serving: self, is_free, ways: Ways::default(), steps: 0 };
            search.longest(enough, &mut Vec::new());
            let is_tried = search.steps <= MOST_STEPS;
            (search.ways.list.pop().unwrap_or_default(), is_tried)
        };
        let may_be = bound >= count && has_with;
        let (found, is_tried) = if may_be { longest(count) } else { (Vec::new(), true) };
        if found.len() >= count {
            return (found, true);
        }
        let (found, are_tried) = longest(bound.min(count.saturating_sub(1)));
        (found, is_tried && are_tried)
    }

    /// Returns the earliest free acts, wherever they stand.
    fn earliest(&self, is_free: &dyn Fn(usize) -> bool) -> Vec<usize> {
        let mut families: BTreeSet<&str> = BTreeSet::new();
        let fits = (0..self.fits.len()).filter(|act| self.fits[*act] && is_free(*act));
        fits.filter(|act| families.insert(family(self.earned, *act)) || !self.rule.distinct)
            .take(self.rule.count as usize)
            .collect()
    }

    /// Returns a number of acts that no way goes beyond.
    fn bound(&self, is_free: &dyn Fn(usize) -> bool) -> usize {
        let mut bound = self.rule.count as usize;
        let acts = || (0..self.fits.len()).filter(|act| self.fits[*act] && is_free(*act));
        if self.rule.distinct {
            let families: BTreeSet<&str> = acts().map(|act| family(self.earned, act)).collect();
            bound = bound.min(families.len());
        }
        if self.rule.each_tag {
            let tags = 0..self.rule.tags.len();
            let shown =
                |tag: &usize| acts().any(|act| self.is_tagged(act, &self.rule.tags[*tag..=*tag]));
            bound = bound.min(tags.filter(shown).count());
        }
        bound
    }

    /// Returns between which two elements a series breaks first, and by what; nothing where no
    /// series is asked for, or fewer than two elements could serve.
    pub(crate) fn broken(&self, scene: &Scene<'_>) -> Option<String> {
        let acts = (0..self.fits.len()).filter(|act| self.rule.connected && self.fits[*act]);
        let acts: Vec<usize> = acts.collect();
        acts.windows(2).find_map(|pair| {
            let (one, other) = (pair[0], pair[1]);
            let why = (one..other).find_map(|act| {
                self.follow
                    .why_apart(act, act > one)
                    .or_else(|| self.follow.why_not_behind(act + 1))
            });
            let between = || {
                let act = (one + 1..other).find(|act| !self.follow.is_link(*act))?;
                Some(format!("{} lies between", scene.name_of(act)))
            };
            let names = [one, other].map(|act| scene.name_of(act));
            let why = why.or_else(between)?;
            Some(format!("{} and {} are not connected: {why}.", names[0], names[1]))
        })
    }

    /// Returns the families of the acts, in their order.
    pub(crate) fn families(&self, acts: &[usize]) -> Vec<&str> {
        acts.iter().map(|act| family(self.earned, *act)).collect()
    }

    /// Returns for each act a number that those of its family share.
    pub(crate) fn kinds(&self) -> Vec<usize> {
        let mut kinds: BTreeMap<&str, usize> = BTreeMap::new();
        let of = |act: usize| {
            let next = kinds.len();
            *kinds.entry(family(self.earned, act)).or_insert(next)
        };
        (0..self.earned.len()).map(of).collect()
    }

    /// Returns which acts the tag, one of the requirement's, makes fit.
    pub(crate) fn fits_by(&self, tag: usize) -> Vec<bool> {
        let tags = &self.rule.tags[tag..=tag];
        (0..self.fits.len()).map(|act| self.fits[act] && self.is_tagged(act, tags)).collect()
    }

    /// Returns whether the acts serve as many as they are: all of those asked for only with the one of
    /// the tag among them, where one is asked for.
    fn is_whole(&self, acts: &[usize]) -> bool {
        let is_short = acts.len() < self.rule.count as usize;
        self.rule.with.is_empty() || is_short || acts.iter().any(|act| self.with[*act])
    }

    /// Returns the acts that may come next behind these.
    fn next(&self, acts: &[usize]) -> Vec<usize> {
        let mut next: Vec<usize> = match acts.last() {
            None => (0..self.fits.len()).collect(),
            Some(_) if acts.len() >= self.rule.count as usize => Vec::new(),
            Some(last) if !self.rule.connected => (last + 1..self.fits.len()).collect(),
            Some(last) if self.is_tagged(*last, &self.rule.only_last) => Vec::new(),
            Some(last) => self.follow.after(*last),
        };
        next.retain(|act| self.may_join(acts, *act));
        next
    }

    fn may_join(&self, acts: &[usize], act: usize) -> bool {
        let rule = self.rule;
        let is_first = acts.is_empty();
        let again = || acts.iter().any(|it| family(self.earned, *it) == family(self.earned, act));
        self.fits[act]
            && (is_first || !rule.connected || !self.is_tagged(act, &rule.only_first))
            && !(rule.distinct && again())
            && (!rule.each_tag || self.have_tags(&[acts, &[act]].concat()))
    }

    /// Returns whether each of the acts can stand for a tag of its own.
    fn have_tags(&self, acts: &[usize]) -> bool {
        let tags = &self.rule.tags;
        let offers = |tag: usize| -> Vec<Offer> {
            let has = |at: &usize| self.is_tagged(acts[*at], &tags[tag..=tag]);
            (0..acts.len()).filter(has).map(|want| Offer { want, alike: None }).collect()
        };
        let offers: Vec<Vec<Offer>> = (0..tags.len()).map(offers).collect();
        fills_up(&vec![1; acts.len()], &offers)
    }

    fn is_tagged(&self, act: usize, tags: &[String]) -> bool {
        let element = self.earned[act].element;
        element.is_some_and(|element| tags.iter().any(|tag| element.tags.contains(tag)))
    }
}

/// A walk through everything that acts can make together.
struct Search<'w, 's> {
    serving: &'w Serving<'s>,
    is_free: &'w dyn Fn(usize) -> bool,
    ways: Ways,
    steps: usize,
}

impl Search<'_, '_> {
    /// Keeps everything that is wanted.
    fn go(&mut self, acts: &mut Vec<usize>, is_wanted: &dyn Fn(&[usize]) -> bool) {
        if !acts.is_empty() && is_wanted(acts) {
            self.ways.list.push(acts.clone());
        }
        for act in self.serving.next(acts) {
            self.steps += 1;
            if self.steps > MOST_STEPS || self.ways.list.len() >= MOST {
                self.ways.are_all = false;
                return;
            }
            acts.push(act);
            self.go(acts, is_wanted);
            acts.pop();
        }
    }

    /// Keeps the first of those that are longest, and is content with the first that is long `enough`.
    fn longest(&mut self, enough: usize, acts: &mut Vec<usize>) -> bool {
        let longest = self.ways.list.last().map_or(0, Vec::len);
        if acts.len() > longest && self.serving.is_whole(acts) {
            self.ways.list = vec![acts.clone()];
        }
        if self.ways.list.last().map_or(0, Vec::len) >= enough {
            return true;
        }
        for act in self.serving.next(acts) {
            self.steps += 1;
            if self.steps > MOST_STEPS {
                return true;
            }
            if !(self.is_free)(act) {
                continue;
            }
            acts.push(act);
            let is_done = self.longest(enough, acts);
            acts.pop();
            if is_done {
                return true;
            }
        }
        false
    }
}

/// Returns whether two requirements must be served apart.
pub(crate) fn are_apart(one: &Requirement, other: &Requirement) -> bool {
    one.apart_from.contains(&other.id) || other.apart_from.contains(&one.id)
}

/// Returns whether the act has the place in the routine that the requirement asks for.
fn is_in_place(rule: &Requirement, earned: &[Earned<'_>], act: usize) -> bool {
    let shown = |other: &Earned<'_>| other.state != State::NotShown;
    match rule.place {
        None => true,
        Some(Place::First) => !earned[..act].iter().any(shown),
        Some(Place::Last) => !earned[act + 1..].iter().any(shown),
    }
}

/// Returns the family of what the act counts as.
fn family<'e>(earned: &'e [Earned<'_>], act: usize) -> &'e str {
    earned[act].element.map_or("", |element| element.family.as_str())
}
