//! A stretch of a clip at chosen speeds, with its drawings: alone, or with another clip.

use std::{
    cell::RefCell,
    fs,
    path::Path,
    sync::{
        atomic::{AtomicBool, Ordering},
        mpsc::{Receiver, SyncSender, sync_channel},
    },
    thread,
};

use tiny_skia::Pixmap;

use super::{
    error::HandoutError,
    panes::{self, Pane},
    progress::{Progress, Told, tell},
    reel::Reel,
    subject::{Ground, Subject},
    timing::{self, Beat, Pass, Stretch},
};
use crate::{
    figure::{self, Laid},
    footage::{Decoder, Film, FilmColour, FilmError, FilmWish, Painted, Planes},
    units::{Ticks, tie},
};

/// What replay is wanted.
#[derive(Clone, Debug)]
pub struct Replay {
    /// The clip whose frames lead.
    pub subject: Subject,
    /// Its first and last frame.
    pub frames: [usize; 2],
    /// How the frames go by, one pass after the other.
    pub passes: Vec<Pass>,
    /// Another clip that follows.
    pub second: Option<Second>,
    /// On what the drawings stand, in both clips.
    pub ground: Ground,
}

/// A second clip.
#[derive(Clone, Debug)]
pub struct Second {
    /// The clip.
    pub subject: Subject,
    /// Where it is seen.
    pub pairing: Pairing,
    /// The frames, of the first clip and of this one, that are shown at the same instant.
    pub tie: [usize; 2],
}

/// Where the second of two clips is seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pairing {
    /// To the right of the first.
    Beside,
    /// Over the first, half transparent.
    Over,
}

/// Pictures that wait for the next step.
const WAITING: usize = 3;

/// Writes a replay to `place`, an MP4; what is there is written over, and taken away when it fails or
/// is stopped. `told` hears how far it is and says whether to go on.
///
/// Decoding and encoding have threads of their own; this one paints.
pub fn replay(place: &Path, wish: &Replay, told: Told<'_>) -> Result<(), HandoutError> {
    let done = Making::of(wish, told).and_then(|(making, told)| making.run(place, told));
    if done.is_err() {
        // Half a replay is of no use; what cannot be taken away was never made.
        let _ = fs::remove_file(place);
    }
    done
}

/// A clip of the replay, and where it lies.
struct Part {
    subject: Subject,
    pane: Pane,
    laid: Laid,
    /// Its frame for each beat.
    frames: Vec<usize>,
}

/// Everything that is settled before the first picture is made.
struct Making<'a> {
    parts: Vec<Part>,
    beats: Vec<Beat<'a>>,
    ground: Ground,
    half: bool,
    film: FilmWish,
}

