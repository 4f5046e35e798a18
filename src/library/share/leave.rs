//! The one way by which a file leaves the program.
//!
//! A page, a picture, a clip, a bundle: where a picture is in it the gate of consent is asked, a
//! sheet has to carry the caution, the file is entered in the ledger that deletion and withdrawal
//! read, and then it is written beside its place and renamed, so that it is there whole or not at
//! all. What the program keeps for itself does not leave.

use std::{
    error::Error,
    fs, io,
    path::{Path, PathBuf},
};

use crate::{
    library::{
        consent::{
            ask::{NotPermitted, permit},
            gate::{Asked, Use},
            sidecar::Purpose,
        },
        home::{
            day::today,
            folder::Home,
            ledger::{FileKind, HandedOut, Ledger, Made},
        },
        quick_id::quick_id,
    },
    sheet::CAUTION,
    store::{LogError, Replacing},
    units,
};

use super::of::Of;

/// A file that is about to leave.
pub struct Leaving<'a> {
    out: &'a Path,
    kind: FileKind,
    of: Of,
    pictures: Option<Pictures<'a>>,
    handed: Option<Handed<'a>>,
    replace: Replacing,
}

/// Pictures of a clip that leave, and what for.
#[derive(Clone, Copy, Debug)]
pub struct Pictures<'a> {
    /// The clip.
    pub clip: &'a Path,
    /// What they are for.
    pub purpose: Purpose,
    /// Code of the athlete whose routine they show, where that is known.
    pub athlete: &'a str,
    /// The routine; empty for the clip as a whole.
    pub routine: &'a str,
}

/// To whom a bundle goes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Handed<'a> {
    /// For whom, in the words of who made it.
    pub to: &'a str,
    /// Whether clips are in it; each was asked for when it was put in.
    pub pictures: bool,
}

/// Why a file did not leave. Nothing was written.
#[derive(Debug, thiserror::Error)]
pub enum LeaveError {
    /// The clip's record does not allow its pictures to leave.
    #[error(transparent)]
    Refused(#[from] NotPermitted),
    /// A sheet without the caution.
    #[error("{path}: a sheet never leaves without its caution; nothing was written")]
    NoCaution {
        /// Where it would have gone.
        path: PathBuf,
    },
    /// The target exists and is no file.
    #[error("{path}: is not a file, so nothing is written there; give another name")]
    NotAFile {
        /// The target.
        path: PathBuf,
    },
    /// It would take the place of a clip that it was made of.
    #[error("{path}: is the clip itself; give another name")]
    Clip {
        /// The target.
        path: PathBuf,
    },
    /// There is something already that is not to be replaced.
    #[error("{path}: is there already; give another name, or take it away first")]
    There {
        /// The target.
        path: PathBuf,
    },
    /// The system refused.
    #[error("{path}: cannot be written ({cause}); check the folder and the free space")]
    Unwritable {
        /// The target.
        path: PathBuf,
        /// What the system said.
        cause: io::Error,
    },
    /// It cannot be entered in the ledger, so that nobody could take it back.
    #[error("{path}: nothing was written, because it cannot be written down what leaves: {cause}")]
    Ledger {
        /// The target.
        path: PathBuf,
        /// What is wrong with the ledger, and what to do.
        cause: LogError,
    },
    /// It could not be made.
    #[error(transparent)]
    Making(Box<dyn Error + Send + Sync>),
}

impl<'a> Leaving<'a> {
    /// Begins with a file of nobody, which takes the place of an older one.
    pub fn new(out: &'a Path, kind: FileKind) -> Self {
        let (of, replace) = (Of::default(), Replacing::Allowed);
        Self { out, kind, of, pictures: None, handed: None, replace }
    }

    /// Says of whom it tells.
    #[must_use]
    pub fn of(self, of: Of) -> Self {
        Self { of, ..self }
    }

    /// Says that pictures are in it; it is then of everybody on the clip.
    #[must_use]
    pub fn showing(self, pictures: Pictures<'a>) -> Self {
        Self { pictures: Some(pictures), ..self }
    }

    /// Leaves alone what is there already.
    #[must_use]
    pub fn anew(self) -> Self {
        Self { replace: Replacing::Never, ..self }
    }

    pub(super) fn handed(self, handed: Handed<'a>) -> Self {
        Self { handed: Some(handed), ..self }
    }

    /// Writes the file.
    pub fn write(self, bytes: &[u8], home: Option<&Home>) -> Result<(), LeaveError> {
        let says = |words: &str| String::from_utf8_lossy(bytes).contains(words);
        if self.kind == FileKind::Sheet && !says(CAUTION) {
            return Err(LeaveError::NoCaution { path: self.out.to_owned() });
        }
        self.make(home, |place| Ok(fs::write(place, bytes)?))
    }

