//! Memory that this process and one that decodes share: pictures are handed over in it.

use std::{fs::File, io};

#[cfg(target_os = "linux")]
use memmap2::MmapMut;

use super::talk::LONGEST_TAIL;

/// Its bytes. A larger picture comes in parts.
const ROOM: usize = 16 << 20;

/// The side that takes pictures.
#[derive(Debug)]
pub(super) struct Taking(Option<File>);

impl Taking {
    /// Makes memory of a size that nobody can change, where the system has such.
    pub(super) fn new() -> Self {
        #[cfg(target_os = "linux")]
        return Self(sealed().ok());
        #[cfg(not(target_os = "linux"))]
        return Self(None);
    }

    /// Returns the same memory for the other process.
    pub(super) fn other_side(&self) -> Option<File> {
        self.0.as_ref()?.try_clone().ok()
    }

    /// Returns how many bytes of a picture come at once.
    pub(super) fn room(&self) -> usize {
        if self.0.is_some() { ROOM } else { LONGEST_TAIL }
    }

    /// Copies a part of a picture out, which came with its word where no memory is shared. What
    /// the other process does to the memory afterwards changes nothing.
    pub(super) fn take(&self, into: &mut [u8], tail: &[u8]) -> io::Result<()> {
        #[cfg(target_os = "linux")]
        if let Some(memory) = &self.0 {
            use std::os::unix::fs::FileExt as _;
            return if tail.is_empty() {
                memory.read_exact_at(into, 0)
            } else {
                Err(io::ErrorKind::InvalidData.into())
            };
        }
        if tail.len() != into.len() {
            return Err(io::ErrorKind::InvalidData.into());
        }
        into.copy_from_slice(tail);
        Ok(())
    }
}

#[cfg(target_os = "linux")]
fn sealed() -> io::Result<File> {
    use std::os::fd::{AsRawFd as _, FromRawFd as _};
    let flags = libc::MFD_CLOEXEC | libc::MFD_ALLOW_SEALING;
    // SAFETY: the name ends in a zero; what comes back is a new descriptor or -1.
    let memory = unsafe { libc::memfd_create(c"pictures".as_ptr(), flags) };
    if memory < 0 {
        return Err(io::Error::last_os_error());
    }
    // SAFETY: nobody else has it.
    let memory = unsafe { File::from_raw_fd(memory) };
    memory.set_len(ROOM as u64)?;
    let seals = libc::F_SEAL_SHRINK | libc::F_SEAL_GROW | libc::F_SEAL_SEAL;
    // SAFETY: the descriptor is open; the call takes numbers only.
    if unsafe { libc::fcntl(memory.as_raw_fd(), libc::F_ADD_SEALS, seals) } < 0 {
        return Err(io::Error::last_os_error());
    }
    Ok(memory)
}

/// The side that hands pictures over.
pub(super) enum Giving {
    #[cfg(target_os = "linux")]
    Shared(MmapMut),
    Sent(Vec<u8>),
}

impl Giving {
    /// Hands over with the words themselves.
    pub(super) fn sending() -> Self {
        Self::Sent(vec![0; LONGEST_TAIL])
    }

    /// Hands over through memory that was handed to this process.
    #[cfg(target_os = "linux")]
    pub(super) fn sharing(memory: &File) -> io::Result<Self> {
        // SAFETY: its size is sealed. The other process only reads it, and what it reads then is
        // for it to judge.
        Ok(Self::Shared(unsafe { MmapMut::map_mut(memory) }?))
    }

    pub(super) fn bytes(&mut self) -> &mut [u8] {
        match self {
            #[cfg(target_os = "linux")]
            Self::Shared(memory) => memory,
            Self::Sent(bytes) => bytes,
        }
    }

    /// Returns what goes with the word of so many bytes.
    pub(super) fn tail(&self, bytes: usize) -> &[u8] {
        match self {
            #[cfg(target_os = "linux")]
            Self::Shared(_) => &[],
            Self::Sent(sent) => &sent[..bytes],
        }
    }
}

#[cfg(all(test, target_os = "linux"))]
mod tests {
    use super::*;

    #[test]
    fn nobody_makes_the_memory_smaller_or_larger() {
        let taking = Taking::new();
        let Some(other) = taking.other_side() else { return };
        assert!(other.set_len(1).is_err() && other.set_len(ROOM as u64 + 1).is_err());
        let mut giving = Giving::sharing(&other).unwrap();
        giving.bytes()[..3].copy_from_slice(&[7, 8, 9]);
        let mut taken = [0; 3];
        taking.take(&mut taken, giving.tail(3)).unwrap();
        assert_eq!(taken, [7, 8, 9]);
        assert!(taking.take(&mut taken, &[1, 2, 3]).is_err(), "what comes some other way");
    }

    #[test]
    fn a_part_that_is_sent_must_have_its_length() {
        let (taking, mut taken) = (Taking(None), [0; 3]);
        taking.take(&mut taken, &[1, 2, 3]).unwrap();
        assert_eq!(taken, [1, 2, 3]);
        assert!(taking.take(&mut taken, &[1, 2]).is_err());
        assert!(taking.take(&mut taken, &[1, 2, 3, 4]).is_err());
    }
}