impl<'a> Making<'a> {
    fn of<'t>(wish: &'a Replay, told: Told<'t>) -> Result<(Self, Told<'t>), HandoutError> {
        let [from, to] = wish.frames;
        wish.subject.check([from, to])?;
        if from > to {
            return Err(HandoutError::Backwards([from, to]));
        }
        let mut stops = wish.passes.iter().flat_map(|pass| &pass.stops).map(|stop| stop.frame);
        if let Some(stop) = stops.find(|stop| !(from..=to).contains(stop)) {
            return Err(HandoutError::StopOutside { stop, frames: wish.frames });
        }
        let told = RefCell::new(told);
        let stop = || (told.borrow_mut())(Progress { done: 0, of: 1 }).is_break();
        let first = wish.subject.proved(&stop)?;
        let second = match &wish.second {
            Some(second) => {
                wish.subject.check([second.tie[0]])?;
                second.subject.check([second.tie[1]])?;
                Some((second.subject.proved(&stop)?, second))
            }
            None => None,
        };
        let told = told.into_inner();
        if wish.ground == Ground::Lines && !first.drawings.frames().any(|k| k <= to) {
            let path = first.footage.path().to_owned();
            return Err(HandoutError::NoLines { path, what: format!("frames {from} to {to}") });
        }
        let times: Vec<Ticks> =
            first.footage.table().entries()[from..=to].iter().map(|entry| entry.ticks).collect();
        let end = end(&first, to);
        let base = first.footage.facts().time_base;
        let stretch = Stretch { first: from, times: &times, end, base };
        let rate = timing::rate(&stretch);
        let beats = timing::beats(&stretch, rate, &wish.passes)?;
        let colour = match wish.ground {
            Ground::Lines => FilmColour::BT709,
            Ground::Picture => FilmColour::of(&*Decoder::new(&first.footage, 1).picture(from)?),
        };
        let half = second.as_ref().is_some_and(|(_, second)| second.pairing == Pairing::Over);
        let leading: Vec<usize> = beats.iter().map(|beat| beat.frame).collect();
        let (size, parts) = match second {
            None => {
                let (size, pane) = panes::alone(first.size());
                (size, vec![Part::of(first, pane, leading)])
            }
            Some((second, wished)) => {
                let sizes = [first.size(), second.size()];
                let (size, [one, other]) =
                    if half { panes::over(sizes) } else { panes::beside(sizes) };
                let following = following([&first, &second], wished.tie, &leading);
                (size, vec![Part::of(first, one, leading), Part::of(second, other, following)])
            }
        };
        let most = beats.iter().map(|beat| u64::from(beat.times)).sum();
        let film = FilmWish { size, rate, colour, most };
        Ok((Self { parts, beats, ground: wish.ground, half, film }, told))
    }

    fn run(&self, place: &Path, told: Told<'_>) -> Result<(), HandoutError> {
        let stop = AtomicBool::new(false);
        thread::scope(|scope| {
            let mut reels = Vec::new();
            let threads = threads() / self.parts.len().max(1);
            for part in &self.parts {
                let (to, from) = sync_channel(WAITING);
                let reel = Reel {
                    subject: &part.subject,
                    ground: self.ground,
                    pane: part.pane,
                    colour: self.film.colour,
                    threads: threads.max(2),
                };
                let stop = &stop;
                scope.spawn(move || reel.run(&part.changes(), stop, &to));
                reels.push(Fed { from, now: None });
            }
            let (to, from) = sync_channel(WAITING);
            let encoder = scope.spawn(|| encode(place, self.film, from, &stop));
            let painted = self.paint(reels, &to, told);
            if painted.is_err() {
                stop.store(true, Ordering::Relaxed);
            }
            drop(to);
            let encoded = encoder.join().unwrap_or(Err(HandoutError::Failed));
            // Where the encoder failed, nobody took what was painted.
            match (painted, encoded) {
                (Ok(()), encoded) => encoded,
                (Err(HandoutError::Failed), Err(error)) if !error.is_stop() => Err(error),
                (painted, _) => painted,
            }
        })
    }

    /// Lays the pictures and what stands on them over each other, beat by beat.
    fn paint(
        &self,
        mut reels: Vec<Fed>,
        to: &SyncSender<(Planes, u32)>,
        told: Told<'_>,
    ) -> Result<(), HandoutError> {
        let [width, height] = self.film.size;
        let mut over = Pixmap::new(width, height).ok_or(HandoutError::TooLarge(self.film.size))?;
        let all = self.film.most as usize;
        let mut done = 0;
        for (place, beat) in self.beats.iter().enumerate() {
            tell(told, done, all)?;
            let mut canvas = self.canvas(&mut reels, place)?;
            let touched = self.draw(&mut over, place, beat);
            if let Some(touched) = touched {
                let (from, until) =
                    (pixels(touched, 0, self.film.size), pixels(touched, 2, self.film.size));
                let painted = Painted { rgba: over.data(), width: width as usize };
                canvas.paint(painted, from, until);
                clear(&mut over, from, until);
            }
            to.send((canvas, beat.times)).map_err(|_| HandoutError::Failed)?;
            done += beat.times as usize;
        }
        tell(told, done, all)
    }

    fn canvas(&self, reels: &mut [Fed], place: usize) -> Result<Planes, HandoutError> {
        for (reel, part) in reels.iter_mut().zip(&self.parts) {
            reel.go_to(part.frames[place])?;
        }
        if let ([reel], [part]) = (&mut *reels, &*self.parts) {
            return reel.take(part.frames.get(place + 1).copied());
        }
        let mut canvas = Planes::filled(self.film.size, figure::EDGE, self.film.colour);
        for (index, (reel, part)) in reels.iter().zip(&self.parts).enumerate() {
            if let Some((_, planes)) = &reel.now {
                canvas.lay(planes, part.pane.at, self.half && index > 0);
            }
        }
        Ok(canvas)
    }

    fn draw(&self, over: &mut Pixmap, place: usize, beat: &Beat<'_>) -> Option<[f32; 4]> {
        let mut touched = None;
        for part in &self.parts {
            let shapes = part.subject.shapes(part.frames[place], self.ground);
            touched = joined(touched, figure::paint(&mut over.as_mut(), &shapes, &part.laid));
        }
        if beat.caption.is_empty() {
            return touched;
        }
        let laid = Laid::over(self.film.size, [0, 0], self.film.size);
        joined(touched, figure::paint_caption(&mut over.as_mut(), beat.caption, &laid))
    }
}

