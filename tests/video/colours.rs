//! Every format of pixels that `ffmpeg` can write and that opens here is shown in the colours that
//! FFmpeg's own conversion gives, within two code values.

use std::{
    collections::BTreeSet,
    path::{Path, PathBuf},
    process::Command,
};

use stillcall::footage::{Decoder, Footage};

use crate::clips::attempted;

/// Lossless ones first: they have most formats.
const ENCODERS: [&str; 24] = [
    "ffv1",
    "png",
    "rawvideo",
    "tiff",
    "qtrle",
    "zmbv",
    "bmp",
    "targa",
    "xwd",
    "dpx",
    "jpeg2000",
    "huffyuv",
    "ljpeg",
    "mjpeg",
    "gif",
    "v210",
    "v308",
    "v408",
    "r210",
    "r10k",
    "rpza",
    "libx264",
    "libx265",
    "libvpx-vp9",
];
/// Slow changes, so that it does not matter how chroma is interpolated, and no colour at its limit.
const SOURCE: &str = "-f lavfi -i nullsrc=s=128x96:r=25:d=0.08,format=gbrp,\
                      geq=r='40+X/3':g='200-Y/3':b='90+(X+Y)/4'";
const PALETTE: &str = "-vf split[a][b];[a]palettegen[p];[b][p]paletteuse";
const TO_RGB: &str =
    "-pix_fmt rgb24 -f rawvideo -sws_flags accurate_rnd+full_chroma_int+bilinear -";
/// FFmpeg widens three bits by 36 a step, so that white is 252 where it is 255 here, and the others
/// lie as close.
const THREE_BITS: [&str; 3] = ["bgr8", "rgb4_byte", "bgr4_byte"];

fn output(arguments: &str, clip: Option<&Path>, more: &str) -> Vec<u8> {
    let input = clip.map(|clip| ["-i".as_ref(), clip.as_os_str()]).into_iter().flatten();
    let run = Command::new("ffmpeg")
        .args("-hide_banner -loglevel error -nostdin".split(' '))
        .args(arguments.split_whitespace())
        .args(input)
        .args(more.split_whitespace())
        .output();
    run.expect("the ffmpeg program is installed").stdout
}

/// Returns the names of the formats that `ffmpeg` says an encoder takes; all that it knows for
/// unpacked pictures.
fn formats(encoder: &str) -> Vec<String> {
    let of_all = |line: &str| {
        let mut words = line.split_whitespace();
        words
            .next()
            .filter(|flags| flags.starts_with("IO"))
            .and_then(|_| words.next().map(str::to_owned))
    };
    if encoder == "rawvideo" {
        let said = output("-pix_fmts", None, "");
        return String::from_utf8_lossy(&said).lines().filter_map(of_all).collect();
    }
    let said = output(&format!("-h encoder={encoder}"), None, "");
    let said = String::from_utf8_lossy(&said).into_owned();
    let listed = said.lines().find_map(|line| line.split_once("Supported pixel formats:"));
    listed
        .map(|(_, names)| names.split_whitespace().map(str::to_owned).collect())
        .unwrap_or_default()
}

/// FFmpeg widens four bits by 16 a step, so that white is 240.
fn is_of_four_bits(name: &str) -> bool {
    name.starts_with("rgb444") || name.starts_with("bgr444")
}

/// Makes two pictures in the format and opens them; where that fails, says how if they were made.
fn opened(encoder: &str, format: &str, ending: &str) -> Result<(PathBuf, Footage), Option<String>> {
    let name = format!("colours-{encoder}-{format}.{ending}");
    // Colours of their own; and under the names that every reader knows.
    let more = if format == "pal8" { PALETTE } else { "-strict experimental" };
    let options = format!("{SOURCE} {more} -c:v {encoder} -pix_fmt {format}");
    let clip = attempted(&name, &options).map_err(|_| None)?;
    let footage = Footage::open(&clip).map_err(|error| Some(error.to_string()))?;
    assert_eq!(footage.table().len(), 2, "{name}");
    Ok((clip, footage))
}

/// Compares both pictures of a clip; returns how its samples lie, and what differs.
fn compare(clip: &Path, footage: &Footage) -> (String, Option<String>) {
    let theirs = output("", Some(clip), TO_RGB);
    let mut decoder = Decoder::new(footage, 1);
    let mut name = String::new();
    // The second one first: who begins there needs the colours that came with the first packet.
    for k in [1, 0] {
        let picture = decoder.picture(k).expect("a picture");
        name.clone_from(&picture.layout().name);
        let ours = picture.to_rgba_upright();
        let frame = &theirs[k * 128 * 96 * 3..][..128 * 96 * 3];
        let most = if THREE_BITS.contains(&&*name) { 3 } else { 2 };
        let wide = |theirs: u8| if is_of_four_bits(&name) { theirs / 16 * 17 } else { theirs };
        let differs = |(ours, theirs): &(&image::Rgba<u8>, &[u8])| {
            (0..3).any(|i| ours.0[i].abs_diff(wide(theirs[i])) > most)
        };
        if let Some((ours, theirs)) = ours.pixels().zip(frame.chunks(3)).find(differs) {
            let said =
                format!("{name}, frame {k}: {ours:?} instead of {theirs:?}, {}", clip.display());
            return (name, Some(said));
        }
    }
    (name, None)
}

#[test]
fn every_format_of_pixels_has_its_colours() {
    let mut compared = BTreeSet::new();
    let mut refused = BTreeSet::new();
    let mut differ = Vec::new();
    for encoder in ENCODERS {
        for format in formats(encoder) {
            if compared.contains(&format) {
                continue;
            }
            for ending in ["mkv", "mov", "avi"] {
                match opened(encoder, &format, ending) {
                    Ok((clip, footage)) => {
                        let (name, differs) = compare(&clip, &footage);
                        compared.insert(name);
                        differ.extend(differs);
                    }
                    Err(Some(why)) if why.contains("has pixels of the kind") => {
                        refused.insert(format.clone());
                    }
                    Err(_) => {}
                }
                if compared.contains(&format) || refused.contains(&format) {
                    break;
                }
            }
        }
    }
    println!("{} compared; refused: {refused:?}", compared.len());
    assert!(differ.is_empty(), "{differ:#?}");
    let usual =
        ["yuv420p", "yuvj420p", "yuv420p10le", "yuv422p10le", "yuv444p12le", "nv12", "uyvy422"];
    let odd =
        ["rgb555be", "rgb555le", "rgb565le", "gbrp10le", "rgb48be", "gray10le", "ya8", "monob"];
    let missing: Vec<_> = usual.iter().chain(&odd).filter(|it| !compared.contains(**it)).collect();
    assert!(compared.len() > 100 && missing.is_empty(), "{missing:?} of {compared:?}");
}

/// What these containers and codecs give with the first packet and never again: the colours that the
/// pictures only hold numbers of.
#[test]
fn colours_that_come_once_hold_wherever_one_begins() {
    for [encoder, format, ending] in [
        ["rawvideo", "pal8", "mov"],
        ["rawvideo", "pal8", "avi"],
        ["qtrle", "gray", "mov"],
        ["smc", "pal8", "mov"],
    ] {
        let (clip, footage) = opened(encoder, format, ending).unwrap();
        assert_eq!(compare(&clip, &footage), ("pal8".to_owned(), None));
    }
}

/// One bit a pixel, as screens of old were drawn.
#[test]
fn black_and_white_is_read_in_mov_too() {
    let (clip, footage) = opened("png", "monob", "mov").unwrap();
    assert_eq!(compare(&clip, &footage), ("monob".to_owned(), None));
}
