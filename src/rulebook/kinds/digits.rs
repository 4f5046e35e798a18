//! Decimals that are kept of a score.

use crate::rulebook::rows::{Findings, Row};

/// Reports more decimals than a score has.
pub(super) fn check(digits: u32, row: &Row, findings: &mut Findings<'_>) {
    if digits > 3 {
        let message = "a score has at most three decimals".to_owned();
        findings.error(&row.span_of("digits"), message, "write 1, 2 or 3");
    }
}
