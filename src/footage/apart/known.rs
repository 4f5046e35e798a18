use std::{fmt::Debug, io, sync::Arc, thread};

use crate::{
    footage::{SourceState, packets::source::Source},
    units::content_hash,
};

/// Most bytes of a clip that is looked through before it is opened, to tell whether it is known.
const MOST_BYTES: u64 = 256 << 20;

/// Clips that were decoded to their end on this computer, each known by its whole content.
pub trait KnownClips: Debug + Send + Sync {
    /// Returns the content hashes of those that have so many bytes.
    fn of_length(&self, bytes: u64) -> Vec<String>;

    /// Takes one in.
    fn learn(&self, bytes: u64, content_hash: &str);
}

/// Returns the content hash of a clip that is known; nothing of one that is not, or that takes
/// longer to be told than it would to be decoded apart.
pub(super) fn hash_if_known(known: &dyn KnownClips, source: &Arc<Source>) -> Option<String> {
    let bytes = source.length();
    let hashes = if bytes <= MOST_BYTES { known.of_length(bytes) } else { Vec::new() };
    if hashes.is_empty() {
        return None;
    }
    let hash = content_hash(&mut source.reader()).ok()?;
    hashes.contains(&hash).then_some(hash)
}

/// Has a clip known from now on, on a thread of its own: all of it is read.
pub(super) fn remember(known: &Arc<dyn KnownClips>, source: &Arc<Source>) {
    if source.length() > MOST_BYTES {
        return;
    }
    let (known, source) = (Arc::clone(known), Arc::clone(source));
    let learn = move || -> io::Result<()> {
        let hash = content_hash(&mut source.reader())?;
        // What was written meanwhile was not decoded.
        if source.state() == SourceState::Same {
            known.learn(source.length(), &hash);
        }
        Ok(())
    };
    // A clip that could not be remembered is decoded apart once more.
    let _ = thread::Builder::new().name("known".into()).spawn(learn);
}
