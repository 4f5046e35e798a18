use std::io::{self, Read, Seek, SeekFrom};
use std::sync::Arc;

use super::source::Source;

/// Bytes at either end that the quick name looks at.
const END: u64 = 1 << 16;

/// Returns a quick name for a file's content: of its length, first and last 64 KiB.
pub(super) fn quick_id(source: &Arc<Source>) -> io::Result<String> {
    let mut hasher = blake3::Hasher::new();
    hasher.update(&source.length().to_le_bytes());
    let mut reader = source.reader();
    io::copy(&mut reader.by_ref().take(END), &mut hasher)?;
    reader.seek(SeekFrom::Start(source.length().saturating_sub(END)))?;
    io::copy(&mut reader.take(END), &mut hasher)?;
    Ok(hasher.finalize().to_hex()[..32].to_owned())
}

/// Returns the BLAKE3 hash of all bytes in hexadecimal.
pub(super) fn content_hash(source: &Arc<Source>) -> io::Result<String> {
    let mut hasher = blake3::Hasher::new();
    let mut reader = source.reader();
    let mut buffer = vec![0; 1 << 20];
    loop {
        match reader.read(&mut buffer)? {
            0 => return Ok(hasher.finalize().to_hex().to_string()),
            read => hasher.update(&buffer[..read]),
        };
    }
}
