/// What an opened file may cost.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Limits {
    /// Most pixels of a coded picture.
    pub pixels: u64,
    /// Most streams of a file.
    pub streams: usize,
    /// Most bytes of a packet.
    pub packet: usize,
    /// Most packets of a clip.
    pub packets: usize,
    /// Most entries of an edit list.
    pub edits: u64,
    /// Bytes from the start within which the video must have told what it is.
    pub probe: usize,
}

/// Most bytes that FFmpeg may ask for at once: a plane of the largest picture in 16 bits and four
/// components. A file's own claims are what it would ask for otherwise.
pub(super) const LARGEST_PIECE: usize = 1 << 29;
