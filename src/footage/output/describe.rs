use std::fmt::Write;

use crate::{
    footage::{Footage, Matrix, SampleRange, Soundness, TimeSource, Transfer},
    units::Ticks,
};

/// Turning speed for which the length of one frame is shown as an angle; a fast swing.
const SWING_DEGREES_PER_SECOND: f64 = 450.0;

/// Rows of frames that are named before the rest is only counted.
const MOST_PLACES: usize = 8;

/// Returns what was found in a clip as a few lines of plain words.
pub fn frames_text(footage: &Footage) -> String {
    let mut text = String::new();
    let mut line = |label: &str, value: &str| {
        // Writing to a string cannot fail.
        let _ = writeln!(text, "{label:<14} {value}");
    };
    line("Picture", &picture(footage));
    line("Video", &video(footage));
    line("Frames", &footage.table().len().to_string());
    line("Length", &format!("{:.3} s", seconds(footage, footage.table().end())));
    line("Frame rate", &rate(footage));
    line("Evenness", &evenness(footage));
    line("Key pictures", &keys(footage));
    line("Turned", &turned(footage));
    line("Colour", &colour(footage));
    line("One frame", &one_frame(footage));
    let frames = 0..footage.table().len();
    let entries = footage.table().entries();
    let of_source =
        |source: TimeSource| places(frames.clone().filter(|&k| entries[k].source == source));
    let are = |soundness: Soundness| {
        places(frames.clone().filter(|&k| entries[k].soundness == soundness))
    };
    for (label, places) in [
        ("Joined", of_source(TimeSource::Joined)),
        ("Assumed times", of_source(TimeSource::Assumed)),
        ("Repeated", places(frames.clone().filter(|&k| footage.table().repeats(k)))),
        ("Damaged", are(Soundness::Damaged)),
        ("After damage", are(Soundness::Following)),
    ] {
        if !places.is_empty() {
            line(label, &places);
        }
    }
    for note in &footage.facts().notes {
        line("Note", &note.to_string());
    }
    text
}

fn seconds(footage: &Footage, ticks: Ticks) -> f64 {
    footage.facts().time_base.seconds(ticks)
}

fn picture(footage: &Footage) -> String {
    let facts = footage.facts();
    let upright = facts.upright;
    let shown = format!("{} x {} pixels", facts.width, facts.height);
    if [upright.coded_width, upright.coded_height] == [facts.width, facts.height] {
        return shown;
    }
    let (w, h) = (upright.coded_width, upright.coded_height);
    let pixel = upright.pixel;
    if pixel.width == pixel.height {
        format!("{shown} (stored as {w} x {h})")
    } else {
        format!("{shown} (stored as {w} x {h}, pixel shape {}:{})", pixel.width, pixel.height)
    }
}

fn video(footage: &Footage) -> String {
    let facts = footage.facts();
    format!("{}, {}, in {}", facts.codec, facts.pixel_format, facts.container)
}

fn rate(footage: &Footage) -> String {
    let facts = footage.facts();
    let found = match usual_step(footage) {
        Some(step) => format!("{} frames a second", number(1.0 / step)),
        None => "one picture only".to_owned(),
    };
    let frames = footage.table().len();
    let length = seconds(footage, footage.table().end());
    let average = if length > 0.0 { frames as f64 / length } else { 0.0 };
    let stated = facts.stated_rate.map_or_else(String::new, |[n, d]| {
        format!(", {} stated by the file", number(f64::from(n) / f64::from(d)))
    });
    format!("{found}; {} on average{stated}", number(average))
}

/// Returns how far the steps between frames differ.
fn evenness(footage: &Footage) -> String {
    let steps = steps(footage);
    let (Some(&least), Some(&most)) = (steps.first(), steps.last()) else {
        return "nothing to compare".to_owned();
    };
    let unit = seconds(footage, Ticks(1));
    let milliseconds = |ticks: i64| number(ticks as f64 * unit * 1000.0);
    // A coarse clock rounds to its own tick, which is not uneven.
    if most - least <= 1 {
        return format!("even, {} ms from frame to frame", milliseconds(steps[steps.len() / 2]));
    }
    format!(
        "uneven, {} to {} ms from frame to frame, mostly {}",
        milliseconds(least),
        milliseconds(most),
        milliseconds(steps[steps.len() / 2]),
    )
}

