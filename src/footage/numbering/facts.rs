use std::fmt;

use crate::{
    footage::{Picture, libav::VideoStream, packets::scan::Scan, pictures::colour::ColourSpace},
    units::{TimeBase, Upright},
};

use super::{
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
    /// What a judge should know.
    pub notes: Vec<Note>,
}

/// Something about a clip that a judge should know.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Note {
    /// The file gives no times, or only some; they follow from the frame rate.
    AssumedTimes,
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
    /// So many frames have the same picture as the one before.
    Repeated(usize),
    /// High dynamic range is shown through a fixed formula.
    ToneMapped,
}

impl fmt::Display for Note {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::AssumedTimes => f.write_str(
                "the file does not give every frame's time; such times are assumed from the frame rate",
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
            Self::Repeated(1) => f.write_str("1 frame repeats the picture before it"),
            Self::Repeated(count) => write!(f, "{count} frames repeat the picture before them"),
            Self::ToneMapped => f.write_str(
                "high dynamic range, shown on an ordinary scale; positions are not affected",
            ),
        }
    }
}

impl FootageFacts {
    pub(crate) fn of(
        stream: &VideoStream,
        (container, time_base): (&str, TimeBase),
        first: &Picture,
    ) -> Self {
        let [width, height] = first.upright.shown_size();
        Self {
            width,
            height,
            upright: first.upright,
            time_base,
            container: container.to_owned(),
            codec: stream.codec.clone(),
            pixel_format: first.layout().name.clone(),
            colour: first.colour,
            stated_rate: stated_rate(stream.rate),
            interlaced: first.interlaced,
            notes: Vec::new(),
        }
    }

    /// Puts together what a judge should know.
    pub(crate) fn note(&mut self, scan: &Scan, table: &FrameTable, shown: &[Shown]) {
        use crate::footage::pictures::colour::Transfer;
        self.interlaced |= shown.iter().any(|shown| shown.interlaced);
        let count = |is: Soundness| shown.iter().filter(|shown| shown.soundness == is).count();
        let (damaged, following) = (count(Soundness::Damaged), count(Soundness::Following));
        let repeated = shown.windows(2).filter(|pair| pair[0].hash == pair[1].hash).count();
        let notes = [
            (!scan.is_whole || !table.is_counted(), Note::Counting),
            (scan.cut_short, Note::CutShort),
            (damaged > 0, Note::Damaged(damaged)),
            (following > 0, Note::Following(following)),
            (table.entries().iter().any(|entry| !entry.timed), Note::AssumedTimes),
            (self.interlaced, Note::Interlaced),
            (repeated > 0, Note::Repeated(repeated)),
            (self.colour.transfer != Transfer::Sdr, Note::ToneMapped),
        ];
        self.notes = notes.into_iter().filter(|(holds, _)| *holds).map(|(_, note)| note).collect();
    }
}

fn stated_rate((numerator, denominator): (i32, i32)) -> Option<[u32; 2]> {
    let rate = [u32::try_from(numerator).ok()?, u32::try_from(denominator).ok()?];
    rate.iter().all(|&part| part > 0).then_some(rate)
}
