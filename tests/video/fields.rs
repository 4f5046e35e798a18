//! Pictures and packets that do not come one to one: fields, packed and empty packets.

use std::{fs, path::PathBuf};

use stillcall::{
    footage::{Decoder, Footage},
    units::PictureField,
};

use crate::{
    avi,
    clips::{H264, derived, made, source, written},
    exact::{bars, check_sound},
    field_coded::{self, Coding},
    oracle,
};

fn field_coded(first: PictureField, coding: Coding) -> PathBuf {
    let kind = match (first, coding) {
        (PictureField::Top, Coding::Fields) => "top",
        (PictureField::Bottom, Coding::Fields) => "bottom",
        (PictureField::Top, Coding::Mixed) => "top_mixed",
        (PictureField::Bottom, Coding::Mixed) => "bottom_mixed",
    };
    let name = format!("fields_{kind}.h264");
    written(&name, &field_coded::stream(48, first, coding))
}

/// Both fields of a picture are one frame, whichever comes first and whatever holds them.
#[test]
fn two_field_packets_are_one_frame() {
    for first in [PictureField::Top, PictureField::Bottom] {
        for coding in [Coding::Fields, Coding::Mixed] {
            let raw = field_coded(first, coding);
            let raw_name = raw.file_name().expect("a name").to_string_lossy().into_owned();
            let held = ["ts", "mp4", "mkv"].map(|kind| {
                derived(&format!("{raw_name}.{kind}"), &raw, "-fflags +genpts {} -c copy")
            });
            for clip in [raw].iter().chain(&held) {
                let footage = check_sound(clip);
                assert_eq!(footage.table().len(), 48, "{}", clip.display());
                assert!(footage.facts().interlaced);
                let mut decoder = Decoder::new(&footage, 2);
                for k in 0..48 {
                    let picture = decoder.picture(k).expect("a picture");
                    let mut numbers = [4, 5].map(|row| oracle::bars_of_row(&picture, row));
                    if first == PictureField::Bottom {
                        numbers.reverse();
                    }
                    assert_eq!(numbers, [k as u32 * 2, k as u32 * 2 + 1], "{}", clip.display());
                }
            }
        }
    }
}

/// MPEG-4 part 2 in an AVI of the old kind, in which a chunk holds a predicted picture and the
/// one shown before it, and the next chunk only says that nothing is coded.
fn packed() -> PathBuf {
    let options = format!(
        "{} -c:v mpeg4 -q:v 3 -g 24 -bf 1 -b_strategy 0 -f m4v",
        source(4, "256x144", "25"),
    );
    let stream = made("one_b.m4v", &options);
    let pictures = coded_pictures(&fs::read(&stream).expect("the stream"));
    let mut chunks: Vec<(Vec<u8>, bool)> = Vec::new();
    for (k, (kind, bytes)) in pictures.iter().enumerate() {
        if *kind == BIDIRECTIONAL {
            chunks.last_mut().expect("a picture before").0.extend(bytes);
            chunks.push((nothing_coded(k as u32 % 25), false));
        } else {
            chunks.push((bytes.clone(), *kind == INTRA));
        }
    }
    // The mark by which decoders know such files.
    let mark = b"\0\0\x01\xb2DivX503b1393p";
    let at = picture_starts(&chunks[0].0)[0];
    chunks[0].0.splice(at..at, *mark);
    let header = avi::Header { codec: *b"XVID", size: [256, 144], rate: 25 };
    written("packed.avi", &avi::file(&header, &chunks))
}

// ISO/IEC 14496-2, table 6-20.
const INTRA: u8 = 0;
const BIDIRECTIONAL: u8 = 2;

/// Splits a stream into pictures with the headers before them; each with its kind.
fn coded_pictures(stream: &[u8]) -> Vec<(u8, Vec<u8>)> {
    let starts = picture_starts(stream);
    let ends = starts.iter().map(|&start| {
        // The picture lasts until the next start code of any kind.
        let rest = &stream[start + 4..];
        rest.windows(3).position(|code| code == [0, 0, 1]).map_or(stream.len(), |at| start + 4 + at)
    });
    let ends: Vec<usize> = ends.collect();
    let from = [0].into_iter().chain(ends.iter().copied());
    let pieces = from.zip(&ends).zip(&starts);
    pieces
        .map(|((from, &to), &start)| (stream[start + 4] >> 6, stream[from..to].to_vec()))
        .collect()
}

fn picture_starts(stream: &[u8]) -> Vec<usize> {
    let codes = stream.windows(4).enumerate();
    codes.filter(|(_, code)| *code == [0, 0, 1, 0xb6]).map(|(at, _)| at).collect()
}

/// A predicted picture of which nothing is coded (6.2.5): kind, no whole second, marker, five
/// bits of time in 1/25 s, marker, not coded, then filling.
fn nothing_coded(time: u32) -> Vec<u8> {
    let bits = 0b0101 << 12 | time << 7 | 0b100_1111;
    [&[0, 0, 1, 0xb6][..], &(bits as u16).to_be_bytes()].concat()
}

