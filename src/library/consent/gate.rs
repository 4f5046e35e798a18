//! What may be done with a clip: one pure function of what is noted of it.

use std::fmt;

use jiff::civil::Date;

use super::sidecar::{Athlete, Others, Purpose, Shows, Sidecar, Who};

/// What somebody is about to do with a clip.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Use {
    /// Look at it.
    Watch,
    /// Mark and score it.
    Score,
    /// Cut a part of it out as a clip of its own, which stays with the club.
    Excerpt,
    /// Let pictures or the clip itself leave the program.
    Pictures(Purpose),
    /// Put it into a set for practice.
    Set(Purpose),
    /// Put it into a set that examines somebody.
    Examination(Purpose),
}

/// A question to the gate.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// What is about to be done.
    pub what: Use,
    /// Codes of the athletes whose routines are meant, as the marks files name them.
    pub athletes: &'a [&'a str],
    /// Routine within the clip; only an examination asks for it.
    pub routine: &'a str,
    /// The day.
    pub today: Date,
}

/// What the gate says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ruling {
    /// What stands against it; allowed when there is nothing.
    pub against: Vec<Reason>,
    /// What to mind all the same.
    pub beware: Vec<Beware>,
}

/// Why something is not allowed, with its remedy.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Reason {
    /// There is no sidecar, or it names no athlete.
    NothingNoted,
    /// An athlete's consent, or a parent's, is missing for this purpose.
    NoConsent {
        /// Whose footage it is.
        code: String,
        /// Whose consent is missing.
        of: Who,
        /// What for.
        purpose: Purpose,
        /// Last day of one that has run out.
        ran_out: Option<Date>,
    },
    /// Nobody noted whether others can be recognised.
    OthersNotNoted,
    /// Others can be recognised.
    OthersRecognisable,
    /// An injury or distress is seen.
    InjuryOrDistress,
    /// Somebody who is still seen has withdrawn her consent.
    SomebodyWithdrew,
    /// The clip should be gone by now.
    Overdue(Date),
    /// Nobody agreed on this routine.
    NotAgreed(String),
    /// The sidecar cannot be read, or belongs to other content; said in words.
    Unclear(String),
}

/// What to mind although it is allowed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beware {
    /// An injury or distress is seen.
    InjuryOrDistress,
    /// The clip should be gone by now.
    Overdue(Date),
}

impl Ruling {
    /// Returns whether it may be done.
    pub fn is_allowed(&self) -> bool {
        self.against.is_empty()
    }
}

/// Returns whether a clip may be used as asked, and every reason why not.
///
/// What is not noted counts as not allowed. Watching and scoring are always allowed; so is cutting,
/// for what is noted of the whole is noted of its part.
pub fn gate(sidecar: Option<&Sidecar>, asked: &Asked<'_>) -> Ruling {
    let (purpose, leaves) = match asked.what {
        Use::Watch | Use::Score | Use::Excerpt => {
            return Ruling { against: vec![], beware: beware(sidecar, asked) };
        }
        Use::Pictures(purpose) => (purpose, true),
        Use::Set(purpose) | Use::Examination(purpose) => (purpose, false),
    };
    let empty = Sidecar::default();
    let noted = sidecar.unwrap_or(&empty);
    let mut against = Vec::new();
    if noted.shows == Shows::People {
        against.extend(consents(noted, asked, purpose));
        if leaves {
            against.extend(others(noted.others));
        }
        against.extend(noted.injury_or_distress.then_some(Reason::InjuryOrDistress));
        against.extend(noted.somebody_withdrew.then_some(Reason::SomebodyWithdrew));
    }
    against.extend(overdue(noted, asked.today).map(Reason::Overdue));
    let agreed = noted.agreed(asked.routine).filter(|agreed| agreed.is_of_several());
    if matches!(asked.what, Use::Examination(_)) && agreed.is_none() {
        against.push(Reason::NotAgreed(asked.routine.to_owned()));
    }
    Ruling { against, beware: Vec::new() }
}

fn beware(sidecar: Option<&Sidecar>, asked: &Asked<'_>) -> Vec<Beware> {
    let Some(noted) = sidecar else { return Vec::new() };
    let distress = noted.injury_or_distress.then_some(Beware::InjuryOrDistress);
    let overdue = overdue(noted, asked.today).map(Beware::Overdue);
    distress.into_iter().chain(overdue).collect()
}

