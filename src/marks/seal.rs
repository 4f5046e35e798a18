//! Whether marks are still those that they were.

use std::collections::BTreeMap;

use serde::Serialize;

use super::model::{At, Call, ClickedPoint, How, Id, Mark, Quantity, Reading, Sheaf, What};
use super::plane::ReferencePlane;
use crate::units::Magnitude;

/// Everything that a sheet is made of, but the book. Remarks are none of it, nor what the clicks come
/// to: that is worked out anew.
#[derive(Serialize)]
struct Sealed<'a> {
    event: &'a str,
    division: &'a str,
    facts: &'a BTreeMap<String, String>,
    planes: &'a [ReferencePlane],
    marks: Vec<Mark>,
    readings: Vec<SealedReading<'a>>,
    calls: &'a [Call],
}

#[derive(Serialize)]
struct SealedReading<'a> {
    id: Id,
    of: Id,
    quantity: &'a Quantity,
    at: &'a At,
    points: &'a [ClickedPoint],
    how: &'a How,
    /// Value and uncertainty, where they were stated.
    stated: Option<[Magnitude; 2]>,
}

/// Returns a hash of what a routine's marks say was seen; another one once any of it was changed.
pub fn seal(sheaf: &Sheaf) -> String {
    let marks = sheaf.marks.iter().filter(|mark| mark.what != What::Note);
    let sealed = Sealed {
        event: &sheaf.routine.event,
        division: &sheaf.routine.division,
        facts: &sheaf.routine.facts,
        planes: &sheaf.planes,
        marks: marks.map(|mark| Mark { note: String::new(), ..mark.clone() }).collect(),
        readings: sheaf.readings.iter().map(sealed).collect(),
        calls: &sheaf.calls,
    };
    // Nothing in it can fail to be written.
    let text = serde_json::to_vec(&sealed).unwrap_or_default();
    blake3::hash(&text).to_hex().to_string()
}

fn sealed(reading: &Reading) -> SealedReading<'_> {
    SealedReading {
        id: reading.id,
        of: reading.of,
        quantity: &reading.quantity,
        at: &reading.at,
        points: &reading.points,
        how: &reading.how,
        stated: reading.points.is_empty().then_some([reading.value, reading.u]),
    }
}
