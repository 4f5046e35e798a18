//! What both ways of writing a macroblock's parts have in common.

use super::{header::Kind, near::Near};

/// A block of coefficients.
#[derive(Clone, Copy, Debug)]
pub(super) struct Block {
    pub what: What,
    pub plane: usize,
    /// Its place in the plane, row by row.
    pub place: usize,
    /// How many coefficients it may have.
    pub most: usize,
}

/// What a block's coefficients stand for (table 9-42, in this order).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum What {
    /// For the whole of luma, or what lacks of a block then.
    Sum,
    Rest,
    Small,
    ChromaSum,
    ChromaRest,
    Large,
}

/// Reads parts of macroblocks; each time nothing where that cannot be one.
pub(super) trait Code {
    fn is_skipped(&mut self, near: &Near<'_>, slice: Kind) -> Option<bool>;
    /// Whether the slice ends here.
    fn ends(&mut self) -> bool;
    /// Whether it ends as it must.
    fn ends_well(&self) -> bool;
    /// The kind of macroblock by table 7-11, 7-13 or 7-14; those of table 7-11 follow the others.
    fn kind(&mut self, near: &Near<'_>, slice: Kind) -> Option<u32>;
    /// The kind of a quarter by table 7-17 or 7-18.
    fn quarter(&mut self, slice: Kind) -> Option<u32>;
    fn has_large_transform(&mut self, near: &Near<'_>) -> Option<bool>;
    /// How a block of luma is predicted from the picture.
    fn mode(&mut self) -> Option<()>;
    fn chroma_mode(&mut self, near: &Near<'_>) -> Option<u8>;
    fn coded(&mut self, near: &Near<'_>, is_intra: bool, is_colour: bool) -> Option<u8>;
    fn quantiser(&mut self, changed_before: bool) -> Option<i32>;
    /// Which of so many pictures of a list.
    fn reference(&mut self, near: &Near<'_>, at: (usize, usize), count: u32) -> Option<u32>;
    /// How far a block's motion differs, on an axis.
    fn motion(&mut self, near: &Near<'_>, at: (usize, usize), axis: usize) -> Option<u32>;
    /// So many plain bits.
    fn plain(&mut self, bits: u32) -> Option<()>;
    /// How many coefficients a block has.
    fn block(&mut self, near: &Near<'_>, block: Block, is_intra: bool) -> Option<u8>;
    /// Whether a large transform's coefficients come at once.
    const WHOLE: bool;
}
