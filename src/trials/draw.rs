//! Drawing a routine from its ingredients.

use std::collections::BTreeMap;

use crate::{
    marks::{BodyPart, CallAnswer, Contact, Facing, LandingOn, Manner, Phase, What},
    rulebook::{Angle, BandAmount, Element, Fault, FaultAmount, Trigger},
    units::Points,
};

use super::{
    chance::Chance,
    ingredients::Ingredients,
    plan::{Plan, Read, Said, Step},
};

/// A mark lasts so long where no limit asks for another time, in milliseconds.
const USUAL: i64 = 400;

/// A routine being drawn.
pub(super) struct Draw<'c, 'i, 'b> {
    pub(super) chance: &'c mut Chance,
    pub(super) from: &'i Ingredients<'b>,
    pub(super) steps: Vec<Step>,
    /// The last element, and the step at which it stands.
    last: Option<(usize, &'b Element)>,
}

/// Draws one routine.
pub(super) fn plan(chance: &mut Chance, from: &Ingredients<'_>) -> Plan {
    let mut draw = Draw::new(chance, from);
    if from.vaults.is_empty() {
        draw.exercise();
    } else {
        draw.vault();
    }
    let (facts, end) = (draw.facts(), draw.end());
    let (event, division) = (from.event.to_owned(), from.division.to_owned());
    Plan { event, division, steps: draw.steps, facts, end }
}

impl<'c, 'i, 'b> Draw<'c, 'i, 'b> {
    pub(super) fn new(chance: &'c mut Chance, from: &'i Ingredients<'b>) -> Self {
        Self { chance, from, steps: Vec::new(), last: None }
    }

    fn exercise(&mut self) {
        let from = self.from;
        let (is_whole, is_first) = (self.chance.once_in(6), self.chance.once_in(2));
        if is_whole && !is_first {
            self.whole();
        }
        if self.chance.once_in(10) {
            self.heavy();
        }
        let pool = self.pool();
        let count = [0, 1, 1, 2, 2, 2, 3, 3, 4, 5, 8, 12][self.chance.below(12)];
        for _ in 0..count {
            let drawn = self.chance.pick(&pool).copied();
            let other =
                if self.chance.once_in(8) { self.chance.pick(&from.elements) } else { None };
            let Some(element) = other.copied().or(drawn) else { break };
            self.element(element, 2);
            if self.chance.once_in(3)
                && let Some(link) = self.chance.pick(&from.links).copied()
            {
                self.element(link, 8);
            }
        }
        if count == 0 {
            self.taken(2);
        }
        if is_whole && is_first {
            self.whole();
        }
    }

    /// Marks nearly all that may be done, so that little is missing, or a part of it, in any order.
    fn whole(&mut self) {
        let mut all: Vec<&Element> = self.from.all.iter().take(40).copied().collect();
        let most = if self.chance.once_in(2) { 4 } else { all.len() };
        let left_out = self.chance.below(most);
        for at in (1..all.len()).rev() {
            all.swap(at, self.chance.below(at + 1));
        }
        for element in all.into_iter().skip(left_out) {
            self.element(element, 8);
        }
    }

