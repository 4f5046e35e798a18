//! Charts of agreement as lines, areas, dots and words, for a page and for the window alike.

use crate::practice::{
    agreement::{KindLine, NumberLine, OverTime, date_words},
    statistics::{Differences, Proportion, Range},
};

/// Width of every chart in its own units.
const WIDTH: f64 = 640.0;
/// Room on the left for names.
const LEFT: f64 = 168.0;
/// Room on the right for numbers.
const RIGHT: f64 = 94.0;
/// Letters of a name that have room.
const NAME: usize = 26;

/// A chart; x goes to the right and y down.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// What it shows, for those who do not see it.
    pub title: String,
    /// Width and height in its own units.
    pub size: [f64; 2],
    /// What is drawn, from back to front.
    pub pieces: Vec<ChartPiece>,
}

/// Something drawn.
#[derive(Clone, Debug, PartialEq)]
pub enum ChartPiece {
    /// A line.
    Line {
        /// Its ends.
        ends: [[f64; 2]; 2],
        /// What it stands for.
        stroke: ChartStroke,
    },
    /// A filled rectangle.
    Area {
        /// Its upper left corner.
        corner: [f64; 2],
        /// Width and height.
        size: [f64; 2],
        /// What it stands for.
        fill: Fill,
    },
    /// One pair of answers.
    Dot([f64; 2]),
    /// Words, whose foot lies at a point.
    Words {
        /// The point.
        at: [f64; 2],
        /// The words.
        words: String,
        /// Which of their sides lies there.
        side: TextSide,
    },
}

/// What a line stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ChartStroke {
    /// Part of a scale.
    Grid,
    /// No difference.
    Axis,
    /// A value or an interval.
    Value,
    /// A limit: dashed.
    Limit,
}

/// What an area stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// A share.
    Bar,
    /// An interval.
    Band,
}

/// Which side of words lies at their point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TextSide {
    /// Where they begin.
    Start,
    /// Their middle.
    Middle,
    /// Where they end.
    End,
}

/// Returns each difference against the mean of both, with the bias and the limits of agreement.
pub fn differences(line: &NumberLine, found: &Differences) -> Drawing {
    const HEIGHT: f64 = 240.0;
    const FROM: f64 = 90.0;
    const TO: f64 = WIDTH - 150.0;
    let points: Vec<(f64, f64)> =
        line.pairs.iter().map(|(a, b)| (f64::midpoint(*a, *b), b - a)).collect();
    let means = Scale::over(points.iter().map(|point| point.0), [FROM, TO]);
    let bands = [&found.upper_limit_interval, &found.bias_interval, &found.lower_limit_interval];
    let bands = bands.into_iter().filter_map(|band| band.0.as_ref().ok());
    let ends = bands.clone().flat_map(|band| [band.low, band.high]);
    let ends = ends.chain([found.limits.low, found.limits.high, 0.0]);
    let heights =
        Scale::over(points.iter().map(|point| point.1).chain(ends), [HEIGHT - 40.0, 14.0]);
    let across = |value: f64| [FROM, TO].map(|x| [x, heights.place(value)]);
    let values = [
        ("upper limit", found.limits.high, ChartStroke::Limit),
        ("bias", found.bias, ChartStroke::Value),
        ("lower limit", found.limits.low, ChartStroke::Limit),
    ];
    let bands = bands.map(|band| {
        let [top, foot] = [band.high, band.low].map(|end| heights.place(end));
        let size = [TO - FROM, (foot - top).max(0.0)];
        ChartPiece::Area { corner: [FROM, top], size, fill: Fill::Band }
    });
    let mut pieces: Vec<ChartPiece> = bands.collect();
    pieces.push(ChartPiece::Line { ends: across(0.0), stroke: ChartStroke::Axis });
    pieces.push(words([FROM - 6.0, heights.place(0.0) + 4.0], "0", TextSide::End));
    for (name, value, stroke) in values {
        pieces.push(ChartPiece::Line { ends: across(value), stroke });
        let said = format!("{name} {}", line.unit.of(value));
        pieces.push(words([TO + 8.0, heights.place(value) + 4.0], &said, TextSide::Start));
    }
    pieces.extend(
        points.iter().map(|(mean, off)| ChartPiece::Dot([means.place(*mean), heights.place(*off)])),
    );
    let foot = HEIGHT - 18.0;
    pieces.push(words([FROM, foot], &line.unit.of(means.low), TextSide::Start));
    pieces.push(words([TO, foot], &line.unit.of(means.high), TextSide::End));
    let middle = f64::midpoint(FROM, TO);
    pieces.push(words([middle, HEIGHT - 2.0], "mean of both", TextSide::Middle));
    pieces.push(words([6.0, 24.0], "difference", TextSide::Start));
    let title = format!("{}: difference against mean", line.kind);
    Drawing { title, size: [WIDTH, HEIGHT], pieces }
}

