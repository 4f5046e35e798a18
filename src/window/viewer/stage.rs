//! A clip that is open: its facts, its frame table and the reader that decodes for the screen.

use std::{
    path::{Path, PathBuf},
    sync::{
        Arc,
        atomic::{AtomicBool, Ordering},
    },
};

use iced::widget::image;

use crate::{
    footage::{
        ApartDecoder, ClipTold, DEFAULT_BUDGET, Footage, KnownClips, OpenError, Picture, Proving,
        Reader, Soundness, TimeSource,
    },
    geometry::camera::grey::Grey,
    marks, proofs,
    units::{FrameIndex, FrameRef, Orientation, Ticks, TimeBase, Upright},
    window::memory::KnownHere,
};

/// How many frames on either side are fetched when there is time.
const NEIGHBOURS: usize = 12;

/// A clip on the stage.
pub struct Stage {
    path: PathBuf,
    reader: Reader,
    /// While a clip plays the widget looks for pictures itself and must not be woken for each.
    playing: Arc<AtomicBool>,
}

impl Stage {
    /// Opens a clip; `wake` is called from the reader's thread when a picture that was wished for
    /// is there, but not while the clip plays.
    pub fn open(path: &Path, wake: impl Fn() + Send + Sync + 'static) -> Result<Self, OpenError> {
        Ok(Self::show(beginning_of(path)?, path, wake))
    }

    /// Opens a clip with all its frames proved, so that an instant far into it leads to its frame at
    /// once; `told` hears how far that is. A clip that cannot be read to its end is open as far as
    /// it can; nothing is open where `stop` said so.
    pub(crate) fn open_whole(
        path: &Path,
        (stop, told): (&dyn Fn() -> bool, &dyn Fn(Proving)),
        wake: impl Fn() + Send + Sync + 'static,
    ) -> Result<Option<Self>, OpenError> {
        let footage = beginning_of(path)?;
        let proved = footage.proved_telling(stop, told);
        Ok((!stop()).then(|| Self::show(proved.unwrap_or(footage), path, wake)))
    }

    fn show(footage: Footage, path: &Path, wake: impl Fn() + Send + Sync + 'static) -> Self {
        let playing = Arc::new(AtomicBool::new(false));
        let quiet = Arc::clone(&playing);
        let reader = Reader::spawn(footage, move || {
            if !quiet.load(Ordering::Relaxed) {
                wake();
            }
        });
        reader.want(0);
        Self { path: path.to_owned(), reader, playing }
    }

    /// Returns where the clip lies.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Returns the clip as far as it is counted and proved by now.
    pub fn footage(&self) -> Footage {
        self.reader.footage()
    }

    /// Returns what a marks file keeps of the clip.
    pub(crate) fn clip_facts(&self) -> marks::ClipFacts {
        let footage = self.footage();
        // A clip that cannot be read any more is found out by its decoder; a name for its content
        // can be had later.
        let quick_id = footage.content_id().unwrap_or_default();
        facts_told(ClipTold::of(&footage), self.path(), quick_id)
    }

    /// Returns the clip's first and last frame: the span of a routine until somebody cuts it.
    pub fn whole(&self) -> Option<[FrameRef; 2]> {
        let footage = self.footage();
        let table = footage.table();
        let last = table.len().checked_sub(1)?;
        Some([table.frame_ref(0)?, table.frame_ref(last)?])
    }

    /// Returns how its pictures stand upright, turned otherwise where `turn` is given.
    pub fn upright(&self, turn: Option<Orientation>) -> Upright {
        let upright =
            self.latest().map_or_else(|| self.footage().facts().upright, |picture| picture.upright);
        Upright { orientation: turn.unwrap_or(upright.orientation), ..upright }
    }

    /// Returns what a judge should know of the clip, in words.
    pub fn notes(&self) -> impl Iterator<Item = String> + use<> {
        let notes = self.footage().facts().notes.clone();
        notes.into_iter().map(|note| note.to_string())
    }

    /// Returns the length of one tick.
    pub fn time_base(&self) -> TimeBase {
        self.footage().facts().time_base
    }

    /// Returns the number of the last frame.
    pub(crate) fn last_frame(&self) -> FrameIndex {
        self.footage().table().len().saturating_sub(1).into()
    }

    /// Returns when a frame is shown; of a number beyond the last frame, the end of the clip.
    pub(crate) fn ticks_of(&self, frame: FrameIndex) -> Ticks {
        let footage = self.footage();
        let table = footage.table();
        table.entry(frame.into()).map_or(table.end(), |entry| entry.ticks)
    }

    /// Returns when a frame is shown, in seconds.
    pub fn seconds_of(&self, frame: FrameIndex) -> f64 {
        self.time_base().seconds(self.ticks_of(frame))
    }

    /// Returns the frame that is on screen at an instant in seconds.
    pub fn frame_at(&self, seconds: f64) -> FrameIndex {
        self.footage().table().at(self.time_base().ticks_at(seconds)).into()
    }

    /// Returns the frame that is on screen so many seconds after a frame's instant, or before it.
    pub(crate) fn seconds_on(&self, frame: FrameIndex, seconds: i64) -> FrameIndex {
        let by = self.time_base().ticks_of_seconds(seconds);
        let instant = Ticks(self.ticks_of(frame).0.saturating_add(by.0));
        self.footage().table().at(instant).into()
    }

    /// Returns how marks name a frame; of a number beyond the last frame, the last.
    pub fn frame_ref(&self, frame: FrameIndex) -> FrameRef {
        let frame = frame.min(self.last_frame());
        let ticks = self.ticks_of(frame);
        // The table has every frame up to the last; what stands in is the frame's own instant.
        let alone = FrameRef { ticks, index: frame, field: None, lo: ticks, hi: ticks };
        self.footage().table().frame_ref(frame.into()).unwrap_or(alone)
    }

