//! A clip's own packets in a new file: nothing is coded anew, so every picture stays what it is.

use std::{
    fs::File,
    path::{Path, PathBuf},
};

use crate::{
    footage::{
        Footage, OpenError,
        libav::{self, Muxer, in_parentheses},
        packets::entry::PacketEntry,
    },
    units::Ticks,
};

/// Places that are tried before the one at which an excerpt would best begin.
const EARLIER: usize = 3;

/// What a copy is to hold.
#[derive(Clone, Copy, Debug, Default)]
pub struct CopyWishes {
    /// The frames that it must hold, first and last; without them all.
    pub frames: Option<[u64; 2]>,
    /// Whether it keeps the sound.
    pub sound: bool,
}

/// What a copy came to.
#[derive(Clone, Debug)]
pub struct Copied {
    /// The copy.
    pub footage: Footage,
    /// Its first and last frame by the numbers of the clip: a copy begins where decoding can.
    pub frames: [u64; 2],
    /// By how much later its pictures come, in ticks of the clip; never more than 0.
    pub offset: Ticks,
}

/// Why a clip was not copied.
#[derive(Debug, thiserror::Error)]
pub enum CopyError {
    /// It was stopped.
    #[error("stopped; nothing was kept")]
    Stopped,
    /// The frames asked for are not there.
    #[error("{}: has frames 0 to {last}; frames {} to {} are not in it", .path.display(), .asked[0], .asked[1])]
    NoFrames {
        /// The clip.
        path: PathBuf,
        /// What was asked for.
        asked: [u64; 2],
        /// Number of its last frame.
        last: u64,
    },
    /// The clip could not be read, or the copy not written.
    #[error(
        "{}: could not be copied to {}{}; check the free space, or convert the clip to MP4 first",
        .path.display(), .target.display(), in_parentheses(*.cause)
    )]
    Failed {
        /// The clip.
        path: PathBuf,
        /// The copy.
        target: PathBuf,
        /// What FFmpeg said.
        cause: libav::Error,
    },
    /// The copy cannot be read.
    #[error(transparent)]
    Unreadable(#[from] OpenError),
    /// The copy does not show the same pictures at the same times.
    #[error(
        "{}: a copy would not show the same pictures at the same times, so none was kept; convert \
         the clip to MP4 first", .path.display()
    )]
    Differs {
        /// The clip.
        path: PathBuf,
    },
}

