//! A fault that a judge writes down.

use super::{
    rule::{Place, Rule, Taken, Worths},
    shared::{COUNTS, Counts, Credit, GROUPS, LABEL, NEUTRAL, REMOVES, SHORTHAND, VOID, WHERE},
};
use crate::{
    rulebook::{
        keys::{Part, Scope, defines, number, points, points_list, positive, table, texts},
        rows::{Field, Findings, Row, Space},
    },
    units::Points,
};

table! {
    /// A fault that a judge writes down.
    #[derive(Clone, Debug, PartialEq)]
    pub struct Fault in [[fault]] {
        /// Short name, which marks files keep.
        must id: String = defines(Space::Rule);
        key label: String = LABEL;
        key shorthand: String = SHORTHAND;
        part scope: Scope;
        part amount: FaultAmount;
        /// What each amount of the choice stands for, such as small or one foot.
        may means: Vec<String> = texts();
        key void: bool = VOID;
        key counts: Counts = COUNTS;
        key removes: Vec<Credit> = REMOVES;
        key neutral: bool = NEUTRAL;
        key groups: Vec<String> = GROUPS;
        key page: String = WHERE;
    }
    then check;
}

/// What a fault costs.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FaultAmount {
    /// Always the same.
    Flat(Points),
    /// What the judge chooses, up to a limit.
    UpTo {
        /// The limit.
        max: Points,
        /// Steps of the amount.
        grid: Points,
    },
    /// One of these.
    Choice(Vec<Points>),
    /// So many times the worth of its element, in thousandths.
    OfValue(Points),
}

table! {
    /// The keys that say what a fault costs.
    #[derive(Debug)]
    struct Written {
        /// What it always costs.
        may amount: Points = points();
        /// The most it costs; the judge chooses.
        may up_to: Option<Points> = points();
        /// Steps of what the judge chooses; 0.1 when left out.
        may grid: Option<Points> = points();
        /// The amounts that the judge chooses from.
        may choice: Option<Vec<Points>> = points_list();
        /// How many times the worth of its element it costs.
        may of_value: Option<Points> = number();
    }
}

impl Part for FaultAmount {
    const FIELDS: &'static [Field] = Written::FIELDS;

    fn read(row: &Row, findings: &mut Findings<'_>) -> Self {
        let Written { amount, up_to, grid, choice, of_value } = Written::read(row, findings);
        let ways = ["amount", "up_to", "choice", "of_value"].into_iter();
        let ways = ways.filter(|key| row.has(key)).count();
        let is_void = VOID.value(row, findings).unwrap_or_default();
        if ways > 1 || ways == 0 && !is_void {
            let message =
                "a fault has exactly one of amount, up_to, choice and of_value".to_owned();
            let remedy = if ways == 0 { "add one of the four" } else { "keep one of them" };
            findings.error(&row.span, message, remedy);
        }
        if let Some(max) = up_to {
            return Self::UpTo { max, grid: positive((row, "grid"), grid, findings) };
        }
        if let Some(amounts) = choice {
            if amounts.is_empty() {
                let message = "there is nothing to choose from".to_owned();
                findings.error(&row.span_of("choice"), message, "list amounts: [0.1, 0.3]");
            }
            return Self::Choice(amounts);
        }
        of_value.map_or(Self::Flat(amount), Self::OfValue)
    }
}

impl Rule for Fault {
    fn taken(&self, _: Place, worths: &dyn Worths) -> Option<Taken<'_>> {
        let again = self.counts == Counts::Each;
        let once = self.amount.least_and_most(worths);
        Some(Taken { once, again, groups: &self.groups, void: self.void })
    }
}

impl FaultAmount {
    /// Returns the least and the most that it takes once; what a judge chooses may be nothing yet,
    /// so that the least of a choice is its smallest amount.
    fn least_and_most(&self, worths: &dyn Worths) -> [Points; 2] {
        match self {
            Self::Flat(amount) => [*amount; 2],
            Self::UpTo { max, grid } => [*grid, *max],
            Self::Choice(choice) => {
                let least = choice.iter().min().copied().unwrap_or_default();
                [least, choice.iter().max().copied().unwrap_or_default()]
            }
            Self::OfValue(times) => [Points::ZERO, worths.most().scaled(*times)],
        }
    }
}

fn check(fault: &mut Fault, row: &Row, findings: &mut Findings<'_>) {
    let choices = if let FaultAmount::Choice(amounts) = &fault.amount { amounts.len() } else { 0 };
    if row.has("means") && fault.means.len() != choices {
        let message = "there are not as many words as amounts to choose from".to_owned();
        findings.error(&row.span_of("means"), message, "give one word for each amount of choice");
    }
}
