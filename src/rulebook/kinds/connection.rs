//! Elements that follow one another and add to the score.

use super::{
    follow::Follow,
    rule::{Rule, Used},
    shared::{LABEL, SHORTHAND, WHERE},
};
use crate::{
    rulebook::{
        keys::{Scope, count, defines, flag, names_some, points, table},
        rows::{Findings, Row, Space},
    },
    units::Points,
};

table! {
    /// Elements that follow one another and add to the score.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct Connection in [[connection]] {
        /// Short name.
        must id: String = defines(Space::Rule);
        key label: String = LABEL;
        key shorthand: String = SHORTHAND;
        part scope: Scope;
        /// A tag for each element, in their order; any elements when left out.
        may series: Vec<String> = names_some(Space::Tag);
        /// The class that each element has at least, in their order; any when left out.
        may from_class: Vec<String> = names_some(Space::Class);
        /// Whether they may come in any order.
        may any_order: bool = flag();
        part follow: Follow;
        /// Whether the last element of one may be the first of the next: three in a row are two.
        may chain: bool = flag();
        /// Whether it is given beside what other rules give for the same elements; else the one that
        /// adds more is.
        may besides: bool = flag();
        /// What it adds.
        must amount: Points = points();
        /// How often it is given; without limit when left out.
        may at_most: Option<u32> = count();
        key page: String = WHERE;
    }
    then check;
}

impl Connection {
    /// Returns how many elements it has.
    pub(crate) fn length(&self) -> usize {
        self.series.len().max(self.from_class.len())
    }
}

impl Rule for Connection {
    fn uses<'b>(&'b self, used: &mut Used<'b>) {
        used.add(&[], &self.series);
        used.add(&[], &self.follow.links);
    }
}

fn check(rule: &mut Connection, row: &Row, findings: &mut Findings<'_>) {
    let lists = [("series", rule.series.len()), ("from_class", rule.from_class.len())];
    let [series, classes] = lists;
    if lists.iter().all(|(key, _)| !row.has(key)) {
        let message = "the connection says nothing of its elements".to_owned();
        findings.error(&row.span, message, "add \"series\", \"from_class\", or both");
    }
    let short = lists.into_iter().find(|(key, length)| row.has(key) && *length < 2);
    if let Some((key, length)) = short {
        let message = format!("{length} in \"{key}\": a connection has at least two elements");
        findings.error(&row.span_of(key), message, "name one for each of them");
        return;
    }
    if row.has("series") && row.has("from_class") && series.1 != classes.1 {
        let message = format!("{} classes stand beside {} tags", classes.1, series.1);
        findings.error(&row.span_of("from_class"), message, "name one class for each tag");
    }
}
