use std::{io, path::Path, sync::Arc};

use crate::{
    footage::{packets::clip::Clip, pictures::picture::Picture, source_state::SourceState},
    units,
};

use super::{
    facts::FootageFacts,
    proof::{Proof, ProofKeeper},
    table::{FrameEntry, FrameTable},
};

/// An opened and scanned clip; cheap to clone and to share between threads.
#[derive(Clone, Debug)]
pub struct Footage {
    pub(super) clip: Arc<Clip>,
    pub(super) table: Arc<FrameTable>,
    pub(super) facts: Arc<FootageFacts>,
    pub(super) keeper: Option<Arc<dyn ProofKeeper>>,
}

impl Footage {
    /// Returns whether all packets of the clip have been read.
    pub fn is_whole(&self) -> bool {
        self.clip.scan.is_whole
    }

    /// Returns whether the frames have their final numbers.
    pub fn is_counted(&self) -> bool {
        self.is_whole() && self.table.is_counted()
    }

    /// Returns the first picture where it is the first frame: opening has decoded it.
    pub(crate) fn first_picture(&self) -> Option<Arc<Picture>> {
        let (ordinal, picture) = self.clip.first.as_ref()?;
        let is_first = |entry: &FrameEntry| {
            entry.ordinal == *ordinal && entry.hash.is_none_or(|hash| hash == picture.hash())
        };
        self.table.entry(0).is_some_and(is_first).then(|| Arc::clone(picture))
    }

    /// Returns whether a picture may stand for the frame that it says: not where that frame is
    /// proved to be otherwise. Where it is proved to be so, that is said on the picture.
    pub(crate) fn admits(&self, picture: &Picture) -> bool {
        let entry = self.table.entry(picture.frame);
        let Some(entry) = entry.filter(|entry| entry.ticks == picture.ticks) else { return false };
        let Some(hash) = entry.hash else { return true };
        let holds = hash == picture.hash();
        if holds {
            picture.set_proved();
        }
        holds
    }

    /// Returns whether the other one has the same table.
    pub(crate) fn is_as_known_as(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.table, &other.table)
    }

    /// Returns what is known of the clip as a whole.
    pub fn facts(&self) -> &FootageFacts {
        &self.facts
    }

    /// Returns the frames in presentation order.
    pub fn table(&self) -> &FrameTable {
        &self.table
    }

    /// Returns the path under which the clip was opened.
    pub fn path(&self) -> &Path {
        self.clip.source.path()
    }

    /// Returns what became of the file since it was opened.
    pub fn state(&self) -> SourceState {
        self.clip.source.state()
    }

    /// Returns a quick name for the content, of its length and both ends; 32 hexadecimal digits.
    pub fn content_id(&self) -> io::Result<String> {
        let source = &self.clip.source;
        units::quick_id(&mut source.reader(), source.length())
    }

    /// Returns the BLAKE3 hash of the whole file; reads it all, the first time.
    pub fn content_hash(&self) -> io::Result<String> {
        if let Some(hash) = self.clip.content_hash.get() {
            return Ok(hash.clone());
        }
        let hash = units::content_hash(&mut self.clip.source.reader())?;
        Ok(self.clip.content_hash.get_or_init(|| hash).clone())
    }

    /// Returns the clip as a proof that is kept shows it, where there is one of these very packets;
    /// it decodes nothing, but reads the whole file the first time.
    pub(crate) fn recalled(&self, stop: &dyn Fn() -> bool) -> Option<Self> {
        let keeper = self.keeper.as_ref().filter(|_| self.is_whole())?;
        let proof = keeper.find(&self.hash_unless(stop)?)?;
        proof.is_of(&self.clip.scan).then(|| self.with_proof(&proof))
    }

    /// Keeps a proof, where the file is still what was decoded.
    pub(super) fn keep(&self, proof: &Proof, stop: &dyn Fn() -> bool) {
        if let Some(keeper) = &self.keeper
            && let Some(hash) = self.hash_unless(stop)
            && matches!(self.state(), SourceState::Same | SourceState::Gone)
        {
            keeper.keep(&hash, proof);
        }
    }

    fn hash_unless(&self, stop: &dyn Fn() -> bool) -> Option<String> {
        if let Some(hash) = self.clip.content_hash.get() {
            return Some(hash.clone());
        }
        let mut pieces = Pieces { of: self.clip.source.reader(), stop };
        let hash = units::content_hash(&mut pieces).ok()?;
        Some(self.clip.content_hash.get_or_init(|| hash).clone())
    }

    pub(crate) fn clip(&self) -> &Clip {
        &self.clip
    }
}

/// A reader that asks before each piece whether to stop.
struct Pieces<'a, R> {
    of: R,
    stop: &'a dyn Fn() -> bool,
}

impl<R: io::Read> io::Read for Pieces<'_, R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if (self.stop)() { Err(io::Error::other("stopped")) } else { self.of.read(buffer) }
    }
}
