//! One clip of the wall, as one judge saw it.

use std::{io::Cursor, path::Path};

use iced::widget::image::Handle;
use image::ImageFormat;

use crate::{
    footage::{ApartDecoder, ApartError, SmallWish},
    library::{self, Asked, Hit, Home, Purpose, Reason, Use, today},
    marks::{self, At, Sheaf, StateFolder},
    store::{own_folder, replace_private},
    window::memory::marks_of,
};

/// Height of a thumbnail in pixels.
const HEIGHT: u32 = 150;
/// Nothing may be marked so soon, in seconds, where the first picture is shown.
const APART: f64 = 1.0;

/// What is known of it.
#[derive(Clone, Debug)]
pub(crate) struct Tile {
    /// What the search found.
    pub hit: Hit,
    /// What a look at the clip and its record showed.
    pub look: Look,
}

/// A look at a clip.
#[derive(Clone, Debug)]
pub(crate) enum Look {
    /// Nobody looked yet.
    Not,
    /// It is being looked at.
    Now,
    /// This was seen.
    Seen(Seen),
}

/// What is seen of a clip.
#[derive(Clone, Debug, Default)]
pub(crate) struct Seen {
    /// Its thumbnail; nothing where there is none.
    pub thumb: Option<Handle>,
    /// Why there is none although there may be one: in a few words, and in full.
    pub trouble: Option<(&'static str, String)>,
    /// Why it may not be in a set of the club: in a word, and in full.
    pub against: Option<(&'static str, String)>,
}

impl Tile {
    /// Returns the tile of what was found, not yet looked at.
    pub(crate) fn of(hit: Hit) -> Self {
        let is_there = hit.clip.is_some() && !hit.away;
        let look = if is_there { Look::Not } else { Look::Seen(Seen::default()) };
        Self { hit, look }
    }

    /// Returns the name of its file.
    pub(crate) fn name(&self) -> String {
        let path = self.hit.clip.as_deref().or(self.hit.marks.as_deref());
        let name = path.and_then(Path::file_name).unwrap_or_default();
        name.to_string_lossy().into_owned()
    }
}

/// Returns every reason against a use of the clip in the club, the weightiest first.
fn reasons(clip: &Path) -> Vec<Reason> {
    let what = Use::Set(Purpose::Library);
    let ruling = library::ask(clip, &Asked { what, athletes: &[], routine: "", today: today() });
    let mut reasons = ruling.against;
    reasons.sort_by_key(|reason| match reason {
        Reason::SomebodyWithdrew => 0,
        Reason::Unclear(_) => 1,
        Reason::InjuryOrDistress => 2,
        Reason::Overdue(_) => 3,
        _ => 4,
    });
    reasons
}

/// Returns what stands against it in a word, and in full.
fn against(reasons: &[Reason]) -> Option<(&'static str, String)> {
    let word = match reasons.first()? {
        Reason::NothingNoted | Reason::NoConsent { .. } => "no consent noted",
        Reason::OthersNotNoted | Reason::OthersRecognisable => "others in the picture",
        Reason::InjuryOrDistress => "injury or distress",
        Reason::SomebodyWithdrew => "consent withdrawn",
        Reason::Overdue(_) => "to be deleted",
        Reason::NotAgreed(_) => "no reference",
        Reason::Unclear(_) => "record unclear",
    };
    let all: Vec<String> = reasons.iter().map(Reason::to_string).collect();
    Some((word, all.join("; ")))
}

/// Looks at a clip and its record. Slow: it reads the folder, and has the clip decoded where no
/// thumbnail is kept.
pub(crate) fn look(clip: &Path, home: Option<&Home>, apart: &ApartDecoder) -> Seen {
    let reasons = reasons(clip);
    // Whoever withdrew, or may have, is not shown, however small.
    let closed = |reason: &Reason| matches!(reason, Reason::SomebodyWithdrew | Reason::Unclear(_));
    let quick_id = library::quick_id(clip).unwrap_or_default();
    let may = !reasons.iter().any(closed) && begins_quietly(clip, &quick_id);
    let kept = home.map(|home| library::thumb_path(home, &quick_id));
    let against = against(&reasons);
    if !may {
        if let Some(kept) = kept {
            // It was quiet, or allowed, when it was made.
            let _ = std::fs::remove_file(kept);
        }
        return Seen { against, ..Seen::default() };
    }
    match thumb(clip, kept.as_deref(), apart) {
        Ok(thumb) => Seen { thumb: Some(thumb), trouble: None, against },
        Err(error) => {
            tracing::warn!("{error}");
            let trouble = Some((error.in_short(), error.to_string()));
            Seen { thumb: None, trouble, against }
        }
    }
}

/// Returns the clip's first picture, made small and kept the first time.
fn thumb(clip: &Path, kept: Option<&Path>, apart: &ApartDecoder) -> Result<Handle, ApartError> {
    if let Some(Ok(image)) = kept.filter(|kept| kept.exists()).map(image::open) {
        return Ok(handle(image.into_rgba8()));
    }
    let small = apart.small(clip, SmallWish { frame: 0, height: HEIGHT, turn: None })?.image;
    if let Some(kept) = kept
        && kept.parent().is_some_and(|folder| own_folder(folder).is_ok())
    {
        let mut png = Cursor::new(Vec::new());
        if small.write_to(&mut png, ImageFormat::Png).is_ok() {
            // It is made anew where it cannot be kept.
            let _ = replace_private(kept, png.get_ref());
        }
    }
    Ok(handle(small))
}

fn handle(small: image::RgbaImage) -> Handle {
    Handle::from_rgba(small.width(), small.height(), small.into_raw())
}

/// Returns whether somebody marked the clip and nothing is marked near its first frame, so that
/// nobody is shown small in a split or a straddle. What cannot be known counts as no.
fn begins_quietly(clip: &Path, quick_id: &str) -> bool {
    let state = StateFolder::of_user();
    let sheaves = marks_of(clip).into_iter().map(|path| marks::load(&path, state.as_ref()));
    let Ok(sheaves) = sheaves.collect::<Result<Vec<Sheaf>, _>>() else { return false };
    let mut is_marked = false;
    for sheaf in &sheaves {
        let Some(of) = sheaf.clip.as_ref().filter(|of| of.quick_id == quick_id) else {
            return false;
        };
        let readings = sheaf.readings.iter().chain(&sheaf.unfinished).map(|reading| &reading.at);
        let mut at = sheaf.marks.iter().map(|mark| &mark.at).chain(readings).peekable();
        is_marked |= at.peek().is_some();
        let is_near =
            |at: &At| at.frame().is_none_or(|frame| of.time_base.seconds(frame.ticks) <= APART);
        if at.any(is_near) {
            return false;
        }
    }
    is_marked
}
