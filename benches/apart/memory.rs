//! Memory that two processes share.

use std::{fs::File, io, os::fd::FromRawFd as _};

use anyhow::ensure;
use memmap2::MmapMut;

/// More than a picture of 1080p with 8 bits takes.
const ROOM: u64 = 4 << 20;

pub(crate) fn shared() -> anyhow::Result<File> {
    // SAFETY: the name ends in a zero; what comes back is a new descriptor or -1.
    let shared = unsafe { libc::memfd_create(c"pictures".as_ptr(), libc::MFD_CLOEXEC) };
    ensure!(shared >= 0, "no shared memory: {}", io::Error::last_os_error());
    // SAFETY: nobody else has it.
    let shared = unsafe { File::from_raw_fd(shared) };
    shared.set_len(ROOM)?;
    Ok(shared)
}

pub(crate) fn mapped(shared: &File) -> anyhow::Result<MmapMut> {
    // SAFETY: the two processes take turns, each waiting for the other's word.
    Ok(unsafe { MmapMut::map_mut(shared) }?)
}
