//! Naming clips by their whole content: read in pieces, and stopped between two of them.

use std::{
    io::{self, Read},
    ops::ControlFlow,
    path::Path,
};

use crate::{store::open_file, units};

use super::{
    database::IndexError,
    progress::{ScanProgress, Told},
    scan::Scan,
    turn::{Turn, yielding},
};

impl Scan<'_> {
    /// Names every clip by its whole content; returns whether it came to the end.
    pub fn hash(&mut self, told: Told<'_>) -> Result<bool, IndexError> {
        let _turn = Turn::of_scan(self.home)?;
        let told = &mut yielding(self.home, told);
        let waiting: Vec<(i64, String, i64)> = self.index.list(
            "SELECT id, path, size FROM clips WHERE content_hash IS NULL AND NOT away ORDER BY id",
            |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)),
        )?;
        let all: u64 = waiting.iter().map(|(.., size)| size.unsigned_abs()).sum();
        let mut done = 0;
        for (id, path, size) in waiting {
            let mut on = |read: u64| told(ScanProgress::Hashing((done + read).min(all), all));
            match hash_of(Path::new(&path), &mut on) {
                Ok(None) => return Ok(false),
                Ok(Some(hash)) => {
                    let sql = "UPDATE clips SET content_hash = ?1 WHERE id = ?2";
                    self.index.change(sql, rusqlite::params![hash, id])?;
                }
                // A clip that went away meanwhile is left to the next scan.
                Err(_) => {}
            }
            done += size.unsigned_abs();
        }
        Ok(true)
    }
}

/// Returns the hash of a whole clip; nothing where `on`, which is told after each piece how many
/// bytes were read, stops it.
pub(crate) fn hash_of(
    clip: &Path,
    on: &mut dyn FnMut(u64) -> ControlFlow<()>,
) -> io::Result<Option<String>> {
    let mut pieces = Pieces { of: open_file(clip)?, on, read: 0, is_stopped: false };
    let hash = units::content_hash(&mut pieces);
    if pieces.is_stopped { Ok(None) } else { hash.map(Some) }
}

/// A reader that asks before each piece whether to go on.
struct Pieces<'a, R> {
    of: R,
    on: &'a mut dyn FnMut(u64) -> ControlFlow<()>,
    read: u64,
    is_stopped: bool,
}

/// Bytes of one piece: no disk takes a second for so few.
const PIECE: usize = 1 << 20;

impl<R: Read> Read for Pieces<'_, R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if (self.on)(self.read).is_break() {
            self.is_stopped = true;
            return Err(io::Error::other("stopped"));
        }
        let most = buffer.len().min(PIECE);
        let read = self.of.read(&mut buffer[..most])?;
        self.read += read as u64;
        Ok(read)
    }
}
