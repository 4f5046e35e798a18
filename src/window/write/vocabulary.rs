//! The words of one event and division of a book, as the write line needs them.

use crate::{
    rulebook::{Book, FaultAmount},
    units::Points,
};

/// The words of one event and division.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Vocabulary {
    /// Elements in the book's order, those of other divisions too.
    pub elements: Vec<ElementWord>,
    /// Faults in the book's order.
    pub faults: Vec<FaultWord>,
}

/// An element under all its names.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct ElementWord {
    /// Id of the book.
    pub id: String,
    /// Name.
    pub name: String,
    /// How a judge writes it.
    pub shorthand: String,
    /// Code of the club's own printed book.
    pub code: String,
    /// Name of its class.
    pub class: String,
    /// Whether the division may use it.
    pub allowed: bool,
}

/// A fault with what it may cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct FaultWord {
    /// Id of the book.
    pub id: String,
    /// Name.
    pub name: String,
    /// How a judge writes it.
    pub shorthand: String,
    /// What it may cost.
    pub amounts: Amounts,
}

/// What a fault may cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Amounts {
    /// Always this.
    Flat(Points),
    /// Up to a limit, in steps.
    UpTo {
        /// The limit.
        max: Points,
        /// The step.
        grid: Points,
    },
    /// One of these.
    Choice(Vec<Points>),
    /// So many times what its element is worth, which is only known where the fault is put.
    OfValue(Points),
}

impl Amounts {
    /// Returns whether the amount is one that the book takes.
    pub(crate) fn takes(&self, amount: Points) -> bool {
        match self {
            Self::Flat(flat) => *flat == amount,
            Self::UpTo { max, grid } => {
                amount > Points::ZERO && amount <= *max && amount.0 % grid.0.max(1) == 0
            }
            Self::Choice(amounts) => amounts.contains(&amount),
            Self::OfValue(_) => false,
        }
    }

    /// Returns what a mark keeps of a chosen amount: nothing where the book leaves no choice.
    pub(crate) fn keeps(&self, amount: Points) -> Option<Points> {
        (!matches!(self, Self::Flat(_) | Self::OfValue(_))).then_some(amount)
    }

    /// Returns all amounts, the least first, or the first dozen of a fine grid.
    pub(crate) fn all(&self) -> Vec<Points> {
        match self {
            Self::Flat(amount) => vec![*amount],
            Self::UpTo { max, grid } => {
                let steps = max.0 / grid.0.max(1);
                (1..=steps.min(12)).map(|step| grid.times(step)).collect()
            }
            Self::Choice(amounts) => amounts.clone(),
            Self::OfValue(_) => Vec::new(),
        }
    }

    /// Returns what the book takes, in words.
    pub(crate) fn says(&self) -> String {
        match self {
            Self::Flat(amount) => format!("{}, always", amount.short()),
            Self::UpTo { max, grid } => {
                format!("up to {} in steps of {}", max.short(), grid.short())
            }
            Self::Choice(amounts) => {
                amounts.iter().map(|amount| amount.short()).collect::<Vec<_>>().join(" or ")
            }
            Self::OfValue(times) => format!("{} × what its element is worth", times.short()),
        }
    }
}

impl ElementWord {
    /// Returns class, shorthand and a word when the division may not use it.
    pub(crate) fn aside(&self) -> String {
        let not_allowed = if self.allowed { "" } else { "not in this division" };
        [self.class.as_str(), self.shorthand.as_str(), not_allowed]
            .into_iter()
            .filter(|part| !part.is_empty())
            .collect::<Vec<_>>()
            .join(" · ")
    }
}

impl Vocabulary {
    /// Returns the words of an event and division.
    pub(crate) fn of(book: &Book, event: &str, division: &str) -> Self {
        let elements = book.elements_of(event).map(|element| ElementWord {
            id: element.id.clone(),
            name: element.name.clone(),
            shorthand: element.shorthand.clone(),
            code: element.code.clone(),
            class: book
                .class(element.class_in(division))
                .map(|class| class.name.clone())
                .unwrap_or_default(),
            allowed: book.allowed(element, division),
        });
        let faults = book.faults_of(event, division).into_iter().map(|fault| FaultWord {
            id: fault.id.clone(),
            name: fault.label.clone(),
            shorthand: fault.shorthand.clone(),
            amounts: match &fault.amount {
                FaultAmount::Flat(amount) => Amounts::Flat(*amount),
                FaultAmount::UpTo { max, grid } => Amounts::UpTo { max: *max, grid: *grid },
                FaultAmount::Choice(amounts) => Amounts::Choice(amounts.clone()),
                FaultAmount::OfValue(times) => Amounts::OfValue(*times),
            },
        });
        Self { elements: elements.collect(), faults: faults.collect() }
    }
}