    /// Returns a few elements, most of which the row has to do with, so that some are done again.
    fn pool(&mut self) -> Vec<&'b Element> {
        let near = &self.from.elements[..self.from.near.max(1).min(self.from.elements.len())];
        let most = [1, 2, 3, 4, 6, 20][self.chance.below(6)];
        (0..most).filter_map(|_| self.chance.pick(near).copied()).collect()
    }

    /// Marks an element; what goes with it is drawn once in so many times.
    pub(super) fn element(&mut self, element: &'b Element, rarely: usize) {
        let lasts = if self.chance.once_in(2) {
            self.chance.pick(&self.from.times).copied().unwrap_or(USUAL).min(60_000)
        } else {
            USUAL
        };
        let what = What::Element { element: element.id.clone() };
        self.last = Some((self.steps.len(), element));
        self.mark(what, lasts);
        if self.chance.once_in(rarely) {
            self.read();
        }
        if self.chance.once_in(rarely) {
            self.taken(rarely);
        }
        let gap =
            if self.chance.once_in(2) { self.chance.pick(&self.from.gaps).copied() } else { None };
        if let Some(step) = self.steps.last_mut() {
            step.gap = gap.unwrap_or(100);
        }
    }

    fn vault(&mut self) {
        let from = self.from;
        let near: Vec<&Element> =
            from.elements[..from.near].iter().filter(|it| it.vault.is_some()).copied().collect();
        let some = if near.is_empty() || self.chance.once_in(4) { &from.vaults } else { &near };
        let Some(element) = self.chance.pick(some).copied() else { return };
        let announcements = [0, 0, 0, 1, 1, 2][self.chance.below(6)];
        for _ in 0..announcements {
            let other = self.chance.pick(&from.vaults).copied();
            let announced = if self.chance.once_in(2) { other } else { Some(element) };
            if let Some(announced) = announced {
                self.element(announced, 2);
            }
        }
        let Some(vault) = &element.vault else { return };
        let turn = |chance: &mut Chance, span: [u16; 2]| {
            let about =
                [span[0], span[1], span[1].saturating_add(1), span[0].saturating_sub(1), 0, 180];
            about[if chance.once_in(3) { chance.below(about.len()) } else { chance.below(2) }]
        };
        let before = turn(self.chance, vault.before);
        let after = turn(self.chance, vault.after.unwrap_or([0, 360]));
        if self.chance.once_in(10) {
            self.heavy();
        }
        self.sometimes();
        self.mark(What::HandContact { turn: Some(before) }, 0);
        self.sometimes();
        self.mark(What::HandRelease, 0);
        self.sometimes();
        let facings = [Facing::Away, Facing::Towards, Facing::Side];
        let any = facings[self.chance.below(3)];
        let facing = if self.chance.once_in(4) { any } else { vault.facing.unwrap_or(any) };
        let on = [LandingOn::Feet, LandingOn::Feet, LandingOn::Apparatus, LandingOn::Body];
        let on = on[self.chance.below(4)];
        let last = self.steps.len();
        self.mark(What::Landing { on, facing: Some(facing), turn: Some(after) }, 0);
        self.last = self.last.or(Some((last, element)));
        self.read();
        self.sometimes();
    }

    fn sometimes(&mut self) {
        if self.chance.once_in(2) {
            self.taken(2);
        }
    }

    /// Marks what is taken off: faults in their amounts, and what rules follow from.
    pub(super) fn taken(&mut self, rarely: usize) {
        let times = [1, 1, 1, 2, 2, 3, 6, 9, 30][self.chance.below(if rarely > 2 { 5 } else { 9 })];
        let same = self.chance.pick(&self.from.faults).copied().filter(|_| self.chance.once_in(2));
        for _ in 0..times {
            let angle = self.angle_amount();
            match self.chance.below(5) {
                _ if same.is_some() && !self.chance.once_in(8) => self.fault(same),
                0 | 1 => {
                    let fault = self.chance.pick(&self.from.faults).copied();
                    self.fault(fault);
                }
                2 if angle.is_some() => {
                    let (fault, amount) = angle.unwrap_or_default();
                    self.mark(What::Fault { fault, amount: Some(amount) }, 0);
                }
                _ => self.followed(),
            }
        }
    }

    /// Marks the most of one fault over and over, so that hardly anything is left.
    fn heavy(&mut self) {
        let Some(fault) = self.chance.pick(&self.from.faults).copied() else { return };
        let most = match &fault.amount {
            FaultAmount::UpTo { max, .. } => Some(*max),
            FaultAmount::Choice(amounts) => amounts.iter().max().copied(),
            FaultAmount::Flat(_) | FaultAmount::OfValue(_) => None,
        };
        for _ in 0..60 {
            self.mark(What::Fault { fault: fault.id.clone(), amount: most }, 0);
        }
    }

    fn fault(&mut self, fault: Option<&Fault>) {
        if let Some(fault) = fault {
            let amount = self.amount(&fault.amount);
            self.mark(What::Fault { fault: fault.id.clone(), amount }, 0);
        }
    }

    fn amount(&mut self, amount: &FaultAmount) -> Option<Points> {
        match amount {
            FaultAmount::Flat(_) | FaultAmount::OfValue(_) => None,
            FaultAmount::UpTo { max, grid } => {
                let steps = usize::try_from(max.0 / grid.0.max(1)).unwrap_or(1);
                let any = Points(grid.0 * (1 + self.chance.below(steps) as i64));
                Some(if self.chance.once_in(2) { *max } else { any })
            }
            FaultAmount::Choice(amounts) => self.chance.pick(amounts).copied(),
        }
    }

    /// Draws an amount that a judge chooses for an angle of the last element.
    fn angle_amount(&mut self) -> Option<(String, Points)> {
        let (_, element) = self.last?;
        let asked: Vec<&Angle> =
            self.from.angles.iter().filter(|it| it.asks_of(element)).copied().collect();
        let angle = self.chance.pick(&asked)?;
        let band = self.chance.pick(&angle.bands)?;
        let BandAmount::Proportional { to, .. } = band.amount else { return None };
        Some((angle.id.clone(), to))
    }

    /// Marks what a rule follows from, or something near it.
    fn followed(&mut self) {
        let lasts = self.chance.pick(&self.from.times).copied().unwrap_or(USUAL);
        let when = self.chance.pick(&self.from.whens).copied();
        let trigger = when.filter(|_| !self.chance.once_in(4)).map(|when| &when.trigger);
        let what = match trigger {
            Some(Trigger::Fall) => What::Fall,
            Some(Trigger::Spot { .. }) => What::Spot,
            Some(Trigger::Swing { .. }) => What::Swing,
            Some(Trigger::Landing { on }) => {
                let all = [LandingOn::Feet, LandingOn::Apparatus, LandingOn::Body];
                let on = self.chance.pick(on).copied().unwrap_or(all[self.chance.below(3)]);
                What::Landing { on, facing: None, turn: None }
            }
            Some(Trigger::Contact { parts, phases, manners }) => {
                let part = self.chance.pick(parts).copied().unwrap_or(BodyPart::Knees);
                let phase = self.chance.pick(phases).copied();
                let manner = self.chance.pick(manners).copied().unwrap_or(Manner::Support);
                self.contact(part, phase, manner)
            }
            Some(Trigger::Stop) => What::Stop,
            Some(Trigger::Fact { .. }) | None => match self.chance.below(5) {
                0 => What::Fall,
                1 => What::Stop,
                2 => What::Spot,
                3 => What::Swing,
                _ => self.contact(BodyPart::Hand, None, Manner::Brush),
            },
        };
        self.mark(what, lasts.min(60_000));
    }

    fn contact(&mut self, part: BodyPart, phase: Option<Phase>, manner: Manner) -> What {
        let phases = [Phase::FirstFlight, Phase::Support, Phase::SecondFlight, Phase::Landing];
        let any = phases[self.chance.below(4)];
        let phase = if self.chance.once_in(4) { any } else { phase.unwrap_or(any) };
        let manner = if self.chance.once_in(4) {
            if manner == Manner::Brush { Manner::Support } else { Manner::Brush }
        } else {
            manner
        };
        What::Contact(Contact { part, phase, manner })
    }

    /// Reads or calls the angles of the last element.
    fn read(&mut self) {
        let Some((at, element)) = self.last else { return };
        let read = self.read_of(element);
        if let Some(step) = self.steps.get_mut(at) {
            step.read = read;
        }
    }

    /// Reads or calls the angles of an element, at and about what its rules hold them against.
    pub(super) fn read_of(&mut self, element: &Element) -> Vec<Read> {
        let asked = self.from.angles.iter().filter(|it| it.asks_of(element));
        let asked: Vec<&Angle> = asked.copied().collect();
        let read = asked.into_iter().map(|angle| Read {
            angle: angle.id.clone(),
            quantity: angle.quantity,
            said: if self.chance.once_in(6) {
                Said::Called([CallAnswer::Met, CallAnswer::NotMet][self.chance.below(2)])
            } else {
                Said::Value(self.value(angle))
            },
        });
        read.collect()
    }

    fn value(&mut self, angle: &Angle) -> f64 {
        let short = if angle.side.upward() { -1.0 } else { 1.0 };
        let ends =
            angle.bands.iter().flat_map(|band| [Some(band.over.0), band.up_to.map(|it| it.0)]);
        let mut by: Vec<f64> = ends.flatten().chain([0.0, angle.gate_within.0]).collect();
        let last = by.iter().copied().fold(0.0, f64::max);
        by.push(last * 2.0 + 1.0);
        let by = by.get(self.chance.below(by.len())).copied().unwrap_or_default();
        let step = angle.quantity.unit().step();
        let near = [0.0, 0.01, -0.01, 0.4, -0.4, 0.6, -0.6, 1.0, -1.0, 5.0, -5.0, 20.0];
        let near = near[self.chance.below(near.len())] * step;
        angle.target.0 + short * by + near
    }

    pub(super) fn facts(&mut self) -> BTreeMap<String, String> {
        let mut facts = BTreeMap::new();
        for (fact, values) in &self.from.facts {
            if self.chance.once_in(2)
                && let Some(value) = self.chance.pick(values)
            {
                facts.insert((*fact).to_owned(), value.clone());
            }
        }
        facts
    }

    /// Says how long the exercise was: about a limit, or as long as its marks.
    pub(super) fn end(&mut self) -> Option<i64> {
        let limit = self.chance.pick(&self.from.times).copied();
        limit.filter(|_| self.chance.once_in(2))
    }

    fn mark(&mut self, what: What, lasts: i64) {
        self.steps.push(Step { what, lasts, gap: 0, read: Vec::new() });
    }
}
