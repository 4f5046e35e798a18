//! Noting what was agreed to.

use std::collections::BTreeSet;

use jiff::civil::Date;

use super::{
    code::Code,
    sidecar::{Consent, Purpose, Shows, Sidecar, Who},
};
use crate::marks::model::Unknown;

/// Who agrees.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Agrees {
    /// Both the athlete and a parent.
    #[default]
    Both,
    /// The athlete; a parent has to agree as well.
    Athlete,
    /// A parent; the athlete has to agree as well.
    Parent,
    /// The athlete alone, because by the club's rules she is old enough.
    Alone,
}

/// What was agreed to, to be noted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct NewConsent {
    /// Who agrees.
    pub agrees: Agrees,
    /// Who holds the signed form, by role or code.
    pub by: String,
    /// Last day on which it holds.
    pub until: Option<Date>,
    /// What for.
    pub purposes: BTreeSet<Purpose>,
}

impl Sidecar {
    /// Notes what an athlete, or a parent, agreed to on a day.
    pub fn note_consent(&mut self, code: &Code, consent: &NewConsent, noted: Date) {
        let whose: &[Who] = match consent.agrees {
            Agrees::Athlete | Agrees::Alone => &[Who::Athlete],
            Agrees::Parent => &[Who::Parent],
            Agrees::Both => &[Who::Athlete, Who::Parent],
        };
        self.shows = Shows::People;
        let athlete = self.athlete_mut(code.as_str());
        athlete.consents_alone |= consent.agrees == Agrees::Alone;
        athlete.consents.extend(whose.iter().map(|&of| Consent {
            of,
            by: consent.by.clone(),
            noted,
            until: consent.until,
            purposes: consent.purposes.clone(),
            unknown: Unknown::default(),
        }));
    }
}