impl Footage {
    /// Returns the ending for the name of a copy: that of a container which holds everything that
    /// the clip's own holds.
    pub fn ending_of_copy(&self) -> &'static str {
        self.clip().container.copy.ending
    }

    /// Copies packets into a new file at `target` and looks whether it shows the same pictures at
    /// the same times. What is there already is written over, and taken away when it fails.
    ///
    /// It begins at the nearest frame at or before the first one asked for at which decoding can
    /// begin, and leaves out everything that no picture needs: places, days, devices.
    pub fn copy_to(
        &self,
        target: &Path,
        wishes: CopyWishes,
        stop: &dyn Fn() -> bool,
    ) -> Result<Copied, CopyError> {
        if stop() {
            return Err(CopyError::Stopped);
        }
        let Some(footage) = self.proved(stop) else {
            if stop() {
                return Err(CopyError::Stopped);
            }
            return Err(CopyError::Unreadable(OpenError::NothingDecodes {
                path: self.path().to_owned(),
            }));
        };
        let done = footage.copy_earlier(target, wishes, stop);
        if done.is_err() {
            // Half a copy is of no use; what cannot be taken away was never made.
            let _ = std::fs::remove_file(target);
        }
        done
    }

    /// Copies, and begins earlier where pictures come out otherwise without what was cut away.
    fn copy_earlier(
        &self,
        target: &Path,
        mut wishes: CopyWishes,
        stop: &dyn Fn() -> bool,
    ) -> Result<Copied, CopyError> {
        for _ in 0..EARLIER {
            match self.copy(target, wishes, stop) {
                Err(CopyError::Differs { .. }) => {}
                done => return done,
            }
            let Some(frames) = wishes.frames else { break };
            let [begun, _] = self.packets_of(wishes.frames)?.frames;
            let Some(before) = begun.checked_sub(1) else { break };
            wishes.frames = Some([before, frames[1]]);
        }
        self.copy(target, wishes, stop)
    }

    fn copy(
        &self,
        target: &Path,
        wishes: CopyWishes,
        stop: &dyn Fn() -> bool,
    ) -> Result<Copied, CopyError> {
        let path = || self.path().to_owned();
        let span = self.packets_of(wishes.frames)?;
        let failed = |cause| CopyError::Failed { path: path(), target: target.to_owned(), cause };
        if !self.write(target, &span, wishes.sound, stop).map_err(failed)? {
            return Err(CopyError::Stopped);
        }
        let copy = Self::open_proved(target, None, &|_| ())?;
        if !self.shows_the_same(&copy, span.frames) {
            return Err(CopyError::Differs { path: path() });
        }
        let offset = self.table().entry(span.frames[0] as usize).map_or(Ticks(0), |it| it.ticks);
        Ok(Copied { footage: copy, frames: span.frames, offset: Ticks(-offset.0) })
    }

    /// Returns the packets that the frames need, with every frame that comes with them.
    fn packets_of(&self, asked: Option<[u64; 2]>) -> Result<Span, CopyError> {
        let entries = self.table().entries();
        let last = (entries.len() as u64).saturating_sub(1);
        let [from, to] = asked.unwrap_or([0, last]);
        if from > to || to > last {
            return Err(CopyError::NoFrames {
                path: self.path().to_owned(),
                asked: [from, to],
                last,
            });
        }
        let first = entries[..=from as usize].iter().rposition(|entry| entry.key).unwrap_or(0);
        let begin = entries[first].ordinal;
        // What comes before decoding can begin there is needed where a clip begins amid a run.
        let begin = self.clip().scan.keys.iter().rev().find(|key| **key <= begin).copied();
        let begin = begin.unwrap_or(0);
        // The frames before the last one in time may need packets that show later ones.
        let (mut to, mut end) = (to as usize, 0);
        loop {
            let needed = entries[first..=to].iter().map(|entry| entry.ordinal).max().unwrap_or(0);
            if needed == end {
                break;
            }
            end = needed;
            let comes = |entry: &crate::footage::FrameEntry| (begin..=end).contains(&entry.ordinal);
            to = entries.iter().rposition(comes).map_or(to, |last| last.max(to));
        }
        Ok(Span { packets: [begin, end], frames: [first as u64, to as u64] })
    }

    /// Writes the packets; returns false when `stop` said so.
    fn write(
        &self,
        target: &Path,
        span: &Span,
        sound: bool,
        stop: &dyn Fn() -> bool,
    ) -> Result<bool, libav::Error> {
        let clip = self.clip();
        let mut input = clip.input()?;
        let video = clip.stream.index;
        let streams: Vec<usize> =
            [video].into_iter().chain(input.sound().filter(|_| sound)).collect();
        input.choose_all(&streams);
        let file = File::create(target)
            .map_err(|cause| libav::Error::Other { errno: cause.raw_os_error().unwrap_or(0) })?;
        let mut muxer = Muxer::create(file, clip.container.copy.muxer, &input, &streams)?;
        let packets = &clip.scan.packets;
        let first = self.table().entry(span.frames[0] as usize).map(|entry| entry.ordinal);
        let from = first.and_then(|ordinal| packets.get(ordinal as usize)?.pts).unwrap_or(0);
        let decoded_at = self.decoding_times(span);
        let mut ordinal = 0;
        while let Some(mut packet) = input.next_of_all()? {
            if stop() {
                return Ok(false);
            }
            if packet.stream() != video {
                let is_within = ordinal > span.packets[0] && ordinal <= span.packets[1] + 1;
                if is_within {
                    muxer.write(packet, from)?;
                }
                continue;
            }
            let here = ordinal;
            ordinal += 1;
            if here > span.packets[1] {
                break;
            }
            // Pictures before the first in time lean on what was cut away.
            let leads =
                self.table().first_frame_of(here).is_some_and(|k| (k as u64) < span.frames[0]);
            if here >= span.packets[0] && !leads {
                let at = (here - span.packets[0]) as usize;
                packet.decode_at(decoded_at.as_ref().and_then(|times| times.get(at).copied()));
                muxer.write(packet, from)?;
            }
        }
        muxer.finish()?;
        Ok(true)
    }

    /// Returns when each packet is to be decoded: as the scan found it where that makes sense, else
    /// as soon after the one before as keeps every picture decoded before it is shown.
    fn decoding_times(&self, span: &Span) -> Option<Vec<i64>> {
        let [begin, end] = span.packets.map(|ordinal| ordinal as usize);
        let packets = self.clip().scan.packets.get(begin..=end)?;
        let is_sound = |packet: &PacketEntry| packet.dts.is_some() && packet.dts <= packet.pts;
        let rises = packets.windows(2).all(|pair| pair[0].dts < pair[1].dts);
        if rises && packets.iter().all(is_sound) {
            return packets.iter().map(|packet| packet.dts).collect();
        }
        let shown: Vec<i64> = packets.iter().map(|packet| packet.pts).collect::<Option<_>>()?;
        let mut in_order = shown.clone();
        in_order.sort_unstable();
        let late = |(place, shown): (usize, &i64)| {
            place.saturating_sub(in_order.partition_point(|other| other < shown))
        };
        let delay = shown.iter().enumerate().map(late).max().unwrap_or(0);
        let usual = (in_order[end - begin] - in_order[0]) / (end - begin).max(1) as i64;
        let before = (0..delay).map(|k| in_order[0] - (delay - k) as i64 * usual.max(1));
        Some(before.chain(in_order.iter().copied()).take(shown.len()).collect())
    }

    /// Returns whether frame by frame the copy has the same pictures at the same times, and stands
    /// the same way.
    fn shows_the_same(&self, copy: &Self, [first, last]: [u64; 2]) -> bool {
        // Some containers count in milliseconds.
        const SLACK: f64 = 0.001;
        let (here, there) = (self.facts().time_base, copy.facts().time_base);
        let mine = &self.table().entries()[first as usize..=last as usize];
        let theirs = copy.table().entries();
        let from = here.seconds(mine[0].ticks);
        mine.len() == theirs.len()
            && self.facts().upright == copy.facts().upright
            && mine.iter().zip(theirs).all(|(a, b)| {
                a.hash == b.hash
                    && (here.seconds(a.ticks) - from - there.seconds(b.ticks)).abs() <= SLACK
            })
    }
}

/// What of a clip goes into a copy.
struct Span {
    /// First and last packet in decoding order.
    packets: [u32; 2],
    /// First and last frame.
    frames: [u64; 2],
}