fn keys(footage: &Footage) -> String {
    let entries = footage.table().entries();
    let keys: Vec<usize> =
        entries.iter().enumerate().filter(|(_, entry)| entry.key).map(|(k, _)| k).collect();
    let ends = keys.iter().copied().skip(1).chain([entries.len()]);
    let longest = keys.iter().zip(ends).map(|(start, end)| end - start).max().unwrap_or(0);
    format!("{}; longest run from one to the next {longest} frames", keys.len())
}

fn turned(footage: &Footage) -> String {
    let orientation = footage.facts().upright.orientation;
    let turn = match orientation.quarter_turns % 4 {
        0 => "not turned",
        1 => "a quarter turn clockwise",
        2 => "upside down",
        _ => "a quarter turn anticlockwise",
    };
    if orientation.mirrored { format!("mirrored, {turn}") } else { turn.to_owned() }
}

fn colour(footage: &Footage) -> String {
    let colour = footage.facts().colour;
    let matrix = match colour.matrix {
        Matrix::Rgb => "RGB",
        Matrix::Bt601 => "BT.601",
        Matrix::Bt709 => "BT.709",
        Matrix::Bt2020 => "BT.2020",
        Matrix::Smpte240 => "SMPTE 240M",
        Matrix::Fcc => "FCC",
    };
    let range = match colour.range {
        SampleRange::Limited => "limited range",
        SampleRange::Full => "full range",
    };
    let transfer = match colour.transfer {
        Transfer::Sdr => "",
        Transfer::Hlg => ", HLG",
        Transfer::Pq => ", PQ",
    };
    let assumed =
        if colour.tagged { "" } else { " (assumed from the size; the file does not say)" };
    format!("{matrix}, {range}{transfer}{assumed}")
}

/// Returns frames by their numbers, rows of them as first and last, at most [`MOST_PLACES`] rows.
fn places(frames: impl Iterator<Item = usize>) -> String {
    let mut rows: Vec<[usize; 2]> = Vec::new();
    for k in frames {
        match rows.last_mut() {
            Some([_, last]) if *last + 1 == k => *last = k,
            _ => rows.push([k, k]),
        }
    }
    let more = rows.len().saturating_sub(MOST_PLACES);
    let named = rows.iter().take(MOST_PLACES).map(|[first, last]| match last - first {
        0 => format!("{first}"),
        _ => format!("{first} to {last}"),
    });
    let mut text = named.collect::<Vec<_>>().join(", ");
    if more > 0 {
        let _ = write!(text, " and {more} more places");
    }
    text
}

/// Returns what the usual step between frames means for an instant.
fn one_frame(footage: &Footage) -> String {
    usual_step(footage).map_or_else(
        || "says nothing about time".to_owned(),
        |step| {
            format!(
                "{} ms; at {SWING_DEGREES_PER_SECOND} degrees a second that is {} degrees",
                number(step * 1000.0),
                number(step * SWING_DEGREES_PER_SECOND),
            )
        },
    )
}

/// Returns the median step between frames in seconds.
fn usual_step(footage: &Footage) -> Option<f64> {
    let steps = steps(footage);
    let middle = *steps.get(steps.len() / 2)?;
    (middle > 0).then(|| seconds(footage, Ticks(middle)))
}

/// Returns the steps between frames in ticks, sorted.
fn steps(footage: &Footage) -> Vec<i64> {
    let pairs = footage.table().entries().windows(2);
    let mut steps: Vec<i64> =
        pairs.map(|pair| pair[1].ticks.0.saturating_sub(pair[0].ticks.0)).collect();
    steps.sort_unstable();
    steps
}

/// Returns at most two decimals, none above 100 where they would say nothing.
fn number(value: f64) -> String {
    let grain = if value.abs() < 100.0 { 100.0 } else { 10.0 };
    format!("{}", (value * grain).round() / grain)
}
