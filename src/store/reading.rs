//! Reading a file: never on the window's thread, never without end.

use std::{
    cell::Cell,
    fs::{File, OpenOptions},
    io::{self, Read as _},
    marker::PhantomData,
    path::Path,
};

/// Bytes of a text that a person writes, at most: a rule book, a set, a list.
const MOST_OF_TEXT: u64 = 16 << 20;
/// Bytes of a file that the program writes, at most. A marks file of 100,000 marks has a tenth.
const MOST_OF_OUR_OWN: u64 = 256 << 20;

thread_local! {
    static REFUSED: Cell<bool> = const { Cell::new(false) };
}

/// As long as it is held, no file may be read on this thread.
#[derive(Debug)]
#[must_use]
pub struct NoReading {
    before: bool,
    /// It is about one thread and stays there.
    here: PhantomData<*const ()>,
}

impl NoReading {
    /// Begins.
    pub fn begin() -> Self {
        Self { before: REFUSED.replace(true), here: PhantomData }
    }
}

impl Drop for NoReading {
    fn drop(&mut self) {
        REFUSED.set(self.before);
    }
}

/// Every door through which a file is read passes here first; in a debug build a read that would
/// hold up the window ends the test that drives it.
pub fn about_to_read(path: &Path) {
    debug_assert!(!REFUSED.get(), "{} is read on the window's thread", path.display());
}

/// Opens a file to be read. A pipe, which would be waited for, and a device, which may never end,
/// are refused.
pub fn open_file(path: &Path) -> io::Result<File> {
    about_to_read(path);
    let mut options = OpenOptions::new();
    options.read(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt as _;
        // Opening a pipe would wait for its other end; on a file it changes nothing.
        options.custom_flags(libc::O_NONBLOCK);
    }
    let file = options.open(path)?;
    if file.metadata()?.is_file() {
        return Ok(file);
    }
    Err(io::Error::new(io::ErrorKind::InvalidInput, "it is a folder, a pipe or a device, no file"))
}

/// Reads a file that the program wrote.
pub fn read_file(path: &Path) -> io::Result<Vec<u8>> {
    read_at_most(open_file(path)?, MOST_OF_OUR_OWN)
}

/// Reads a file that a person wrote.
pub fn read_written(path: &Path) -> io::Result<Vec<u8>> {
    read_at_most(open_file(path)?, MOST_OF_TEXT)
}

/// Reads a file that a person wrote, as text.
pub fn read_text(path: &Path) -> io::Result<String> {
    String::from_utf8(read_written(path)?)
        .map_err(|_| io::Error::new(io::ErrorKind::InvalidData, "it is no text in UTF-8"))
}

/// Reads to the end; more than so many bytes are an error, whatever the size was said to be.
pub fn read_at_most(reader: impl io::Read, most: u64) -> io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    reader.take(most + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > most {
        let too_large = format!("it is larger than {} MiB", most >> 20);
        return Err(io::Error::new(io::ErrorKind::FileTooLarge, too_large));
    }
    Ok(bytes)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_has_no_end_is_not_read() {
        let endless = io::repeat(b'a');
        let refused = read_at_most(endless, 3 << 20).unwrap_err();
        assert_eq!(refused.kind(), io::ErrorKind::FileTooLarge);
        assert_eq!(refused.to_string(), "it is larger than 3 MiB");
        assert_eq!(read_at_most(&b"abc"[..], 3).unwrap(), b"abc");
    }

    #[test]
    #[cfg(unix)]
    fn a_device_a_pipe_and_a_folder_are_refused_at_once() {
        let folder = tempfile::tempdir().unwrap();
        let pipe = folder.path().join("book.toml");
        let made = std::process::Command::new("mkfifo").arg(&pipe).status().unwrap();
        assert!(made.success());
        for path in [Path::new("/dev/zero"), &pipe, folder.path()] {
            let refused = open_file(path).unwrap_err();
            assert!(refused.to_string().contains("no file"), "{refused}");
        }
    }
}
