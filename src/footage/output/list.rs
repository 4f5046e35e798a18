use serde::{Serialize, Serializer};

use crate::{
    footage::{Footage, Soundness, TimeSource},
    units::TimeBase,
};

/// Returns the list of frames for other programs.
///
/// Width and height are those of the upright picture in square pixels; ticks count from the first
/// frame; `time_s` is in seconds, and `time_source` says whether the file gives it (`given`), or its
/// clock starts anew at this frame (`joined`), or it is made up for (`assumed`). Once a full decode was
/// made, a frame that repeats another one's picture names the first of them as `same_as`, a damaged
/// one says so, and so does one that leans on a damaged one (`follows_damage`). Rows are made only as
/// they are written, because a clip may have millions of frames.
pub fn frames_json<'a>(footage: &'a Footage, clip_name: &'a str) -> impl Serialize + 'a {
    let facts = footage.facts();
    FrameList {
        clip: clip_name,
        width: facts.width,
        height: facts.height,
        time_base: facts.time_base,
        frame_count: footage.table().len(),
        frames: OneByOne(rows(footage)),
    }
}

#[derive(Serialize)]
struct FrameList<'a, R: Serialize> {
    clip: &'a str,
    width: u32,
    height: u32,
    time_base: TimeBase,
    frame_count: usize,
    frames: R,
}

#[derive(Clone, Serialize)]
struct Row {
    frame: usize,
    ticks: i64,
    time_s: f64,
    time_source: TimeSource,
    key: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    same_as: Option<usize>,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    damaged: bool,
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    follows_damage: bool,
}

/// Rows that exist only while they are written.
struct OneByOne<I>(I);

impl<I: Iterator<Item = Row> + Clone> Serialize for OneByOne<I> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        to.collect_seq(self.0.clone())
    }
}

fn rows(footage: &Footage) -> impl Iterator<Item = Row> + Clone {
    let (table, time_base) = (footage.table(), footage.facts().time_base);
    table.entries().iter().enumerate().scan(0, move |first, (frame, entry)| {
        let repeats = table.repeats(frame);
        if !repeats {
            *first = frame;
        }
        Some(Row {
            frame,
            ticks: entry.ticks.0,
            time_s: time_base.seconds(entry.ticks),
            time_source: entry.source,
            key: entry.key,
            same_as: repeats.then_some(*first),
            damaged: entry.soundness == Soundness::Damaged,
            follows_damage: entry.soundness == Soundness::Following,
        })
    })
}

#[cfg(test)]
mod tests {
    use std::{cell::Cell, io};

    use super::*;

    /// Counts the rows that were made and are not written yet.
    struct Counting<'a> {
        made: &'a Cell<usize>,
        written: usize,
        most_kept: usize,
    }

    impl io::Write for Counting<'_> {
        fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
            self.most_kept = self.most_kept.max(self.made.get() - self.written);
            self.written += bytes.iter().map(|&byte| usize::from(byte == b'}')).sum::<usize>();
            Ok(bytes.len())
        }
        fn flush(&mut self) -> io::Result<()> {
            Ok(())
        }
    }

    fn row(frame: usize) -> Row {
        let time_source = TimeSource::Given;
        Row {
            frame,
            ticks: 512,
            time_s: 0.5,
            time_source,
            key: false,
            same_as: None,
            damaged: false,
            follows_damage: false,
        }
    }

    #[test]
    fn a_row_is_made_only_when_the_one_before_is_written() {
        let made = Cell::new(0);
        let rows = (0..1000).map(row).inspect(|_| made.set(made.get() + 1));
        let mut to = Counting { made: &made, written: 0, most_kept: 0 };
        serde_json::to_writer(&mut to, &OneByOne(rows)).expect("it is written");
        assert_eq!((to.written, to.most_kept), (1000, 1));
    }

    #[test]
    fn the_text_is_that_of_the_documented_keys() {
        let time_source = TimeSource::Joined;
        let odd = Row { time_source, key: true, same_as: Some(0), damaged: true, ..row(1) };
        let last = Row { time_source: TimeSource::Assumed, ..row(2) };
        let text = serde_json::to_string(&OneByOne([row(0), odd, last].into_iter())).expect("text");
        let time = r#""ticks":512,"time_s":0.5,"time_source":"#;
        let plain = format!(r#"{{"frame":0,{time}"given","key":false}}"#);
        let odd = format!(r#"{{"frame":1,{time}"joined","key":true,"same_as":0,"damaged":true}}"#);
        let last = format!(r#"{{"frame":2,{time}"assumed","key":false}}"#);
        assert_eq!(text, format!("[{plain},{odd},{last}]"));
        let text = serde_json::to_string(&Row { follows_damage: true, ..row(2) }).expect("text");
        assert!(text.ends_with(r#""key":false,"follows_damage":true}"#), "{text}");
    }
}
