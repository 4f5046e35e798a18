use super::libav::Limits;

/// What a file may cost. More than any camera writes: pictures of 8192 × 8192 pixels, 128 MiB for
/// one of them, a day at 60 frames a second, and an edit list that somebody made by hand.
///
/// FFmpeg keeps every picture of every edit while it opens a file: 500 edits that each show a clip of
/// 12,000 pictures are 6 million entries, 0.2 s and 240 MB, and 3,000 of them 1.2 GB; 3,000 edits of a
/// clip of 120 pictures, 97 kB in all, took 88 s to decode. A phone writes one or two.
pub(crate) const LIMITS: Limits = Limits {
    pixels: 1 << 26,
    streams: 64,
    packet: 1 << 27,
    packets: 5_500_000,
    edits: 500,
    probe: 1 << 26,
};

/// Most pixels of a picture each way, as many as every graphics card takes.
pub(crate) const LARGEST_SIDE: u32 = 8192;
