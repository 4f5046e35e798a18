use std::{
    ops::{ControlFlow, RangeInclusive},
    sync::Arc,
};

use crate::footage::{
    libav::{self, Frame, Threads},
    packets::{session::Session, trouble::Trouble},
    pictures::picture,
};

use super::{
    damage,
    facts::FootageFacts,
    footage::Footage,
    proof::{Proof, Proving},
    soundness::Soundness,
    table::{FrameTable, Shown},
};

/// Decodes a clip once from start to end on one thread and notes what comes out; can be
/// interrupted and go on.
pub(crate) struct Prover {
    footage: Footage,
    session: Option<Session>,
    shown: Vec<Shown>,
    /// What went wrong with each packet's picture.
    troubles: Vec<Trouble>,
}

impl Prover {
    pub(crate) fn new(footage: &Footage) -> Self {
        let troubles = vec![Trouble::default(); footage.clip().scan.packets.len()];
        Self { footage: footage.clone(), session: None, shown: Vec::new(), troubles }
    }

    /// Goes on until the end, then returns the clip with its proved table; returns nothing when
    /// `stop` said so, and can be called again.
    ///
    /// `told` hears of it after each picture.
    pub(crate) fn run(
        &mut self,
        stop: &dyn Fn() -> bool,
        told: &dyn Fn(Proving),
    ) -> Option<Result<Footage, libav::Error>> {
        let clip = self.footage.clip();
        let mut session = match self.session.take() {
            Some(session) => session,
            None => match Session::open(clip, Threads(1)) {
                Ok(session) => session,
                Err(error) => return Some(Err(error)),
            },
        };
        loop {
            let next = session.next(&clip.scan, stop);
            for (from, to, trouble) in session.take_troubles() {
                note(&mut self.troubles, from..=to, trouble);
            }
            match next {
                Ok(ControlFlow::Break(())) => {
                    self.session = Some(session);
                    return None;
                }
                Ok(ControlFlow::Continue(Some(frame))) => {
                    let seen = see(&mut session, &frame);
                    if let Some(seen) = seen.filter(|_| frame.is_damaged()) {
                        note(&mut self.troubles, seen.ordinal..=seen.ordinal, Trouble::BROKEN);
                    }
                    self.shown.extend(seen);
                    let of = clip.scan.packets.len() as u64;
                    told(Proving { done: session.fed.into(), of });
                }
                // It does not, where the process ended that reads it.
                Err(error) if clip.lost(error).is_some() => return Some(Err(error)),
                // What can be read ends here, and so does the clip.
                Ok(ControlFlow::Continue(None)) | Err(_) => break,
            }
        }
        let mut shown = std::mem::take(&mut self.shown);
        let is_any = damage::judge(&clip.scan, &self.troubles, &mut shown);
        let proof = Proof::new(&clip.scan, shown, session.hurt || is_any);
        self.footage.keep(&proof, stop);
        Some(Ok(self.footage.with_proof(&proof)))
    }

    /// Returns the clip with those frames proved that were decoded so far.
    pub(crate) fn so_far(&self) -> Footage {
        let mut shown = self.shown.clone();
        damage::judge(&self.footage.clip().scan, &self.troubles, &mut shown);
        let table = self.footage.table.proved_so_far(&shown);
        Footage { table: Arc::new(table), ..self.footage.clone() }
    }
}

impl Footage {
    /// Returns the same clip with what one full decode showed.
    pub(super) fn with_proof(&self, proof: &Proof) -> Self {
        let shown = &*proof.shown;
        let table = FrameTable::from_decode(&self.clip, (shown, proof.hurt));
        let mut facts = FootageFacts::clone(&self.facts);
        facts.note(&self.clip.scan, &table, shown);
        Self { table: Arc::new(table), facts: Arc::new(facts), ..self.clone() }
    }
}

/// Notes a picture; one that names no packet of ours cannot be found again.
fn see(session: &mut Session, frame: &Frame) -> Option<Shown> {
    Some(Shown {
        ordinal: session.origin(frame)?.ordinal,
        hash: picture::hash(frame),
        soundness: Soundness::Sound,
        interlaced: frame.is_interlaced(),
    })
}

/// Notes what went wrong with some packets.
fn note(troubles: &mut [Trouble], packets: RangeInclusive<u32>, trouble: Trouble) {
    let packets = *packets.start() as usize..=*packets.end() as usize;
    for noted in troubles.get_mut(packets).unwrap_or_default() {
        *noted = *noted | trouble;
    }
}
