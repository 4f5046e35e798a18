//! What an exercise with too few different elements costs.

use super::{
    rule::{Place, Rule, Taken, Worths},
    shared::{LABEL, NEUTRAL, WHERE},
};
use crate::{
    rulebook::{
        keys::{Scope, count, defines, inner_list, points, table},
        rows::{Findings, Row, Space},
    },
    units::Points,
};

table! {
    /// What an exercise with too few different elements costs.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct TooFew in [[too_few]] {
        /// Short name.
        must id: String = defines(Space::Rule);
        key label: String = LABEL;
        part scope: Scope;
        /// From most elements to fewest; the last that fits counts.
        must steps: Vec<TooFewStep> = inner_list::<TooFewStep>();
        key neutral: bool = NEUTRAL;
        key page: String = WHERE;
    }
    then check;
}

table! {
    /// What fewer elements than a number cost.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub struct TooFewStep {
        /// Fewer different elements than this.
        must below: u32 = count();
        /// What it costs.
        must amount: Points = points();
    }
}

impl Rule for TooFew {
    fn taken(&self, place: Place, _: &dyn Worths) -> Option<Taken<'_>> {
        let steps = || self.steps.iter().map(|step| step.amount);
        let once = [steps().min().unwrap_or_default(), steps().max().unwrap_or_default()];
        (place == Place::Exercise).then(|| Taken::alone(once, false))
    }
}

fn check(rule: &mut TooFew, row: &Row, findings: &mut Findings<'_>) {
    if rule.steps.windows(2).any(|pair| pair[0].below <= pair[1].below) {
        let message = "the steps do not go down".to_owned();
        findings.error(&row.span_of("steps"), message, "list them from most elements to fewest");
    }
}
