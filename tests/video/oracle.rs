//! What the pictures of a clip must be, by the `ffmpeg` program's own linear decode.

use std::{
    io::{BufReader, Read},
    path::Path,
    process::{Command, Stdio},
};

use stillcall::footage::{Footage, Picture};

/// Returns the hash of each picture that `ffmpeg` decodes on one thread from start to end.
///
/// The pictures come as plain planes without row padding, unturned, so that their hash is
/// [`Picture::hash`]'s own: the first 8 bytes of BLAKE3.
pub(crate) fn linear(clip: &Path, footage: &Footage) -> Vec<u64> {
    let mut ffmpeg = Command::new("ffmpeg")
        .args("-hide_banner -loglevel quiet -nostdin -threads 1 -noautorotate -i".split(' '))
        .arg(clip)
        .args("-map 0:V:0 -fps_mode passthrough -f rawvideo -".split(' '))
        .stdout(Stdio::piped())
        .spawn()
        .expect("the ffmpeg program is installed");
    let mut out = BufReader::new(ffmpeg.stdout.take().expect("a pipe"));
    let mut frame = vec![0; frame_bytes(footage)];
    let mut hashes = Vec::new();
    while out.read_exact(&mut frame).is_ok() {
        let hash = blake3::hash(&frame);
        hashes.push(u64::from_le_bytes(hash.as_bytes()[..8].try_into().expect("eight bytes")));
    }
    ffmpeg.wait().expect("ffmpeg ends");
    hashes
}

/// A picture that `ffmpeg` decoded, with its time stamp in the container's own ticks.
pub(crate) struct Decoded {
    pub pts: Option<i64>,
    pub samples: Vec<u8>,
    /// [`Picture::hash`].
    pub hash: u64,
}

/// Returns the pictures that `ffmpeg` decodes on one thread from start to end, all of one size, and
/// whether its decoder said nothing of damage.
pub(crate) fn pictures(clip: &Path) -> (Vec<Decoded>, bool) {
    let output = Command::new("ffmpeg")
        .args(
            "-hide_banner -nostdin -threads 1 -noautorotate -copyts -loglevel level+info -i"
                .split(' '),
        )
        .arg(clip)
        .args("-map 0:V:0 -vf showinfo -fps_mode passthrough -f rawvideo -".split(' '))
        .output()
        .expect("the ffmpeg program is installed");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    let told = |line: &&str| line.contains("Parsed_showinfo") && line.contains(" pts:");
    let stamp = |line: &str| line.split(" pts:").nth(1)?.split_whitespace().next()?.parse().ok();
    let stamps: Vec<Option<i64>> = said.lines().filter(told).map(stamp).collect();
    let decoders = ["[h264 @", "[hevc @", "[mpeg4 @", "[mpeg2video @"];
    let is_complaint = |line: &str| {
        decoders.iter().any(|decoder| line.starts_with(decoder))
            && ["[warning]", "[error]", "[fatal]", "concealing"].iter().any(|it| line.contains(it))
    };
    let size = output.stdout.len() / stamps.len().max(1);
    let decoded = stamps.iter().zip(output.stdout.chunks_exact(size.max(1)));
    let decoded = decoded.map(|(pts, samples)| {
        let hash = blake3::hash(samples);
        let hash = u64::from_le_bytes(hash.as_bytes()[..8].try_into().expect("eight bytes"));
        Decoded { pts: *pts, samples: samples.to_vec(), hash }
    });
    (decoded.collect(), !said.lines().any(is_complaint))
}

/// Returns the number that a made-up clip's frame carries in its pixels.
pub(crate) fn bars(picture: &Picture) -> u32 {
    bars_of_row(picture, 4)
}

/// Returns the number that one row carries; the fields of an interlaced frame carry their own.
pub(crate) fn bars_of_row(picture: &Picture, row: usize) -> u32 {
    let plane = picture.plane(0).expect("a first plane");
    let layout = picture.layout();
    let row = plane.row(row).expect("a row");
    let width = picture.plane_size(0)[0];
    (0..16)
        .filter(|bit| value(row, (bit * 2 + 1) * width / 32, layout) > 0.5)
        .map(|bit| 1 << bit)
        .sum()
}

fn value(row: &[u8], x: usize, layout: &stillcall::footage::PixelLayout) -> f64 {
    let component = layout.components[0];
    let at = x * component.step + component.offset;
    let code = if layout.sample_bytes == 2 {
        u16::from_le_bytes([row[at], row[at + 1]])
    } else {
        row[at].into()
    };
    f64::from(code) / f64::from((1_u32 << layout.depth) - 1)
}

/// Returns the bytes of one unpadded picture, by the size and format of the first one.
fn frame_bytes(footage: &Footage) -> usize {
    let first = stillcall::footage::Decoder::new(footage, 1).picture(0).expect("a first picture");
    let planes = (0..4).map_while(|index| first.plane(index));
    planes.map(|plane| plane.row_bytes * plane.height).sum()
}
