//! Which elements serve one requirement: in a series, with one of a tag, of each tag once.

use std::{
    collections::{BTreeMap, BTreeSet},
    ops::ControlFlow,
};

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
const TRIED: usize = 32;

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
        let (mut found, mut nearest) = (None, Vec::new());
        self.ways(fits, &mut |way| {
            if self.is_enough(&way) && self.has_with(&way) {
                found = Some(way);
                return ControlFlow::Break(());
            }
            if way.len() > nearest.len() {
                nearest = way;
            }
            ControlFlow::Continue(())
        });
        if self.is_enough(&nearest) {
            // All of them, and still not the one of the tag.
            nearest.pop();
        }
        found.unwrap_or(nearest)
    }

    /// Returns every way of serving the requirement, by its acts, as far as they are tried.
    pub(crate) fn all(&self, fits: &[bool]) -> Vec<Vec<usize>> {
        let mut all = Vec::new();
        self.ways(fits, &mut |way| {
            if self.is_enough(&way) && self.has_with(&way) {
                all.push(way);
            }
            if all.len() < TRIED { ControlFlow::Continue(()) } else { ControlFlow::Break(()) }
        });
        all
    }

    /// Returns between which two elements a series breaks first, and by what; nothing where no
    /// series is asked for, or fewer than two elements could serve.
    pub(crate) fn broken(&self, scene: &Scene<'_>, fits: &[bool]) -> Option<String> {
        let acts = (0..fits.len()).filter(|act| self.rule.connected && fits[*act]);
        let acts: Vec<usize> = acts.collect();
        acts.windows(2).find_map(|pair| {
            let (one, other) = (pair[0], pair[1]);
            let why = (one..other).find_map(|act| self.follow.why_apart(act));
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

    /// Gives for every act the acts that serve together from there on, no more than asked for, until
    /// no more are taken or later ones can serve no better.
    fn ways(&self, fits: &[bool], take: Take<'_>) {
        if self.rule.each_tag {
            let _ = take(self.of_each_tag(fits));
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

/// Returns whether the act has the place in the routine that the requirement asks for.
pub(crate) fn is_in_place(rule: &Requirement, earned: &[Earned<'_>], act: usize) -> bool {
    let shown = |other: &Earned<'_>| other.state != State::NotShown;
    match rule.place {
        None => true,
        Some(Place::First) => !earned[..act].iter().any(shown),
        Some(Place::Last) => !earned[act + 1..].iter().any(shown),
    }
}

/// Returns for each requirement the acts that serve it, where some must be served apart from
/// others: together as dear as possible, of equals the earliest.
pub(crate) fn apart(servings: &[Serving<'_>], fits: &[Vec<bool>]) -> Vec<Vec<usize>> {
    let names = |a: usize, b: usize| servings[a].rule.apart_from.contains(&servings[b].rule.id);
    let among: Vec<usize> = (0..servings.len())
        .filter(|a| (0..servings.len()).any(|b| names(*a, b) || names(b, *a)))
        .collect();
    let mut served: Vec<Vec<usize>> =
        servings.iter().zip(fits).map(|(serving, fits)| serving.best(fits)).collect();
    if among.is_empty() {
        return served;
    }
    let ways: Vec<Vec<Vec<usize>>> = among.iter().map(|at| servings[*at].all(&fits[*at])).collect();
    let mut search = Search { servings, among: &among, ways: &ways, best: (-1, Vec::new()) };
    search.go(&mut Vec::new(), 0);
    let chosen = search.best.1;
    let used: BTreeSet<usize> = chosen.iter().flatten().copied().collect();
    for (place, at) in among.iter().enumerate() {
        served[*at].clone_from(&chosen[place]);
        if served[*at].is_empty() {
            // What is left shows how far a missing requirement came, and no more.
            let left: Vec<bool> = fits[*at]
                .iter()
                .enumerate()
                .map(|(act, fits)| *fits && !used.contains(&act))
                .collect();
            served[*at] = servings[*at].best(&left);
            served[*at].truncate((servings[*at].rule.count as usize).saturating_sub(1));
        }
    }
    served
}

struct Search<'s> {
    servings: &'s [Serving<'s>],
    among: &'s [usize],
    ways: &'s [Vec<Vec<usize>>],
    best: (i64, Vec<Vec<usize>>),
}

impl Search<'_> {
    fn go(&mut self, chosen: &mut Vec<Vec<usize>>, worth: i64) {
        let place = chosen.len();
        let Some(at) = self.among.get(place) else {
            if worth > self.best.0 {
                self.best = (worth, chosen.clone());
            }
            return;
        };
        let price = self.servings[*at].rule.price.0;
        for way in &self.ways[place] {
            if (0..place).all(|other| self.are_apart((other, &chosen[other]), (place, way))) {
                chosen.push(way.clone());
                self.go(chosen, worth + price);
                chosen.pop();
            }
        }
        chosen.push(Vec::new());
        self.go(chosen, worth);
        chosen.pop();
    }

    /// Returns whether two ways of serving may stand beside each other.
    fn are_apart(&self, (a, of_a): (usize, &[usize]), (b, of_b): (usize, &[usize])) -> bool {
        let (a, b) = (&self.servings[self.among[a]], &self.servings[self.among[b]]);
        let named =
            a.rule.apart_from.contains(&b.rule.id) || b.rule.apart_from.contains(&a.rule.id);
        let share = of_a.iter().any(|act| of_b.contains(act));
        let alike = !of_a.is_empty() && a.families(of_a) == b.families(of_b);
        !named || !share && !alike
    }
}

/// Returns the family of what the act counts as.
pub(crate) fn family<'e>(earned: &'e [Earned<'_>], act: usize) -> &'e str {
    earned[act].element.map_or("", |element| element.family.as_str())
}
