//! The line between this process and one that stays. Where the system has sockets between two
//! processes, the clip is the other one's input, the socket its output and the memory that both
//! share its place for complaints; elsewhere it opens the clip itself, asked through its input.

use std::{
    fs::File,
    io::{self, Write},
    path::Path,
    process::{Child, Stdio},
};

#[cfg(not(unix))]
use crate::footage::packets::source::open_clip;
use crate::footage::{OpenError, packets::source::Source};

use super::{decoder::ApartDecoder, memory::Giving, serve::Server};

/// What a process is to do that stays.
pub(super) const STAY: &str = "stay";
/// The same, with memory that is shared.
pub(super) const STAY_SHARING: &str = "stay-sharing";

#[cfg(unix)]
#[derive(Debug)]
pub(super) struct Line(std::os::unix::net::UnixStream);

#[cfg(unix)]
pub(super) fn start(
    decoder: &ApartDecoder,
    source: &Source,
    memory: Option<File>,
) -> io::Result<(Child, Line)> {
    use std::os::{fd::OwnedFd, unix::net::UnixStream};
    let (here, there) = UnixStream::pair()?;
    // What is asked may be long, and a process may have been stopped.
    here.set_write_timeout(Some(decoder.patience))?;
    let stays = if memory.is_some() { STAY_SHARING } else { STAY };
    let child = decoder
        .command(source.path(), stays)
        .stdin(source.file()?)
        .stdout(OwnedFd::from(there))
        .stderr(memory.map_or_else(Stdio::null, Stdio::from))
        .spawn()?;
    Ok((child, Line(here)))
}

#[cfg(unix)]
impl Line {
    /// Returns where the other process is heard.
    pub(super) fn reading(&self, _: &mut Child) -> io::Result<impl io::Read + Send + use<>> {
        self.0.try_clone()
    }

    pub(super) fn close(&self) {
        // Where the other side is gone it is closed already.
        let _ = self.0.shutdown(std::net::Shutdown::Both);
    }
}

#[cfg(not(unix))]
#[derive(Debug)]
pub(super) struct Line(std::process::ChildStdin);

#[cfg(not(unix))]
pub(super) fn start(
    decoder: &ApartDecoder,
    source: &Source,
    _: Option<File>,
) -> io::Result<(Child, Line)> {
    let mut child = decoder
        .command(source.path(), STAY)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()?;
    let line = child.stdin.take().ok_or(io::ErrorKind::BrokenPipe)?;
    Ok((child, Line(line)))
}

#[cfg(not(unix))]
impl Line {
    /// Returns where the other process is heard.
    pub(super) fn reading(&self, child: &mut Child) -> io::Result<impl io::Read + Send + use<>> {
        child.stdout.take().ok_or_else(|| io::ErrorKind::BrokenPipe.into())
    }

    pub(super) fn close(&self) {}
}

impl Write for Line {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.0.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.0.flush()
    }
}

/// Returns the side of the line that this process was handed.
#[cfg(unix)]
pub(super) fn taken(shares: bool) -> io::Result<Server> {
    use std::os::fd::AsFd as _;
    let line = || io::stdout().as_fd().try_clone_to_owned().map(File::from);
    let giving = if shares { sharing()? } else { Giving::sending() };
    Ok(Server::new(line()?, line()?, giving))
}

#[cfg(target_os = "linux")]
fn sharing() -> io::Result<Giving> {
    use std::os::fd::AsFd as _;
    Giving::sharing(&io::stderr().as_fd().try_clone_to_owned()?.into())
}

#[cfg(not(target_os = "linux"))]
fn sharing() -> io::Result<Giving> {
    Err(io::ErrorKind::Unsupported.into())
}

/// Returns the side of the line that this process was handed.
#[cfg(windows)]
pub(super) fn taken(_: bool) -> io::Result<Server> {
    use std::os::windows::io::AsHandle as _;
    let told = io::stdout().as_handle().try_clone_to_owned()?.into();
    Ok(Server::new(input()?, told, Giving::sending()))
}

/// Returns the clip of a process that stays.
pub(super) fn clip(path: &Path) -> Result<File, OpenError> {
    #[cfg(unix)]
    return input().map_err(|cause| OpenError::unreadable(path, cause));
    #[cfg(not(unix))]
    return open_clip(path);
}

/// Returns what this process was handed as its input.
pub(super) fn input() -> io::Result<File> {
    #[cfg(unix)]
    let input = {
        use std::os::fd::AsFd as _;
        io::stdin().as_fd().try_clone_to_owned()?
    };
    #[cfg(windows)]
    let input = {
        use std::os::windows::io::AsHandle as _;
        io::stdin().as_handle().try_clone_to_owned()?
    };
    Ok(input.into())
}
