//! Zeros behind the end of a clip, as an interrupted recording leaves them: what was filmed is the same
//! as without them, and nothing that was filmed is left out.

use std::{
    fs::{self, File},
    path::{Path, PathBuf},
};

use stillcall::footage::{Decoder, Footage, Note};

use crate::{
    clips::{H264, base, changed, derived, made, scratch, source},
    oracle,
};

const MIB: u64 = 1 << 20;

/// Returns a copy of a clip with so many zeros behind it; the disk need not hold them.
pub(crate) fn with_zeros(clip: &Path, zeros: u64) -> PathBuf {
    let target = scratch("tails").join(clip.file_name().expect("a name"));
    fs::copy(clip, &target).expect("a copy");
    let file = File::options().write(true).open(&target).expect("the copy");
    let length = file.metadata().expect("its length").len();
    file.set_len(length + zeros).expect("room");
    target
}

fn zeros_noted(footage: &Footage) -> Option<u64> {
    footage.facts().notes.iter().find_map(|note| match note {
        Note::ZerosLeftOut(bytes) => Some(*bytes),
        _ => None,
    })
}

/// Compares with `ffmpeg`'s own decode of the file as it is, and returns the note.
fn check(clip: &Path) -> Option<u64> {
    let footage =
        Footage::open_proved(clip, None, &|_| ()).unwrap_or_else(|error| panic!("{error}"));
    let expected = oracle::linear(clip, &footage);
    assert_eq!(footage.table().len(), expected.len(), "{}", clip.display());
    let mut decoder = Decoder::new(&footage, 1);
    for (k, expected) in expected.iter().enumerate() {
        let picture = decoder.picture(k).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(picture.hash(), *expected, "{}: frame {k}", clip.display());
    }
    // The file is known by all of its bytes.
    let whole = blake3::hash(&fs::read(clip).expect("the file")).to_hex().to_string();
    assert_eq!(footage.content_hash().expect("it can be read"), whole);
    zeros_noted(&footage)
}

#[test]
fn zeros_behind_a_stream_are_left_out_and_told() {
    let annex_b = "-c copy -bsf:v h264_mp4toannexb";
    let part_2 = "-c:v mpeg2video -q:v 3 -g 12 -bf 2";
    for clip in [
        derived("tail.ts", &base(), "-c copy"),
        derived("tail.mts", &base(), "-c copy -mpegts_m2ts_mode 1"),
        derived("tail.h264", &base(), annex_b),
        derived("tail.flv", &base(), "-c copy"),
        made("tail.mpg", &format!("{} {part_2}", source(2, "256x144", "25"))),
        made("tail.m2v", &format!("{} {part_2}", source(2, "256x144", "25"))),
    ] {
        // As much as a picture may have, which would be taken for one that is too large.
        let left_out = check(&with_zeros(&clip, 140 * MIB));
        assert!(left_out.is_some_and(|it| it > 139 * MIB), "{}: {left_out:?}", clip.display());
        let [plain, zeros] = [clip.clone(), with_zeros(&clip, 140 * MIB)].map(|clip| {
            let footage = Footage::open(&clip).expect("it opens");
            footage.table().entries().iter().map(|entry| entry.ticks).collect::<Vec<_>>()
        });
        assert_eq!(plain, zeros, "{}", clip.display());
        // A few of them are nothing to speak of.
        assert_eq!(check(&with_zeros(&clip, 1000)), None, "{}", clip.display());
    }
    let words = Note::ZerosLeftOut(312_400_000).to_string();
    assert!(words.starts_with("the file ends with 313 MB of zeros"), "{words}");
}

/// Where a container says how long a picture is, so many zeros are kept as one may have.
#[test]
fn zeros_behind_a_container_are_left_out_beyond_one_picture() {
    for ending in ["mkv", "avi"] {
        let clip = derived(&format!("tail_of.{ending}"), &base(), "-c copy");
        let left_out = check(&with_zeros(&clip, 200 * MIB));
        assert!(left_out.is_some_and(|it| it >= 70 * MIB), "{ending}: {left_out:?}");
        assert_eq!(check(&with_zeros(&clip, 100 * MIB)), None, "{ending}");
    }
}

/// The index of MP4 says where its pictures are: what lies behind them costs nothing.
#[test]
fn zeros_behind_an_indexed_clip_are_passed_over() {
    let fragments =
        derived("tail_of_fragments.mp4", &base(), "-c copy -movflags frag_keyframe+empty_moov");
    for clip in [base(), fragments] {
        assert_eq!(check(&with_zeros(&clip, 200 * MIB)), None);
    }
}

/// A film that fades to black, stored as plain pixels: its end is nothing but zeros.
#[test]
fn black_pictures_are_no_tail() {
    let black = "-f lavfi -i testsrc2=s=640x480:r=5:d=4,format=rgb24,\
                 geq=r='if(lt(N\\,5)\\,r(X\\,Y)\\,0)':g='if(lt(N\\,5)\\,g(X\\,Y)\\,0)':\
                 b='if(lt(N\\,5)\\,b(X\\,Y)\\,0)' -c:v rawvideo";
    let film = made("black.mov", &format!("{black} -movflags faststart"));
    let bytes = fs::read(&film).expect("the film");
    assert!(bytes.iter().rev().take(4 * MIB as usize).all(|byte| *byte == 0), "it ends otherwise");
    assert_eq!(check(&film), None);
    assert_eq!(check(&with_zeros(&film, 3 * MIB)), None);
    // An interrupted one, of which the index that would follow is missing.
    let whole = made("black.avi", &format!("{black} -pix_fmt bgr24"));
    let cut = changed("black_cut.avi", &whole, |bytes| {
        let index = bytes.windows(4).rposition(|name| name == b"idx1").expect("an index");
        bytes.truncate(index);
    });
    assert_eq!(check(&with_zeros(&cut, 8 * MIB)), None);
    let short = made("short.ts", &format!("{} {H264}", source(1, "256x144", "30")));
    assert_eq!(check(&short), None);
}
