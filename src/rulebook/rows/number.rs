//! Numbers of a book from their own text, so that 0.10 never passes through a float.

use crate::units::Points;

use super::{findings::Findings, row::Raw};

/// Returns an amount in thousandths; negative ones are errors.
pub(crate) fn points(raw: &Raw, findings: &mut Findings<'_>) -> Option<Points> {
    thousandths(raw, ("an amount", "amounts look like 0.5 or 10.0"), findings)
}

/// Returns a time in milliseconds; negative ones are errors.
pub(crate) fn seconds(raw: &Raw, findings: &mut Findings<'_>) -> Option<Points> {
    thousandths(raw, ("a time", "times are seconds, such as 90 or 1.5"), findings)
}

/// Returns a plain number in thousandths; negative ones are errors.
pub(crate) fn number(raw: &Raw, findings: &mut Findings<'_>) -> Option<Points> {
    thousandths(raw, ("this number", "numbers look like 2 or 0.5"), findings)
}

fn thousandths(
    raw: &Raw,
    (what, remedy): (&str, &str),
    findings: &mut Findings<'_>,
) -> Option<Points> {
    match bare(raw).parse::<Points>() {
        Ok(points) if points >= Points::ZERO => Some(points),
        Ok(_) => {
            let why = format!("{what} is not negative");
            refuse(raw, findings, &why, "write it without the minus")
        }
        Err(error) => refuse(raw, findings, &error.to_string(), remedy),
    }
}

/// Returns degrees between -720 and 3600.
pub(crate) fn degrees(raw: &Raw, findings: &mut Findings<'_>) -> Option<f64> {
    match bare(raw).parse::<f64>() {
        Ok(degrees) if (-720.0..=3600.0).contains(&degrees) => Some(degrees),
        _ => refuse(raw, findings, "this is no angle in degrees", "angles look like 20 or 22.5"),
    }
}

/// Returns a whole number from 0 to 10 000.
pub(crate) fn whole(raw: &Raw, findings: &mut Findings<'_>) -> Option<u32> {
    match bare(raw).parse::<u32>() {
        Ok(whole) if whole <= 10_000 => Some(whole),
        _ => refuse(raw, findings, "this is no whole number", "counts look like 1 or 6"),
    }
}

fn bare(raw: &Raw) -> String {
    raw.text.trim_start_matches('+').replace('_', "")
}

fn refuse<T>(raw: &Raw, findings: &mut Findings<'_>, why: &str, remedy: &str) -> Option<T> {
    findings.error(&raw.span, why.to_owned(), remedy);
    None
}