    /// Returns how marks name the frame nearest to an instant; nothing beyond the clip's ends.
    pub fn nearest(&self, instant: Ticks) -> Option<FrameRef> {
        let footage = self.footage();
        let table = footage.table();
        table.frame_ref(table.nearest(instant)?)
    }

    /// Returns the first frame that has the same picture, where the frame only repeats it.
    pub fn same_as(&self, frame: FrameIndex) -> Option<FrameIndex> {
        let first = FrameIndex::from(self.footage().table().same_picture(frame.into()).start);
        (first < frame).then_some(first)
    }

    /// Returns how the time of a frame is known; of a number beyond the last frame, as given.
    pub(crate) fn time_source(&self, frame: FrameIndex) -> TimeSource {
        let footage = self.footage();
        footage.table().entry(frame.into()).map_or(TimeSource::Given, |entry| entry.source)
    }

    /// Returns how sound a frame's picture is: by the proof of its clip, else as far as decoding it
    /// told by now.
    pub fn soundness_of(&self, frame: FrameIndex) -> Soundness {
        self.soundness()(frame)
    }

    /// Returns what tells how sound frames are, as it is known by now.
    pub(crate) fn soundness(&self) -> impl Fn(FrameIndex) -> Soundness + use<> {
        let (footage, seen) = (self.footage(), self.latest());
        move |frame| {
            let entry = footage.table().entry(frame.into());
            if let Some(entry) = entry.filter(|entry| entry.is_proved()) {
                return entry.soundness;
            }
            let seen = seen.as_ref().filter(|picture| FrameIndex::from(picture.frame) == frame);
            match seen {
                Some(picture) if picture.damaged => Soundness::Damaged,
                _ => Soundness::Sound,
            }
        }
    }

    /// Returns whether the picture of a frame is held against a proof of the clip, so that number,
    /// time and samples are sure.
    pub(crate) fn is_proved(&self, frame: FrameIndex) -> bool {
        let shown = self.latest().filter(|picture| FrameIndex::from(picture.frame) == frame);
        shown.is_none_or(|picture| picture.is_proved())
    }

    /// Wishes for a frame; the newest wish wins. Its neighbours are fetched afterwards, so that the
    /// next step has them at hand.
    pub fn want(&self, frame: FrameIndex) {
        self.reader.want(frame.into());
        self.reader.near(frame.into(), NEIGHBOURS);
    }

    /// Wishes for a frame while the hand still moves: the key picture before it comes first.
    pub fn glance(&self, frame: FrameIndex) {
        self.reader.glance(frame.into());
    }

    /// Returns why the frame could not be shown, where the last wish failed.
    pub fn trouble(&self, frame: FrameIndex) -> Option<String> {
        let (failed, error) = self.reader.trouble()?;
        (FrameIndex::from(failed) == frame).then(|| error.to_string())
    }

    /// Returns the frame of the newest picture that was wished for and is there.
    pub fn frame_shown(&self) -> Option<FrameIndex> {
        self.latest().map(|picture| picture.frame.into())
    }

    /// Returns the newest picture that was wished for and is there.
    pub fn latest(&self) -> Option<Arc<Picture>> {
        self.reader.latest()
    }

    /// Returns a small picture of a frame when it is there, and wishes for it when it is not.
    pub fn small(&self, frame: FrameIndex, height: u32) -> Option<image::Handle> {
        let small = self.reader.small(frame.into(), height)?;
        Some(image::Handle::from_rgba(small.width(), small.height(), small.as_raw().clone()))
    }

    /// Returns the brightness of a frame's picture, upright, when it is there, and wishes for it when it is
    /// not.
    pub(crate) fn brightness(&self, frame: FrameIndex, height: u32) -> Option<Grey> {
        let small = self.reader.small(frame.into(), height)?;
        // Green is most of brightness, and near enough to it.
        let light = small.pixels().map(|pixel| f32::from(pixel.0[1])).collect();
        Grey::new(small.width() as usize, light)
    }

    /// Keeps no more pictures than one of so many clips on screen may: together they keep what one
    /// keeps alone.
    pub(crate) fn share_memory(&self, clips: usize) {
        self.reader.set_budget(DEFAULT_BUDGET / clips.max(1));
    }

    /// Says whether the widget looks for pictures by itself.
    pub(crate) fn set_playing(&self, playing: Playing) {
        self.playing.store(playing == Playing::Yes, Ordering::Relaxed);
    }
}

/// Opens a clip by its beginning: one that is not known is read and decoded apart.
pub(crate) fn beginning_of(path: &Path) -> Result<Footage, OpenError> {
    match ApartDecoder::of_this_process() {
        Some(apart) => apart.open_beginning(path, &known(), proofs::keeper()),
        None => proofs::open_beginning(path),
    }
}

/// Returns the clips that were decoded to their end before, and so are decoded in this process.
fn known() -> Arc<dyn KnownClips> {
    Arc::new(KnownHere::of_user())
}

/// Returns what a marks file keeps of a clip of which this was told.
pub(crate) fn facts_told(told: ClipTold, clip: &Path, quick_id: String) -> marks::ClipFacts {
    marks::ClipFacts {
        name: clip.file_name().unwrap_or_default().to_string_lossy().into_owned(),
        quick_id,
        content_hash: None,
        time_base: told.time_base,
        upright: told.upright,
        orientation_override: None,
        assumed_times: told.assumed_times,
        unknown: marks::model::Unknown::new(),
    }
}

/// Whether a clip plays.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Playing {
    /// It does.
    Yes,
    /// It stands still.
    No,
}
