//! How the scores of several judges become one.

use super::{
    digits,
    rule::Rule,
    shared::{ROUNDING, Rounding},
};
use crate::{
    rulebook::{
        keys::{Part, Scope, count, inner_list, one_of, points, table, texts, words},
        rows::{Field, Findings, Row},
    },
    units::Points,
};

table! {
    /// How the scores of several judges become one.
    #[derive(Clone, Debug, PartialEq, Eq)]
    pub struct Panel in [[panel]] {
        part scope: Scope;
        /// Parts of the score that it puts together, each apart; those that no other panel names when
        /// left out.
        may parts: Vec<String> = texts();
        part combine: Combine;
        /// Decimals of the result; 3 when left out.
        may digits: u32 = count(), or 3;
        key rounding: Rounding = ROUNDING;
        /// Differences between judges that are allowed.
        may allowed: Vec<Allowed> = inner_list::<Allowed>();
        /// What happens beyond that: the judges confer, the mean with the reference, or of all.
        may beyond: Beyond = one_of::<Beyond>();
    }
    then check;
}

table! {
    /// A difference between judges that is allowed.
    #[derive(Clone, Copy, Debug, PartialEq, Eq)]
    pub struct Allowed {
        /// From this average on.
        must from: Points = points();
        /// The scores may differ by this much.
        must difference: Points = points();
    }
}

words! {
    /// What happens when judges differ too much, or a panel is too far from a reference score.
    #[derive(Default)]
    pub enum Beyond {
        /// The judges confer.
        #[default]
        Confer = "confer",
        /// The mean of both counts.
        Average = "average",
        /// The mean of all scores counts, also of those that were dropped.
        MeanOfAll = "mean-of-all",
    }
}

/// Which scores of a panel count.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Combine {
    /// All.
    #[default]
    Mean,
    /// All but the highest and the lowest.
    DropEnds,
    /// So many in the middle.
    Middle(u32),
    /// The first judge's.
    First,
}

words! {
    /// Which scores count, as it is written.
    #[derive(Default)]
    enum Way {
        #[default]
        Mean = "mean",
        DropEnds = "drop-ends",
        Middle = "middle",
        First = "first",
    }
}

table! {
    /// The keys that say which scores count.
    #[derive(Debug)]
    struct Written {
        /// Which scores count; all when left out.
        may combine: Way = one_of::<Way>();
        /// How many in the middle count, for "middle".
        may middle: u32 = count();
    }
}

impl Part for Combine {
    const FIELDS: &'static [Field] = Written::FIELDS;

    fn read(row: &Row, findings: &mut Findings<'_>) -> Self {
        let Written { combine, middle } = Written::read(row, findings);
        match combine {
            Way::Mean => Self::Mean,
            Way::DropEnds => Self::DropEnds,
            Way::First => Self::First,
            Way::Middle => {
                if middle == 0 {
                    let message = "\"middle\" does not say how many".to_owned();
                    let remedy = "add middle = 3, or another number";
                    findings.error(&row.span_of("middle"), message, remedy);
                }
                Self::Middle(middle)
            }
        }
    }
}

impl Rule for Panel {}

impl Panel {
    /// Returns the difference allowed at this average, where the book names one.
    pub(crate) fn allowed_at(&self, average: Points) -> Option<Points> {
        let reached = self.allowed.iter().filter(|allowed| average >= allowed.from);
        reached.max_by_key(|allowed| allowed.from).map(|allowed| allowed.difference)
    }
}

fn check(panel: &mut Panel, row: &Row, findings: &mut Findings<'_>) {
    digits::check(panel.digits, row, findings);
}
