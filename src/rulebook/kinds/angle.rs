//! What is asked of an angle, or of a length.

use super::{
    band::{Band, BandAmount},
    element::Element,
    rule::{Place, Rule, Taken, Used, Worths},
    shared::{COUNTS, Counts, Credit, GROUPS, LABEL, SHORTHAND, WHERE},
};
use crate::{
    geometry::{Limit, Side},
    marks::Quantity,
    rulebook::{
        keys::{
            Scope, defines, degrees, names_some, needs_one_of, one_of, some_of, table, text, words,
        },
        rows::{Findings, Row, Space},
    },
    units::{Magnitude, Points, Unit},
};

table! {
    /// What is asked of an angle.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Angle in [[angle]] {
        /// Short name, which a person's call names.
        must id: String = defines(Space::Angle);
        key label: String = LABEL;
        key shorthand: String = SHORTHAND;
        part scope: Scope;
        /// Elements that it asks of.
        may elements: Vec<String> = names_some(Space::Element);
        /// Elements with one of these tags are asked.
        may tags: Vec<String> = names_some(Space::Tag);
        /// What is measured.
        must quantity: Quantity = one_of::<Quantity>(), or Quantity::BodyLine;
        /// On which picture it is measured.
        may moment: String = text();
        /// What it asks for; of lengths in metres, of knees in shoulder widths.
        must target: Magnitude = degrees();
        /// On which side of the target it is met, and whether the target itself does.
        must side: Side = one_of::<Side>(), or Side::AtLeast;
        /// The angle is rounded to the nearest of these steps before it is held against anything.
        may round_to: Magnitude = degrees();
        /// Of a turn, needed: what tells how far it went.
        may decides: Option<Decides> = one_of::<Decides>();
        /// Of a turn: what ends it; the first heel drop when left out.
        may ends: TurnEnd = one_of::<TurnEnd>();
        /// Credit that is lost when it is not met.
        may gates: Vec<Credit> = some_of::<Credit>();
        /// Credit is kept while short by no more than this.
        may gate_within: Magnitude = degrees();
        part bands: Vec<Band>;
        key counts: Counts = COUNTS;
        key groups: Vec<String> = GROUPS;
        key page: String = WHERE;
    }
    then check;
}

impl Rule for Angle {
    fn taken(&self, place: Place, _: &dyn Worths) -> Option<Taken<'_>> {
        let most = self.bands.iter().map(|band| match band.amount {
            BandAmount::Flat(amount) => amount,
            BandAmount::Proportional { from, to, .. } => from.max(to),
        });
        // An angle is held against its rule once at each element.
        let once = [Points::ZERO, most.max().unwrap_or_default()];
        let taken = Taken { once, again: false, groups: &self.groups, void: false };
        (place == Place::Element).then_some(taken)
    }

    fn uses<'b>(&'b self, used: &mut Used<'b>) {
        used.add(&self.elements, &self.tags);
    }
}

impl Angle {
    /// Returns whether the rule asks of the element.
    pub(crate) fn asks_of(&self, element: &Element) -> bool {
        self.elements.contains(&element.id)
            || self.tags.iter().any(|tag| element.tags.contains(tag))
    }

    /// Returns what it asks for, in words: `at least 90°`.
    pub fn asks(&self) -> String {
        format!("{} {}", self.side.words(), self.quantity.write(self.target))
    }

    /// Returns the limit that the target makes for an angle that is not rounded yet.
    pub fn limit(&self) -> Limit {
        self.unrounded(Limit { edge: self.target, side: self.side })
    }

    /// Returns the angle as it is held against the rule: rounded, halves up, where it says so.
    pub fn rounded(&self, value: Magnitude) -> Magnitude {
        let step = self.round_to.0;
        if step > 0.0 { Magnitude((value.0 / step + 0.5).floor() * step) } else { value }
    }

    /// Returns the limit that an angle meets exactly when its rounded value meets this one.
    pub fn unrounded(&self, limit: Limit) -> Limit {
        let step = self.round_to.0;
        if step <= 0.0 {
            return limit;
        }
        let (edge, side) = match limit.side {
            Side::AtLeast => ((limit.edge.0 / step).ceil() - 0.5, Side::AtLeast),
            Side::Above => ((limit.edge.0 / step).floor() + 0.5, Side::AtLeast),
            Side::AtMost => ((limit.edge.0 / step).floor() + 0.5, Side::Below),
            Side::Below => ((limit.edge.0 / step).ceil() - 0.5, Side::Below),
        };
        Limit { edge: Magnitude(edge * step), side }
    }

