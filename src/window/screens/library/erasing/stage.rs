//! How far it is.

use crate::library::{ErasePlan, EraseWish};

use super::{
    carrying::Carrying,
    form::{EraseField, EraseForm},
    groups::EraseGroup,
    outcome::EraseOutcome,
};

/// Something that is to be erased.
pub(crate) struct EraseAsked {
    /// By which what is found for another one is known.
    pub(super) number: u64,
    pub(super) form: EraseForm,
    pub(super) stage: EraseStage,
    /// What is wrong.
    pub(super) complaint: Option<String>,
}

/// How far it is.
pub(super) enum EraseStage {
    /// It is being filled in.
    Filled,
    /// It is found out what would go.
    Planning,
    /// What would go is on screen.
    Shown(Box<ShownPlan>),
    /// It is carried out.
    Carried(Carrying),
    /// It is over.
    Over(Box<EraseOutcome>),
}

/// What would go.
pub(super) struct ShownPlan {
    /// As it will be done.
    pub plan: ErasePlan,
    /// In words.
    pub groups: Vec<EraseGroup>,
}

impl EraseAsked {
    /// Returns the code that has to be written once more before anything goes.
    pub(super) fn code_again(&self) -> Option<&str> {
        let EraseStage::Shown(shown) = &self.stage else { return None };
        match &shown.plan.wish {
            EraseWish::Athlete { code, .. } => Some(code.as_str()),
            EraseWish::Clip { .. } | EraseWish::BroughtBack => None,
        }
    }

    /// Returns whether what would go was confirmed: a withdrawal by its code.
    pub(super) fn is_confirmed(&self) -> bool {
        let again = self.form.written(EraseField::Again);
        self.code_again().is_none_or(|code| code.eq_ignore_ascii_case(again))
    }

    /// Returns whether what is written cannot become the code any more.
    pub(super) fn is_other_code(&self) -> bool {
        let again = self.form.written(EraseField::Again).to_lowercase();
        self.code_again().is_some_and(|code| !code.to_lowercase().starts_with(&again))
    }
}