/// Returns what is missing of the consents of everybody who is filmed or judged here.
fn consents(noted: &Sidecar, asked: &Asked<'_>, purpose: Purpose) -> Vec<Reason> {
    let mut codes: Vec<&str> = noted.athletes.iter().map(|athlete| &*athlete.code).collect();
    codes.extend(asked.athletes.iter().filter(|code| !code.is_empty()));
    codes.sort_unstable();
    codes.dedup();
    if codes.is_empty() {
        return vec![Reason::NothingNoted];
    }
    codes.iter().flat_map(|code| missing(noted.athlete(code), code, purpose, asked.today)).collect()
}

fn missing(athlete: Option<&Athlete>, code: &str, purpose: Purpose, today: Date) -> Vec<Reason> {
    let alone = athlete.is_some_and(|athlete| athlete.consents_alone);
    let asked_of: &[Who] = if alone { &[Who::Athlete] } else { &[Who::Athlete, Who::Parent] };
    let lacking = asked_of.iter().filter_map(|&of| {
        let given = athlete.map(|athlete| athlete.consents.as_slice()).unwrap_or_default();
        let fitting = given.iter().filter(|it| it.of == of && it.purposes.contains(&purpose));
        let holds = fitting.clone().any(|it| it.until.is_none_or(|until| today <= until));
        let ran_out = fitting.filter_map(|it| it.until).max();
        (!holds).then(|| Reason::NoConsent { code: code.to_owned(), of, purpose, ran_out })
    });
    lacking.collect()
}

fn others(others: Others) -> Option<Reason> {
    match others {
        Others::NotNoted => Some(Reason::OthersNotNoted),
        Others::Recognisable => Some(Reason::OthersRecognisable),
        Others::None | Others::Covered => None,
    }
}

fn overdue(noted: &Sidecar, today: Date) -> Option<Date> {
    noted.delete_by.filter(|&day| day < today)
}

impl fmt::Display for Reason {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NothingNoted => f.write_str(
                "no consent is noted for this clip; note who is filmed and what was agreed to",
            ),
            Self::NoConsent { code, of, purpose, ran_out: Some(day) } => {
                write!(f, "the consent of {of} of {code} for {purpose} ran out on {day}")
            }
            Self::NoConsent { code, of: Who::Athlete, purpose, .. } => {
                write!(f, "{code} has not agreed to {purpose}, or it is not noted")
            }
            Self::NoConsent { code, of: Who::Parent, purpose, .. } => {
                write!(f, "no parent of {code} has agreed to {purpose}, or it is not noted")
            }
            Self::OthersNotNoted => f.write_str(
                "it is not noted whether other people can be recognised; look, then note it",
            ),
            Self::OthersRecognisable => f.write_str(
                "other people can be recognised; cover them or crop them away first, then note it",
            ),
            Self::InjuryOrDistress => f.write_str("an injury or distress is seen"),
            Self::SomebodyWithdrew => f.write_str(
                "somebody who is seen on it has withdrawn her consent; cut or cover her, or delete \
                 the clip",
            ),
            Self::Overdue(day) => write!(f, "the clip was to be deleted by {day}"),
            Self::NotAgreed(routine) => {
                write!(f, "no reference is agreed on for routine {routine} by two judges or more")
            }
            Self::Unclear(words) => f.write_str(words),
        }
    }
}

impl fmt::Display for Beware {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::InjuryOrDistress => f.write_str("an injury or distress is seen in this clip"),
            Self::Overdue(day) => write!(f, "this clip was to be deleted by {day}"),
        }
    }
}

impl fmt::Display for Use {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Watch => f.write_str("may not be watched"),
            Self::Score => f.write_str("may not be scored"),
            Self::Excerpt => f.write_str("may not be cut"),
            Self::Pictures(purpose) => write!(f, "may not leave with pictures for {purpose}"),
            Self::Set(purpose) => write!(f, "may not be in a set for {purpose}"),
            Self::Examination(purpose) => {
                write!(f, "may not be in an examination set for {purpose}")
            }
        }
    }
}
