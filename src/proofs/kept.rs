use std::{
    fs, io,
    path::{Path, PathBuf},
    time::SystemTime,
};

use crate::{
    footage::{Proof, ProofKeeper},
    marks::StateFolder,
    store::{own_folder, read_file, replace_private},
};

/// Proofs that are kept, at most; those written longest ago go first.
const MOST: usize = 500;
/// Bytes of them, at most: some forty hours at 60 frames a second.
const MOST_BYTES: u64 = 256 << 20;
/// What a file begins with.
const BEGINS: &str = "stillcallproof1x";

/// The proofs in a state folder.
#[derive(Debug)]
pub struct KeptProofs {
    state: StateFolder,
}

impl KeptProofs {
    /// Returns the proofs in this state folder.
    pub fn new(state: StateFolder) -> Self {
        Self { state }
    }
}

impl ProofKeeper for KeptProofs {
    fn find(&self, content_hash: &str) -> Option<Proof> {
        let text = read_file(&self.state.proof_of(content_hash)).ok()?;
        Proof::from_bytes(&bytes_of(&text)?)
    }

    fn keep(&self, content_hash: &str, proof: &Proof) {
        let path = self.state.proof_of(content_hash);
        if let Err(error) = write(&path, proof) {
            // It is made anew the next time.
            tracing::warn!("{}: the proof of a clip was not kept ({error})", path.display());
        }
    }
}

fn write(path: &Path, proof: &Proof) -> io::Result<()> {
    let text = text_of(&proof.to_bytes());
    if text.len() as u64 > MOST_BYTES / 2 {
        return Ok(());
    }
    let folder = path.parent().unwrap_or(path);
    own_folder(folder)?;
    make_room(folder, text.len() as u64);
    replace_private(path, text.as_bytes())
}

/// Returns bytes as one word with a checksum at its end. In a word of its own no athlete's code can
/// seem to stand.
fn text_of(bytes: &[u8]) -> String {
    const DIGITS: [char; 16] =
        ['0', '1', '2', '3', '4', '5', '6', '7', '8', '9', 'a', 'b', 'c', 'd', 'e', 'f'];
    let mut text = String::with_capacity(BEGINS.len() + 2 * bytes.len() + 64);
    text.push_str(BEGINS);
    for byte in bytes {
        text.extend([byte >> 4, byte & 15].map(|digit| DIGITS[usize::from(digit)]));
    }
    text.push_str(&blake3::hash(bytes).to_hex());
    text
}

/// Returns the bytes of such a word; nothing where it is not whole.
fn bytes_of(text: &[u8]) -> Option<Vec<u8>> {
    let rest = text.strip_prefix(BEGINS.as_bytes())?;
    let (digits, checksum) = rest.split_at_checked(rest.len().checked_sub(64)?)?;
    let pairs = digits.chunks(2).map(|pair| match pair {
        [high, low] => Some(digit(*high)? << 4 | digit(*low)?),
        _ => None,
    });
    let bytes = pairs.collect::<Option<Vec<u8>>>()?;
    (blake3::hash(&bytes).to_hex().as_bytes() == checksum).then_some(bytes)
}

fn digit(letter: u8) -> Option<u8> {
    char::from(letter).to_digit(16).map(|digit| digit as u8)
}

/// Takes away what was written longest ago until there is room for one more of so many bytes.
fn make_room(folder: &Path, bytes: u64) {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut kept: Vec<(SystemTime, PathBuf, u64)> = entries
        .filter_map(|entry| {
            let facts = entry.metadata().ok()?;
            Some((facts.modified().ok()?, entry.path(), facts.len()))
        })
        .collect();
    kept.sort();
    let mut all: u64 = kept.iter().map(|(.., bytes)| bytes).sum();
    let mut left = kept.len();
    for (_, path, size) in kept {
        if left < MOST && all + bytes <= MOST_BYTES {
            break;
        }
        // What cannot be taken away now is tried again with the next one.
        let _ = fs::remove_file(path);
        (left, all) = (left - 1, all - size);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_word_that_is_not_whole_is_no_proof() {
        let text = text_of(b"\x00\xffabc").into_bytes();
        assert_eq!(bytes_of(&text).as_deref(), Some(&b"\x00\xffabc"[..]));
        for at in 0..text.len() {
            let mut torn = text.clone();
            torn[at] ^= 1;
            assert_eq!(bytes_of(&torn), None, "byte {at}");
            assert_eq!(bytes_of(&text[..at]), None, "the first {at}");
        }
    }

    #[test]
    fn the_oldest_goes_first() {
        let folder = tempfile::tempdir().unwrap();
        for k in 0..MOST as u64 {
            let path = folder.path().join(format!("{k:04}"));
            fs::write(&path, "x").unwrap();
            let then = SystemTime::UNIX_EPOCH + std::time::Duration::from_secs(k);
            fs::File::options().write(true).open(&path).unwrap().set_modified(then).unwrap();
        }
        make_room(folder.path(), 1);
        let names = fs::read_dir(folder.path()).unwrap().flatten().map(|entry| entry.file_name());
        assert_eq!(names.min().unwrap(), "0001");
    }
}
