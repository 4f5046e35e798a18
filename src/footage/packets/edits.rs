//! The edit lists of a film in MP4 or MOV, counted before FFmpeg reads them: it writes out each edit's
//! pictures while it opens the file, and nobody can stop it there.

use std::{
    io::{self, BufReader, Read, Seek},
    sync::Arc,
};

use crate::footage::{error::OpenError, limits::LIMITS};

use super::source::Source;

/// FFmpeg looks for boxes no deeper.
const DEEPEST: usize = 10;
/// Bytes read at a time: boxes that are passed over lie far from each other.
const CHUNK: usize = 1 << 12;

/// Refuses a film with a longer edit list than any recording needs.
pub(crate) fn check(source: &Arc<Source>) -> Result<(), OpenError> {
    // What cannot be read is told when the clip is opened.
    let edits = longest(source.reader(), source.length()).unwrap_or(0);
    let (path, limit) = (source.path().to_owned(), LIMITS.edits);
    if edits > limit { Err(OpenError::TooManyEdits { path, edits, limit }) } else { Ok(()) }
}

/// Returns how many entries the longest edit list of the first film in a file has, by its boxes
/// (ISO/IEC 14496-12, 4.2 and 8.6.6); none where the file is not made of boxes.
fn longest(reader: impl Read + Seek, length: u64) -> io::Result<u64> {
    let mut boxes = Boxes { reader: BufReader::with_capacity(CHUNK, reader), at: 0 };
    let mut longest = 0;
    while let Some((name, end)) = boxes.next(length)? {
        if &name == b"moov" {
            longest = boxes.longest_within(end, 1)?;
            // A second one is passed over by FFmpeg, too.
            break;
        }
        boxes.pass_to(end)?;
    }
    Ok(longest)
}

struct Boxes<R> {
    reader: BufReader<R>,
    /// The reader's position.
    at: u64,
}

impl<R: Read + Seek> Boxes<R> {
    /// Reads the header of the box that begins here; returns its name and its end, which lies
    /// within `outer_end` whatever it says. Nothing where no box begins here.
    fn next(&mut self, outer_end: u64) -> io::Result<Option<([u8; 4], u64)>> {
        let begin = self.at;
        if outer_end.saturating_sub(begin) < 8 {
            return Ok(None);
        }
        let mut size = u64::from(u32::from_be_bytes(self.read()?));
        let name = self.read()?;
        if size == 1 && outer_end - self.at >= 8 {
            size = u64::from_be_bytes(self.read()?);
        }
        let end = match size {
            0 => outer_end,
            size => begin.saturating_add(size).min(outer_end),
        };
        Ok((end >= self.at).then_some((name, end)))
    }

    fn longest_within(&mut self, end: u64, depth: usize) -> io::Result<u64> {
        let mut longest = 0;
        while let Some((name, inner_end)) = self.next(end)? {
            longest = longest.max(match &name {
                b"moov" | b"trak" | b"edts" if depth < DEEPEST => {
                    self.longest_within(inner_end, depth + 1)?
                }
                b"elst" if inner_end - self.at >= 8 => {
                    // Its version says how long an entry is: the number that follows may be wrong.
                    let [version, ..] = self.read::<8>()?;
                    (inner_end - self.at) / if version == 1 { 20 } else { 12 }
                }
                _ => 0,
            });
            self.pass_to(inner_end)?;
        }
        Ok(longest)
    }

    fn read<const N: usize>(&mut self) -> io::Result<[u8; N]> {
        let mut bytes = [0; N];
        self.reader.read_exact(&mut bytes)?;
        self.at += N as u64;
        Ok(bytes)
    }

    /// Goes on at `place`, which is not before where it is.
    fn pass_to(&mut self, place: u64) -> io::Result<()> {
        let step = i64::try_from(place - self.at).map_err(|_| io::ErrorKind::InvalidInput)?;
        self.reader.seek_relative(step)?;
        self.at = place;
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use std::io::Cursor;

    use super::*;

    fn plain(name: [u8; 4], body: &[u8]) -> Vec<u8> {
        [&(body.len() as u32 + 8).to_be_bytes(), &name[..], body].concat()
    }

    /// A size of 1 says that the true one follows in eight bytes.
    fn wide(name: [u8; 4], body: &[u8]) -> Vec<u8> {
        [&1_u32.to_be_bytes(), &name[..], &(body.len() as u64 + 16).to_be_bytes(), body].concat()
    }

    /// Entries of 12 bytes in version 0, of 20 in version 1 (8.6.6.2).
    fn list(version: u8, entries: usize) -> Vec<u8> {
        let bytes = entries * if version == 1 { 20 } else { 12 };
        let head = [&[version, 0, 0, 0][..], &(entries as u32).to_be_bytes()].concat();
        plain(*b"elst", &[head, vec![0; bytes]].concat())
    }

    fn count(file: &[u8]) -> u64 {
        longest(Cursor::new(file), file.len() as u64).unwrap_or(u64::MAX)
    }

    #[test]
    fn the_longest_list_of_any_track_counts() {
        let track = |list: &[u8]| plain(*b"trak", &plain(*b"edts", list));
        let tracks =
            [track(&list(0, 2)), plain(*b"trak", &[]), track(&list(1, 7)), track(&list(0, 5))];
        let film = plain(*b"moov", &[plain(*b"mvhd", &[9; 100]), tracks.concat()].concat());
        let data = plain(*b"mdat", &[0xff; 10_000]);
        for file in [
            [plain(*b"ftyp", b"isom"), data.clone(), film.clone()].concat(),
            // A fragmented one, whose data follow.
            [film.clone(), plain(*b"moof", &[3; 40]), data.clone()].concat(),
            [wide(*b"mdat", &[0xff; 5000]), wide(*b"moov", &film[8..])].concat(),
            // A size of 0 reaches to the end.
            [&data[..], &0_u32.to_be_bytes(), &film[4..]].concat(),
        ] {
            assert_eq!(count(&file), 7);
        }
    }

    /// What a list or its box says is not believed beyond the box around it.
    #[test]
    fn no_size_is_trusted() {
        let mut said = list(0, 300);
        said[12..16].copy_from_slice(&1_u32.to_be_bytes());
        assert_eq!(count(&plain(*b"moov", &plain(*b"trak", &plain(*b"edts", &said)))), 300);
        let mut long = list(0, 3);
        long[..4].copy_from_slice(&u32::MAX.to_be_bytes());
        assert_eq!(count(&plain(*b"moov", &plain(*b"trak", &plain(*b"edts", &long)))), 3);
        let endless = [&1_u32.to_be_bytes(), &b"moov"[..], &u64::MAX.to_be_bytes(), &list(0, 4)];
        assert_eq!(count(&endless.concat()), 4);
        // A box that is shorter than its own header ends the walk, and so does half a header.
        for size in 2..8_u32 {
            assert_eq!(count(&[&size.to_be_bytes(), &b"free"[..], &[0; 64]].concat()), 0);
        }
        assert_eq!(count(b"\0\0\0\x20moo"), 0);
        // Boxes within boxes, as deep as the file is long.
        let sizes = (1..=100_000_u32).rev().map(|left| left * 8);
        let deep: Vec<u8> =
            sizes.flat_map(|size| [size.to_be_bytes(), *b"moov"].concat()).collect();
        assert_eq!(count(&deep), 0);
    }
}