impl Part {
    fn of(subject: Subject, pane: Pane, frames: Vec<usize>) -> Self {
        let laid = subject.laid(pane.size, pane.at);
        Self { subject, pane, laid, frames }
    }

    /// Returns the frames without those that follow upon themselves.
    fn changes(&self) -> Vec<usize> {
        let mut frames = self.frames.clone();
        frames.dedup();
        frames
    }
}

/// What comes from a reel, and the frame at hand.
struct Fed {
    from: Receiver<Result<Planes, HandoutError>>,
    now: Option<(usize, Planes)>,
}

impl Fed {
    fn go_to(&mut self, k: usize) -> Result<(), HandoutError> {
        if self.now.as_ref().is_none_or(|(now, _)| *now != k) {
            self.now = Some((k, self.from.recv().map_err(|_| HandoutError::Failed)??));
        }
        Ok(())
    }

    /// Returns the picture at hand; a copy where the `next` one is the same.
    fn take(&mut self, next: Option<usize>) -> Result<Planes, HandoutError> {
        let now = self.now.take_if(|(now, _)| next != Some(*now));
        let planes = now.map(|(_, planes)| planes);
        let copy = || self.now.as_ref().map(|(_, planes)| planes.clone());
        planes.or_else(copy).ok_or(HandoutError::Failed)
    }
}

fn encode(
    place: &Path,
    wish: FilmWish,
    from: Receiver<(Planes, u32)>,
    stop: &AtomicBool,
) -> Result<(), HandoutError> {
    let mut film = Film::create(place, wish)?;
    for (planes, times) in from {
        if stop.load(Ordering::Relaxed) {
            return Err(HandoutError::Stopped);
        }
        film.add(&planes, times)?;
    }
    if stop.load(Ordering::Relaxed) {
        return Err(HandoutError::Stopped);
    }
    Ok::<(), FilmError>(film.finish()?).map_err(Into::into)
}

/// Returns the frame of the second clip for each frame of the first, as far from the tie as that; where
/// it has none, its first or last one.
fn following(subjects: [&Subject; 2], tie: [usize; 2], leading: &[usize]) -> Vec<usize> {
    let [first, second] = subjects.map(|subject| subject.footage.table());
    let instant = |which: usize| {
        let base = subjects[which].footage.facts().time_base;
        let table = subjects[which].footage.table();
        let ticks = table.entry(tie[which]).map(|entry| entry.ticks).unwrap_or_default();
        tie::Instant { ticks, base }
    };
    let [from, to] = [instant(0), instant(1)];
    let of = |k: &usize| {
        let at = first.entry(*k).map(|entry| entry.ticks).unwrap_or_default();
        second.at(tie::across(at, from, to))
    };
    leading.iter().map(of).collect()
}

/// Returns when frame `k` ends: where the next one begins, else after the usual time.
fn end(subject: &Subject, k: usize) -> Ticks {
    let table = subject.footage.table();
    let ticks = |k: usize| table.entry(k).map(|entry| entry.ticks);
    let own = ticks(k).unwrap_or_default();
    let before = k.checked_sub(1).and_then(ticks).unwrap_or(own);
    let usual = Ticks(own.0 + (own.0 - before.0).max(1));
    ticks(k + 1).unwrap_or(usual)
}

/// Threads for decoding. Two at least: one alone would look through the coded blocks as well, which the
/// proof has done.
fn threads() -> usize {
    thread::available_parallelism().map_or(2, |all| all.get().saturating_sub(1).clamp(2, 4))
}

fn joined(a: Option<[f32; 4]>, b: Option<[f32; 4]>) -> Option<[f32; 4]> {
    match (a, b) {
        (Some(a), Some(b)) => {
            Some([a[0].min(b[0]), a[1].min(b[1]), a[2].max(b[2]), a[3].max(b[3])])
        }
        (a, b) => a.or(b),
    }
}

/// Returns the pixel of a corner, as far out as it reaches.
fn pixels(touched: [f32; 4], corner: usize, size: [u32; 2]) -> [usize; 2] {
    [0, 1].map(|axis| {
        let side = touched[corner + axis];
        let side = if corner == 0 { side.floor() } else { side.ceil() };
        side.clamp(0.0, size[axis] as f32) as usize
    })
}

fn clear(over: &mut Pixmap, from: [usize; 2], to: [usize; 2]) {
    let width = over.width() as usize;
    let rows = over.data_mut().chunks_exact_mut(width * 4);
    for row in rows.take(to[1]).skip(from[1]) {
        if let Some(row) = row.get_mut(from[0] * 4..to[0] * 4) {
            row.fill(0);
        }
    }
}
