//! Steps as they would be with another process.

use std::{
    env,
    hint::black_box,
    io::{Read as _, Write as _},
    os::{fd::OwnedFd, unix::net::UnixStream},
    path::Path,
    process::{Child, Command, Stdio},
};

use memmap2::MmapMut;

use crate::{
    here::{AT_HAND, timed},
    memory::{mapped, shared},
};

/// Asks for an answer and no picture.
pub(crate) const NOTHING: u32 = u32::MAX;
/// Asks for a decoder that has no picture at hand.
pub(crate) const ANEW: u32 = u32::MAX - 1;

/// The other process.
pub(crate) struct There {
    child: Child,
    asks: UnixStream,
    memory: MmapMut,
}

impl There {
    pub(crate) fn start(clip: &Path) -> anyhow::Result<Self> {
        let shared = shared()?;
        let (asks, answers) = UnixStream::pair()?;
        let memory = mapped(&shared)?;
        let child = Command::new(env::current_exe()?)
            .arg("--serve")
            .arg(clip)
            .stdin(Stdio::from(shared))
            .stdout(Stdio::from(OwnedFd::from(answers)))
            .spawn()?;
        Ok(Self { child, asks, memory })
    }

    /// Returns seconds for a step among pictures at hand.
    pub(crate) fn at_hand(&mut self) -> anyhow::Result<f64> {
        (0..AT_HAND).try_for_each(|k| self.ask(k))?;
        timed(|k| self.ask(k * 7 % AT_HAND))
    }

    /// Returns seconds for an answer without a picture.
    pub(crate) fn answers(&mut self) -> anyhow::Result<f64> {
        timed(|_| self.ask(NOTHING))
    }

    /// Returns seconds for a step that decodes the next frame.
    pub(crate) fn decoded(&mut self) -> anyhow::Result<f64> {
        self.ask(ANEW)?;
        timed(|k| self.ask(k))
    }

    fn ask(&mut self, asked: u32) -> anyhow::Result<()> {
        self.asks.write_all(&asked.to_le_bytes())?;
        let mut written = [0; 4];
        self.asks.read_exact(&mut written)?;
        // Some of it is looked at; whoever draws it reads the rest, here as there.
        black_box(self.memory[u32::from_le_bytes(written) as usize / 2]);
        Ok(())
    }
}

impl Drop for There {
    fn drop(&mut self) {
        let _ = (self.child.kill(), self.child.wait());
    }
}
