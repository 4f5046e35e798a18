//! How the score of an event is built.

use super::{
    consequence::{Brings, Consequence},
    ledger::{Holds, Ledger},
    rule::{Rule, Used},
};
use crate::{
    rulebook::{
        keys::{Scope, count, inner_list, names_some, needs_one_of, one_of, points, table, words},
        rows::{Findings, Row, Space},
    },
    units::Points,
};

table! {
    /// How the score of an event is built.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Scoring in [[scoring]] {
        part scope: Scope;
        part ledger: Ledger;
        /// The score is never lower than this unless it is void.
        may floor: Points = points();
        /// The score is never higher than this.
        may ceiling: Option<Points> = points();
        /// Which elements may be among the best.
        may limits: Vec<ElementLimit> = inner_list::<ElementLimit>();
        /// How many requirements one element may serve.
        may sharing: Sharing = one_of::<Sharing>();
        /// How often the same element counts as a value part; 1 when left out.
        may same_counts: u32 = count(), or 1;
        /// Where the same element counts again: anywhere, or only with another element before or
        /// after it.
        may same_again: SameAgain = one_of::<SameAgain>();
        key not_allowed: Consequence = NOT_ALLOWED;
        key unlisted_vault: Consequence = UNLISTED_VAULT;
        key not_as_announced: Consequence = NOT_AS_ANNOUNCED;
    }
    then check;
}

const NOT_ALLOWED: Brings = Brings::new(
    ("not_allowed", "What an element not allowed brings."),
    ("not_allowed_amount", "The amount for \"not_allowed\"."),
);
const UNLISTED_VAULT: Brings = Brings::new(
    ("unlisted_vault", "What a vault outside the list brings."),
    ("unlisted_vault_amount", "The amount for \"unlisted_vault\"."),
);
const NOT_AS_ANNOUNCED: Brings = Brings::new(
    ("not_as_announced", "What a vault other than announced brings."),
    ("not_as_announced_amount", "The amount for \"not_as_announced\"."),
);

table! {
    /// A limit on which elements are among the best that count.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct ElementLimit {
        /// Elements with one of these tags.
        must tags: Vec<String> = names_some(Space::Tag);
        /// At most so many of them count.
        may at_most: Option<u32> = count();
        /// So many of the places are kept for them.
        may at_least: Option<u32> = count();
    }
    then check_limit;
}

words! {
    /// Whether one element may serve more than one requirement.
    #[derive(Default)]
    pub enum Sharing {
        /// It may.
        #[default]
        Many = "many",
        /// It serves one.
        One = "one",
    }
}

words! {
    /// Where elements of one family count again, as far as `same_counts` allows.
    #[derive(Default)]
    pub enum SameAgain {
        /// Anywhere.
        #[default]
        Anywhere = "anywhere",
        /// Only with another element before or after it than every time before.
        OtherConnection = "other-connection",
    }
}

impl Rule for Scoring {
    fn uses<'b>(&'b self, used: &mut Used<'b>) {
        for limit in &self.limits {
            used.add(&[], &limit.tags);
        }
    }
}

fn check(scoring: &mut Scoring, row: &Row, findings: &mut Findings<'_>) {
    if row.has("limits") && !scoring.ledger.holds(Holds::Elements) {
        let message = "limits belong to a score that adds elements up".to_owned();
        findings.error(&row.span_of("limits"), message, "take the key out");
    }
}

fn check_limit(_: &mut ElementLimit, row: &Row, findings: &mut Findings<'_>) {
    needs_one_of(row, &["at_most", "at_least"], findings);
}