/// Returns the share of calls that are the same from date to date.
pub fn over_time(dates: &[OverTime]) -> Drawing {
    let rows =
        dates.iter().filter_map(|at| Some(Bar::of(date_words(&at.date), at.same.0.as_ref().ok()?)));
    bars("Calls that are the same, by date", &rows.collect::<Vec<Bar>>())
}

/// Returns the share of calls that are the same, kind by kind.
pub fn by_kind(kinds: &[KindLine]) -> Drawing {
    let rows =
        kinds.iter().filter_map(|line| Some(Bar::of(&line.kind, line.same.0.as_ref().ok()?)));
    bars("Calls that are the same, by kind", &rows.collect::<Vec<Bar>>())
}

struct Bar {
    name: String,
    share: f64,
    interval: Range,
    of: usize,
}

impl Bar {
    fn of(name: &str, same: &Proportion) -> Self {
        let (share, interval, of) = (same.share, same.interval, same.of);
        Self { name: short(name), share, interval, of }
    }
}

/// Draws shares as bars with their 95 % intervals as whiskers, where they have one.
fn bars(title: &str, rows: &[Bar]) -> Drawing {
    const ROW: f64 = 24.0;
    let height = rows.len() as f64 * ROW + 26.0;
    let scale = Scale { low: 0.0, high: 1.0, ends: [LEFT, WIDTH - RIGHT] };
    let line = |a: [f64; 2], b: [f64; 2], stroke| ChartPiece::Line { ends: [a, b], stroke };
    let mut pieces = Vec::new();
    for share in [0.0, 0.25, 0.5, 0.75, 1.0] {
        let x = scale.place(share);
        pieces.push(line([x, 0.0], [x, height - 20.0], ChartStroke::Grid));
        let said = format!("{:.0} %", share * 100.0);
        pieces.push(words([x, height - 5.0], &said, TextSide::Middle));
    }
    for (number, row) in rows.iter().enumerate() {
        let y = number as f64 * ROW;
        pieces.push(words([LEFT - 8.0, y + 16.0], &row.name, TextSide::End));
        let size = [scale.place(row.share) - LEFT, 14.0];
        pieces.push(ChartPiece::Area { corner: [LEFT, y + 5.0], size, fill: Fill::Bar });
        if let Ok(interval) = row.interval.0 {
            let ends = [interval.low, interval.high].map(|end| scale.place(end));
            pieces.push(line([ends[0], y + 12.0], [ends[1], y + 12.0], ChartStroke::Value));
            pieces.extend(ends.map(|x| line([x, y + 7.0], [x, y + 17.0], ChartStroke::Value)));
        }
        let said = format!("{:.0} % of {}", row.share * 100.0, row.of);
        pieces.push(words([WIDTH - RIGHT + 12.0, y + 16.0], &said, TextSide::Start));
    }
    Drawing { title: title.to_owned(), size: [WIDTH, height], pieces }
}

fn words(at: [f64; 2], words: &str, side: TextSide) -> ChartPiece {
    ChartPiece::Words { at, words: words.to_owned(), side }
}

/// A straight scale from values to places in the drawing.
struct Scale {
    low: f64,
    high: f64,
    ends: [f64; 2],
}

impl Scale {
    /// Returns a scale that holds all the values with a little room.
    fn over(values: impl Iterator<Item = f64>, ends: [f64; 2]) -> Self {
        let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
            (low.min(value), high.max(value))
        });
        // Values that are all the same still need a width.
        let room = if high > low { (high - low) * 0.05 } else { 0.5 };
        Self { low: low - room, high: high + room, ends }
    }

    fn place(&self, value: f64) -> f64 {
        let [from, to] = self.ends;
        from + (value - self.low) / (self.high - self.low) * (to - from)
    }
}

fn short(name: &str) -> String {
    if name.chars().count() <= NAME {
        return name.to_owned();
    }
    name.chars().take(NAME - 1).chain(['…']).collect()
}
