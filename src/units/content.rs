//! Names for the content of a file, by which a clip is known wherever it lies.

use std::io::{self, Read, Seek, SeekFrom};

/// Bytes at either end that the quick name looks at.
const END: u64 = 1 << 16;

/// Returns a quick name for content of `length` bytes: of its length, first and last 64 KiB; 32
/// hexadecimal digits.
pub fn quick_id(reader: &mut (impl Read + Seek), length: u64) -> io::Result<String> {
    let mut hasher = blake3::Hasher::new();
    hasher.update(&length.to_le_bytes());
    reader.seek(SeekFrom::Start(0))?;
    io::copy(&mut reader.by_ref().take(END), &mut hasher)?;
    reader.seek(SeekFrom::Start(length.saturating_sub(END)))?;
    io::copy(&mut reader.take(END), &mut hasher)?;
    Ok(hasher.finalize().to_hex()[..32].to_owned())
}

/// Returns the BLAKE3 hash of everything that `reader` gives, in hexadecimal.
pub fn content_hash(reader: &mut impl Read) -> io::Result<String> {
    let mut hasher = blake3::Hasher::new();
    let mut buffer = vec![0; 1 << 20];
    loop {
        match reader.read(&mut buffer)? {
            0 => return Ok(hasher.finalize().to_hex().to_string()),
            read => hasher.update(&buffer[..read]),
        };
    }
}
