use std::sync::{Arc, Mutex, PoisonError};

use crate::footage::{
    OpenError,
    libav::{self, Pool, Threads},
    packets::{
        clip::Said,
        elsewhere::{Elsewhere, Walk},
        scan::{Extent, Scan},
        source::Source,
    },
};

use super::{
    decoder::ApartDecoder,
    fate::Fate,
    known::KnownClips,
    opening::{self, Refusal},
    packed::{AT_ONCE, packed},
    process::Process,
    talk::Ask,
    walk::ApartWalk,
};

/// A clip that other processes decode, each with one decoder.
#[derive(Debug)]
pub(super) struct ApartClip {
    decoder: ApartDecoder,
    source: Arc<Source>,
    said: Said,
    fate: Arc<Fate>,
    /// A process that has read so many packets, and waits for what to do with them.
    spare: Mutex<Option<(usize, Process)>>,
}

impl ApartClip {
    pub(super) fn new(
        decoder: &ApartDecoder,
        source: &Arc<Source>,
        said: Said,
        known: &Arc<dyn KnownClips>,
    ) -> Self {
        let fate = Arc::new(Fate::new(source, known));
        let (decoder, source) = (decoder.clone(), Arc::clone(source));
        Self { decoder, source, said, fate, spare: Mutex::default() }
    }

    /// Keeps a process for who decodes next; it has read so many packets.
    pub(super) fn keep(&self, packets: usize, process: Process) {
        *self.spare.lock().unwrap_or_else(PoisonError::into_inner) = Some((packets, process));
    }

    /// Returns a process that has the packets.
    fn process(&self, Scan { packets, is_whole, .. }: &Scan) -> Result<Process, String> {
        let spare = self.spare.lock().unwrap_or_else(PoisonError::into_inner).take();
        if let Some((has, process)) = spare
            && has == packets.len()
        {
            return Ok(process);
        }
        let started = Process::start(&self.decoder, &self.source).map_err(Refusal::from);
        let mut process = started.map_err(|refusal| match refusal {
            Refusal::Said(error) => error.to_string(),
            Refusal::Lost(how) => how,
        })?;
        process.ask(&Ask::Take(self.said.clone(), packets.len() as u32, *is_whole), &[])?;
        for some in packets.chunks(AT_ONCE) {
            process.ask(&Ask::Packets, &packed(some))?;
        }
        process.done()?.map_err(|error| error.to_string())?;
        Ok(process)
    }
}

impl Elsewhere for ApartClip {
    fn walk(
        &self,
        scan: &Scan,
        Threads(threads): Threads,
        pool: &Arc<Pool>,
    ) -> Result<Box<dyn Walk>, libav::Error> {
        let begun = self.process(scan).and_then(|mut process| {
            process.ask(&Ask::Walk { threads }, &[])?;
            Ok((process.done()?, process))
        });
        match begun {
            Ok((Ok(()), process)) => Ok(Box::new(ApartWalk::new(&self.fate, process, scan, pool))),
            Ok((Err(error), _)) => Err(error),
            Err(how) => Err(self.fate.lose(how)),
        }
    }

    fn scan(&self, stop: &dyn Fn() -> bool) -> Option<Result<Scan, OpenError>> {
        let pool = Arc::default();
        let opened = opening::open(&self.decoder, &self.source, (Extent::Whole, &pool), stop);
        Some(match opened.transpose()? {
            Ok(opened) => {
                self.keep(opened.scan.packets.len(), opened.process);
                Ok(opened.scan)
            }
            Err(Refusal::Said(error)) => Err(error),
            Err(Refusal::Lost(how)) => {
                self.fate.lose(how.clone());
                Err(OpenError::Unsafe { path: self.source.path().to_owned(), how })
            }
        })
    }

    fn lost(&self) -> Option<String> {
        self.fate.lost()
    }
}
