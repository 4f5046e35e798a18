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
            ask::permit,
            gate::{Asked, Use},
            sidecar::Purpose,
        },
        home::{
            day::today,
            folder::Home,
            ledger::{FileKind, HandedOut, Ledger, Made},
        },
    },
    sheet::CAUTION,
    store::{LogError, Unfinished, open_file},
    units,
};

use super::{
    leave_error::LeaveError,
    of::Of,
    target::{self, Over},
};

/// A file that is about to leave.
pub struct Leaving<'a> {
    out: &'a Path,
    kind: FileKind,
    of: Of,
    pictures: Vec<Pictures<'a>>,
    cut: Option<&'a Path>,
    handed: Option<Handed<'a>>,
    over: Over,
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

impl<'a> Leaving<'a> {
    /// Begins with a file of nobody, which takes the place of an older one that was written so.
    pub fn new(out: &'a Path, kind: FileKind) -> Self {
        let (of, over) = (Of::default(), Over::Own);
        Self { out, kind, of, pictures: Vec::new(), cut: None, handed: None, over }
    }

    /// Says of whom it tells.
    #[must_use]
    pub fn of(self, of: Of) -> Self {
        Self { of, ..self }
    }

    /// Says that pictures are in it, once for each clip; it is then of everybody on these clips.
    #[must_use]
    pub fn showing(mut self, pictures: Pictures<'a>) -> Self {
        self.pictures.push(pictures);
        self
    }

    /// Says that it is a part of a clip that stays with the club: a record in doubt forbids it.
    #[must_use]
    pub fn cut_from(self, clip: &'a Path) -> Self {
        Self { cut: Some(clip), ..self }
    }

    /// Leaves alone what is there already.
    #[must_use]
    pub fn anew(self) -> Self {
        Self { over: Over::Nothing, ..self }
    }

    /// Leaves alone what is there already. Where that is the very same, as a command that was cut
    /// short leaves it, what is to come after it goes on.
    #[must_use]
    pub fn anew_or_same(self) -> Self {
        Self { over: Over::Same, ..self }
    }

    /// Takes the place of what is there, whoever wrote it, but of no clip and of nothing that the
    /// program keeps.
    #[must_use]
    pub fn over_anything(self) -> Self {
        Self { over: Over::Anything, ..self }
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
        for pictures in &self.pictures {
            pictures.permit()?;
            self.of.take_clip(pictures.clip);
        }
        if let Some(clip) = self.cut {
            let asked = Asked { what: Use::Excerpt, athletes: &[], routine: "", today: today() };
            permit(clip, &asked)?;
            self.of.take_clip(clip);
        }
        target::check(self.out, (self.kind, self.over), &self.of, home)?;
        let unwritable = |cause| LeaveError::Unwritable { path: self.out.to_owned(), cause };
        // A link is followed, so that it still points to the file afterwards.
        let target = self.out.canonicalize().unwrap_or_else(|_| self.out.to_owned());
        // Beside the target, because only within one folder is renaming one step.
        let folder = target.parent().unwrap_or(Path::new(""));
        let ending = self.out.extension().unwrap_or_default().to_string_lossy();
        let notes = home.map(Home::notes);
        let file = Unfinished::begin(folder, &format!(".{ending}"), notes.as_deref())
            .map_err(unwritable)?;
        let place = file.place();
        let made = make(place).map_err(|error| match error.downcast::<io::Error>() {
            Ok(cause) => unwritable(*cause),
            Err(other) => LeaveError::Making(other),
        })?;
        let written = fs::OpenOptions::new().read(true).write(true).open(place);
        written.and_then(|written| written.sync_all()).map_err(unwritable)?;
        if self.over == Over::Same && target.exists() {
            let is_same = is_same(place, &target).map_err(unwritable)?;
            let there = || LeaveError::There { path: self.out.to_owned() };
            return is_same.then_some(made).ok_or_else(there);
        }
        // Entered first: a file that nobody knows of could not be taken back.
        if let Some(home) = home {
            self.enter(home, place).map_err(|cause| LeaveError::Ledger {
                path: self.out.to_owned(),
                cause: Box::new(cause),
            })?;
        }
        let over = matches!(self.over, Over::Own | Over::Anything);
        file.put(&target, over).map_err(unwritable)?;
        if let Some(home) = home {
            // It took the place of what was there; where that stays listed, it only goes too soon.
            let _ = self.forget_older(home);
        }
        Ok(made)
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
    /// Fails with every reason where they may not leave: nobody should wait for an answer that is known.
    pub fn permit(&self) -> Result<(), LeaveError> {
        Ok(permit(self.clip, &self.asked())?)
    }

    fn asked(&self) -> Asked<'_> {
        let athletes = std::slice::from_ref(&self.athlete);
        let athletes = if self.athlete.is_empty() { &[] } else { athletes };
        let what = Use::Pictures(self.purpose);
        Asked { what, athletes, routine: self.routine, today: today() }
    }
}

fn is_same(made: &Path, there: &Path) -> io::Result<bool> {
    let hash = |path| units::content_hash(&mut open_file(path)?);
    Ok(hash(made)? == hash(there)?)
}
