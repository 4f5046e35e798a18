//! The gate of consent. Its rules are common practice of clubs' filming policies (consent of the
//! athlete and a parent first, for a stated purpose and time; nobody else in the frame; kept no
//! longer than needed); no body gives them as a table.

use jiff::civil::Date;
use proptest::prelude::*;
use stillcall::library::{
    Agreed, Asked, Beware, Consent, Others, Purpose, Reason, Ruling, Shows, Sidecar, Use, Who, gate,
};
use stillcall::marks::model::Unknown;

fn day(text: &str) -> Date {
    text.parse().unwrap()
}

fn asked(what: Use) -> Asked<'static> {
    Asked { what, athletes: &[], routine: "1", today: day("2026-11-25") }
}

fn consent(of: Who, purposes: &[Purpose], until: Option<&str>) -> Consent {
    Consent {
        of,
        by: "welfare officer".to_owned(),
        noted: day("2026-01-10"),
        until: until.map(day),
        purposes: purposes.iter().copied().collect(),
        unknown: Unknown::default(),
    }
}

/// A clip of SC-07 alone, with both consents for training and a course until the season ends.
fn noted() -> Sidecar {
    let mut sidecar = Sidecar { others: Others::None, ..Sidecar::default() };
    let purposes = [Purpose::Training, Purpose::Course];
    for of in [Who::Athlete, Who::Parent] {
        let given = consent(of, &purposes, Some("2027-07-31"));
        sidecar.athlete_mut("SC-07").consents.push(given);
    }
    sidecar
}

fn rule(sidecar: &Sidecar, what: Use) -> Ruling {
    gate(Some(sidecar), &asked(what))
}

fn said(ruling: &Ruling) -> String {
    ruling.against.iter().map(ToString::to_string).collect::<Vec<_>>().join("\n")
}

#[test]
fn without_anything_noted_a_clip_is_watched_and_scored_but_goes_nowhere() {
    for what in [Use::Watch, Use::Score] {
        assert!(gate(None, &asked(what)).is_allowed());
    }
    for purpose in Purpose::ALL {
        for what in [Use::Pictures(purpose), Use::Set(purpose), Use::Examination(purpose)] {
            let ruling = gate(None, &asked(what));
            assert!(ruling.against.contains(&Reason::NothingNoted), "{what:?}");
        }
    }
}

#[test]
fn consent_opens_what_it_was_given_for_and_nothing_else() {
    for (purpose, allowed) in [
        (Purpose::Training, true),
        (Purpose::Library, false),
        (Purpose::Course, true),
        (Purpose::Publication, false),
    ] {
        for what in [Use::Pictures(purpose), Use::Set(purpose)] {
            assert_eq!(rule(&noted(), what).is_allowed(), allowed, "{what:?}");
        }
    }
}

#[test]
fn both_the_athlete_and_a_parent_are_needed() {
    for (left_out, words) in [
        (Who::Athlete, "SC-07 has not agreed to own training"),
        (Who::Parent, "no parent of SC-07 has agreed to own training"),
    ] {
        let mut sidecar = noted();
        sidecar.athlete_mut("SC-07").consents.retain(|given| given.of != left_out);
        let ruling = rule(&sidecar, Use::Pictures(Purpose::Training));
        assert!(!ruling.is_allowed() && said(&ruling).contains(words), "{}", said(&ruling));
    }
    let mut grown = noted();
    grown.athlete_mut("SC-07").consents.retain(|given| given.of == Who::Athlete);
    grown.athlete_mut("SC-07").consents_alone = true;
    assert!(rule(&grown, Use::Pictures(Purpose::Training)).is_allowed());
}

#[test]
fn consent_holds_on_its_last_day_and_not_after() {
    let on = |today: &str| {
        let asked = Asked { today: day(today), ..asked(Use::Set(Purpose::Training)) };
        gate(Some(&noted()), &asked)
    };
    assert!(on("2027-07-31").is_allowed());
    let after = on("2027-08-01");
    assert!(said(&after).contains("ran out on 2027-07-31"), "{}", said(&after));
}

