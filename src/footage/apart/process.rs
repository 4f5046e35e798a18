use std::{
    io,
    path::Path,
    process::Child,
    sync::mpsc::{self, Receiver, RecvTimeoutError},
    thread,
    time::{Duration, Instant},
};

use crate::footage::{libav, packets::source::Source};

use super::{
    decoder::{ApartDecoder, tell_once},
    ended::{how, wait_until},
    error::ApartError,
    line::{self, Line},
    locks,
    memory::Taking,
    reply::short,
    talk::{self, Ask, Told},
};

/// How often one looks whether anybody still waits.
const LOOK: Duration = Duration::from_millis(2);
/// How long a process that says nothing any more may take to end.
const ENDING: Duration = Duration::from_secs(1);
/// How often a process may say that it is still busy, once a second.
const MOST_BUSY: u32 = 3600;

/// What a process says, and what follows.
pub(super) type Heard = (Told, Vec<u8>);

/// A process that decodes one clip as long as it is asked.
#[derive(Debug)]
pub(super) struct Process {
    child: Child,
    line: Line,
    heard: Receiver<io::Result<Heard>>,
    memory: Taking,
    patience: Duration,
    until: Instant,
    busy: u32,
}

impl Process {
    /// Starts a process and waits until it is locked in.
    pub(super) fn start(decoder: &ApartDecoder, source: &Source) -> Result<Self, ApartError> {
        let clip = source.path();
        let memory = Taking::new();
        let (mut child, line) = line::start(decoder, source, memory.other_side())
            .map_err(|cause| decoder.not_started(clip, cause))?;
        let heard = line
            .reading(&mut child)
            .and_then(listen)
            .map_err(|cause| decoder.not_started(clip, cause));
        let heard = match heard {
            Ok(heard) => heard,
            Err(error) => {
                let _ = (child.kill(), child.wait());
                return Err(error);
            }
        };
        let (patience, until) = (decoder.patience, Instant::now() + decoder.patience);
        let mut process = Self { child, line, heard, memory, patience, until, busy: 0 };
        match process.hear(&|| false) {
            Ok(Some((Told::Ready(locks), _))) => tell_once(locks),
            Ok(_) => return Err(unsafe_of(clip, not_understood())),
            Err(how) => return Err(unsafe_of(clip, how)),
        }
        Ok(process)
    }

    /// Asks for something; it has its time from now on.
    pub(super) fn ask(&mut self, ask: &Ask, tail: &[u8]) -> Result<(), String> {
        self.until = Instant::now() + self.patience;
        self.busy = 0;
        locks::allow_more_time(&self.child);
        match talk::write(&mut self.line, ask, tail) {
            Ok(()) => Ok(()),
            Err(error) if error.kind() == io::ErrorKind::WouldBlock => Err(self.late()),
            Err(_) => Err(self.end()),
        }
    }

    /// Returns what the process says; nothing when `stop` said so.
    pub(super) fn hear(&mut self, stop: &dyn Fn() -> bool) -> Result<Option<Heard>, String> {
        loop {
            match self.heard.recv_timeout(LOOK) {
                Ok(Ok((Told::Busy, _))) if self.busy < MOST_BUSY => {
                    self.until = Instant::now() + self.patience;
                    self.busy += 1;
                    locks::allow_more_time(&self.child);
                }
                Ok(Ok(heard)) => return Ok(Some(heard)),
                Ok(Err(_)) => return Err(not_understood()),
                Err(RecvTimeoutError::Disconnected) => return Err(self.end()),
                Err(RecvTimeoutError::Timeout) => {}
            }
            if stop() {
                return Ok(None);
            }
            if Instant::now() > self.until {
                return Err(self.late());
            }
        }
    }

    /// Returns what the process says, however long it takes.
    pub(super) fn answer(&mut self) -> Result<Heard, String> {
        self.hear(&|| false)?.ok_or_else(not_understood)
    }

    /// Waits until what was asked is done; an inner error is FFmpeg's.
    pub(super) fn done(&mut self) -> Result<Result<(), libav::Error>, String> {
        match self.answer()? {
            (Told::Done, _) => Ok(Ok(())),
            (Told::Failed(code), _) => Ok(Err(of_number(code))),
            (Told::Refused(words), _) => Err(short(&words)),
            _ => Err(not_understood()),
        }
    }

    /// Fills `bytes` with the samples of a picture of which `tail` came with its first part.
    pub(super) fn take(&mut self, bytes: &mut [u8], mut tail: Vec<u8>) -> Result<(), String> {
        let room = self.memory.room();
        for (part, bytes) in bytes.chunks_mut(room).enumerate() {
            if part > 0 {
                self.ask(&Ask::More, &[])?;
                let (Told::Part, next) = self.answer()? else { return Err(not_understood()) };
                tail = next;
            }
            self.memory.take(bytes, &tail).map_err(|_| not_understood())?;
        }
        Ok(())
    }

    fn late(&self) -> String {
        format!("it took longer than {} s", self.patience.as_secs())
    }

    /// Says how the process ended, which says nothing any more.
    fn end(&mut self) -> String {
        match wait_until(&mut self.child, Instant::now() + ENDING) {
            Some(status) if status.success() => "it ended too early".into(),
            Some(status) => how(status),
            None => not_understood(),
        }
    }
}

impl Drop for Process {
    fn drop(&mut self) {
        // Also where it was stopped, or is busy with what nobody wants any more.
        let _ = (self.child.kill(), self.child.wait());
        self.line.close();
    }
}

pub(super) fn not_understood() -> String {
    "its answer was not understood".to_owned()
}

fn unsafe_of(clip: &Path, how: String) -> ApartError {
    ApartError::unsafe_of(clip, how)
}

/// Returns the error of a number that another process tells, which knows nothing of lost ones.
pub(super) fn of_number(code: i32) -> libav::Error {
    match libav::Error::from(code) {
        libav::LOST => libav::Error::InvalidData,
        error => error,
    }
}

/// Reads on a thread of its own, which ends with the process. It is never far ahead of who takes
/// what was read.
fn listen(mut from: impl io::Read + Send + 'static) -> io::Result<Receiver<io::Result<Heard>>> {
    let (sender, heard) = mpsc::sync_channel(2);
    let read = move || {
        while let Some(told) = talk::read(&mut from).transpose() {
            let is_last = told.is_err();
            // Whoever waited may have given up.
            if sender.send(told).is_err() || is_last {
                return;
            }
        }
    };
    thread::Builder::new().name("apart".into()).spawn(read)?;
    Ok(heard)
}
