use std::{
    io,
    path::{Path, PathBuf},
};

use crate::{
    footage::{CopyError, CopyWishes, Footage},
    library::{
        self, Asked, Carried, FileKind, Home, LeaveError, Leaving, Pictures, Purpose, Shelf,
        ShelfError, TakenFrom, Use,
    },
    marks::StateFolder,
    store::DocumentError,
    units::Ticks,
};

use super::copy::clip_copy;

/// What is to be cut out of a clip, and where it goes.
#[derive(Clone, Copy, Debug)]
pub struct CutWish<'a> {
    /// First and last instant of it, in ticks of the clip.
    pub span: [Ticks; 2],
    /// Whether it keeps the sound.
    pub sound: bool,
    /// The clip to write.
    pub out: &'a Path,
    /// What it is for where it leaves the club's folders.
    pub purpose: Purpose,
}

/// What was cut out.
#[derive(Debug)]
pub struct Cut {
    /// Its first and last frame by the numbers of the clip.
    pub frames: [u64; 2],
    /// How many frames earlier than asked for it begins, because decoding can begin there.
    pub earlier: u64,
    /// What went along.
    pub carried: Carried,
}

/// Why nothing was cut out.
#[derive(Debug, thiserror::Error)]
pub enum CutError {
    /// The name has another ending than what is written.
    #[error(
        "{}: an excerpt of this clip is a {ending} file; give it a name that ends in .{ending}",
        .out.display()
    )]
    Ending {
        /// The clip that was to be written.
        out: PathBuf,
        /// The ending that it must have.
        ending: &'static str,
    },
    /// It may not be written, or could not be.
    #[error(transparent)]
    Leave(#[from] LeaveError),
    /// What goes along could not be read or written; the excerpt itself is there.
    #[error(transparent)]
    Document(#[from] DocumentError),
    /// The library's list of folders could not be read.
    #[error(transparent)]
    Shelf(#[from] ShelfError),
    /// A file could not be read.
    #[error("{}: cannot be read ({cause}); look whether its disk is still there", .path.display())]
    Io {
        /// The file.
        path: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
}

impl CutError {
    /// Returns whether a person stopped it.
    pub fn is_stopped(&self) -> bool {
        let Self::Leave(LeaveError::Making(error)) = self else { return false };
        matches!(error.downcast_ref(), Some(CopyError::Stopped))
    }
}

/// Fails where what is noted of the clip does not allow it, and says why.
pub fn may_cut(footage: &Footage, wish: &CutWish<'_>, home: Option<&Home>) -> Result<(), CutError> {
    let clip = footage.path();
    let stays = stays(clip, wish.out, home)?;
    let what = if stays { Use::Excerpt } else { Use::Pictures(wish.purpose) };
    let asked = Asked { what, athletes: &[], routine: "", today: library::today() };
    Ok(library::permit(clip, &asked).map_err(LeaveError::from)?)
}

/// Writes a part of a clip as a clip of its own, with the marks that stand within it and the record.
///
/// What leaves the club's folders needs the consent that a picture needs.
pub fn cut(
    footage: &Footage,
    wish: &CutWish<'_>,
    (home, state): (Option<&Home>, Option<&StateFolder>),
    stop: &dyn Fn() -> bool,
) -> Result<Cut, CutError> {
    let (clip, out) = (footage.path(), wish.out);
    let ending = footage.ending_of_copy();
    if out.extension().is_none_or(|it| it != ending) {
        return Err(CutError::Ending { out: out.to_owned(), ending });
    }
    let asked = wish.span.map(|at| footage.table().at(at) as u64);
    let wishes = CopyWishes { frames: Some(asked), sound: wish.sound };
    let leaving = Leaving::new(out, FileKind::Clip);
    let is_done = library::sidecar_path(out).exists();
    let leaving = if is_done { leaving.anew() } else { leaving.anew_or_same() };
    let leaving = if stays(clip, out, home)? {
        leaving.cut_from(clip)
    } else {
        leaving.showing(Pictures { clip, purpose: wish.purpose, athlete: "", routine: "" })
    };
    let done = leaving.make(home, |place| {
        let copied = footage.copy_to(place, wishes, stop)?;
        // The copy was looked through after it was written, which nothing cuts short.
        if stop() { Err(CopyError::Stopped.into()) } else { Ok(copied) }
    })?;
    let failed = |path: &Path| {
        let path = path.to_owned();
        move |cause| CutError::Io { path, cause }
    };
    let content_hash = footage.content_hash().map_err(failed(clip))?;
    let taken = TakenFrom { content_hash, frames: done.frames };
    let frames = done.frames;
    let copy = clip_copy(footage, done, out).map_err(failed(out))?;
    let carried = library::carry_over(clip, &copy, taken, state)?;
    Ok(Cut { frames, earlier: asked[0].saturating_sub(frames[0]), carried })
}

/// Returns whether an excerpt stays with the club: in the clip's folder, or in one of the library.
fn stays(clip: &Path, out: &Path, home: Option<&Home>) -> Result<bool, CutError> {
    let folder_of = |file: &Path| std::path::absolute(file)?.with_file_name("").canonicalize();
    // A folder that is not there is told when the excerpt is written.
    let Ok(into) = folder_of(out) else { return Ok(false) };
    let shelf = home.map(Shelf::read).transpose()?.unwrap_or_default();
    let own = folder_of(clip).ok();
    Ok(own.iter().chain(&shelf.folders).any(|folder| into.starts_with(folder)))
}
