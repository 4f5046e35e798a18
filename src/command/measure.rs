use std::{
    io::{self, Write},
    path::PathBuf,
};

use crate::command::printed;
use clap::Args;
use serde_json::{Value, json};
use stillcall::{
    geometry::{Limit, Measured, Method},
    judged::{JudgedError, Judging, Marked},
    marks::{Outcome, Remeasured, StateFolder},
    rulebook::{Angle, Book},
    sheet::ScoreSheet,
    units::Unit,
};

#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// Marks file, `<clip>.<routine>.<judge>.marks.json`.
    marks: PathBuf,
    /// Print JSON instead of text.
    #[arg(long)]
    json: bool,
    /// Rule book to decide by instead of the one the marks name: a name or a TOML file.
    #[arg(long, value_name = "NAME|FILE")]
    rulebook: Option<String>,
}

/// A reading worked out anew, with the rules that ask for it.
struct Decided<'a> {
    reading: &'a Remeasured,
    rules: Vec<&'a Angle>,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let state = StateFolder::of_user();
    let mut judging = Judging::under(arguments.rulebook.as_deref(), state.as_ref())?;
    let marked = judging.read(&arguments.marks)?;
    super::tell_all(&marked.told)?;
    let ruled = match judging.book_of(&marked) {
        // Readings are measured without a book too; there is only nothing to decide.
        Err(JudgedError::NoBook { .. }) => None,
        found => Some(found?),
    };
    if let Some(said) = ruled.as_ref().and_then(|ruled| ruled.said_of(&marked.path)) {
        writeln!(printed::err(), "{said}")?;
    }
    let sheet = ruled.as_ref().map(|ruled| (&*ruled.book, marked.sheet(ruled, None)));
    let decided = |reading| {
        let sheet = sheet.as_ref();
        let rules = sheet.map(|(book, sheet)| rules(book, &marked, sheet, reading));
        Decided { reading, rules: rules.unwrap_or_default() }
    };
    let readings: Vec<Decided<'_>> = marked.readings.iter().map(decided).collect();
    let mut out = printed::out();
    if arguments.json {
        let list: Vec<Value> = readings.iter().map(as_json).collect();
        serde_json::to_writer_pretty(&mut out, &json!({ "readings": list }))?;
        writeln!(out)?;
    } else {
        write_text(&mut out, &readings)?;
    }
    Ok(out.flush()?)
}

/// Returns the rules that ask the reading's element for its quantity, by the sheet of the marks.
fn rules<'a>(
    book: &'a Book,
    Marked { sheaf, .. }: &Marked,
    sheet: &ScoreSheet,
    reading: &Remeasured,
) -> Vec<&'a Angle> {
    let of = sheaf.readings.iter().find(|it| it.id == reading.id).map(|it| it.of);
    of.map(|of| sheet.asked_of(book, of, reading.quantity).collect()).unwrap_or_default()
}

/// Returns what a reading says of a limit, as a sign and a word.
fn verdict(reading: &Remeasured, limit: Limit) -> &'static str {
    let [value, u] = reading.stored;
    match &reading.outcome {
        Outcome::Measured(measured) => measured.decide(limit).words(),
        Outcome::Stated | Outcome::Refused(_) => {
            stillcall::geometry::decide(value, u, limit).words()
        }
    }
}

fn as_json(Decided { reading, rules }: &Decided<'_>) -> Value {
    let [value, u] = reading.stored;
    let mut one = json!({
        "reading": reading.id,
        "quantity": reading.quantity,
        "unit": reading.quantity.unit().words(),
        "stored": { "value": value, "u": u },
    });
    let (key, outcome) = match &reading.outcome {
        Outcome::Stated => ("stated_by_a_person", json!(true)),
        Outcome::Measured(measured) => ("measured", json!(measured)),
        Outcome::Refused(refusal) => ("refused", json!(refusal.to_string())),
    };
    one[key] = outcome;
    if let Some(change) = reading.change() {
        one["change"] = json!(change);
    }
    let decision = |rule: &&Angle| {
        json!({ "rule": rule.id, "label": rule.label, "asks": rule.asks(),
                "decision": verdict(reading, rule.limit()) })
    };
    one["decisions"] = rules.iter().map(decision).collect();
    one
}

fn write_text(out: &mut impl Write, readings: &[Decided<'_>]) -> io::Result<()> {
    if readings.is_empty() {
        writeln!(out, "no readings")?;
    }
    for Decided { reading, rules } in readings {
        let (words, unit) = (reading.quantity.words(), reading.quantity.unit());
        let [value, u] = reading.stored;
        let stored = unit.write_with(value, u);
        match &reading.outcome {
            Outcome::Stated => {
                writeln!(out, "{}  {words}: {stored}, stated without points", reading.id.0)?;
            }
            Outcome::Refused(refusal) => {
                writeln!(out, "{}  {words}: not measured: {refusal}", reading.id.0)?;
                writeln!(out, "     the value kept is {stored}")?;
            }
            Outcome::Measured(measured) => {
                write!(out, "{}  {words}: ", reading.id.0)?;
                write_measured(out, measured, unit)?;
            }
        }
        if let Some(change) = reading.change() {
            writeln!(out, "     {change}")?;
        }
        for rule in rules {
            let verdict = verdict(reading, rule.limit());
            writeln!(out, "     {verdict}: {}, {}", rule.label, rule.asks())?;
        }
    }
    Ok(())
}

fn write_measured(out: &mut impl Write, measured: &Measured, unit: Unit) -> io::Result<()> {
    let [low, high] = measured.interval.map(|end| unit.write(end));
    let drawn = if measured.method == Method::MonteCarlo { ", drawn" } else { "" };
    let value = unit.write_with(measured.value, measured.u);
    writeln!(out, "{value} (95 %: {low} to {high}{drawn})")?;
    for note in &measured.notes {
        writeln!(out, "     {note}")?;
    }
    if let Some(residual) = measured.residual {
        writeln!(out, "     points of the plane miss their places by {residual:.1} px")?;
    }
    for share in &measured.budget {
        let u = share.u.0;
        match unit {
            Unit::Degree => write!(out, "     ± {u:.2}°")?,
            Unit::Metre => write!(out, "     ± {:.1} cm", u * 100.0)?,
            Unit::ShoulderWidth => write!(out, "     ± {u:.3}")?,
        }
        writeln!(out, "  {}", share.cause.words())?;
    }
    if let Some(worst) = measured.worst() {
        writeln!(out, "     most of it is {}", worst.words())?;
        writeln!(out, "     what would help most: {}", worst.help())?;
    }
    Ok(())
}