    /// Lets `make` write the file at a place beside its own, and puts it there.
    pub fn make<T>(
        mut self,
        home: Option<&Home>,
        make: impl FnOnce(&Path) -> Result<T, Box<dyn Error + Send + Sync>>,
    ) -> Result<T, LeaveError> {
        if let Some(pictures) = self.pictures {
            permit(pictures.clip, &pictures.asked())?;
            self.of.take_clip(pictures.clip);
        }
        self.check_target()?;
        let unwritable = |cause| LeaveError::Unwritable { path: self.out.to_owned(), cause };
        // A link is followed, so that it still points to the file afterwards.
        let target = self.out.canonicalize().unwrap_or_else(|_| self.out.to_owned());
        // Beside the target, because only within one folder is renaming one step.
        let folder = target.parent().filter(|folder| !folder.as_os_str().is_empty());
        let ending = self.out.extension().unwrap_or_default().to_string_lossy();
        let place = tempfile::Builder::new()
            .prefix(".stillcall-")
            .suffix(&format!(".{ending}"))
            .tempfile_in(folder.unwrap_or(Path::new(".")))
            .map_err(unwritable)?
            .into_temp_path();
        let made = make(&place).map_err(|error| match error.downcast::<io::Error>() {
            Ok(cause) => unwritable(*cause),
            Err(other) => LeaveError::Making(other),
        })?;
        let file = fs::OpenOptions::new().read(true).write(true).open(&place);
        let file = file.map_err(unwritable)?;
        allow_reading(&file);
        file.sync_all().map_err(unwritable)?;
        // Entered first: a file that nobody knows of could not be taken back.
        if let Some(home) = home {
            let entered = self.enter(home, &place);
            entered.map_err(|cause| LeaveError::Ledger { path: self.out.to_owned(), cause })?;
        }
        match self.replace {
            Replacing::Allowed => place.persist(&target),
            Replacing::Never => place.persist_noclobber(&target),
        }
        .map_err(|error| unwritable(error.error))?;
        if let Some(home) = home {
            // It took the place of what was there; where that stays listed, it only goes too soon.
            let _ = self.forget_older(home);
        }
        Ok(made)
    }

    fn check_target(&self) -> Result<(), LeaveError> {
        let path = || self.out.to_owned();
        if self.out.file_name().is_none() {
            return Err(LeaveError::NotAFile { path: path() });
        }
        let Ok(facts) = fs::metadata(self.out) else { return Ok(()) };
        if !facts.is_file() {
            return Err(LeaveError::NotAFile { path: path() });
        }
        if self.replace == Replacing::Never {
            return Err(LeaveError::There { path: path() });
        }
        if quick_id(self.out).is_ok_and(|there| self.of.is_of_clip(&there)) {
            return Err(LeaveError::Clip { path: path() });
        }
        Ok(())
    }

    fn enter(&self, home: &Home, place: &Path) -> Result<(), LogError> {
        if let Some(Handed { to, pictures }) = self.handed {
            let failed = |source| LogError::Io { path: place.to_owned(), source };
            let mut file = fs::File::open(place).map_err(failed)?;
            return Ledger::open(home)?.add(&HandedOut {
                path: self.absolute(),
                hash: units::content_hash(&mut file).map_err(failed)?,
                to: to.to_owned(),
                pictures,
                athletes: self.of.athletes(),
                clips: self.of.clips(),
                withdrawn: 0,
                on: today(),
            });
        }
        let mut ledger = Ledger::<Made>::open(home)?;
        let known = ledger.lines()?;
        for line in self.lines().filter(|line| !known.contains(line)) {
            ledger.add(&line)?;
        }
        Ok(())
    }

    /// Takes out of the list what was entered of an older file in the same place.
    fn forget_older(&self, home: &Home) -> Result<(), LogError> {
        if self.handed.is_some() {
            return Ok(());
        }
        let mut ledger = Ledger::<Made>::open(home)?;
        let (mut lines, own) = (ledger.lines()?, self.lines().collect::<Vec<_>>());
        let before = lines.len();
        lines.retain(|line| line.path != self.absolute() || own.contains(line));
        if lines.len() == before { Ok(()) } else { ledger.replace(&lines) }
    }

    fn lines(&self) -> impl Iterator<Item = Made> {
        let (path, kind, on) = (self.absolute(), self.kind, today());
        self.of.each().map(move |(clip, athlete)| Made {
            path: path.clone(),
            kind,
            clip: clip.to_owned(),
            athlete: athlete.to_owned(),
            on,
        })
    }

    fn absolute(&self) -> PathBuf {
        std::path::absolute(self.out).unwrap_or_else(|_| self.out.to_owned())
    }
}

impl Pictures<'_> {
    fn asked(&self) -> Asked<'_> {
        let athletes = std::slice::from_ref(&self.athlete);
        let athletes = if self.athlete.is_empty() { &[] } else { athletes };
        let what = Use::Pictures(self.purpose);
        Asked { what, athletes, routine: self.routine, today: today() }
    }
}

/// Gives the file the rights of an ordinary new one; a temporary one is private.
#[cfg(unix)]
fn allow_reading(file: &fs::File) {
    use std::os::unix::fs::PermissionsExt as _;
    // Some shares refuse; the file matters more than its rights.
    let _ = file.set_permissions(fs::Permissions::from_mode(0o644));
}

#[cfg(not(unix))]
fn allow_reading(_: &fs::File) {}
