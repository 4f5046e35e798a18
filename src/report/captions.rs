//! The score sheet as captions of its clip (WebVTT), which any player shows beside the video.
//!
//! <https://www.w3.org/TR/webvtt1/>: cues in the order in which they begin, text without a blank
//! line, with `&`, `<` and `>` written as entities.

use std::fmt::Write as _;

use crate::{
    sheet::{FrameAt, Line, ScoreSheet, start_words},
    units::{Points, visible},
};

/// What happens on one frame stands for so long that it can be read.
const LEAST_MS: i64 = 2000;
/// The caution and the score stand at the beginning for so long.
const HEAD_MS: i64 = 5000;

struct Cue {
    from_ms: i64,
    to_ms: i64,
    text: String,
}

/// Returns elements and deductions of `sheet` as captions, each over its own frames; times count
/// from the clip's first frame.
///
/// What has no frame, and so no moment in the video, is left out; the sheet has it.
pub fn captions(sheet: &ScoreSheet) -> String {
    let elements = sheet.elements.iter().enumerate().map(|(i, line)| {
        let text = format!("{}. {}: {}", i + 1, line.label, line.status.words());
        (text, &line.frames)
    });
    let taken = sheet.void_reasons.iter().chain(&sheet.deductions);
    let taken = taken.map(|line| (said(line), &line.frames));
    let mut cues: Vec<Cue> = elements.chain(taken).filter_map(over).collect();
    cues.sort_by_key(|cue| cue.from_ms);
    cues.insert(0, Cue { from_ms: 0, to_ms: HEAD_MS, text: head(sheet) });
    let mut out = "WEBVTT\n".to_owned();
    for cue in &cues {
        let (from, to) = (time(cue.from_ms), time(cue.to_ms));
        // Writing into a text cannot fail.
        let _ = write!(out, "\n{from} --> {to}\n{}\n", escaped(&cue.text));
    }
    out
}

fn head(sheet: &ScoreSheet) -> String {
    let caution = sheet.caution;
    if let Some(why) = &sheet.unscored {
        return format!("No score. {}\n{caution}", why.said());
    }
    let (start, score) = (start_words(sheet.start_value), sheet.score_words());
    format!("Start value {start}, score {score}\n{caution}")
}

fn said(line: &Line) -> String {
    if line.amount == Points::ZERO {
        format!("{}: {}", line.label, line.status.words())
    } else {
        format!("{}: {}", line.label, line.amount.taken_off())
    }
}

fn over((text, frames): (String, &Vec<FrameAt>)) -> Option<Cue> {
    let ms = |at: &FrameAt| (at.time_s.max(0.0) * 1000.0).round() as i64;
    let (from_ms, last_ms) = (ms(frames.first()?), ms(frames.last()?));
    Some(Cue { from_ms, to_ms: last_ms.max(from_ms + LEAST_MS), text })
}

/// Returns `HH:MM:SS.mmm`.
fn time(ms: i64) -> String {
    let (seconds, minutes) = (ms / 1000, ms / 60_000);
    format!("{:02}:{:02}:{:02}.{:03}", minutes / 60, minutes % 60, seconds % 60, ms % 1000)
}

fn escaped(text: &str) -> String {
    let escaped = text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
    let lines = escaped.lines().map(str::trim).filter(|line| !line.is_empty());
    visible(&lines.collect::<Vec<_>>().join("\n")).into_owned()
}
