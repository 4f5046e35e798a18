//! What the other process does: it decodes what it is asked for, and copies it over.

use std::{
    io::{self, Read as _, Write as _},
    os::{fd::AsFd as _, unix::net::UnixStream},
    path::Path,
};

use anyhow::Context as _;
use stillcall::footage::{Decoder, Footage, Picture};

use crate::{
    here::THREADS,
    memory::mapped,
    there::{ANEW, NOTHING},
};

/// Answers until nobody asks any more.
pub(crate) fn serve(clip: &Path) -> anyhow::Result<()> {
    let mut memory = mapped(&io::stdin().as_fd().try_clone_to_owned()?.into())?;
    let mut asks = UnixStream::from(io::stdout().as_fd().try_clone_to_owned()?);
    let footage = Footage::open(clip)?;
    let mut decoder = Decoder::new(&footage, THREADS);
    let mut asked = [0; 4];
    while asks.read_exact(&mut asked).is_ok() {
        let written = match u32::from_le_bytes(asked) {
            NOTHING => 0,
            ANEW => {
                decoder = Decoder::new(&footage, THREADS);
                0
            }
            frame => copy(&*decoder.picture(frame as usize)?, &mut memory)?,
        };
        asks.write_all(&(written as u32).to_le_bytes())?;
    }
    Ok(())
}

/// Copies the rows of all planes; returns how many bytes they are.
fn copy(picture: &Picture, to: &mut [u8]) -> anyhow::Result<usize> {
    let mut at = 0;
    for plane in (0..3).map_while(|plane| picture.plane(plane)) {
        for row in (0..plane.height).map_while(|y| plane.row(y)) {
            to.get_mut(at..at + row.len()).context("no room for it")?.copy_from_slice(row);
            at += row.len();
        }
    }
    Ok(at)
}
