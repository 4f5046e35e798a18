//! H.264 whose pictures are coded as two fields each, which no free encoder writes.
//!
//! Every macroblock is plain samples (`I_PCM`), so nothing but headers has to be coded. Each field
//! carries its own number in its rows, 2k the earlier and 2k + 1 the later one, so that a picture
//! shows which instants it holds.

use stillcall::units::PictureField;

use crate::bits::Bits;

const WIDTH: usize = 256;
const HEIGHT: usize = 96;
/// Pictures from one place to start to the next.
const RUN: u32 = 10;

/// How the pictures of a stream are coded.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Coding {
    Fields,
    /// Every second run as whole frames.
    Mixed,
}

/// Returns a stream of 25 pictures a second.
pub(crate) fn stream(pictures: u32, first: PictureField, coding: Coding) -> Vec<u8> {
    let mut out = Vec::new();
    for k in 0..pictures {
        if k % RUN == 0 {
            out.extend([delimiter(), sequence_parameters(), picture_parameters()].concat());
        } else {
            out.extend(delimiter());
        }
        if coding == Coding::Mixed && k / RUN % 2 == 1 {
            out.extend(Slice::new(k, Part::Whole, 0).unit(first));
            continue;
        }
        let second =
            if first == PictureField::Top { PictureField::Bottom } else { PictureField::Top };
        out.extend(Slice::new(k, Part::Only(first), 0).unit(first));
        out.extend(delimiter());
        out.extend(Slice::new(k, Part::Only(second), 1).unit(first));
    }
    out
}

#[derive(Clone, Copy, PartialEq)]
enum Part {
    Whole,
    Only(PictureField),
}

/// One slice, which is a whole picture or field here.
struct Slice {
    picture: u32,
    part: Part,
    /// 0 for the picture's first slice, 1 for its second.
    turn: u32,
}

impl Slice {
    fn new(picture: u32, part: Part, turn: u32) -> Self {
        Self { picture, part, turn }
    }

    /// Clauses 7.3.3 to 7.3.5.
    fn unit(&self, first: PictureField) -> Vec<u8> {
        let in_run = self.picture % RUN;
        // Only the first field of a run's first picture may be the instantaneous refresh.
        let refresh = in_run == 0 && self.turn == 0;
        let mut bits = Bits::default();
        // First macroblock, all slices intra, parameter set, number of the frame.
        bits.golomb(0).golomb(7).golomb(0).put(in_run, 8);
        match self.part {
            Part::Whole => bits.put(0, 1),
            Part::Only(field) => bits.put(1, 1).put(u32::from(field == PictureField::Bottom), 1),
        };
        if refresh {
            bits.golomb(self.picture / RUN % 2);
        }
        bits.put(in_run * 2 + self.turn, 8);
        // Marking of references: two flags for a refresh, else one.
        bits.put(0, if refresh { 2 } else { 1 });
        // No change of the quantiser, no deblocking.
        bits.golomb(0).golomb(1);
        self.samples(&mut bits, first);
        bits.unit(if refresh { 0x65 } else { 0x61 })
    }

    fn samples(&self, bits: &mut Bits, first: PictureField) {
        let rows: Vec<usize> = match self.part {
            Part::Whole => (0..HEIGHT).collect(),
            Part::Only(PictureField::Top) => (0..HEIGHT).step_by(2).collect(),
            Part::Only(PictureField::Bottom) => (1..HEIGHT).step_by(2).collect(),
        };
        for block in rows.chunks(16) {
            for x in (0..WIDTH).step_by(16) {
                let luma = block.iter().flat_map(|&y| (x..x + 16).map(move |x| (x, y)));
                let luma = luma.map(|(x, y)| self.luma(first, x, y));
                // 25 is I_PCM in a slice of intra macroblocks, table 7-11.
                bits.golomb(25).whole(luma).whole([128; 128]);
            }
        }
    }

    fn luma(&self, first: PictureField, x: usize, y: usize) -> u8 {
        let field = if y.is_multiple_of(2) { PictureField::Top } else { PictureField::Bottom };
        let number = self.picture * 2 + u32::from(field != first);
        if y < 16 {
            return if number >> (x / 16) & 1 == 1 { 235 } else { 16 };
        }
        32 + ((x + y * 3 + number as usize * 5) % 160) as u8
    }
}

/// Access unit delimiter: intra slices only.
fn delimiter() -> Vec<u8> {
    Bits::default().put(0, 3).unit(9)
}

/// Clause 7.3.2.1.1 and annex E.1.1: Main profile, fields allowed, no reordering, 25 pictures a
/// second.
fn sequence_parameters() -> Vec<u8> {
    let mut bits = Bits::default();
    bits.put(77, 8).put(0, 8).put(40, 8).golomb(0);
    // Eight bits each for the number of the frame and the order of pictures; one reference.
    bits.golomb(4).golomb(0).golomb(4).golomb(1).put(0, 1);
    bits.golomb(WIDTH as u32 / 16 - 1).golomb(HEIGHT as u32 / 32 - 1);
    // Fields allowed, none mixed within a picture, direct 8 x 8, no crop.
    bits.put(0b0010, 4);
    // Usability information: timing and restrictions only.
    bits.put(0b1_0000, 5).put(1, 1).put(1, 32).put(50, 32).put(1, 1).put(0, 3);
    bits.put(0b11, 2).golomb(0).golomb(0).golomb(11).golomb(11).golomb(0).golomb(1);
    bits.unit(0x67)
}

/// Clause 7.3.2.2: variable length codes, deblocking under the slice's control.
fn picture_parameters() -> Vec<u8> {
    let mut bits = Bits::default();
    bits.golomb(0).golomb(0).put(0, 2).golomb(0).golomb(0).golomb(0).put(0, 3);
    bits.golomb(0).golomb(0).golomb(0).put(0b100, 3);
    bits.unit(0x68)
}
