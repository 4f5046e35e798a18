//! Turns pictures before they are coded and tells players how to turn them back.

use anyhow::{Context, bail};

/// Returns the coded picture that a player turns `degrees` clockwise to show `upright` (RGBA).
pub(crate) fn turned(upright: &[u8], (width, height): (u32, u32), degrees: u16) -> Vec<u8> {
    let (w, h) = (width as usize, height as usize);
    let (coded_w, coded_h) = if degrees % 180 == 90 { (h, w) } else { (w, h) };
    let mut out = Vec::with_capacity(upright.len());
    for y in 0..coded_h {
        for x in 0..coded_w {
            let (ux, uy) = match degrees {
                90 => (coded_h - 1 - y, x),
                180 => (w - 1 - x, h - 1 - y),
                270 => (y, coded_w - 1 - x),
                _ => (x, y),
            };
            let at = (uy * w + ux) * 4;
            out.extend_from_slice(&upright[at..at + 4]);
        }
    }
    out
}

/// Writes into an MP4 or MOV file that its video track is turned `degrees` clockwise when shown.
///
/// ISO/IEC 14496-12 8.3.2: the track header holds the matrix a b u c d v x y w, by which a point
/// (p, q) of the picture is shown at (a p + c q + x, b p + d q + y), q counting downwards.
pub(crate) fn tag(
    file: &mut [u8],
    (coded_w, coded_h): (u32, u32),
    degrees: u16,
) -> anyhow::Result<()> {
    let (w, h) = (coded_w as i32, coded_h as i32);
    let [a, b, c, d, x, y] = match degrees {
        0 => return Ok(()),
        90 => [0, 1, -1, 0, h, 0],
        180 => [-1, 0, 0, -1, w, h],
        270 => [0, -1, 1, 0, 0, w],
        _ => bail!("rotate: {degrees} is not one of 0, 90, 180, 270"),
    };
    let one = 1 << 16;
    let matrix = [a * one, b * one, 0, c * one, d * one, 0, x * one, y * one, 1 << 30];
    let at = matrix_place(file).context("the clip has no video track header to turn")?;
    for (k, value) in matrix.iter().enumerate() {
        file[at + 4 * k..at + 4 * k + 4].copy_from_slice(&value.to_be_bytes());
    }
    Ok(())
}

/// Returns where the video track's matrix lies; the generator's files have one track.
fn matrix_place(file: &[u8]) -> Option<usize> {
    let moov = find(file, 0..file.len(), *b"moov")?;
    let track = find(file, moov, *b"trak")?;
    let header = find(file, track, *b"tkhd")?;
    let version = *file.get(header.start)?;
    let place = header.start + 4 + if version == 1 { 32 } else { 20 } + 16;
    (place + 36 <= header.end).then_some(place)
}

fn find(
    file: &[u8],
    within: std::ops::Range<usize>,
    name: [u8; 4],
) -> Option<std::ops::Range<usize>> {
    let mut at = within.start;
    while at + 8 <= within.end {
        let size = u32::from_be_bytes(file[at..at + 4].try_into().ok()?) as usize;
        let (head, size) = match size {
            0 => (8, within.end - at),
            1 => (16, u64::from_be_bytes(file.get(at + 8..at + 16)?.try_into().ok()?) as usize),
            n => (8, n),
        };
        if size < head || at + size > within.end {
            return None;
        }
        if file[at + 4..at + 8] == name {
            return Some(at + head..at + size);
        }
        at += size;
    }
    None
}
