use std::io::{self, Write};

use image::RgbaImage;
use serde::{Deserialize, Serialize};

use crate::{
    footage::{Footage, limits::LARGEST_SIDE},
    units::{TimeBase, Upright},
};

use super::locks::Locks;

/// Most pixels of a small picture.
pub(super) const MOST_PIXELS: usize = 1 << 22;
const LONGEST_HEADER: usize = 1 << 14;
/// Most letters of what is said in the place of a picture.
const LONGEST_WORDS: usize = 1000;
/// Most bytes of a reply.
pub(super) const MOST_BYTES: usize = 4 + LONGEST_HEADER + 4 * MOST_PIXELS;

/// What is known of a clip that was decoded apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ClipTold {
    /// How coded pixels become the upright picture, as on the first frame.
    pub upright: Upright,
    /// Length of a tick.
    pub time_base: TimeBase,
    /// Whether the file gives no times, or only some, as far as it was read.
    pub assumed_times: bool,
}

/// A small picture, and what else was found out.
#[derive(Clone, Debug)]
pub struct SmallPicture {
    /// The picture.
    pub image: RgbaImage,
    /// The clip.
    pub clip: ClipTold,
    /// What the process was kept from that decoded it.
    pub locks: Locks,
}

/// What a process answers: a length of four bytes, a header of so many, and the pixels.
#[derive(Debug)]
pub(super) struct Reply {
    pub locks: Locks,
    /// The picture, or why there is none.
    pub drawn: Result<(ClipTold, RgbaImage), String>,
}

#[derive(Serialize, Deserialize)]
struct Header {
    locks: Locks,
    drawn: Result<Drawn, String>,
}

#[derive(Serialize, Deserialize)]
struct Drawn {
    clip: ClipTold,
    width: u32,
    height: u32,
}

impl Reply {
    pub(super) fn write(&self, to: &mut impl Write) -> io::Result<()> {
        let drawn = match &self.drawn {
            Ok((clip, image)) => {
                let (width, height) = image.dimensions();
                Ok(Drawn { clip: *clip, width, height })
            }
            Err(why) => Err(short(why)),
        };
        let header = serde_json::to_vec(&Header { locks: self.locks, drawn })?;
        to.write_all(&(header.len() as u32).to_le_bytes())?;
        to.write_all(&header)?;
        if let Ok((_, image)) = &self.drawn {
            to.write_all(image.as_raw())?;
        }
        to.flush()
    }

    /// Reads what may have been written by anybody; nothing where it is no reply.
    pub(super) fn read(bytes: &[u8]) -> Option<Self> {
        let (length, rest) = bytes.split_first_chunk()?;
        let length = u32::from_le_bytes(*length) as usize;
        let (header, pixels) = rest.split_at_checked(length)?;
        let Header { locks, drawn } = serde_json::from_slice(header).ok()?;
        let drawn = match drawn {
            Ok(Drawn { clip, width, height }) => {
                let is_whole = pixels.len() as u64 == 4 * u64::from(width) * u64::from(height);
                if !clip.is_sane() || !fits(width, height) || !is_whole {
                    return None;
                }
                Ok((clip, RgbaImage::from_raw(width, height, pixels.to_vec())?))
            }
            Err(why) => Err(short(&why)),
        };
        Some(Self { locks, drawn })
    }
}

/// Returns whether a picture of this size is taken.
pub(super) fn fits(width: u32, height: u32) -> bool {
    let pixels = u64::from(width) * u64::from(height);
    (1..=MOST_PIXELS as u64).contains(&pixels)
}

impl ClipTold {
    /// Returns what is known of an open clip.
    pub fn of(footage: &Footage) -> Self {
        let facts = footage.facts();
        Self {
            upright: facts.upright,
            time_base: facts.time_base,
            assumed_times: facts.has_assumed_times(),
        }
    }

    fn is_sane(&self) -> bool {
        let Upright { coded_width, coded_height, pixel, orientation } = self.upright;
        let is_side = |side: u32| (1..=LARGEST_SIDE).contains(&side);
        is_side(coded_width)
            && is_side(coded_height)
            && pixel.width > 0
            && pixel.height > 0
            && orientation.quarter_turns < 4
    }
}

/// Returns words that fill no screen and steer no terminal.
pub(super) fn short(words: &str) -> String {
    words.chars().filter(|letter| !letter.is_control()).take(LONGEST_WORDS).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::units::{Orientation, PixelShape};

    fn told() -> ClipTold {
        ClipTold {
            upright: Upright {
                coded_width: 1920,
                coded_height: 1080,
                pixel: PixelShape::SQUARE,
                orientation: Orientation::UPRIGHT,
            },
            time_base: TimeBase::new(1, 12800).unwrap(),
            assumed_times: false,
        }
    }

    fn bytes(reply: &Reply) -> Vec<u8> {
        let mut bytes = Vec::new();
        reply.write(&mut bytes).unwrap();
        bytes
    }

    fn drawn(clip: ClipTold) -> Reply {
        let image = RgbaImage::from_fn(5, 3, |x, y| image::Rgba([x as u8, y as u8, 7, 255]));
        Reply { locks: Locks::default(), drawn: Ok((clip, image)) }
    }

    #[test]
    fn a_picture_comes_through_as_it_is() {
        let reply = drawn(told());
        let read = Reply::read(&bytes(&reply)).unwrap();
        assert_eq!(read.drawn.unwrap(), reply.drawn.unwrap());
    }

    #[test]
    fn what_is_no_reply_is_none() {
        let whole = bytes(&drawn(told()));
        for length in 0..whole.len() {
            assert!(Reply::read(&whole[..length]).is_none(), "cut to {length}");
        }
        let more = [whole.clone(), vec![0]].concat();
        assert!(Reply::read(&more).is_none());
        let mut long = whole;
        long[..4].copy_from_slice(&u32::MAX.to_le_bytes());
        assert!(Reply::read(&long).is_none());
    }

    #[test]
    fn a_clip_that_no_camera_makes_is_not_believed() {
        let mut wide = told();
        wide.upright.coded_width = u32::MAX;
        let mut flat = told();
        flat.upright.pixel.height = 0;
        for clip in [wide, flat] {
            assert!(Reply::read(&bytes(&drawn(clip))).is_none(), "{clip:?}");
        }
    }

    #[test]
    fn words_steer_no_terminal_and_fill_no_screen() {
        let words = format!("\u{1b}[2Jclip.mp4\n{}", "very ".repeat(1000));
        let header = Header { locks: Locks::default(), drawn: Err(words) };
        let header = serde_json::to_vec(&header).unwrap();
        let reply = [(header.len() as u32).to_le_bytes().to_vec(), header].concat();
        let said = Reply::read(&reply).unwrap().drawn.unwrap_err();
        assert!(said.starts_with("[2Jclip.mp4very very") && said.len() <= 1000, "{said}");
    }
}
