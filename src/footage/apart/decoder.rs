use std::{
    env,
    io::{self, Read as _},
    path::{Path, PathBuf},
    process::{Child, ChildStdout, Command, Stdio},
    sync::{Once, OnceLock, mpsc},
    thread,
    time::{Duration, Instant},
};

use crate::footage::packets::source::open_clip;

use super::{
    ended::{how, wait_until},
    error::ApartError,
    locks::Locks,
    reply::{ClipTold, MOST_BYTES, Reply, SmallPicture},
    wish::{SECONDS, SmallWish},
};

/// What makes the program do nothing but decode.
pub(super) const FIRST_ARGUMENT: &str = "decode-apart";
/// What a process is told of where it runs: where libraries are found, and nothing else.
const TOLD: [&str; 4] = ["LD_LIBRARY_PATH", "DYLD_FALLBACK_LIBRARY_PATH", "PATH", "SYSTEMROOT"];

/// Who decodes what is opened in a window of this process.
static TOLD_HERE: OnceLock<ApartDecoder> = OnceLock::new();

/// Decodes clips of unknown origin, each in a process of its own that is locked in.
#[derive(Clone, Debug)]
pub struct ApartDecoder {
    program: PathBuf,
    pub(super) patience: Duration,
    trial: Option<String>,
}

impl Default for ApartDecoder {
    /// Starts this very program once more.
    fn default() -> Self {
        // Where a program cannot say where it lies, starting nothing says so.
        Self::with(env::current_exe().unwrap_or_default())
    }
}

impl ApartDecoder {
    /// Starts another program, whose first deed is [`decode_when_asked`](super::decode_when_asked).
    pub fn with(program: PathBuf) -> Self {
        Self { program, patience: Duration::from_secs(SECONDS), trial: None }
    }

    /// Has clips decoded like this that are opened in a window of this process; the first call
    /// counts. A program that begins with [`decode_when_asked`](super::decode_when_asked) has
    /// called it.
    pub fn use_in_this_process(self) {
        TOLD_HERE.get_or_init(|| self);
    }

    /// Returns who decodes what is opened in a window; nothing in a program that cannot be started
    /// to decode.
    pub fn of_this_process() -> Option<&'static Self> {
        TOLD_HERE.get()
    }

    /// Waits less long for a picture.
    #[must_use]
    pub fn patient_for(self, patience: Duration) -> Self {
        Self { patience, ..self }
    }

    /// For tests: has the process try something that it must not be able to do.
    #[must_use]
    pub fn trying(self, what: &str) -> Self {
        Self { trial: Some(what.to_owned()), ..self }
    }

    /// Returns a small picture of a frame. Slow: it starts a process.
    pub fn small(&self, clip: &Path, wish: SmallWish) -> Result<SmallPicture, ApartError> {
        let reply = self.ask(clip, wish)?;
        tell_once(reply.locks);
        let (told, image) = reply.drawn.map_err(ApartError::Refused)?;
        Ok(SmallPicture { image, clip: told, locks: reply.locks })
    }

    /// Returns what is known of a clip after its beginning was read.
    pub fn facts(&self, clip: &Path) -> Result<ClipTold, ApartError> {
        // Opening decodes the first picture anyway.
        let small = self.small(clip, SmallWish { frame: 0, height: 1, turn: None })?;
        Ok(small.clip)
    }

    fn ask(&self, clip: &Path, wish: SmallWish) -> Result<Reply, ApartError> {
        let file = open_clip(clip)?;
        let not_started = |cause| self.not_started(clip, cause);
        let wish = serde_json::to_string(&wish).map_err(|error| not_started(error.into()))?;
        let mut child = self
            .command(clip, &wish)
            .stdin(file)
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .map_err(not_started)?;
        let heard = self.hear(&mut child);
        // It has ended by itself where all went well.
        let _ = (child.kill(), child.wait());
        let bytes = heard.map_err(|how| ApartError::unsafe_of(clip, how))?;
        Reply::read(&bytes)
            .ok_or_else(|| ApartError::unsafe_of(clip, "its answer was not understood"))
    }

    /// Returns how the program is started for a clip.
    pub(super) fn command(&self, clip: &Path, wish: &str) -> Command {
        let told = TOLD.iter().filter_map(|name| Some((name, env::var_os(name)?)));
        let mut command = Command::new(&self.program);
        command
            .args([FIRST_ARGUMENT, wish])
            .arg(clip)
            .args(&self.trial)
            .env_clear()
            .envs(told)
            // A name by which the C library needs no file of zones.
            .env("TZ", "UTC0");
        command
    }

    pub(super) fn not_started(&self, clip: &Path, cause: io::Error) -> ApartError {
        let (clip, program) = (clip.to_owned(), self.program.clone());
        ApartError::NotStarted { clip, program, cause }
    }

    /// Returns what the process says before its time is over, or how it failed.
    fn hear(&self, child: &mut Child) -> Result<Vec<u8>, String> {
        let end = Instant::now() + self.patience;
        let late = || format!("it took longer than {} s", self.patience.as_secs());
        let heard = read_aside(child.stdout.take()).map_err(|error| error.to_string())?;
        let bytes = heard.recv_timeout(self.patience).map_err(|_| late())?;
        let bytes = bytes.map_err(|error| error.to_string())?;
        if bytes.len() > MOST_BYTES {
            return Err("it answered more than it was asked".to_owned());
        }
        let status = wait_until(child, end).ok_or_else(late)?;
        if status.success() { Ok(bytes) } else { Err(how(status)) }
    }
}

/// Reads from the process on a thread of its own, which ends with the process.
fn read_aside(pipe: Option<ChildStdout>) -> io::Result<mpsc::Receiver<io::Result<Vec<u8>>>> {
    let (sender, heard) = mpsc::channel();
    let read = move || {
        let mut bytes = Vec::new();
        let pipe = pipe.into_iter().map(|pipe| pipe.take(MOST_BYTES as u64 + 1));
        let read: io::Result<usize> = pipe.map(|mut pipe| pipe.read_to_end(&mut bytes)).sum();
        // Whoever waited may have given up.
        let _ = sender.send(read.map(|_| bytes));
    };
    thread::Builder::new().name("apart".into()).spawn(read)?;
    Ok(heard)
}

/// Tells in the log what a decoder is not kept from on this system.
pub(super) fn tell_once(locks: Locks) {
    static TOLD: Once = Once::new();
    let missing = locks.missing();
    if !missing.is_empty() {
        TOLD.call_once(|| {
            tracing::warn!(
                "clips are decoded in a process of their own, but this system does not keep it \
                 from {}",
                missing.join(", nor from ")
            );
        });
    }
}
