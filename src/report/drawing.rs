//! Charts of agreement as SVG inside a page: no script, no other file, readable in black and white.

use maud::{Markup, html};

use crate::practice::{
    agreement::{KindLine, NumberLine, OverTime},
    statistics::{Differences, Interval},
};

/// Width of every chart in units of the drawing.
const WIDTH: f64 = 640.0;
/// Room on the left for names and numbers.
const LEFT: f64 = 168.0;
/// Room on the right.
const RIGHT: f64 = 24.0;

/// Returns each difference against the mean of both, with the bias and the limits of agreement.
pub fn differences(line: &NumberLine, found: &Differences) -> Markup {
    const HEIGHT: f64 = 240.0;
    let points: Vec<(f64, f64)> =
        line.pairs.iter().map(|(a, b)| (f64::midpoint(*a, *b), b - a)).collect();
    let means = Scale::over(points.iter().map(|point| point.0), (90.0, WIDTH - 150.0));
    let ends = [found.lower_limit_interval.low, found.upper_limit_interval.high, 0.0];
    let heights =
        Scale::over(points.iter().map(|point| point.1).chain(ends), (HEIGHT - 40.0, 14.0));
    let said = |value: f64| line.unit.of(value);
    let lines = [
        ("upper limit", found.limits.high, "6 4", &found.upper_limit_interval),
        ("bias", found.bias, "", &found.bias_interval),
        ("lower limit", found.limits.low, "6 4", &found.lower_limit_interval),
    ];
    let title = format!("{}: difference against mean", line.kind);
    html! {
        svg viewBox={ "0 0 " (WIDTH) " " (HEIGHT) } role="img" aria-label=(title) {
            @for (_, _, _, band) in &lines {
                rect.band x="90" width=(WIDTH - 240.0) y=(at(heights.place(band.high)))
                    height=(at((heights.place(band.low) - heights.place(band.high)).max(0.0))) {}
            }
            line.axis x1="90" x2=(WIDTH - 150.0) y1=(at(heights.place(0.0))) y2=(at(heights.place(0.0))) {}
            text x="84" y=(at(heights.place(0.0) + 4.0)) text-anchor="end" { "0" }
            @for (name, value, dash, _) in &lines {
                line.mark x1="90" x2=(WIDTH - 150.0) y1=(at(heights.place(*value)))
                    y2=(at(heights.place(*value))) stroke-dasharray=(dash) {}
                text x=(WIDTH - 142.0) y=(at(heights.place(*value) + 4.0)) { (name) " " (said(*value)) }
            }
            @for (mean, off) in &points {
                circle cx=(at(means.place(*mean))) cy=(at(heights.place(*off))) r="3.5" {}
            }
            text x="90" y=(HEIGHT - 18.0) { (said(means.low)) }
            text x=(WIDTH - 150.0) y=(HEIGHT - 18.0) text-anchor="end" { (said(means.high)) }
            text.soft x=((WIDTH - 60.0) / 2.0) y=(HEIGHT - 2.0) text-anchor="middle" { "mean of both" }
            text.soft x="6" y="24" { "difference" }
        }
    }
}

/// Returns the share of calls that are the same from date to date.
pub fn over_time(dates: &[OverTime]) -> Markup {
    let rows: Vec<Bar> = dates
        .iter()
        .filter_map(|at| {
            let same = at.same.0.as_ref().ok()?;
            let name = if at.date.is_empty() { "no date" } else { &at.date };
            Some(Bar {
                name: name.to_owned(),
                share: same.share,
                interval: same.interval,
                of: same.of,
            })
        })
        .collect();
    bars("Calls that are the same, by date", &rows)
}

/// Returns the share of calls that are the same, kind by kind.
pub fn by_kind(kinds: &[KindLine]) -> Markup {
    let rows: Vec<Bar> = kinds
        .iter()
        .filter_map(|line| {
            let same = line.same.0.as_ref().ok()?;
            let (share, interval, of) = (same.share, same.interval, same.of);
            Some(Bar { name: line.kind.clone(), share, interval, of })
        })
        .collect();
    bars("Calls that are the same, by kind", &rows)
}

struct Bar {
    name: String,
    share: f64,
    interval: Interval,
    of: usize,
}

/// Draws shares as bars with their 95 % intervals as whiskers.
fn bars(title: &str, rows: &[Bar]) -> Markup {
    const ROW: f64 = 24.0;
    let height = rows.len() as f64 * ROW + 26.0;
    let scale = Scale { low: 0.0, high: 1.0, from: LEFT, to: WIDTH - RIGHT - 70.0 };
    let bottom = height - 20.0;
    html! {
        svg viewBox={ "0 0 " (WIDTH) " " (at(height)) } role="img" aria-label=(title) {
            @for share in [0.0, 0.25, 0.5, 0.75, 1.0] {
                line.grid x1=(at(scale.place(share))) x2=(at(scale.place(share))) y1="0" y2=(at(bottom)) {}
                text.soft x=(at(scale.place(share))) y=(at(height - 5.0)) text-anchor="middle" {
                    (format!("{:.0} %", share * 100.0))
                }
            }
            @for (number, row) in rows.iter().enumerate() {
                @let y = number as f64 * ROW;
                text x=(LEFT - 8.0) y=(at(y + 16.0)) text-anchor="end" { (short(&row.name)) }
                rect.bar x=(LEFT) y=(at(y + 5.0)) height="14" width=(at(scale.place(row.share) - LEFT)) {}
                line.mark x1=(at(scale.place(row.interval.low))) x2=(at(scale.place(row.interval.high)))
                    y1=(at(y + 12.0)) y2=(at(y + 12.0)) {}
                @for end in [row.interval.low, row.interval.high] {
                    line.mark x1=(at(scale.place(end))) x2=(at(scale.place(end)))
                        y1=(at(y + 7.0)) y2=(at(y + 17.0)) {}
                }
                text x=(WIDTH - RIGHT - 58.0) y=(at(y + 16.0)) { (format!("{:.0} % of {}", row.share * 100.0, row.of)) }
            }
        }
    }
}

/// A straight scale from values to places in the drawing.
struct Scale {
    low: f64,
    high: f64,
    from: f64,
    to: f64,
}

impl Scale {
    /// Returns a scale that holds all the values with a little room.
    fn over(values: impl Iterator<Item = f64>, (from, to): (f64, f64)) -> Self {
        let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
            (low.min(value), high.max(value))
        });
        // Values that are all the same still need a width.
        let room = if high > low { (high - low) * 0.05 } else { 0.5 };
        Self { low: low - room, high: high + room, from, to }
    }

    fn place(&self, value: f64) -> f64 {
        self.from + (value - self.low) / (self.high - self.low) * (self.to - self.from)
    }
}

/// Returns a place to a tenth of a unit, which keeps the page small.
fn at(place: f64) -> String {
    format!("{place:.1}")
}

fn short(name: &str) -> String {
    const SHOWN: usize = 26;
    if name.chars().count() <= SHOWN {
        return name.to_owned();
    }
    name.chars().take(SHOWN - 1).chain(['…']).collect()
}
