use std::{
    io::{self, Write},
    path::PathBuf,
};

use clap::Args;
use serde_json::{Value, json};
use stillcall::{
    geometry::{Measured, Method},
    marks::{self, Outcome, Remeasured, StateFolder},
};

#[derive(Debug, Args)]
pub struct Arguments {
    /// Marks file, `<clip>.<routine>.<judge>.marks.json`.
    marks: PathBuf,
    /// Print JSON instead of text.
    #[arg(long)]
    json: bool,
}

pub fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let sheaf = marks::load(&arguments.marks, StateFolder::of_user().as_ref())?;
    let readings = marks::remeasure(&sheaf);
    let mut out = io::stdout().lock();
    if arguments.json {
        let list: Vec<Value> = readings.iter().map(as_json).collect();
        serde_json::to_writer_pretty(&mut out, &json!({ "readings": list }))?;
        writeln!(out)?;
    } else {
        write_text(&mut out, &readings)?;
    }
    Ok(out.flush()?)
}

fn as_json(reading: &Remeasured) -> Value {
    let [value, u] = reading.stored;
    let mut one = json!({
        "reading": reading.id,
        "quantity": reading.quantity,
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
    one
}

fn write_text(out: &mut impl Write, readings: &[Remeasured]) -> io::Result<()> {
    if readings.is_empty() {
        writeln!(out, "no readings")?;
    }
    for reading in readings {
        let words = reading.quantity.words();
        let [value, u] = reading.stored;
        match &reading.outcome {
            Outcome::Stated => {
                writeln!(out, "{}  {words}: {value} ± {u}, stated without points", reading.id.0)?;
            }
            Outcome::Refused(refusal) => {
                writeln!(out, "{}  {words}: not measured: {refusal}", reading.id.0)?;
                writeln!(out, "     the value kept is {value} ± {u}")?;
            }
            Outcome::Measured(measured) => {
                write!(out, "{}  {words}: ", reading.id.0)?;
                write_measured(out, measured)?;
            }
        }
        if let Some(change) = reading.change() {
            writeln!(out, "     {change}")?;
        }
    }
    Ok(())
}

fn write_measured(out: &mut impl Write, measured: &Measured) -> io::Result<()> {
    let [low, high] = measured.interval;
    let drawn = if measured.method == Method::MonteCarlo { ", drawn" } else { "" };
    writeln!(out, "{} ± {} (95 %: {low} to {high}{drawn})", measured.value, measured.u)?;
    for note in &measured.notes {
        writeln!(out, "     {note}")?;
    }
    if let Some(residual) = measured.residual {
        writeln!(out, "     points of the plane miss their places by {residual:.1} px")?;
    }
    for share in &measured.budget {
        writeln!(out, "     ± {:.2}°  {}", share.u.0, share.cause.words())?;
    }
    if let Some(worst) = measured.worst() {
        writeln!(out, "     what would help most: {}", worst.help())?;
    }
    Ok(())
}
