//! Copies that keep a clip's own packets: `ffmpeg` decodes the same pictures from them, `ffprobe`
//! finds nothing in them of place, day or device, and no sound unless it was asked for.

use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

use stillcall::footage::{Copied, CopyError, CopyWishes, Footage};

use crate::{
    clips::{H264, HEVC, derived, made, scratch, usual},
    oracle,
};

fn copied(clip: &Path, name: &str, wishes: CopyWishes) -> Result<Copied, CopyError> {
    let target = scratch("excerpts").join(name);
    Footage::open(clip).expect("it opens").copy_to(&target, wishes, &|| false)
}

fn frames(from: u64, to: u64) -> CopyWishes {
    CopyWishes { frames: Some([from, to]), sound: false }
}

/// Copies and holds the copy's pictures, as `ffmpeg` decodes them, against the clip's.
fn check(clip: &Path, name: &str, wishes: CopyWishes) -> Copied {
    let footage = Footage::open(clip).expect("it opens");
    let done = copied(clip, name, wishes).expect("a copy");
    let [first, last] = done.frames;
    let (all, copy) =
        (oracle::linear(clip, &footage), oracle::linear(done.footage.path(), &done.footage));
    assert_eq!(copy, all[first as usize..=last as usize]);
    assert_eq!(copy.len(), done.footage.table().len());
    let begun = footage.table().entry(first as usize).expect("the first").ticks;
    assert_eq!(done.offset.0, -begun.0);
    done
}

/// What `ffprobe` says of a file: its own text on the file as a whole and on each stream.
pub(crate) fn probed(path: &Path) -> String {
    let output = Command::new("ffprobe")
        .args(["-v", "error", "-show_format", "-show_streams", "-show_chapters"])
        .arg(path)
        .output()
        .expect("the ffprobe program is installed");
    String::from_utf8(output.stdout).expect("text")
}

/// A clip with sound, as a phone names place, day and device.
pub(crate) fn phone() -> PathBuf {
    let options = format!(
        "{} -f lavfi -i sine=d=4 {H264} -pix_fmt yuv420p -c:a aac -shortest \
         -metadata location=+51.5000-000.1200/ -metadata make=Phonemaker -metadata model=P7 \
         -metadata title=Anna -metadata creation_time=2026-10-17T09:00:00Z \
         -metadata:s:v handler_name=EastHall -movflags use_metadata_tags",
        usual()
    );
    made("phone.mp4", &options)
}

#[test]
fn a_copy_says_nothing_of_place_day_and_device_and_keeps_every_picture() {
    let before = probed(&phone());
    let secrets = ["51.5000", "Phonemaker", "P7", "Anna", "2026-10-17", "EastHall"];
    for secret in secrets {
        assert!(before.contains(secret), "{secret} is not in the clip itself: {before}");
    }
    let done = check(&phone(), "silent.mp4", CopyWishes::default());
    assert_eq!(done.frames, [0, 119]);
    let after = probed(done.footage.path());
    let bytes = fs::read(done.footage.path()).expect("the copy");
    for secret in secrets {
        assert!(!after.contains(secret), "{secret}: {after}");
        let there = bytes.windows(secret.len()).any(|window| window == secret.as_bytes());
        assert!(!there || secret.len() < 4, "{secret} is in the bytes");
    }
    assert!(!after.contains("codec_type=audio"), "{after}");
    let loud = CopyWishes { sound: true, ..CopyWishes::default() };
    let loud = probed(check(&phone(), "loud.mp4", loud).footage.path());
    assert!(loud.contains("codec_type=audio"), "{loud}");
}

/// Key pictures lie 24 apart: an excerpt begins at the one before.
#[test]
fn an_excerpt_begins_where_decoding_can() {
    let done = check(&phone(), "part.mp4", frames(50, 60));
    assert_eq!(done.frames[0], 48);
    // With three pictures that lean both ways, at most so many more come along.
    assert!((60..64).contains(&done.frames[1]), "{:?}", done.frames);
    let one = check(&phone(), "one.mp4", frames(72, 72));
    assert_eq!(one.frames[0], 72);
    let end = check(&phone(), "end.mp4", frames(119, 119));
    assert_eq!(end.frames, [96, 119]);
}

#[test]
fn containers_and_codecs_keep_their_pictures() {
    let sources: [(&str, String); 5] = [
        ("excerpt.mkv", format!("{} {H264}", usual())),
        ("excerpt_open.mp4", format!("{} {HEVC}:open-gop=1", usual())),
        ("excerpt.ts", format!("{} {H264}", usual())),
        (
            "excerpt.webm",
            format!("{} -c:v libvpx-vp9 -deadline realtime -cpu-used 8 -g 24", usual()),
        ),
        ("excerpt.mov", format!("{} -c:v mjpeg -q:v 3 -pix_fmt yuvj420p", usual())),
    ];
    for (name, options) in sources {
        let clip = made(name, &options);
        let ending = Footage::open(&clip).expect("it opens").ending_of_copy();
        check(&clip, &format!("{name}.whole.{ending}"), CopyWishes::default());
        check(&clip, &format!("{name}.part.{ending}"), frames(55, 70));
    }
}

/// A phone held upright writes a quarter turn into the container.
#[test]
fn a_copy_stands_as_its_clip() {
    let turned = derived("excerpt_turned.mp4", &phone(), "-c copy -metadata:s:v rotate=90");
    let upright = |footage: &Footage| footage.facts().upright;
    let before = upright(&Footage::open(&turned).expect("it opens"));
    assert_ne!(before, upright(&Footage::open(&phone()).expect("it opens")));
    assert_eq!(upright(&check(&turned, "turned.mp4", CopyWishes::default()).footage), before);
}

/// A beginning that was cut off by the file's own list of edits stays cut off.
#[test]
fn what_an_edit_list_hides_is_not_shown() {
    let cut = derived("excerpt_cut.mp4", &phone(), "-ss 0.5 {} -c copy -an");
    let shown = Footage::open(&cut).expect("it opens").table().len();
    assert!(shown < 120, "{shown}");
    assert_eq!(check(&cut, "cut.mp4", CopyWishes::default()).footage.table().len(), shown);
}

#[test]
fn what_cannot_be_copied_is_told_and_leaves_nothing() {
    let beyond = copied(&phone(), "beyond.mp4", frames(100, 120)).unwrap_err().to_string();
    assert!(beyond.contains("frames 0 to 119") && beyond.contains("100 to 120"), "{beyond}");
    let target = scratch("excerpts").join("stopped.mp4");
    let footage = Footage::open(&phone()).expect("it opens");
    let stopped = footage.copy_to(&target, CopyWishes::default(), &|| true);
    assert!(matches!(stopped, Err(CopyError::Stopped)), "{stopped:?}");
    assert!(!target.exists());
    let nowhere = scratch("excerpts").join("no-such-folder/copy.mp4");
    let failed = footage.copy_to(&nowhere, CopyWishes::default(), &|| false).unwrap_err();
    assert!(failed.to_string().contains("no-such-folder"), "{failed}");
}