    /// Returns the limit down to which credit is given.
    pub fn gate(&self) -> Limit {
        let within = self.gate_within.0;
        let edge = if self.side.upward() { self.target.0 - within } else { self.target.0 + within };
        // A tolerance is given up to and including its last degree; without one the target's
        // own edge decides.
        let side = match (within > 0.0, self.side.upward()) {
            (false, _) => self.side,
            (true, true) => Side::AtLeast,
            (true, false) => Side::AtMost,
        };
        self.unrounded(Limit { edge: Magnitude(edge), side })
    }
}

words! {
    /// What tells how far a turn went.
    pub enum Decides {
        /// The foot that turns.
        TurningFoot = "turning-foot",
        /// The front one of two feet.
        FrontFoot = "front-foot",
        /// Hips and shoulders.
        HipsAndShoulders = "hips-and-shoulders",
    }
}

impl Decides {
    /// Returns it in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::TurningFoot => "the turning foot",
            Self::FrontFoot => "the front foot",
            Self::HipsAndShoulders => "hips and shoulders",
        }
    }
}

words! {
    /// What ends a turn.
    #[derive(Default)]
    pub enum TurnEnd {
        /// The heel comes down for the first time.
        #[default]
        FirstHeelDrop = "first-heel-drop",
        /// The free foot comes down.
        FreeFootDown = "free-foot-down",
        /// The second hand is on again.
        SecondHand = "second-hand",
    }
}

impl TurnEnd {
    /// Returns it in words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::FirstHeelDrop => "the first heel drop",
            Self::FreeFootDown => "the free foot coming down",
            Self::SecondHand => "the second hand taking hold",
        }
    }
}

fn check(angle: &mut Angle, row: &Row, findings: &mut Findings<'_>) {
    needs_one_of(row, &["elements", "tags"], findings);
    turn(angle, row, findings);
    if row.has("gate_within") && !row.has("gates") {
        let message =
            "\"gate_within\" says how far credit is kept, and no credit is named".to_owned();
        let remedy = "add gates = [\"value-part\", \"requirement\"], or take the key out";
        findings.error(&row.span_of("gate_within"), message, remedy);
    }
    in_its_unit(angle, row, findings);
}

/// Reports a turn of which nobody says what decides it, and what only turns have elsewhere.
fn turn(angle: &Angle, row: &Row, findings: &mut Findings<'_>) {
    if angle.quantity == Quantity::Turn {
        if !row.has("decides") {
            let message = "a turn rule says what decides how far the turn went".to_owned();
            let remedy =
                "add decides = \"turning-foot\", or \"front-foot\" where a jump lands on two";
            findings.error(&row.span_of("quantity"), message, remedy);
        }
        return;
    }
    for key in ["decides", "ends"].into_iter().filter(|key| row.has(key)) {
        let message = format!("\"{key}\" says something of a turn only");
        let remedy = "take the key out, or write quantity = \"turn\"";
        findings.error(&row.span_of(key), message, remedy);
    }
}

/// Reports a target that nobody reaches in the quantity's unit, 90 shoulder widths, say, and steps
/// to round to that are none.
fn in_its_unit(angle: &Angle, row: &Row, findings: &mut Findings<'_>) {
    let unit = angle.quantity.unit();
    let (most, words) = (most(unit), unit.words());
    if !turns_on(angle.quantity) && unit == Unit::Degree && angle.target.0.abs() > 360.0 {
        let message = format!(
            "nobody reaches {} of {}",
            angle.quantity.write(angle.target),
            angle.quantity.words()
        );
        findings.error(&row.span_of("target"), message, "write a target of 360 degrees or less");
    }
    if unit != Unit::Degree && !(0.0..=most).contains(&angle.target.0) {
        let message = format!("{} is counted in {words}", angle.quantity.words());
        let remedy = format!("write a target from 0 to {most} {words}");
        findings.error(&row.span_of("target"), message, &remedy);
    }
    let step = angle.round_to.0;
    if row.degrees("round_to").is_some() && (step <= 0.0 || step > most) {
        let message = format!("steps to round to lie above 0 and up to {most} {words}");
        let remedy = format!("write a step in {words}, like round_to = {}", unit.step() * 10.0);
        findings.error(&row.span_of("round_to"), message, &remedy);
    }
}

/// Returns whether the quantity has no end: one turns on and on.
const fn turns_on(quantity: Quantity) -> bool {
    matches!(quantity, Quantity::Turn | Quantity::Twist)
}

/// Returns the largest step to round to, for lengths also the largest target.
const fn most(unit: Unit) -> f64 {
    match unit {
        Unit::Degree => 90.0,
        Unit::Metre => 30.0,
        Unit::ShoulderWidth => 10.0,
    }
}
