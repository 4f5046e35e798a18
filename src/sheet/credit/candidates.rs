//! Which elements serve one requirement: in a series, with one of a tag, of each tag once.

use std::{collections::BTreeMap, ops::ControlFlow};

use crate::{
    rulebook::{Place, Requirement},
    sheet::routine::{scene::Scene, world::World},
};

use super::{
    earned::{Earned, State},
    matching::{Offer, fill},
    series::Follow,
};

/// Of one requirement no more ways of serving it than this are tried beside others.
const TRIED: usize = 256;

/// No search goes on for more steps than this.
const STEPS: usize = 20_000;

/// Takes a way of serving a requirement, and says whether it wants another.
type Take<'t> = &'t mut dyn FnMut(Vec<usize>) -> ControlFlow<()>;

/// The question which elements serve a requirement.
pub(crate) struct Serving<'s> {
    /// The requirement.
    pub rule: &'s Requirement,
    earned: &'s [Earned<'s>],
    follow: Follow<'s>,
    /// Which acts are the one that `with` asks for.
    with: Vec<bool>,
}

impl<'s> Serving<'s> {
    /// Prepares the question; `with` says which acts are the one that the key asks for.
    pub(crate) fn new(
        scene: &'s Scene<'s>,
        world: &World,
        earned: &'s [Earned<'s>],
        rule: &'s Requirement,
        with: Vec<bool>,
    ) -> Self {
        Self { rule, earned, follow: Follow::new(scene, world, earned, &rule.follow), with }
    }

    /// Returns the first acts that serve the requirement, else as many as come nearest to it.
    pub(crate) fn best(&self, fits: &[bool]) -> Vec<usize> {
        let mut nearest = Nearest::default();
        self.ways(fits, &mut |way| nearest.take(self, way));
        if nearest.found.is_none() && self.is_involved() {
            self.every(fits, &mut |way| nearest.take(self, way));
        }
        let Nearest { found, mut most } = nearest;
        if self.is_enough(&most) {
            // All of them, and still not the one of the tag.
            most.pop();
        }
        found.unwrap_or(most)
    }

    /// Returns every way of serving the requirement, by its acts, as far as they are tried; those
    /// that serve it in part, where each missing element is paid.
    pub(crate) fn all(&self, fits: &[bool]) -> Vec<Vec<usize>> {
        let mut all: Vec<Vec<usize>> = Vec::new();
        let mut keep = |way: Vec<usize>| {
            let serves = if self.is_enough(&way) { self.has_with(&way) } else { self.rule.each };
            if serves && !all.contains(&way) {
                all.push(way);
            }
            if all.len() < TRIED { ControlFlow::Continue(()) } else { ControlFlow::Break(()) }
        };
        self.ways(fits, &mut keep);
        self.every(fits, &mut keep);
        all
    }

    /// Returns what so many of its elements are worth.
    pub(crate) const fn worth(&self, acts: usize) -> i64 {
        let times = if self.rule.each {
            acts
        } else if acts > 0 {
            1
        } else {
            0
        };
        self.rule.price.0 * times as i64
    }

    /// Returns between which two elements a series breaks first, and by what; nothing where no
    /// series is asked for, or fewer than two elements could serve.
    pub(crate) fn broken(&self, scene: &Scene<'_>, fits: &[bool]) -> Option<String> {
        let acts = (0..fits.len()).filter(|act| self.rule.connected && fits[*act]);
        let acts: Vec<usize> = acts.collect();
        acts.windows(2).find_map(|pair| {
            let (one, other) = (pair[0], pair[1]);
            let why = (one..other).find_map(|act| self.follow.why_apart(act, act > one));
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

    fn has_with(&self, acts: &[usize]) -> bool {
        self.rule.with.is_empty() || acts.iter().any(|act| self.with[*act])
    }

    fn is_enough(&self, acts: &[usize]) -> bool {
        acts.len() >= self.rule.count as usize
    }

    /// Returns whether the first ways are not all that there are to meet it.
    fn is_involved(&self) -> bool {
        let rule = self.rule;
        let is_linked = rule.connected && !rule.follow.links.is_empty();
        is_linked || rule.each_tag && (rule.connected || !rule.with.is_empty())
    }

    /// Gives all acts that serve together, the earliest first, each with what it begins with before
    /// it, until no more are taken.
    fn every(&self, fits: &[bool], take: Take<'_>) {
        let mut steps = 0;
        let mut run = Vec::new();
        let _ = (0..fits.len())
            .try_for_each(|start| self.extend((&mut run, start), (fits, &mut steps), take));
    }

    fn extend(
        &self,
        (run, act): (&mut Vec<usize>, usize),
        (fits, steps): (&[bool], &mut usize),
        take: Take<'_>,
    ) -> ControlFlow<()> {
        *steps += 1;
        if *steps > STEPS {
            return ControlFlow::Break(());
        }
        if !fits[act] || !self.may_join(run, act) {
            return ControlFlow::Continue(());
        }
        run.push(act);
        take(run.clone())?;
        if !self.is_enough(run) {
            let behind = if self.rule.connected {
                self.follow.after(act)
            } else {
                (act + 1..fits.len()).collect()
            };
            for next in behind {
                self.extend((run, next), (fits, steps), take)?;
            }
        }
        run.pop();
        ControlFlow::Continue(())
    }

    /// Returns whether the act may come after those that serve already.
    fn may_join(&self, run: &[usize], act: usize) -> bool {
        let Some(last) = run.last() else { return true };
        let is_again = self.rule.distinct && self.has_family(run, act);
        let is_out_of_place = self.rule.connected
            && (self.is_tagged(act, &self.rule.only_first)
                || self.is_tagged(*last, &self.rule.only_last));
        let is_same_tag = self.rule.each_tag && !self.show_a_tag_each(&[run, &[act]].concat());
        !(is_again || is_out_of_place || is_same_tag)
    }

    fn show_a_tag_each(&self, acts: &[usize]) -> bool {
        let tags = &self.rule.tags;
        let shows = |act: usize| {
            let wants = (0..tags.len()).filter(move |tag| self.is_tagged(act, &tags[*tag..=*tag]));
            wants.map(|want| Offer { want, alike: None }).collect::<Vec<Offer>>()
        };
        let offers: Vec<Vec<Offer>> = acts.iter().map(|act| shows(*act)).collect();
        fill(&vec![1; tags.len()], &offers).iter().all(Option::is_some)
    }

    /// Gives for every act the acts that serve together from there on, no more than asked for, until
    /// no more are taken or later ones can serve no better.
    fn ways(&self, fits: &[bool], take: Take<'_>) {
        if self.rule.each_tag {
            if !self.is_involved() {
                let _ = take(self.of_each_tag(fits));
            }
            return;
        }
        let mut starts = (0..fits.len()).filter(|act| fits[*act]);
        if self.rule.connected {
            let _ = starts.try_for_each(|start| take(self.series(start, fits)));
            return;
        }
        let next_with = self.next_with(fits);
        let _ = starts.try_for_each(|start| {
            let way = self.loose(start, None, fits);
            let is_short = !self.is_enough(&way);
            take(way)?;
            // The one of the tag may come later than all others that are needed.
            if let Some(with) = next_with[start] {
                take(self.loose(start, Some(with), fits))?;
            }
            // From a later act on there is less to choose from.
            let is_without = !self.rule.with.is_empty() && next_with[start].is_none();
            if is_short || is_without { ControlFlow::Break(()) } else { ControlFlow::Continue(()) }
        });
    }

    /// Returns for each act the first from there on that is the one of the tag.
    fn next_with(&self, fits: &[bool]) -> Vec<Option<usize>> {
        let mut next = vec![None; fits.len()];
        let mut found = None;
        for act in (0..fits.len()).rev() {
            found = if fits[act] && self.with[act] { Some(act) } else { found };
            next[act] = found;
        }
        next
    }

    /// Returns the series that begins with this act, no longer than asked for.
    fn series(&self, start: usize, fits: &[bool]) -> Vec<usize> {
        let mut run = vec![start];
        while run.len() < self.rule.count as usize {
            let last = run[run.len() - 1];
            let goes_on = |next: &usize| {
                fits[*next]
                    && !self.is_tagged(*next, &self.rule.only_first)
                    && !(self.rule.distinct && self.has_family(&run, *next))
            };
            if self.is_tagged(last, &self.rule.only_last) {
                break;
            }
            let Some(next) = self.follow.after(last).into_iter().find(goes_on) else { break };
            run.push(next);
        }
        run
    }

    /// Returns acts from this one on, wherever they stand, `with` among them where it is given.
    fn loose(&self, start: usize, with: Option<usize>, fits: &[bool]) -> Vec<usize> {
        let mut acts: Vec<usize> = with.into_iter().collect();
        for act in (start..fits.len()).filter(|act| fits[*act]) {
            if self.is_enough(&acts) {
                break;
            }
            let is_in = acts.contains(&act) || self.rule.distinct && self.has_family(&acts, act);
            if !is_in {
                acts.push(act);
            }
        }
        acts.sort_unstable();
        acts
    }

    /// Returns acts of different tags, each tag once; of one family only one, where the book asks
    /// for different ones.
    fn of_each_tag(&self, fits: &[bool]) -> Vec<usize> {
        let mut families: Vec<Vec<usize>> = Vec::new();
        let mut places: BTreeMap<&str, usize> = BTreeMap::new();
        for act in (0..fits.len()).filter(|act| fits[*act]) {
            let new = families.len();
            let place = if self.rule.distinct {
                *places.entry(family(self.earned, act)).or_insert(new)
            } else {
                new
            };
            match families.get_mut(place) {
                Some(acts) => acts.push(act),
                None => families.push(vec![act]),
            }
        }
        let tags = &self.rule.tags;
        let first_of = |acts: &[usize], tag: usize| {
            acts.iter().copied().find(|act| self.is_tagged(*act, &tags[tag..=tag]))
        };
        let offers = |acts: &Vec<usize>| -> Vec<Offer> {
            let wants = (0..tags.len()).filter(|tag| first_of(acts, *tag).is_some());
            wants.map(|want| Offer { want, alike: None }).collect()
        };
        let offers: Vec<Vec<Offer>> = families.iter().map(offers).collect();
        let taken = families.iter().zip(fill(&vec![1; tags.len()], &offers));
        let mut acts: Vec<usize> =
            taken.filter_map(|(acts, offer)| first_of(acts, offer?.want)).collect();
        acts.sort_unstable();
        acts.truncate(self.rule.count as usize);
        acts
    }

    fn has_family(&self, acts: &[usize], act: usize) -> bool {
        acts.iter().any(|other| family(self.earned, *other) == family(self.earned, act))
    }

    fn is_tagged(&self, act: usize, tags: &[String]) -> bool {
        let element = self.earned[act].element;
        element.is_some_and(|element| tags.iter().any(|tag| element.tags.contains(tag)))
    }
}

/// The first way that serves, and the one that comes nearest to it.
#[derive(Default)]
struct Nearest {
    found: Option<Vec<usize>>,
    most: Vec<usize>,
}

impl Nearest {
    fn take(&mut self, serving: &Serving<'_>, way: Vec<usize>) -> ControlFlow<()> {
        if serving.is_enough(&way) && serving.has_with(&way) {
            self.found = Some(way);
            return ControlFlow::Break(());
        }
        if way.len() > self.most.len() {
            self.most = way;
        }
        ControlFlow::Continue(())
    }
}

/// Returns whether the act has the place in the routine that the requirement asks for.
pub(crate) fn is_in_place(rule: &Requirement, earned: &[Earned<'_>], act: usize) -> bool {
    let shown = |other: &Earned<'_>| other.state != State::NotShown;
    match rule.place {
        None => true,
        Some(Place::First) => !earned[..act].iter().any(shown),
        Some(Place::Last) => !earned[act + 1..].iter().any(shown),
    }
}

/// Returns the family of what the act counts as.
pub(crate) fn family<'e>(earned: &'e [Earned<'_>], act: usize) -> &'e str {
    earned[act].element.map_or("", |element| element.family.as_str())
}
