//! What follows from something the book does not want.

use crate::{
    rulebook::{
        keys::{Key, one_of, points, words},
        rows::{Field, Findings, Row},
    },
    units::Points,
};

/// What follows from something the book does not want.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Consequence {
    /// It is said and costs nothing.
    #[default]
    NoCredit,
    /// An amount off.
    Amount(Points),
    /// The exercise counts nothing.
    Void,
}

words! {
    /// What follows, as it is written.
    enum Brought {
        NoCredit = "no-credit",
        Amount = "amount",
        Void = "void",
    }
}

/// The two keys that say what follows from something.
pub(super) struct Brings {
    what: Key<Brought>,
    amount: Key<Points>,
}

impl Brings {
    /// Returns the keys of these names, each with its help.
    pub(super) const fn new(
        (what, help): (&'static str, &'static str),
        (amount, amount_help): (&'static str, &'static str),
    ) -> Self {
        Self {
            what: Key::may(what, one_of::<Brought>(), help),
            amount: Key::may(amount, points(), amount_help),
        }
    }

    /// Returns their descriptions.
    pub(super) const fn fields(&self) -> [Field; 2] {
        [self.what.fields()[0], self.amount.fields()[0]]
    }

    /// Returns what follows; nothing where neither is there.
    pub(super) fn value(&self, row: &Row, findings: &mut Findings<'_>) -> Option<Consequence> {
        let amount = self.amount.value(row, findings);
        Some(match self.what.value(row, findings)? {
            Brought::NoCredit => Consequence::NoCredit,
            Brought::Void => Consequence::Void,
            Brought::Amount => {
                let [key, of] = self.fields().map(|field| field.key);
                if !row.has(of) {
                    let message = format!("\"{key}\" says amount, but \"{of}\" is missing");
                    findings.error(&row.span_of(key), message, &format!("add {of} = 0.5"));
                }
                Consequence::Amount(amount.unwrap_or_default())
            }
        })
    }
}