#[test]
fn everybody_who_is_filmed_or_judged_has_to_agree() {
    let mut two = noted();
    two.athlete_mut("SC-08");
    let ruling = rule(&two, Use::Set(Purpose::Training));
    assert!(said(&ruling).contains("SC-08"), "{}", said(&ruling));
    let judged = Asked { athletes: &["SC-09"], ..asked(Use::Set(Purpose::Training)) };
    let ruling = gate(Some(&noted()), &judged);
    assert!(said(&ruling).contains("SC-09"), "{}", said(&ruling));
}

#[test]
fn others_who_can_be_recognised_keep_pictures_in() {
    for (others, reason) in [
        (Others::None, None),
        (Others::Covered, None),
        (Others::Recognisable, Some(Reason::OthersRecognisable)),
        (Others::NotNoted, Some(Reason::OthersNotNoted)),
    ] {
        let sidecar = Sidecar { others, ..noted() };
        let ruling = rule(&sidecar, Use::Pictures(Purpose::Training));
        assert_eq!(ruling.against.first(), reason.as_ref(), "{others:?}");
    }
}

#[test]
fn injury_and_an_overdue_clip_stay_in_and_are_told_when_watched() {
    let mut sidecar = Sidecar { injury_or_distress: true, ..noted() };
    sidecar.delete_by = Some(day("2026-11-24"));
    let ruling = rule(&sidecar, Use::Set(Purpose::Training));
    let overdue = Reason::Overdue(day("2026-11-24"));
    assert_eq!(ruling.against, [Reason::InjuryOrDistress, overdue]);
    let withdrew = Sidecar { somebody_withdrew: true, ..noted() };
    let ruling = rule(&withdrew, Use::Set(Purpose::Training));
    assert_eq!(ruling.against, [Reason::SomebodyWithdrew]);
    let watched = rule(&sidecar, Use::Watch);
    assert!(watched.is_allowed());
    assert_eq!(watched.beware, [Beware::InjuryOrDistress, Beware::Overdue(day("2026-11-24"))]);
    sidecar.delete_by = Some(day("2026-11-25"));
    assert_eq!(rule(&sidecar, Use::Watch).beware.len(), 1, "the last day is still in time");
}

#[test]
fn an_examination_needs_a_reference_that_was_agreed_on() {
    let ruling = rule(&noted(), Use::Examination(Purpose::Course));
    assert_eq!(ruling.against, [Reason::NotAgreed("1".to_owned())]);
    let mut agreed = noted();
    agreed.agreed.push(Agreed {
        routine: "1".to_owned(),
        by: vec!["J-1".to_owned(), "J-2".to_owned()],
        on: day("2026-11-01"),
        book: "saltmarsh".to_owned(),
        edition: "2026.1".to_owned(),
        book_hash: String::new(),
        marks: String::new(),
        of: Vec::new(),
        calls: Vec::new(),
        unknown: Unknown::default(),
    });
    assert!(rule(&agreed, Use::Examination(Purpose::Course)).is_allowed());
}

#[test]
fn nobody_in_the_picture_needs_nobodys_consent() {
    let drawn = Sidecar { shows: Shows::Nobody, ..Sidecar::default() };
    assert!(rule(&drawn, Use::Pictures(Purpose::Publication)).is_allowed());
}

proptest! {
    /// Taking a consent away never opens anything.
    #[test]
    fn less_consent_never_allows_more(dropped in 0_usize..4, purpose in 0_usize..4) {
        let purpose = Purpose::ALL[purpose];
        let mut sidecar = noted();
        sidecar.athlete_mut("SC-08").consents = noted().athletes[0].consents.clone();
        for what in [Use::Pictures(purpose), Use::Set(purpose)] {
            let before = rule(&sidecar, what).is_allowed();
            let mut less = sidecar.clone();
            less.athletes[dropped / 2].consents.remove(dropped % 2);
            prop_assert!(!rule(&less, what).is_allowed());
            prop_assert_eq!(before, matches!(purpose, Purpose::Training | Purpose::Course));
        }
    }
}
