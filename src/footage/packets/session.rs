use std::{collections::VecDeque, ops::ControlFlow};

use crate::{
    footage::libav::{self, Aim, Codec, Frame, Input, Output, Packet, Threads, Unneeded},
    units::{Packets, Seek},
};

use super::{
    blocks,
    clip::Clip,
    elsewhere::{Hands, Progress, Walk},
    role,
    scan::Scan,
    trouble::{Trouble, Troubled, Troubles},
};

/// Packets that may pass unrecognised after a seek before it counts as failed.
const PATIENCE: u32 = 64;
/// Pictures within which those of one packet come out.
const WINDOW: usize = 32;

/// Which picture came out: its packet, and its place among that packet's pictures.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Origin {
    pub ordinal: u32,
    pub part: u32,
}

/// An opened file and decoder with a known position.
#[allow(clippy::struct_excessive_bools, reason = "each says another thing of the way it came")]
pub(crate) struct Session {
    way: Way,
    threads: Threads,
    /// Ordinal of the packet at which decoding started.
    pub started: u32,
    /// Ordinal of the next packet to hand over.
    pub fed: u32,
    /// The last frame that came out since the start.
    pub shown: Option<usize>,
    /// Packets of the pictures that came out last, newest first.
    recent: VecDeque<u32>,
    /// Packets before this ordinal are left out where no other picture leans on theirs.
    leave_out_before: u32,
    /// From this ordinal on everything was handed over.
    whole_from: u32,
    /// Whether everything has come out.
    pub ended: bool,
    /// Whether damage was met since the start.
    pub hurt: bool,
    /// Packets whose pictures went wrong, and nobody asked yet.
    troubles: Troubles,
    /// Whether the decoder is one that says when it is done with a picture.
    says_when_done: bool,
    /// Whether the decoder was just made and began at the first packet: no seek was made.
    fresh: bool,
}

enum Way {
    Here(Box<Here>),
    Elsewhere(Box<dyn Walk>),
}

/// A file and decoder of this process.
struct Here {
    input: Input,
    codec: Codec,
    /// FFmpeg's name of how the pictures are coded.
    coding: String,
    /// Reads the pictures' bytes as well, where no decoder looks whether they add up and all of them
    /// come by.
    reader: Option<blocks::Reader>,
    /// The packet found by the last seek, not yet handed to the decoder.
    pending: Option<Packet>,
}

impl Session {
    /// Opens the clip anew, positioned at its first packet.
    pub(crate) fn open(clip: &Clip, threads: Threads) -> Result<Self, libav::Error> {
        Ok(Self::at_start(Way::open(clip, threads)?, threads))
    }

    /// Goes back to the first packet of a clip that was just read through; nothing where that
    /// cannot be done, or is no quicker than opening it anew.
    pub(crate) fn rewound(clip: &Clip, mut input: Input) -> Option<Self> {
        if clip.container.packets != Packets::Indexed {
            return None;
        }
        input.seek(aim(clip, 0)?).ok()?;
        let pending = Some(input.next_packet().ok()??);
        let is_first = pending.as_ref().and_then(|packet| clip.scan.recognise(packet));
        let codec = clip.codec(Threads(1)).ok()?;
        let coding = clip.stream.codec.clone();
        let way = Way::Here(Box::new(Here { input, codec, coding, reader: None, pending }));
        (is_first == Some(0)).then(|| Self::at_start(way, Threads(1)))
    }

    fn at_start(way: Way, threads: Threads) -> Self {
        Self {
            way,
            threads,
            started: 0,
            fed: 0,
            shown: None,
            recent: VecDeque::with_capacity(WINDOW),
            leave_out_before: 0,
            whole_from: 0,
            ended: false,
            hurt: false,
            troubles: Troubles::default(),
            says_when_done: false,
            fresh: true,
        }
    }

    /// Leaves out, from now on, pictures of packets before `ordinal` on which no other leans.
    pub(crate) fn leave_out_before(&mut self, ordinal: u32) {
        self.leave_out_before = ordinal;
    }

    /// Returns the ordinal from which on everything was handed over that was handed over at all.
    pub(crate) fn whole_from(&self) -> u32 {
        self.whole_from
    }

    /// Returns whether it decodes straight from the beginning, with nothing left out: the way in
    /// which clips are proved.
    pub(crate) fn is_straight(&self) -> bool {
        self.fresh && self.whole_from == 0
    }

    /// Returns the number of threads that decode.
    pub(crate) fn threads(&self) -> Threads {
        self.threads
    }

    /// Prepares to decode from packet `start`, wherever the container's own seeking lands.
    pub(crate) fn land(&mut self, clip: &Clip, start: u32) -> Result<(), libav::Error> {
        match &mut self.way {
            Way::Here(here) => {
                if !here.seek(clip, start) {
                    // The last resort, which cannot miss.
                    self.way = Way::open(clip, self.threads)?;
                    self.way.pass(start)?;
                }
            }
            Way::Elsewhere(walk) => walk.land(start),
        }
        (self.started, self.fed, self.shown) = (start, start, None);
        (self.ended, self.hurt, self.whole_from) = (false, false, start);
        self.fresh = false;
        self.recent.clear();
        self.troubles.clear();
        Ok(())
    }

