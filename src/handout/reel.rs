//! The frames of one clip as an encoder takes them, made in a thread of its own.

use std::sync::{
    atomic::{AtomicBool, Ordering},
    mpsc::SyncSender,
};

use super::{
    error::HandoutError,
    panes::Pane,
    subject::{Ground, Subject},
};
use crate::{
    figure::EDGE,
    footage::{DecodeError, Decoder, FilmColour, Planes},
};

/// One clip of a replay.
pub(super) struct Reel<'a> {
    pub subject: &'a Subject,
    pub ground: Ground,
    pub pane: Pane,
    pub colour: FilmColour,
    pub threads: usize,
}

impl Reel<'_> {
    /// Hands over the frames in this order, until nobody takes them any more or it is to stop.
    pub(super) fn run(
        &self,
        frames: &[usize],
        stop: &AtomicBool,
        to: &SyncSender<Result<Planes, HandoutError>>,
    ) {
        let mut decoder = Decoder::new(&self.subject.footage, self.threads);
        let stops = || stop.load(Ordering::Relaxed);
        for &k in frames {
            let made = self.planes(&mut decoder, k, &stops);
            let is_last = made.is_err();
            if to.send(made).is_err() || is_last {
                break;
            }
        }
    }

    fn planes(
        &self,
        decoder: &mut Decoder,
        k: usize,
        stop: &dyn Fn() -> bool,
    ) -> Result<Planes, HandoutError> {
        if self.ground == Ground::Lines {
            return Ok(Planes::filled(self.pane.size, EDGE, self.colour));
        }
        let picture = decoder.picture_unless(k, stop).map_err(|error| match error {
            DecodeError::Abandoned => HandoutError::Stopped,
            other => other.into(),
        })?;
        let turn = self.subject.drawings.turn();
        Ok(Planes::of(&picture, turn, self.colour).scaled(self.pane.size))
    }
}
