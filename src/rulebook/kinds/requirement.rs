//! Something a routine must show.

use super::{
    follow::Follow,
    rule::{Rule, Used},
    shared::{LABEL, SHORTHAND, WHERE},
};
use crate::{
    rulebook::{
        keys::{
            Scope, count, defines, flag, names_some, needs_one_of, one_of, points, table, words,
        },
        rows::{Findings, Row, Space},
    },
    units::Points,
};

table! {
    /// Something a routine must show.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Requirement in [[requirement]] {
        /// Short name.
        must id: String = defines(Space::Requirement);
        key label: String = LABEL;
        key shorthand: String = SHORTHAND;
        part scope: Scope;
        /// What it costs when missing.
        must price: Points = points();
        /// How many elements it takes; 1 when left out.
        may count: u32 = count(), or 1;
        /// Elements that serve it.
        may elements: Vec<String> = names_some(Space::Element);
        /// Elements with one of these tags serve it.
        may tags: Vec<String> = names_some(Space::Tag);
        /// Only elements of these classes serve it.
        may classes: Vec<String> = names_some(Space::Class);
        /// Elements with one of these tags never serve it.
        may except: Vec<String> = names_some(Space::Tag);
        /// Whether the same element counts once; true when left out.
        may distinct: bool = flag(), or true;
        /// Whether each of the tags counts once, as in "two of three groups".
        may each_tag: bool = flag();
        /// At least one of its elements has one of these tags.
        may with: Vec<String> = names_some(Space::Tag);
        /// Whether only the first or last element serves it.
        may place: Option<Place> = one_of::<Place>();
        /// Requirements whose elements do not serve this one, nor the same ones in the same order.
        may apart_from: Vec<String> = names_some(Space::Requirement);
        /// Whether its elements must follow one another.
        may connected: bool = flag();
        part follow: Follow;
        /// Elements with these tags count only as the first of a connected series.
        may only_first: Vec<String> = names_some(Space::Tag);
        /// Elements with these tags count only as the last of a connected series.
        may only_last: Vec<String> = names_some(Space::Tag);
        /// Angle rules that an element must meet to serve it; with "with", only one of that tag.
        may asks: Vec<String> = names_some(Space::Angle);
        /// Whether each missing element costs the price, or all of them once.
        may each: bool = flag();
        key page: String = WHERE;
    }
    then check;
}

words! {
    /// Which place of a routine an element must have.
    pub enum Place {
        /// The first.
        First = "first",
        /// The last.
        Last = "last",
    }
}

impl Rule for Requirement {
    fn uses<'b>(&'b self, used: &mut Used<'b>) {
        used.add(&self.elements, &self.tags);
        used.add(&[], &self.with);
        used.add(&[], &self.follow.links);
    }
}

fn check(rule: &mut Requirement, row: &Row, findings: &mut Findings<'_>) {
    needs_one_of(row, &["elements", "tags"], findings);
    let of_series = ["links", "breaks", "gap", "lost_breaks", "only_first", "only_last"];
    for key in of_series.into_iter().filter(|key| !rule.connected && row.has(key)) {
        let message = format!("\"{key}\" says something of a series only");
        findings.error(&row.span_of(key), message, "add connected = true, or take the key out");
    }
    if rule.each_tag && rule.tags.len() < 2 {
        let message = "\"each_tag\" needs several tags to count".to_owned();
        findings.error(&row.span_of("each_tag"), message, "list the groups in tags");
    }
}