    /// Returns the next picture, handing over as many packets as it takes; nothing at the end.
    ///
    /// Breaks off with nothing when `stop` says so.
    pub(crate) fn next(
        &mut self,
        scan: &Scan,
        stop: &dyn Fn() -> bool,
    ) -> Result<ControlFlow<(), Option<Frame>>, libav::Error> {
        if let Way::Elsewhere(walk) = &mut self.way {
            if stop() {
                // An answer may be quicker than the next time that it asks.
                return Ok(ControlFlow::Break(()));
            }
            return Ok(match walk.next(self.leave_out_before, stop)? {
                ControlFlow::Break(()) => ControlFlow::Break(()),
                ControlFlow::Continue((frame, progress)) => {
                    self.follow(progress, scan);
                    ControlFlow::Continue(frame)
                }
            });
        }
        loop {
            if stop() {
                return Ok(ControlFlow::Break(()));
            }
            let Way::Here(here) = &mut self.way else { return Ok(ControlFlow::Break(())) };
            match here.codec.receive() {
                Ok(Output::Frame(frame)) => {
                    self.hurt |= frame.is_damaged();
                    return Ok(ControlFlow::Continue(Some(frame)));
                }
                Ok(Output::End) => {
                    self.ended = true;
                    return Ok(ControlFlow::Continue(None));
                }
                Ok(Output::Hungry) => self.feed(scan)?,
                // A damaged packet costs its own picture only.
                Err(libav::Error::InvalidData) => {
                    self.hurt = true;
                    self.note_trouble(Trouble::BROKEN);
                    self.feed(scan)?;
                }
                Err(error) => return Err(error),
            }
        }
    }

    /// Returns how far it has come.
    pub(crate) fn progress(&mut self) -> Progress {
        let troubles = self.take_troubles();
        let Self { fed, whole_from, ended, hurt, .. } = *self;
        Progress { fed, whole_from, ended, hurt, troubles }
    }

    /// Returns the packets whose pictures went wrong since this was last asked.
    pub(crate) fn take_troubles(&mut self) -> Vec<Troubled> {
        self.troubles.take()
    }

    /// Takes over what another process says, as far as it can be true.
    fn follow(&mut self, progress: Progress, scan: &Scan) {
        self.fed = progress.fed.min(scan.packets.len() as u32);
        (self.whole_from, self.ended) = (progress.whole_from, progress.ended);
        self.hurt |= progress.hurt;
        let is_known = |(from, to, _): &Troubled| from <= to && *to < self.fed;
        self.troubles.extend(progress.troubles.into_iter().filter(is_known));
    }

    /// Names a picture that came out just now; must be asked once for each, in turn.
    pub(crate) fn origin(&mut self, frame: &Frame) -> Option<Origin> {
        // A decoder that makes two pictures of one packet may stamp only the first of them.
        let ordinal = frame.ordinal().or_else(|| self.recent.front().copied());
        let ordinal = ordinal.filter(|&ordinal| ordinal < self.fed)?;
        let part = self.recent.iter().filter(|&&earlier| earlier == ordinal).count() as u32;
        self.recent.truncate(WINDOW - 1);
        self.recent.push_front(ordinal);
        Some(Origin { ordinal, part })
    }

    fn feed(&mut self, scan: &Scan) -> Result<(), libav::Error> {
        let Way::Here(here) = &mut self.way else { return Ok(()) };
        if self.fed as usize == scan.packets.len() {
            self.hurt |= here.send(None)?;
            return Ok(());
        }
        let packet = match here.pending.take() {
            Some(packet) => Some(packet),
            None => here.input.next_packet()?,
        };
        let mut packet = packet.ok_or(libav::Error::Eof)?;
        if !scan.is_packet(self.fed, &packet) {
            // The file is not what it was when it was scanned, or the seek went astray.
            return Err(libav::Error::InvalidData);
        }
        let may_leave_out = self.fed < self.leave_out_before && scan.may_leave_out(self.fed);
        here.codec.set_unneeded(if may_leave_out {
            self.whole_from = self.fed + 1;
            Unneeded::LeaveOut
        } else {
            Unneeded::Decode
        });
        // The container gives colours once; who begins here did not read that packet.
        let begins = self.fed == self.started && packet.palette().is_none();
        let palette = scan.palette_at(self.fed).or(here.input.palette());
        if let Some(palette) = palette.filter(|_| begins) {
            packet.set_palette(palette);
        }
        packet.stamp(self.fed);
        self.fed += 1;
        if packet.bytes().is_empty() {
            // FFmpeg would take it for the end of the stream.
            return Ok(());
        }
        // What was said before is of another packet, or another decoder.
        let _ = Codec::complaint();
        let is_damaged = here.send(Some(&packet))?;
        let said = Codec::complaint();
        self.hurt |= is_damaged;
        self.says_when_done |= said.finished;
        let is_broken = is_damaged || role::is_malformed(&here.coding, packet.bytes());
        let is_uneven = here.is_uneven(&packet);
        let said = Trouble::of(said, self.says_when_done);
        let read = Trouble::BROKEN.when(is_broken) | Trouble::UNEVEN.when(is_uneven);
        self.note_trouble(said | read);
        Ok(())
    }

