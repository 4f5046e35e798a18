use std::fmt;

use crate::{
    footage::{
        Picture,
        packets::{clip::Clip, scan::Scan},
        pictures::colour::ColourSpace,
    },
    units::{TimeBase, Upright},
};

use super::{
    mend::TimeSource,
    soundness::Soundness,
    table::{FrameTable, Shown},
};

/// What is known of a clip as a whole.
#[derive(Clone, Debug)]
pub struct FootageFacts {
    /// Width of the upright picture in square pixels.
    pub width: u32,
    /// Height of the upright picture in square pixels.
    pub height: u32,
    /// How coded pixels become the upright picture, as on the first frame.
    pub upright: Upright,
    /// Length of a tick.
    pub time_base: TimeBase,
    /// FFmpeg's name of the container, for example `mov,mp4,m4a,3gp,3g2,mj2`.
    pub container: String,
    /// FFmpeg's name of the codec, for example `h264`.
    pub codec: String,
    /// FFmpeg's name of the pixel format, for example `yuv420p`.
    pub pixel_format: String,
    /// How samples become colours, as on the first frame.
    pub colour: ColourSpace,
    /// Frames a second as the container states them, as a fraction; often wrong.
    pub stated_rate: Option<[u32; 2]>,
    /// Whether frames are made of two fields taken at different instants.
    pub interlaced: bool,
    /// Bytes at the end of the file that are zero and are not read.
    zeros_left_out: u64,
    /// What a judge should know.
    pub notes: Vec<Note>,
}

/// Something about a clip that a judge should know.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Note {
    /// The file gives so many frames no time, or one that is out of order; theirs follow from their
    /// neighbours, else from the frame rate.
    AssumedTimes(usize),
    /// Another recording follows so many milliseconds after the first frame, and is not shown.
    ChangesOver(u64),
    /// Another recording comes first, and is not shown.
    ComesLater,
    /// Frames may still get other numbers, or more of them come.
    Counting,
    /// The file ends early.
    CutShort,
    /// So many frames are damaged.
    Damaged(usize),
    /// So many more lean on damage.
    Following(usize),
    /// Frames are made of two fields.
    Interlaced,
    /// The file's clock starts anew in so many places, as where recordings are joined.
    Joined {
        /// The number of the first frame on another clock.
        first: usize,
        /// How many such frames there are.
        places: usize,
    },
    /// So many frames have the same picture as the one before.
    Repeated(usize),
    /// High dynamic range is shown through a fixed formula.
    ToneMapped,
    /// So many zeros at the end of the file are not read.
    ZerosLeftOut(u64),
}

impl fmt::Display for Note {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::AssumedTimes(1) => f.write_str(
                "the file gives 1 frame no time, or one out of order; it is assumed from the frames around it",
            ),
            Self::AssumedTimes(count) => write!(
                f,
                "the file gives {count} frames no time, or one out of order; such times are assumed \
                 from the frames around them or the frame rate",
            ),
            Self::ChangesOver(after) => write!(
                f,
                "at {:.1} s the recording changes over to another one, which is not shown; export both \
                 anew as one clip",
                *after as f64 / 1000.0
            ),
            Self::ComesLater => f.write_str(
                "the file begins with another recording, which is not shown; export both anew as one clip",
            ),
            Self::Counting => f.write_str(
                "the frames are still being counted; a frame's number may change, its time does not",
            ),
            Self::CutShort => f.write_str("the file is cut: it ends before it says it does"),
            Self::Damaged(1) => f.write_str("1 frame is damaged"),
            Self::Damaged(count) => write!(f, "{count} frames are damaged"),
            Self::Following(1) => f.write_str("1 frame may be damaged: it follows a damaged frame"),
            Self::Following(count) => {
                write!(f, "{count} frames may be damaged: they follow a damaged frame")
            }
            Self::Interlaced => f.write_str(
                "interlaced: each frame holds two instants, in its even and its odd rows",
            ),
            Self::Joined { first, places: 1 } => write!(
                f,
                "joined at frame {first}: the file's clock starts anew there, and how long the \
                 recording stood still in between is not known",
            ),
            Self::Joined { first, places } => write!(
                f,
                "joined at {places} frames, the first of them {first}: the file's clock starts anew \
                 there, and how long the recording stood still in between is not known",
            ),
            Self::Repeated(1) => f.write_str("1 frame repeats the picture before it"),
            Self::Repeated(count) => write!(f, "{count} frames repeat the picture before them"),
            Self::ToneMapped => f.write_str(
                "high dynamic range, shown on an ordinary scale; positions are not affected",
            ),
            Self::ZerosLeftOut(bytes) => write!(
                f,
                "the file ends with {} MB of zeros, as when a recording was interrupted; they are left out",
                bytes.div_ceil(1_000_000)
            ),
        }
    }
}

