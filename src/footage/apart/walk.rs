use std::{ops::ControlFlow, sync::Arc};

use crate::footage::{
    libav::{self, Frame, Pool, Traits},
    limits::LIMITS,
    packets::{
        elsewhere::{Progress, Walk},
        scan::Scan,
    },
};

use super::{
    fate::Fate,
    process::{Process, not_understood, of_number},
    talk::{Ask, Told},
};

/// Pictures that one packet may show, at most, over the length of a clip.
const MOST_OF_ONE: usize = 8;
/// What may come out beyond that, of a short clip.
const SLACK: usize = 64;

/// A decoder in a process of its own.
pub(super) struct ApartWalk {
    fate: Arc<Fate>,
    process: Process,
    pool: Arc<Pool>,
    packets: usize,
    /// Whether these are all packets.
    is_whole: bool,
    /// Where to land before anything else is asked.
    landing: Option<u32>,
    owed: Owed,
    /// Whether all was handed over from the first packet on.
    is_linear: bool,
    /// Pictures since the start.
    pictures: usize,
}

/// What the process was asked and has not answered yet.
#[derive(Clone, Copy, PartialEq)]
enum Owed {
    Nothing,
    Landing,
    Picture,
}

type Shown = (Option<Frame>, Progress);
type Next = ControlFlow<(), Shown>;

impl ApartWalk {
    pub(super) fn new(fate: &Arc<Fate>, process: Process, scan: &Scan, pool: &Arc<Pool>) -> Self {
        Self {
            fate: Arc::clone(fate),
            process,
            pool: Arc::clone(pool),
            packets: scan.packets.len(),
            is_whole: scan.is_whole,
            landing: None,
            owed: Owed::Nothing,
            is_linear: true,
            pictures: 0,
        }
    }

    /// Asks one thing after the other until the picture is there. An outer error is how the process
    /// was lost.
    fn try_next(
        &mut self,
        leave_out_before: u32,
        stop: &dyn Fn() -> bool,
    ) -> Result<Result<Next, libav::Error>, String> {
        loop {
            if self.owed == Owed::Nothing {
                let (ask, owed) = self.next_ask(leave_out_before);
                self.process.ask(&ask, &[])?;
                self.owed = owed;
            }
            let Some((told, tail)) = self.process.hear(stop)? else {
                return Ok(Ok(ControlFlow::Break(())));
            };
            let owed = std::mem::replace(&mut self.owed, Owed::Nothing);
            match self.understood(owed, told, tail)? {
                // It was asked before somebody wished to land elsewhere.
                _ if self.landing.is_some() => {}
                Ok(None) => {}
                Ok(Some(next)) => return Ok(Ok(ControlFlow::Continue(next))),
                Err(error) => return Ok(Err(error)),
            }
        }
    }

    fn next_ask(&mut self, leave_out_before: u32) -> (Ask, Owed) {
        if let Some(start) = self.landing.take() {
            self.is_linear = start == 0;
            return (Ask::Land(start), Owed::Landing);
        }
        self.is_linear &= leave_out_before == 0;
        (Ask::Next(leave_out_before), Owed::Picture)
    }

    /// Returns what an answer means; nothing of one that only says that it is done.
    fn understood(
        &mut self,
        owed: Owed,
        told: Told,
        tail: Vec<u8>,
    ) -> Result<Result<Option<Shown>, libav::Error>, String> {
        match (owed, told) {
            (Owed::Landing, Told::Done) => Ok(Ok(None)),
            (Owed::Picture, Told::Picture(traits, progress)) => {
                let frame = self.picture(traits, tail)?;
                Ok(Ok(Some((Some(frame), progress))))
            }
            (Owed::Picture, Told::End(progress)) => {
                if self.is_linear && self.is_whole && progress.fed as usize == self.packets {
                    self.fate.is_decoded();
                }
                Ok(Ok(Some((None, progress))))
            }
            (_, Told::Failed(code)) => Ok(Err(of_number(code))),
            _ => Err(not_understood()),
        }
    }

    /// Copies a picture over and looks whether there can be such a one.
    fn picture(&mut self, traits: Traits, tail: Vec<u8>) -> Result<Frame, String> {
        self.pictures += 1;
        let is_one_too_many = self.pictures > SLACK + MOST_OF_ONE * self.packets;
        if is_one_too_many || traits.pixels() > LIMITS.pixels {
            return Err(not_understood());
        }
        let process = &mut self.process;
        let frame = Frame::packed(traits, &self.pool, |bytes| process.take(bytes, tail))?;
        frame.ok_or_else(not_understood)
    }
}

impl Walk for ApartWalk {
    fn land(&mut self, start: u32) {
        (self.landing, self.pictures) = (Some(start), 0);
    }

    fn next(
        &mut self,
        leave_out_before: u32,
        stop: &dyn Fn() -> bool,
    ) -> Result<Next, libav::Error> {
        self.try_next(leave_out_before, stop).unwrap_or_else(|how| Err(self.fate.lose(how)))
    }
}
