use std::{
    env,
    ffi::{OsStr, OsString},
    io,
    path::PathBuf,
    process::ExitCode,
    sync::Arc,
};

use image::RgbaImage;

use crate::footage::{
    Decoder, Footage,
    packets::{scan::Extent, source::Source},
};

use super::{
    decoder::{ApartDecoder, FIRST_ARGUMENT},
    line::{self, STAY, STAY_SHARING},
    locks::{Bounds, Locks, close_what_was_left_open},
    reply::{ClipTold, Reply, fits},
    trial,
    wish::SmallWish,
};

/// Does what another process of this program asked for on the command line; nothing where none
/// did: then this program may start itself so. It must come before anything else that it does.
pub fn decode_when_asked() -> Option<ExitCode> {
    let mut arguments = env::args_os().skip(1);
    if arguments.next().is_none_or(|first| first != FIRST_ARGUMENT) {
        ApartDecoder::default().use_in_this_process();
        return None;
    }
    // There is nobody to tell but who asked, and that is what the reply is for.
    Some(answer(arguments).map_or(ExitCode::FAILURE, |()| ExitCode::SUCCESS))
}

fn answer(mut arguments: impl Iterator<Item = OsString>) -> io::Result<()> {
    let wish = arguments.next().unwrap_or_default();
    let path = PathBuf::from(arguments.next().unwrap_or_default());
    let trial = arguments.next();
    close_what_was_left_open();
    if wish == STAY || wish == STAY_SHARING {
        let server = line::taken(wish == STAY_SHARING)?;
        // Asks how long the file is; no byte of it is read before the locks hold.
        let source = line::clip(&path).and_then(|file| Source::handed(file, &path));
        let locks = lock_in(trial.as_deref(), Bounds::STAYING)?;
        return server.run(locks, source);
    }
    let wish: SmallWish = serde_json::from_slice(wish.as_encoded_bytes())?;
    let source = Source::handed(line::input()?, &path);
    let locks = lock_in(trial.as_deref(), Bounds::ONCE)?;
    let drawn = source.map_err(|error| error.to_string()).and_then(|source| draw(&source, wish));
    Reply { locks, drawn }.write(&mut io::stdout().lock())
}

/// Locks this process in, before a byte of the clip is read.
fn lock_in(trial: Option<&OsStr>, bounds: Bounds) -> io::Result<Locks> {
    let mut locks = Locks::default();
    // In this order, because the first opens a file of its own for a moment.
    locks.shut_files();
    if let Some(trial) = trial {
        trial::before_limits(trial)?;
    }
    locks.set_limits(bounds);
    locks.keep_calls();
    if let Some(trial) = trial {
        trial::run(trial);
    }
    Ok(locks)
}

fn draw(source: &Arc<Source>, wish: SmallWish) -> Result<(ClipTold, RgbaImage), String> {
    let path = source.path().to_owned();
    let extent = if wish.frame == 0 { Extent::Beginning } else { Extent::Whole };
    let footage =
        Footage::open_source(source, (extent, None)).map_err(|error| error.to_string())?;
    let picture = Decoder::new(&footage, 1).picture(wish.frame);
    let picture = picture.map_err(|error| error.to_string())?;
    let image = picture.to_small(wish.height, wish.turn);
    if !fits(image.width(), image.height()) {
        return Err(format!("{}: is too wide for a small picture of it", path.display()));
    }
    Ok((ClipTold::of(&footage), image))
}
