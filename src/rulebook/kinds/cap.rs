//! A limit on what a group of rules can cost.

use super::{
    rule::Rule,
    shared::{LABEL, WHERE},
};
use crate::{
    rulebook::{
        keys::{Scope, flag, names_some, one_of, points, table, text, words},
        rows::{Findings, Row, Space},
    },
    units::Points,
};

table! {
    /// A limit on what a group of rules can cost.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct Cap in [[cap]] {
        /// Short name.
        must id: String = text();
        key label: String = LABEL;
        part scope: Scope;
        /// The rules it limits; all when left out.
        may group: Vec<String> = names_some(Space::Group);
        /// Rules that it does not limit: they are taken on top.
        may except: Vec<String> = names_some(Space::Rule);
        /// The limit.
        must at_most: Points = points();
        /// Of one element: whether its own worth is added to the limit.
        may plus_value: bool = flag();
        /// Over what; the exercise when left out.
        may per: Per = one_of::<Per>();
        /// Rules that lift the limit.
        may lifted_by: Vec<String> = names_some(Space::Rule);
        key page: String = WHERE;
    }
    then check;
}

words! {
    /// Over what a limit is taken.
    #[derive(Default, PartialOrd, Ord)]
    pub enum Per {
        /// Each phase of a vault.
        Phase = "phase",
        /// Each element.
        Element = "element",
        /// The whole exercise.
        #[default]
        Exercise = "exercise",
    }
}

impl Rule for Cap {}

impl Cap {
    /// Returns whether it limits what this rule, of these groups, takes.
    pub(crate) fn limits(&self, rule: &str, groups: &[String]) -> bool {
        let is_of = self.group.is_empty() || groups.iter().any(|group| self.group.contains(group));
        is_of && !self.except.iter().any(|except| except == rule)
    }
}

fn check(cap: &mut Cap, row: &Row, findings: &mut Findings<'_>) {
    if cap.plus_value && cap.per != Per::Element {
        let message = "only the limit of one element can grow with its worth".to_owned();
        findings.error(&row.span_of("plus_value"), message, "add per = \"element\"");
    }
}
