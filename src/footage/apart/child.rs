use std::{env, ffi::OsString, fs::File, io, path::PathBuf, process::ExitCode, sync::Arc};

use image::RgbaImage;

use crate::footage::{
    Decoder, Footage,
    packets::{scan::Extent, source::Source},
};

use super::{
    locks::{Locks, close_what_was_left_open},
    reply::{ClipTold, Reply, fits},
    trial,
    wish::SmallWish,
};

/// What makes the program do nothing but this.
pub(super) const FIRST_ARGUMENT: &str = "decode-apart";

/// Does what another process of this program asked for on the command line; nothing where none
/// did. It must come before anything else that the program does.
pub fn decode_when_asked() -> Option<ExitCode> {
    let mut arguments = env::args_os().skip(1);
    if arguments.next()? != FIRST_ARGUMENT {
        return None;
    }
    // There is nobody to tell but who asked, and that is what the reply is for.
    Some(answer(arguments).map_or(ExitCode::FAILURE, |()| ExitCode::SUCCESS))
}

fn answer(mut arguments: impl Iterator<Item = OsString>) -> io::Result<()> {
    let wish = arguments.next().unwrap_or_default();
    let wish: SmallWish = serde_json::from_slice(wish.as_encoded_bytes())?;
    let path = PathBuf::from(arguments.next().unwrap_or_default());
    let trial = arguments.next();
    close_what_was_left_open();
    // Asks how long the file is; no byte of it is read before the locks hold.
    let source = Source::handed(input()?, &path);
    let mut locks = Locks::default();
    // In this order, because the first opens a file of its own for a moment.
    locks.shut_files();
    if let Some(trial) = &trial {
        trial::before_limits(trial)?;
    }
    locks.set_limits();
    locks.keep_calls();
    if let Some(trial) = &trial {
        trial::run(trial);
    }
    let drawn = source.map_err(|error| error.to_string()).and_then(|source| draw(source, wish));
    Reply { locks, drawn }.write(&mut io::stdout().lock())
}

fn draw(source: Arc<Source>, wish: SmallWish) -> Result<(ClipTold, RgbaImage), String> {
    let path = source.path().to_owned();
    let extent = if wish.frame == 0 { Extent::Beginning } else { Extent::Whole };
    let footage = Footage::open_source(source, extent).map_err(|error| error.to_string())?;
    let picture = Decoder::new(&footage, 1).picture(wish.frame);
    let picture = picture.map_err(|error| error.to_string())?;
    let image = picture.to_small(wish.height, wish.turn);
    if !fits(image.width(), image.height()) {
        return Err(format!("{}: is too wide for a small picture of it", path.display()));
    }
    Ok((ClipTold::of(&footage), image))
}

/// Returns the file that this process was handed.
fn input() -> io::Result<File> {
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
