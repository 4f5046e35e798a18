use std::ops::ControlFlow;

use crate::footage::{
    Footage,
    libav::{self, Frame, Threads},
    packets::session::Session,
    pictures::picture,
};

use super::table::Shown;

/// Decodes a clip once from start to end on one thread and notes what comes out; can be
/// interrupted and go on.
pub(crate) struct Prover {
    footage: Footage,
    session: Option<Session>,
    shown: Vec<Shown>,
}

impl Prover {
    pub(crate) fn new(footage: &Footage) -> Self {
        Self { footage: footage.clone(), session: None, shown: Vec::new() }
    }

    /// Goes on until the end, then returns the clip with its proved table; returns nothing when
    /// `stop` said so, and can be called again.
    pub(crate) fn run(&mut self, stop: &dyn Fn() -> bool) -> Option<Result<Footage, libav::Error>> {
        let clip = self.footage.clip();
        let mut session = match self.session.take() {
            Some(session) => session,
            None => match Session::open(clip, Threads(1)) {
                Ok(session) => session,
                Err(error) => return Some(Err(error)),
            },
        };
        loop {
            match session.next(&clip.scan, stop) {
                Ok(ControlFlow::Break(())) => {
                    self.session = Some(session);
                    return None;
                }
                Ok(ControlFlow::Continue(Some(frame))) => {
                    self.shown.extend(see(&mut session, &frame));
                }
                // What can be read ends here, and so does the clip.
                Ok(ControlFlow::Continue(None)) | Err(_) => break,
            }
        }
        Some(Ok(self.footage.with_proof(&self.shown)))
    }
}

/// Notes a picture; one that names no packet of ours cannot be found again.
fn see(session: &mut Session, frame: &Frame) -> Option<Shown> {
    Some(Shown {
        ordinal: session.origin(frame)?.ordinal,
        hash: picture::hash(frame),
        damaged: frame.is_damaged(),
        interlaced: frame.is_interlaced(),
    })
}
