//! How a score is built: parts that are settled apart, and added.

use super::shared::LABEL;
use crate::{
    rulebook::{
        keys::{
            Part, Word, count, flag, inner, inner_list, names_some, number, one_of, points,
            some_of, table, text, words,
        },
        rows::{Field, Findings, Row, Space},
    },
    units::Points,
};

/// The parts of a score.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ledger {
    /// In the order in which they stand on the sheet.
    pub parts: Vec<ScorePart>,
    /// How many elements count where a part holds them.
    pub best: u32,
}

table! {
    /// A part of the score, with what adds to it and what is taken off it.
    #[derive(Clone, Debug, Default, PartialEq, Eq)]
    pub struct ScorePart {
        /// Short name.
        must id: String = text();
        key label: String = LABEL;
        /// What it begins with.
        may base: Points = points();
        /// Whether a vault brings its own value in the place of the base.
        may vault: bool = flag();
        /// What adds to it and what is taken off it.
        may holds: Vec<Holds> = some_of::<Holds>();
        /// Groups of faults that are taken off it, before any other part.
        may groups: Vec<String> = names_some(Space::Group);
        /// How much of the faults is taken off, such as 0.5 for half of them; all when left out.
        may share: Points = number(), or ALL;
        /// It is never less than this; without it, it may be less than nothing.
        may floor: Option<Points> = points();
        /// It is never more than this.
        may at_most: Option<Points> = points();
    }
}

words! {
    /// What a part of a score is made of.
    #[derive(PartialOrd, Ord)]
    pub enum Holds {
        /// The best elements add their worth.
        Elements = "elements",
        /// Requirements that are met add their price.
        Met = "met-requirements",
        /// Requirements that are missed take their price off.
        Requirements = "requirements",
        /// Value parts that are missing take their price off.
        ValueParts = "value-parts",
        /// Bonuses and connections add.
        Bonus = "bonus",
        /// Faults, and everything else that costs something.
        Faults = "faults",
        /// What is taken off the whole score.
        Neutral = "neutral",
    }
}

/// The whole of something, in thousandths.
const ALL: Points = Points(1000);
const HALF: Points = Points(500);

words! {
    /// The way, as it is written.
    enum Way {
        StartMinus = "start-minus",
        StartMinusHalf = "start-minus-half",
        Buckets = "buckets",
        Open = "open",
        Parts = "parts",
    }
}

table! {
    /// The keys that say how a score is built.
    #[derive(Debug)]
    struct Written {
        /// How the score is built.
        must formula: Option<Way> = one_of::<Way>();
        /// Start value before anything is missing; a vault brings its own.
        may start: Points = points();
        /// The most that the start value and what adds to it make together.
        may start_at_most: Option<Points> = points();
        /// The four buckets of the formula "buckets".
        may buckets: Option<Buckets> = inner::<Buckets>();
        /// Execution before deductions, for the formula "open".
        may execution: Points = points();
        /// How many elements count, for the formulas "open" and "parts".
        may best: u32 = count();
        /// The most that elements and requirements make together, for the formula "open".
        may difficulty_at_most: Option<Points> = points();
        /// The parts of the formula "parts".
        may parts: Vec<ScorePart> = inner_list::<ScorePart>();
    }
}

table! {
    /// The four buckets.
    #[derive(Debug, Default)]
    struct Buckets {
        /// Full bucket of value parts.
        must value_parts: Points = points();
        /// Full bucket of requirements.
        must requirements: Points = points();
        /// Full bucket of artistry.
        must artistry: Points = points();
        /// Full bucket of execution.
        must execution: Points = points();
    }
}

/// The group of faults that empty the bucket of artistry.
const ARTISTRY: &str = "artistry";

impl Ledger {
    /// Returns whether any part is made of this.
    pub(crate) fn holds(&self, what: Holds) -> bool {
        self.parts.iter().any(|part| part.holds(what))
    }
}

impl ScorePart {
    fn new(id: &str, label: &str, base: Points, holds: &[Holds]) -> Self {
        let (id, label) = (id.to_owned(), label.to_owned());
        Self { id, label, base, holds: holds.to_vec(), share: ALL, ..Self::default() }
    }

    /// Returns a part that is used up and never less than nothing.
    fn bucket(id: &str, label: &str, base: Points, holds: &[Holds]) -> Self {
        Self { floor: Some(Points::ZERO), ..Self::new(id, label, base, holds) }
    }

    /// Returns whether it is part of the start value: it holds more than bonuses and what is taken off.
    pub(crate) fn opens(&self) -> bool {
        use Holds::{Elements, Met, Requirements, ValueParts};
        let of_start = [Elements, Met, Requirements, ValueParts];
        self.base > Points::ZERO || of_start.iter().any(|what| self.holds(*what))
    }

    /// Returns whether the part is made of this, among other things.
    pub(crate) fn holds(&self, what: Holds) -> bool {
        self.holds.contains(&what)
    }
}

impl Written {
    /// Returns the start value minus what is missing, with faults taken off by their share.
    fn start_minus(&self, share: Points) -> Vec<ScorePart> {
        use Holds::{Bonus, Faults, Requirements, ValueParts};
        let holds = [Requirements, ValueParts, Bonus];
        let start = ScorePart::new("start", "Start value", self.start, &holds);
        let faults = ScorePart::new("execution", "Deductions", Points::ZERO, &[Faults]);
        vec![
            ScorePart { vault: true, at_most: self.start_at_most, ..start },
            ScorePart { share, ..faults },
        ]
    }

