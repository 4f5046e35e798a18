//! What keys of one table ask of each other.

use crate::{
    rulebook::rows::{Field, Findings, Row},
    units::Points,
};

/// Reports a table that has none of the keys.
pub(crate) fn needs_one_of(row: &Row, keys: &[&str], findings: &mut Findings<'_>) {
    if keys.iter().all(|key| !row.has(key)) {
        let message = match keys.split_last() {
            Some((only, [])) => format!("the key \"{only}\" is missing"),
            Some((last, others)) => {
                format!("one of the keys {} and {last} is missing", others.join(", "))
            }
            None => return,
        };
        findings.error(&row.span, message, &format!("add {}", keys.join(" or ")));
    }
}

/// Reports those of the fields that are there and not among the keys that say something of
/// `what`.
pub(crate) fn only(
    row: &Row,
    fields: &[Field],
    own: &[&str],
    (what, remedy): (&str, &str),
    findings: &mut Findings<'_>,
) {
    let keys = fields.iter().map(|field| field.key);
    for key in keys.filter(|key| row.has(key) && !own.contains(key)) {
        let message = format!("\"{key}\" says nothing about {what}");
        findings.error(&row.span_of(key), message, remedy);
    }
}

/// Returns the amount of the key, which must be more than 0; a tenth where it is not.
pub(crate) fn positive(
    (row, key): (&Row, &str),
    amount: Option<Points>,
    findings: &mut Findings<'_>,
) -> Points {
    const TENTH: Points = Points(100);
    let amount = amount.unwrap_or(TENTH);
    if amount > Points::ZERO {
        return amount;
    }
    findings.error(&row.span_of(key), format!("{key} must be more than 0"), "such as 0.05 or 0.1");
    TENTH
}
