use std::{
    cell::Cell,
    fs::File,
    io,
    sync::Arc,
    time::{Duration, Instant},
};

use crate::footage::{
    OpenError,
    libav::{Frame, Threads},
    packets::{
        clip::{Clip, Said},
        elsewhere::Progress,
        scan::{Extent, Scan},
        session::Session,
        source::Source,
    },
};

use super::{
    locks::Locks,
    memory::Giving,
    packed::{AT_ONCE, packed, unpacked},
    reply::short,
    talk::{self, Ask, Told},
};

/// How often a process says that it is still at something.
const BUSY: Duration = Duration::from_secs(1);

/// What a process that stays has in its hands.
pub(super) struct Server {
    asked: File,
    told: File,
    giving: Giving,
    clip: Option<Clip>,
    session: Option<Session>,
}

impl Server {
    pub(super) fn new(asked: File, told: File, giving: Giving) -> Self {
        Self { asked, told, giving, clip: None, session: None }
    }

    /// Does what it is asked until nobody asks any more.
    pub(super) fn run(
        mut self,
        locks: Locks,
        source: Result<Arc<Source>, OpenError>,
    ) -> io::Result<()> {
        self.tell(&Told::Ready(locks), &[])?;
        let source = match source {
            Ok(source) => source,
            Err(error) => return self.tell(&Told::Refused(error.to_string()), &[]),
        };
        while let Some((ask, _)) = talk::read(&mut self.asked)? {
            match ask {
                Ask::Open(extent) => self.open(&source, extent)?,
                Ask::Take(said, packets, is_whole) => {
                    self.take(&source, said, (packets as usize, is_whole))?;
                }
                Ask::Walk { threads } => self.walk(Threads(threads))?,
                Ask::Land(start) => self.land(start)?,
                Ask::Next(leave_out_before) => self.next(leave_out_before)?,
                Ask::Packets | Ask::More => return Err(io::ErrorKind::InvalidData.into()),
            }
        }
        Ok(())
    }

    fn tell(&self, told: &Told, tail: &[u8]) -> io::Result<()> {
        talk::write(&mut &self.told, told, tail)
    }

    fn open(&mut self, source: &Arc<Source>, extent: Extent) -> io::Result<()> {
        let last = Cell::new(Instant::now());
        let go_on = || {
            if last.get().elapsed() > BUSY {
                last.set(Instant::now());
                // Where nobody listens, reading ends by itself.
                return self.tell(&Told::Busy, &[]).is_err();
            }
            false
        };
        let clip = match Clip::open(source, extent, &go_on) {
            Ok(clip) => clip,
            Err(error) => return self.tell(&Told::Refused(short(&error.to_string())), &[]),
        };
        let Scan { packets, cut_short, changes_at, is_whole, .. } = &clip.scan;
        let Some((ordinal, first)) = &clip.first else { return Ok(()) };
        let opened = Told::Opened {
            said: clip.said(),
            packets: packets.len() as u32,
            cut_short: *cut_short,
            changes_at: *changes_at,
            is_whole: *is_whole,
            first: *ordinal,
        };
        self.tell(&opened, &[])?;
        for some in packets.chunks(AT_ONCE) {
            self.tell(&Told::Packets, &packed(some))?;
        }
        let first = Arc::clone(first);
        let progress = Progress::default();
        (self.clip, self.session) = (Some(clip), None);
        self.give(first.decoded(), progress)
    }

    fn take(
        &mut self,
        source: &Arc<Source>,
        said: Said,
        (count, is_whole): (usize, bool),
    ) -> io::Result<()> {
        let mut packets = Vec::new();
        while packets.len() < count {
            let Some((Ask::Packets, tail)) = talk::read(&mut self.asked)? else {
                return Err(io::ErrorKind::InvalidData.into());
            };
            let more = unpacked(&tail, count - packets.len());
            packets.extend(more.ok_or(io::ErrorKind::InvalidData)?);
        }
        let mut scan = Scan::from_packets(packets, false);
        scan.is_whole = is_whole;
        match Clip::open_told(source, said, scan) {
            Ok(clip) => {
                (self.clip, self.session) = (Some(clip), None);
                self.tell(&Told::Done, &[])
            }
            Err(error) => self.tell(&Told::Refused(short(&error.to_string())), &[]),
        }
    }

    fn walk(&mut self, threads: Threads) -> io::Result<()> {
        let clip = self.clip.as_ref().ok_or(io::ErrorKind::InvalidData)?;
        match Session::open(clip, threads) {
            Ok(session) => {
                self.session = Some(session);
                self.tell(&Told::Done, &[])
            }
            Err(error) => self.tell(&Told::Failed(error.into()), &[]),
        }
    }

    fn land(&mut self, start: u32) -> io::Result<()> {
        let (Some(clip), Some(session)) = (&self.clip, &mut self.session) else {
            return Err(io::ErrorKind::InvalidData.into());
        };
        match session.land(clip, start) {
            Ok(()) => self.tell(&Told::Done, &[]),
            Err(error) => self.tell(&Told::Failed(error.into()), &[]),
        }
    }

    fn next(&mut self, leave_out_before: u32) -> io::Result<()> {
        let (Some(clip), Some(session)) = (&self.clip, &mut self.session) else {
            return Err(io::ErrorKind::InvalidData.into());
        };
        session.leave_out_before(leave_out_before);
        let next = session.next(&clip.scan, &|| false).map(|next| next.continue_value().flatten());
        let progress = session.progress();
        match next {
            Ok(Some(frame)) => self.give(&frame, progress),
            Ok(None) => self.tell(&Told::End(progress), &[]),
            Err(error) => self.tell(&Told::Failed(error.into()), &[]),
        }
    }

    /// Hands a picture over in as many parts as it takes.
    fn give(&mut self, frame: &Frame, progress: Progress) -> io::Result<()> {
        let Some(mut left) = frame.traits().packed_bytes() else {
            return Err(io::ErrorKind::InvalidData.into());
        };
        let Self { asked, told, giving, .. } = self;
        let (mut at, mut word) = (0, Told::Picture(*frame.traits(), progress));
        frame.pack(|mut bytes| -> io::Result<()> {
            while !bytes.is_empty() {
                let room = &mut giving.bytes()[at..];
                let (some, rest) = bytes.split_at(bytes.len().min(room.len()).min(left));
                room[..some.len()].copy_from_slice(some);
                (at, left, bytes) = (at + some.len(), left - some.len(), rest);
                if left > 0 && at < giving.bytes().len() {
                    continue;
                }
                talk::write(told, &word, giving.tail(at))?;
                (at, word) = (0, Told::Part);
                if left > 0 {
                    let more = talk::read(asked)?;
                    more.filter(|(ask, _)| matches!(ask, Ask::More))
                        .ok_or(io::ErrorKind::InvalidData)?;
                } else {
                    return Ok(());
                }
            }
            Ok(())
        })
    }
}