    fn buckets(&self) -> Vec<ScorePart> {
        use Holds::{Bonus, Faults, Requirements, ValueParts};
        let full = self.buckets.as_ref();
        let full = |of: fn(&Buckets) -> Points| full.map(of).unwrap_or_default();
        let bucket = ScorePart::bucket;
        let artistry = bucket(ARTISTRY, "Artistry", full(|it| it.artistry), &[]);
        vec![
            bucket("value-parts", "Value parts", full(|it| it.value_parts), &[ValueParts]),
            bucket("requirements", "Requirements", full(|it| it.requirements), &[Requirements]),
            ScorePart { groups: vec![ARTISTRY.to_owned()], ..artistry },
            bucket("execution", "Execution", full(|it| it.execution), &[Faults]),
            ScorePart::new("bonus", "Bonus", Points::ZERO, &[Bonus]),
        ]
    }

    fn open(&self) -> Vec<ScorePart> {
        use Holds::{Bonus, Elements, Faults, Met, ValueParts};
        let holds = [Elements, Met, ValueParts];
        let difficulty = ScorePart::bucket("difficulty", "Difficulty", Points::ZERO, &holds);
        vec![
            ScorePart { at_most: self.difficulty_at_most, ..difficulty },
            ScorePart::bucket("execution", "Execution", self.execution, &[Faults]),
            ScorePart::new("bonus", "Bonus", Points::ZERO, &[Bonus]),
        ]
    }
}

impl Part for Ledger {
    const FIELDS: &'static [Field] = Written::FIELDS;

    fn read(row: &Row, findings: &mut Findings<'_>) -> Self {
        let mut written = Written::read(row, findings);
        let best = written.best;
        // A formula that is none was reported where it stands.
        let way = written.formula.unwrap_or(Way::StartMinus);
        let (parts, keys): (_, &[&str]) = match way {
            Way::StartMinus => (written.start_minus(ALL), &["start"]),
            Way::StartMinusHalf => (written.start_minus(HALF), &["start"]),
            Way::Buckets => (written.buckets(), &["buckets"]),
            Way::Open => (written.open(), &["execution", "best"]),
            Way::Parts => (std::mem::take(&mut written.parts), &["parts"]),
        };
        for key in keys.iter().filter(|key| written.formula.is_some() && !row.has(key)) {
            let message = format!("this formula needs the key \"{key}\"");
            findings.error(&row.span_of("formula"), message, &format!("add {key} to this table"));
        }
        belong(way, row, findings);
        let mut ledger = Self { parts, best };
        if way == Way::Parts {
            check(&ledger, row, findings);
        } else {
            let neutral = ("neutral", "Neutral deductions");
            let neutral = ScorePart::new(neutral.0, neutral.1, Points::ZERO, &[Holds::Neutral]);
            ledger.parts.push(neutral);
        }
        ledger
    }
}

/// Says which keys another formula asks for.
fn belong(way: Way, row: &Row, findings: &mut Findings<'_>) {
    const START: &[Way] = &[Way::StartMinus, Way::StartMinusHalf];
    let of: [(&str, &[Way]); 7] = [
        ("start", START),
        ("start_at_most", START),
        ("buckets", &[Way::Buckets]),
        ("execution", &[Way::Open]),
        ("best", &[Way::Open, Way::Parts]),
        ("difficulty_at_most", &[Way::Open]),
        ("parts", &[Way::Parts]),
    ];
    for (key, ways) in of.iter().filter(|(key, ways)| row.has(key) && !ways.contains(&way)) {
        let quoted: Vec<String> =
            ways.iter().map(|way| format!("\"{}\"", Way::WORDS[*way as usize])).collect();
        let message = format!("{key} belongs to the formula {}", quoted.join(" or "));
        findings.error(&row.span_of(key), message, "take the key out");
    }
}

/// Sees that everything that a routine brings belongs to one part, and that faults belong to any.
fn check(ledger: &Ledger, row: &Row, findings: &mut Findings<'_>) {
    let span = row.span_of("parts");
    let mut error = |message: String, remedy: &str| findings.error(&span, message, remedy);
    for (at, part) in ledger.parts.iter().enumerate() {
        let before = || ledger.parts[..at].iter();
        if before().any(|other| other.id == part.id) {
            error(format!("two parts are called \"{}\"", part.id), "give one another id");
        }
        for what in part.holds.iter().filter(|what| before().any(|other| other.holds(**what))) {
            let what = Holds::WORDS[*what as usize];
            error(format!("two parts hold \"{what}\""), "keep it in one of them");
        }
        if part.holds.is_empty() && part.groups.is_empty() {
            error(format!("the part \"{}\" never changes", part.id), "add holds or groups");
        }
    }
    if !ledger.holds(Holds::Faults) {
        error("no part holds the faults".to_owned(), "add holds = \"faults\" to one");
    }
    if ledger.holds(Holds::Elements) && !row.has("best") {
        error("\"best\" does not say how many elements count".to_owned(), "add best = 8");
    }
    if ledger.holds(Holds::Met) && ledger.holds(Holds::Requirements) {
        let message = "requirements would be counted twice".to_owned();
        error(message, "hold \"requirements\" or \"met-requirements\", not both");
    }
}