impl FootageFacts {
    pub(crate) fn of(clip: &Clip, first: &Picture) -> Self {
        let [width, height] = first.upright.shown_size();
        Self {
            width,
            height,
            upright: first.upright,
            time_base: clip.time_base,
            container: clip.format.clone(),
            codec: clip.stream.codec.clone(),
            pixel_format: first.layout().name.clone(),
            colour: first.colour,
            stated_rate: stated_rate(clip.stream.rate),
            interlaced: first.interlaced,
            zeros_left_out: clip.zeros_left_out(),
            notes: Vec::new(),
        }
    }

    /// Returns whether the file does not give every frame's time.
    pub fn has_assumed_times(&self) -> bool {
        self.notes.iter().any(|note| matches!(note, Note::AssumedTimes(_)))
    }

    /// Puts together what a judge should know.
    pub(crate) fn note(&mut self, scan: &Scan, table: &FrameTable, shown: &[Shown]) {
        use crate::footage::pictures::colour::Transfer;
        self.interlaced |= shown.iter().any(|shown| shown.interlaced);
        let count = |is: Soundness| shown.iter().filter(|shown| shown.soundness == is).count();
        let (damaged, following) = (count(Soundness::Damaged), count(Soundness::Following));
        let repeated = shown.windows(2).filter(|pair| pair[0].hash == pair[1].hash).count();
        let of_source = |source: TimeSource| {
            let entries = table.entries().iter().enumerate();
            entries.filter(move |(_, entry)| entry.source == source).map(|(frame, _)| frame)
        };
        let (assumed, mut joined) =
            (of_source(TimeSource::Assumed).count(), of_source(TimeSource::Joined));
        let places = of_source(TimeSource::Joined).count();
        let notes = [
            (!scan.is_whole || !table.is_counted(), Note::Counting),
            (scan.cut_short, Note::CutShort),
            (damaged > 0, Note::Damaged(damaged)),
            (following > 0, Note::Following(following)),
            (places > 0, Note::Joined { first: joined.next().unwrap_or(0), places }),
            (assumed > 0, Note::AssumedTimes(assumed)),
            (self.interlaced, Note::Interlaced),
            (repeated > 0, Note::Repeated(repeated)),
            (self.colour.transfer != Transfer::Sdr, Note::ToneMapped),
            (self.zeros_left_out > 0, Note::ZerosLeftOut(self.zeros_left_out)),
        ];
        self.notes = notes.into_iter().filter(|(holds, _)| *holds).map(|(_, note)| note).collect();
        self.notes.extend(scan.changes_at.map(|packet| self.change(packet, table)));
    }

    /// Says that another recording lies before a packet.
    fn change(&self, packet: u32, table: &FrameTable) -> Note {
        let before = table.entries().iter().filter(|entry| entry.ordinal < packet);
        let last = before.map(|entry| self.time_base.seconds(entry.ticks)).reduce(f64::max);
        last.map_or(Note::ComesLater, |last| Note::ChangesOver((last * 1000.0).round() as u64))
    }
}

fn stated_rate((numerator, denominator): (i32, i32)) -> Option<[u32; 2]> {
    let rate = [u32::try_from(numerator).ok()?, u32::try_from(denominator).ok()?];
    rate.iter().all(|&part| part > 0).then_some(rate)
}
