//! One clip of the wall, as one judge saw it.

use std::path::{Path, PathBuf};

use iced::widget::image::Handle;

use crate::{
    footage::{Decoder, Footage},
    library::{self, Asked, Hit, Home, Purpose, Reason, Use, today},
    marks::{self, At},
};

/// Height of a thumbnail in pixels.
const HEIGHT: u32 = 150;
const WITHDREW: &str = "consent withdrawn";
/// Nothing may be marked so near to the frame that is shown, in seconds.
const APART: f64 = 1.0;

/// What is known of it.
#[derive(Clone, Debug)]
pub struct Tile {
    /// What the search found.
    pub hit: Hit,
    /// What a look at the clip and its record showed.
    pub look: Look,
}

/// A look at a clip.
#[derive(Clone, Debug)]
pub enum Look {
    /// Nobody looked yet.
    Not,
    /// It is being looked at.
    Now,
    /// This was seen.
    Seen(Seen),
}

/// What is seen of a clip.
#[derive(Clone, Debug, Default)]
pub struct Seen {
    /// Its thumbnail; nothing where there is none.
    pub thumb: Option<Handle>,
    /// Why it may not be in a set of the club: in a word, and in full.
    pub against: Option<(&'static str, String)>,
}

impl Tile {
    /// Returns the tile of what was found, not yet looked at.
    pub fn of(hit: Hit) -> Self {
        let look = if hit.clip.is_some() { Look::Not } else { Look::Seen(Seen::default()) };
        Self { hit, look }
    }

    /// Returns the name of its file.
    pub fn name(&self) -> String {
        let path = self.hit.clip.as_deref().or(self.hit.marks.as_deref());
        let name = path.and_then(Path::file_name).unwrap_or_default();
        name.to_string_lossy().into_owned()
    }
}

fn against(clip: &Path) -> Option<(&'static str, String)> {
    let what = Use::Set(Purpose::Library);
    let ruling = library::ask(clip, &Asked { what, athletes: &[], routine: "", today: today() });
    let withdrew = |reason: &&Reason| **reason == Reason::SomebodyWithdrew;
    let first = ruling.against.iter().find(withdrew).or(ruling.against.first())?;
    let word = match first {
        Reason::NothingNoted | Reason::NoConsent { .. } => "no consent noted",
        Reason::OthersNotNoted | Reason::OthersRecognisable => "others in the picture",
        Reason::InjuryOrDistress => "injury or distress",
        Reason::SomebodyWithdrew => WITHDREW,
        Reason::Overdue(_) => "to be deleted",
        Reason::NotAgreed(_) => "no reference",
        Reason::Unclear(_) => "record unclear",
    };
    let all: Vec<String> = ruling.against.iter().map(Reason::to_string).collect();
    Some((word, all.join("; ")))
}

/// Looks at a clip and its record. Slow: it reads the folder, and decodes where no thumbnail is kept.
pub fn look(clip: &Path, home: Option<&Home>) -> Seen {
    let against = against(clip);
    // Whoever withdrew is not shown, however small.
    let withdrew = against.as_ref().is_some_and(|(word, _)| *word == WITHDREW);
    let thumb = if withdrew { None } else { thumb(clip, home) };
    Seen { thumb, against }
}

/// Returns a thumbnail, made and kept the first time: the clip's first picture, else its last, if
/// nothing is marked near it. So nobody is shown small in a split or a straddle.
fn thumb(clip: &Path, home: Option<&Home>) -> Option<Handle> {
    let kept = home.and_then(|home| kept(clip, home));
    if let Some(kept) = kept.as_deref().filter(|kept| kept.exists())
        && let Ok(image) = image::open(kept)
    {
        return Some(handle(image.into_rgba8()));
    }
    let footage = Footage::open_beginning(clip).ok()?;
    let frame = quiet_frame(clip, &footage)?;
    let small = Decoder::new(&footage, 1).picture(frame).ok()?.to_small(HEIGHT);
    if let Some(kept) = kept
        && kept.parent().is_some_and(|folder| std::fs::create_dir_all(folder).is_ok())
    {
        // It is made anew where it cannot be kept.
        let _ = small.save(&kept);
    }
    Some(handle(small))
}

fn handle(small: image::RgbaImage) -> Handle {
    Handle::from_rgba(small.width(), small.height(), small.into_raw())
}

/// Returns where the thumbnail of a clip is kept, by its content.
fn kept(clip: &Path, home: &Home) -> Option<PathBuf> {
    Some(library::thumb_path(home, &library::quick_id(clip).ok()?))
}

/// Returns a frame at an end of the clip near which nothing is marked.
fn quiet_frame(clip: &Path, footage: &Footage) -> Option<usize> {
    let base = footage.facts().time_base;
    let sheaves = marks::beside(clip).into_iter().filter_map(|path| marks::load(&path, None).ok());
    let instants = |at: &At| match at {
        At::Frame(frame) => vec![frame.ticks],
        At::Span(from, to) => vec![from.ticks, to.ticks],
        At::Place(_) => Vec::new(),
    };
    let marked: Vec<f64> = sheaves
        .flat_map(|sheaf| {
            let marks = sheaf.marks.into_iter().map(|mark| mark.at);
            marks.chain(sheaf.readings.into_iter().map(|reading| reading.at)).collect::<Vec<At>>()
        })
        .flat_map(|at| instants(&at))
        .map(|ticks| base.seconds(ticks))
        .collect();
    let last = footage.table().len().checked_sub(1)?;
    let ends = if footage.is_whole() { vec![0, last] } else { vec![0] };
    ends.into_iter().find(|&frame| {
        let at = footage.table().entry(frame).map_or(0.0, |entry| base.seconds(entry.ticks));
        marked.iter().all(|mark| (mark - at).abs() > APART)
    })
}
