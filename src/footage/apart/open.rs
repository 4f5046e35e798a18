use std::{path::Path, sync::Arc};

use crate::{
    footage::{
        Footage, OpenError, Picture, ProofKeeper,
        numbering::open::How,
        packets::{clip::Clip, elsewhere::Hands, scan::Extent, source::Source},
        pictures::picture::Unsupported,
    },
    units::Ticks,
};

use super::{
    clip::ApartClip,
    decoder::ApartDecoder,
    known::{KnownClips, hash_if_known},
    opening::{self, Opened, Refusal},
};

impl ApartDecoder {
    /// Opens a clip as [`Footage::open_beginning`] does. One that is not known is read and decoded
    /// in processes of its own, and known once one of them has decoded it to its end.
    pub fn open_beginning(
        &self,
        path: &Path,
        known: &Arc<dyn KnownClips>,
        keeper: Option<Arc<dyn ProofKeeper>>,
    ) -> Result<Footage, OpenError> {
        self.open_to(path, (Extent::Beginning, keeper), known)
    }

    /// Opens a clip as [`Footage::open`] does, likewise.
    pub fn open(
        &self,
        path: &Path,
        known: &Arc<dyn KnownClips>,
        keeper: Option<Arc<dyn ProofKeeper>>,
    ) -> Result<Footage, OpenError> {
        self.open_to(path, (Extent::Whole, keeper), known)
    }

    fn open_to(
        &self,
        path: &Path,
        how: How,
        known: &Arc<dyn KnownClips>,
    ) -> Result<Footage, OpenError> {
        let source = Source::open(path)?;
        if let Some(hash) = hash_if_known(&**known, &source) {
            let footage = Footage::open_source(&source, how)?;
            // Nobody has set it before.
            let _ = footage.clip().content_hash.set(hash);
            return Ok(footage);
        }
        match self.open_apart(&source, how.clone(), known) {
            // Once more, in another process.
            Err(OpenError::Unsafe { .. }) => self.open_apart(&source, how, known),
            opened => opened,
        }
    }

    fn open_apart(
        &self,
        source: &Arc<Source>,
        how: How,
        known: &Arc<dyn KnownClips>,
    ) -> Result<Footage, OpenError> {
        let (path, pool) = (|| source.path().to_owned(), Arc::default());
        let opened = opening::open(self, source, (how.0, &pool), &|| false);
        let opened = opened.map_err(|refusal| match refusal {
            Refusal::Said(error) => error,
            Refusal::Lost(how) => OpenError::Unsafe { path: path(), how },
        })?;
        let Some(Opened { said, scan, first: (ordinal, frame), process }) = opened else {
            return Err(OpenError::NothingDecodes { path: path() });
        };
        let apart = Arc::new(ApartClip::new(self, source, said.clone(), known));
        apart.keep(scan.packets.len(), process);
        let clip = Clip::of(source, said, Hands::Other(apart))?;
        let first = Picture::new((0, Ticks(0)), frame, clip.defaults)
            .map_err(|Unsupported(format)| OpenError::PixelFormat { path: path(), format })?;
        let first = Some((ordinal, Arc::new(first)));
        Footage::of_clip(Clip { pool, scan, first, ..clip }, how)
    }
}
