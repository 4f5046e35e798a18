//! What follows when something is marked that is neither element nor fault.

use super::{
    rule::{Place, Rule, Taken, Used, Worths},
    shared::{COUNTS, Counts, Credit, GROUPS, LABEL, NEUTRAL, REMOVES, SHORTHAND, VOID, WHERE},
    trigger::Trigger,
};
use crate::{
    rulebook::{
        keys::{Scope, defines, points, table},
        rows::Space,
    },
    units::Points,
};

table! {
    /// What follows from a fall, a spot, an extra swing, a stop, a contact, a landing.
    #[derive(Clone, Debug, PartialEq)]
    pub struct When in [[when]] {
        /// Short name.
        must id: String = defines(Space::Rule);
        key label: String = LABEL;
        key shorthand: String = SHORTHAND;
        part scope: Scope;
        part trigger: Trigger;
        /// What it costs.
        may amount: Points = points();
        key void: bool = VOID;
        key counts: Counts = COUNTS;
        key removes: Vec<Credit> = REMOVES;
        key neutral: bool = NEUTRAL;
        key groups: Vec<String> = GROUPS;
        key page: String = WHERE;
    }
}

impl Rule for When {
    fn taken(&self, place: Place, _: &dyn Worths) -> Option<Taken<'_>> {
        let of_fact = matches!(self.trigger, Trigger::Fact { .. });
        let again = self.counts == Counts::Each && !of_fact;
        let taken = Taken { once: [self.amount; 2], again, groups: &self.groups, void: self.void };
        (!of_fact || place == Place::Exercise).then_some(taken)
    }

    fn uses<'b>(&'b self, used: &mut Used<'b>) {
        if let Trigger::Swing { after } = &self.trigger {
            used.add(&[], after);
        }
    }
}