    /// Notes what went wrong with the packet that was handed over last.
    fn note_trouble(&mut self, trouble: Trouble) {
        if let Some(ordinal) = self.fed.checked_sub(1) {
            self.troubles.note(ordinal, trouble);
        }
    }
}

impl Way {
    fn open(clip: &Clip, threads: Threads) -> Result<Self, libav::Error> {
        Ok(match &clip.hands {
            Hands::Own(parameters) => {
                let (input, codec) = (clip.input()?, clip.codec(threads)?);
                let coding = clip.stream.codec.clone();
                let reads = threads == Threads(1);
                let reader = reads.then(|| blocks::Reader::of(&coding, &parameters.header()));
                let reader = reader.flatten();
                Self::Here(Box::new(Here { input, codec, coding, reader, pending: None }))
            }
            Hands::Other(elsewhere) => {
                Self::Elsewhere(elsewhere.walk(&clip.scan, threads, &clip.pool)?)
            }
        })
    }

    /// Reads up to a packet.
    fn pass(&mut self, start: u32) -> Result<(), libav::Error> {
        let Self::Here(here) = self else { return Ok(()) };
        for _ in 0..start {
            here.input.next_packet()?.ok_or(libav::Error::Eof)?;
        }
        Ok(())
    }
}

impl Here {
    /// Looks for packet `start`; returns whether it is the next one to be decoded.
    fn seek(&mut self, clip: &Clip, start: u32) -> bool {
        let found = aims(clip, start).into_iter().find_map(|(aim, from)| {
            self.input.seek(aim).ok()?;
            self.search(&clip.scan, start, PATIENCE + start.saturating_sub(from))
        });
        let is_found = found.is_some();
        if is_found {
            self.codec.flush();
            (self.pending, self.reader) = (found, None);
        }
        is_found
    }

    /// Reads on until packet `wanted` comes by; nothing when it did not or has been passed.
    fn search(&mut self, scan: &Scan, wanted: u32, patience: u32) -> Option<Packet> {
        for _ in 0..patience {
            let packet = self.input.next_packet().ok()??;
            match scan.recognise(&packet) {
                Some(ordinal) if ordinal == wanted => return Some(packet),
                Some(ordinal) if ordinal > wanted => return None,
                _ => {}
            }
        }
        None
    }

    /// Returns whether a packet's bytes do not add up, where somebody looks.
    fn is_uneven(&mut self, packet: &Packet) -> bool {
        let Some(reader) = &mut self.reader else { return false };
        if let Some(begun) = packet.header().and_then(|it| blocks::Reader::of(&self.coding, it)) {
            *reader = begun;
        }
        reader.look(packet.bytes()) == blocks::Verdict::Broken
    }

    /// Hands a packet over; returns whether it is damaged.
    fn send(&mut self, packet: Option<&Packet>) -> Result<bool, libav::Error> {
        match self.codec.send(packet) {
            Ok(()) | Err(libav::Error::Eof) => Ok(false),
            Err(error) if is_damage(error) => Ok(true),
            Err(error) => Err(error),
        }
    }
}

/// Returns whether an error speaks of one packet's data, so that the next one may be better.
fn is_damage(error: libav::Error) -> bool {
    !libav::is_out_of_bounds(error)
}

/// Returns where to aim for packet `start`, best first, each with the ordinal it should reach.
fn aims(clip: &Clip, start: u32) -> Vec<(Aim, u32)> {
    let keys = &clip.scan.keys;
    let upto = keys.partition_point(|&key| key <= start);
    let mut targets: Vec<u32> = vec![start];
    if clip.container.seek == Seek::Byte {
        // A parser that is put down at a packet's own first byte may lose that packet.
        targets.push(start.saturating_sub(4));
    }
    targets.extend(keys[..upto].iter().rev().filter(|&&key| key < start).take(3));
    targets.push(0);
    targets.into_iter().filter_map(|ordinal| Some((aim(clip, ordinal)?, ordinal))).collect()
}

fn aim(clip: &Clip, ordinal: u32) -> Option<Aim> {
    let packet = clip.scan.packets.get(ordinal as usize)?;
    match clip.container.seek {
        Seek::Byte => packet.position.map(Aim::Byte),
        Seek::ShownTime => packet.pts.or(packet.dts).map(Aim::Time),
        Seek::DecodingTime => packet.dts.or(packet.pts).map(Aim::Time),
    }
}