#[test]
fn packed_pictures_keep_their_number_and_order() {
    let footage = check_sound(&packed());
    assert_eq!(bars(&footage), (0..100).collect::<Vec<_>>());
}

/// A recorder that loses a picture writes an empty chunk in its place: there is no frame, and
/// those after it keep their times.
#[test]
fn empty_chunks_are_no_frames_but_take_their_time() {
    let options = format!("{} -c:v mjpeg -q:v 3 -pix_fmt yuvj420p", source(2, "256x144", "25"));
    let stream = made("pictures.mjpeg", &options);
    let bytes = fs::read(&stream).expect("the stream");
    let starts = bytes.windows(3).enumerate().filter(|(_, code)| *code == [0xff, 0xd8, 0xff]);
    let mut starts: Vec<usize> = starts.map(|(at, _)| at).collect();
    starts.push(bytes.len());
    let pictures = starts.windows(2).map(|pair| bytes[pair[0]..pair[1]].to_vec());
    let chunks = pictures
        .enumerate()
        .map(|(k, picture)| if k % 10 == 5 { (Vec::new(), false) } else { (picture, true) });
    let header = avi::Header { codec: *b"MJPG", size: [256, 144], rate: 25 };
    let clip = written("empty_chunks.avi", &avi::file(&header, &chunks.collect::<Vec<_>>()));
    let footage = check_sound(&clip);
    let kept: Vec<u32> = (0..50).filter(|k| k % 10 != 5).collect();
    assert_eq!(bars(&footage), kept);
    let times = |footage: &Footage| -> Vec<f64> {
        let entries = footage.table().entries().iter();
        entries.map(|entry| footage.facts().time_base.seconds(entry.ticks)).collect()
    };
    for (found, number) in times(&footage).into_iter().zip(kept) {
        assert!((found - f64::from(number) / 25.0).abs() < 1e-9, "frame {number} at {found} s");
    }
}

/// The source shows 50 numbers a second and two of them are woven into each frame, so that the
/// number in a field's rows says when it was taken.
#[test]
fn the_later_field_comes_half_a_frame_later() {
    let woven = |order: &str, top: u8| {
        let options = format!(
            "{} -vf interlace=scan={order} {H264} -flags +ildct+ilme -x264-params {order}=1 -top {top}",
            source(2, "256x128", "50"),
        );
        made(&format!("woven_{order}.mp4"), &options)
    };
    let clips = [
        woven("tff", 1),
        woven("bff", 0),
        field_coded(PictureField::Top, Coding::Fields),
        field_coded(PictureField::Bottom, Coding::Fields),
    ];
    for clip in clips {
        let footage = Footage::open(&clip).expect("it opens");
        let seconds = |ticks| footage.facts().time_base.seconds(ticks);
        let mut decoder = Decoder::new(&footage, 1);
        let last = footage.table().len() as u32 * 2 - 1;
        for k in 0..footage.table().len() {
            let picture = decoder.picture(k).expect("a picture");
            let first = picture.first_field().expect("it is interlaced");
            for (field, row) in [(PictureField::Top, 4), (PictureField::Bottom, 5)] {
                let found = footage.table().field_ref(k, field, first).expect("a field");
                let number = oracle::bars_of_row(&picture, row);
                let expected = [number.saturating_sub(1), number, (number + 1).min(last)];
                let found_at = [found.lo, found.ticks, found.hi].map(seconds);
                for (found, number) in found_at.into_iter().zip(expected) {
                    let right = f64::from(number) / 50.0;
                    assert!((found - right).abs() < 1e-6, "{}: frame {k}: {found}", clip.display());
                }
                assert_eq!((found.index, found.field), (k.into(), Some(field)));
                assert_eq!(footage.table().at(found.ticks), k);
            }
        }
    }
}

/// A clock of one tick a frame cannot say when the later field was: the bounds still hold it.
#[test]
fn half_a_tick_lies_within_the_bounds() {
    let clip = made("dv.avi", &format!("{} -target pal-dv", source(2, "720x576", "25")));
    let footage = Footage::open(&clip).expect("it opens");
    assert_eq!(footage.facts().time_base.parts(), [1, 25]);
    let first = Decoder::new(&footage, 1).picture(9).expect("a picture").first_field();
    // DV of the 625-line system has the lower field first (IEC 61834-2).
    assert_eq!(first, Some(PictureField::Bottom));
    let fields = [PictureField::Bottom, PictureField::Top];
    let refs =
        fields.map(|f| footage.table().field_ref(9, f, PictureField::Bottom).expect("a field"));
    assert_eq!(refs.map(|found| [found.lo.0, found.ticks.0, found.hi.0]), [[8, 9, 10], [9, 9, 10]]);
}
