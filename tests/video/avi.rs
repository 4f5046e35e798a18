//! AVI files chunk by chunk, because the `ffmpeg` program writes no old-style ones.

/// What the header says: code of the codec, width, height, frames a second.
pub(crate) struct Header {
    pub codec: [u8; 4],
    pub size: [u32; 2],
    pub rate: u32,
}

/// Returns a file with one video stream; each chunk with whether it is a key picture.
pub(crate) fn file(header: &Header, chunks: &[(Vec<u8>, bool)]) -> Vec<u8> {
    let mut movie = Vec::new();
    let mut index = Vec::new();
    for (bytes, key) in chunks {
        index.extend(b"00dc");
        // Places in the index count from the list's own name.
        for word in [u32::from(*key) << 4, movie.len() as u32 + 4, bytes.len() as u32] {
            index.extend(word.to_le_bytes());
        }
        movie.extend(chunk(*b"00dc", bytes));
    }
    let stream = [chunk(*b"strh", &stream(header, chunks.len())), chunk(*b"strf", &bitmap(header))];
    let main = chunk(*b"avih", &main_header(header, chunks.len()));
    let headers = list(*b"hdrl", &[main, list(*b"strl", &stream.concat())].concat());
    let whole = [headers, list(*b"movi", &movie), chunk(*b"idx1", &index)].concat();
    chunk(*b"RIFF", &[&b"AVI "[..], &whole].concat())
}

/// A bitmap header of 40 bytes: size, one plane of 24 bits, the codec, bytes of a picture.
fn bitmap(header: &Header) -> Vec<u8> {
    let [width, height] = header.size;
    let codec = u32::from_le_bytes(header.codec);
    words(&[40, width, height, 24 << 16 | 1, codec, width * height * 3, 0, 0, 0, 0])
}

fn main_header(header: &Header, frames: usize) -> Vec<u8> {
    const HAS_INDEX: u32 = 0x10;
    let [width, height] = header.size;
    let micros = 1_000_000 / header.rate;
    words(&[micros, 0, 0, HAS_INDEX, frames as u32, 0, 1, 0, width, height, 0, 0, 0, 0])
}

fn stream(header: &Header, frames: usize) -> Vec<u8> {
    let [width, height] = header.size;
    let place = words(&[0, height << 16 | width]);
    let facts = words(&[0, 0, 0, 1, header.rate, 0, frames as u32, 0, u32::MAX, 0]);
    [&b"vids"[..], &header.codec, &facts, &place].concat()
}

fn list(name: [u8; 4], body: &[u8]) -> Vec<u8> {
    chunk(*b"LIST", &[&name[..], body].concat())
}

/// A chunk begins with name and length and ends at an even byte.
fn chunk(name: [u8; 4], body: &[u8]) -> Vec<u8> {
    let mut out = [&name[..], &(body.len() as u32).to_le_bytes(), body].concat();
    out.resize(out.len().next_multiple_of(2), 0);
    out
}

fn words(words: &[u32]) -> Vec<u8> {
    words.iter().flat_map(|word| word.to_le_bytes()).collect()
}
