//! Each number of the report in words.

use std::fmt::Write as _;

use super::{
    compared::ComparedUnit,
    group::{CategoryLine, ValueLine},
    model::{KindLine, NumberLine, NumbersOn, ScoreLine},
};
use crate::{
    practice::statistics::{Interval, Proportion, Range},
    units::fixed,
};

/// Returns how people agree on one kind of call in words.
pub(crate) fn call_words(line: &CategoryLine) -> String {
    match &line.value.0 {
        Ok(value) => {
            let ends =
                line.interval.as_ref().map(|it| format!(" ({})", range_words(it, coefficient)));
            let ends = ends.unwrap_or_default();
            format!("{} {}{ends} over {} items", line.statistic, coefficient(*value), line.items)
        }
        Err(why) => format!("no {}: {why}", line.statistic),
    }
}

/// Returns how people agree on one kind of number in words.
pub(crate) fn value_words(line: &ValueLine) -> String {
    let mut words = match &line.correlation.0 {
        Ok(found) => {
            let ends = range_words(&found.single_interval, coefficient);
            let error = line.unit.of(found.standard_error);
            format!("ICC {} ({ends}), standard error {error}", coefficient(found.single))
        }
        Err(why) => format!("no ICC: {why}"),
    };
    if line.left_out > 0 {
        let _ = write!(words, "; {} left out, not answered by everybody", line.left_out);
    }
    words
}

/// Returns one kind of call in words.
pub(crate) fn kind_words(line: &KindLine) -> String {
    let mut words = match &line.same.0 {
        Ok(same) => share_words(same),
        Err(why) => why.to_string(),
    };
    match &line.kappa.0 {
        Ok(kappa) => {
            let ends = range_words(&kappa.interval, coefficient);
            let _ = write!(words, "; kappa {} ({ends})", coefficient(kappa.value));
            if kappa.misleads {
                let _ = write!(
                    words,
                    ", which misleads because nearly all answers are alike: AC1 is {}",
                    coefficient(kappa.ac1)
                );
            }
        }
        Err(why) if line.same.0.is_ok() => {
            let _ = write!(words, "; no kappa: {why}");
        }
        Err(_) => {}
    }
    if let Some((reference, other, times)) = &line.differs {
        let _ = write!(words, "; most often \"{other}\" for \"{reference}\" ({times})");
    }
    if line.open > 0 {
        let _ = write!(words, "; {} left open, not counted", line.open);
    }
    words
}

/// Returns one kind of number in words.
pub(crate) fn number_words(line: &NumberLine) -> String {
    let of = |value: f64| line.unit.of(value);
    match (&line.differences.0, &line.pairs[..]) {
        (Ok(found), _) => {
            let mut words = format!(
                "{} pairs: bias {} ({}), limits of agreement {}",
                found.pairs,
                signed(line.unit, found.bias),
                range_words(&found.bias_interval, |end| signed(line.unit, end)),
                between(&found.limits, |end| signed(line.unit, end)),
            );
            if let Ok(within) = &found.tolerance.0 {
                let ends = between(within, |end| signed(line.unit, end));
                let _ = write!(words, ", with 95 % confidence within {ends}");
            }
            match &line.correlation.0 {
                Ok(icc) => {
                    let ends = range_words(&icc.single_interval, coefficient);
                    let error = of(icc.standard_error);
                    let single = coefficient(icc.single);
                    let _ = write!(words, "; ICC {single} ({ends}), standard error {error}");
                }
                Err(why) => {
                    let _ = write!(words, "; no ICC: {why}");
                }
            }
            words
        }
        (Err(_), [(reference, other)]) => {
            format!(
                "{} for {}: off by {}",
                of(*other),
                of(*reference),
                signed(line.unit, other - reference)
            )
        }
        (Err(why), _) => why.to_string(),
    }
}

/// Returns the bias of one kind of number from date to date in words, where there are two dates.
pub(crate) fn dates_words(line: &NumberLine) -> Vec<(String, String)> {
    let on = |at: &NumbersOn| {
        let said = match &at.differences.0 {
            Ok(found) => format!(
                "{} pairs: bias {} ({})",
                found.pairs,
                signed(line.unit, found.bias),
                range_words(&found.bias_interval, |end| signed(line.unit, end))
            ),
            Err(why) => why.to_string(),
        };
        (format!("on {}", date_words(&at.date)), said)
    };
    if line.over_time.len() > 1 { line.over_time.iter().map(on).collect() } else { Vec::new() }
}

/// Returns one score beside the reference's in words.
pub(crate) fn score_words(line: &ScoreLine) -> String {
    let score =
        |score: Option<_>| score.map_or("void".to_owned(), |s: crate::units::Points| s.to_string());
    let mut words = format!("{} for {}", score(line.score), score(line.reference));
    match (line.difference, line.allowed, line.inside) {
        (Some(off), Some(allowed), Some(inside)) => {
            let verdict = if inside { "inside" } else { "beyond" };
            let off = signed(ComparedUnit::Points, off.0 as f64 / 1000.0);
            let _ = write!(words, ", {off}: {verdict} the {allowed} that the book allows");
        }
        (Some(off), ..) => {
            let off = signed(ComparedUnit::Points, off.0 as f64 / 1000.0);
            let _ = write!(words, ", {off}; the book names no allowed difference");
        }
        (None, ..) if line.score.is_some() != line.reference.is_some() => {
            words += ": one says void and one does not";
        }
        _ => {}
    }
    words
}

/// Returns a share in words: `14 of 20 the same, 70 % (48 to 85 %)`.
pub(crate) fn share_words(same: &Proportion) -> String {
    let percent = |share: f64| format!("{:.0}", share * 100.0);
    let ends = match &same.interval.0 {
        Ok(Interval { low, high }) => format!("{} to {} %", percent(*low), percent(*high)),
        Err(why) => why.to_string(),
    };
    format!("{} of {} the same, {} % ({ends})", same.hits, same.of, percent(same.share))
}

/// Returns a date, or that there is none.
pub(crate) fn date_words(date: &str) -> &str {
    if date.is_empty() { "no date" } else { date }
}

/// Returns a difference with its sign and unit; what rounds to nothing has no sign.
pub fn signed(unit: ComparedUnit, value: f64) -> String {
    let text = unit.of(value);
    if value > 0.0 && text != unit.of(0.0) { format!("+{text}") } else { text }
}

/// Returns a number between −1 and 1 that has no unit.
fn coefficient(value: f64) -> String {
    fixed(value, 2)
}

/// Returns an interval in words, or why there is none.
pub fn range_words(range: &Range, end: impl Fn(f64) -> String) -> String {
    range.0.as_ref().map_or_else(ToString::to_string, |interval| between(interval, end))
}

/// Returns an interval in words.
pub fn between(interval: &Interval, end: impl Fn(f64) -> String) -> String {
    format!("{} to {}", end(interval.low), end(interval.high))
}
