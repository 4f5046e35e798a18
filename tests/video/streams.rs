//! Other streams beside the video, changes in the middle of it, and odd containers.

use std::{fs, path::PathBuf};

use stillcall::footage::{Decoder, Footage, Note, frames_text};

use crate::{
    boxes,
    clips::{H264, HEVC, base, changed, derived, made, scratch, source, written},
    exact::{bars, check_sound},
    oracle,
};

fn check_bars(clip: &std::path::Path, expected: impl IntoIterator<Item = u32>) -> Footage {
    let footage = check_sound(clip);
    assert_eq!(bars(&footage), expected.into_iter().collect::<Vec<_>>(), "{}", clip.display());
    footage
}

#[test]
fn containers_without_an_index() {
    check_bars(&derived("no_cues.mkv", &base(), "-c copy -f matroska -live 1"), 0..120);
    let each = "-c copy -movflags frag_every_frame+empty_moov+default_base_moof";
    check_bars(&derived("fragment_each.mp4", &base(), each), 0..120);
    let table = "-c copy -movflags +frag_keyframe+global_sidx+default_base_moof";
    check_bars(&derived("fragment_table.mp4", &base(), table), 0..120);
    let open =
        format!("{} -c:v mpeg2video -q:v 3 -g 12 -bf 2 -flags -cgop", source(4, "256x144", "25"));
    check_bars(&made("open_mpeg2.ts", &open), 0..100);
    check_bars(&made("recorded.wtv", &open), 0..100);
}

#[test]
fn more_codecs() {
    let at_25 = source(4, "256x144", "25");
    // This encoder gives up the last two pictures that lean on later ones.
    let xvid = made("xvid.avi", &format!("{at_25} -c:v libxvid -q:v 3 -g 24 -bf 2"));
    check_bars(&xvid, (0..97).chain([99]));
    let av1 = "-c:v libsvtav1 -preset 12 -g 30 -svtav1-params lp=1";
    check_bars(&made("av1.mp4", &format!("{} {av1}", source(2, "256x144", "30"))), 0..60);
    check_sound(&made(
        "tiny.mkv",
        "-f lavfi -i testsrc2=s=2x2:r=30:d=1 -pix_fmt yuv444p -c:v ffv1",
    ));
    let dv =
        check_sound(&made("dv.avi", &format!("{} -target pal-dv", source(2, "720x576", "25"))));
    assert_eq!(dv.table().len(), 50);
    assert!(dv.facts().interlaced);
    // 16:15 by the codec's own header: 720 wide pixels become 768 square ones.
    assert_eq!([dv.facts().width, dv.facts().height], [768, 576]);
}

#[test]
fn more_kinds_of_pixels_step_exactly() {
    let two = source(2, "256x144", "30");
    for format in ["yuv422p", "yuv422p10le", "yuv444p"] {
        check_bars(
            &made(&format!("{format}.mp4"), &format!("{two} -pix_fmt {format} {H264}")),
            0..60,
        );
    }
    let palette = "-vf split[a][b];[a]palettegen[p];[b][p]paletteuse";
    let gif = made("palette.gif", &format!("{} {palette}", source(1, "256x144", "25")));
    let footage = Footage::open(&gif).expect("it opens");
    assert_eq!(footage.table().len(), 25);
    for k in [24, 0, 13] {
        let image = Decoder::new(&footage, 1).picture(k).expect("a picture").to_rgba_upright();
        let number: usize = (0..5)
            .filter(|cell| image.get_pixel(cell * 16 + 8, 4).0[1] > 128)
            .map(|cell| 1 << cell)
            .sum();
        assert_eq!(number, k);
    }
}

/// The clock of the video counts from its own first frame, also where sound begins before it.
#[test]
fn video_that_starts_after_the_sound() {
    let late = |name: &str, by: &str| {
        let options = format!(
            "-itsoffset {by} -i {} -f lavfi -i sine=d=5 -map 0:v -map 1:a -c:v copy -c:a aac",
            base().display(),
        );
        check_bars(&made(name, &options), 0..120)
    };
    for footage in [late("late_video.mp4", "0.5"), late("late_video.mkv", "1.2")] {
        assert_eq!(footage.table().entry(0).expect("a first frame").ticks.0, 0);
        let seconds = footage.facts().time_base.seconds(footage.table().end());
        assert!((seconds - 4.0).abs() < 0.002, "{seconds}");
    }
}

#[test]
fn streams_beside_the_video_change_nothing() {
    check_bars(&derived("time_code.mov", &base(), "-c copy -timecode 10:00:00:00"), 0..120);
    let data = scratch("streams").join("data.bin");
    fs::write(&data, [7; 4096]).expect("a place for data");
    let options =
        format!("-i {} -f data -i {} -map 0 -map 1 -c copy", base().display(), data.display());
    check_bars(&made("data_stream.ts", &options), 0..120);
    let options =
        format!("-i {} -f lavfi -i sine=d=8 -map 0 -map 1 -c:v copy -c:a aac", base().display());
    let footage = check_bars(&made("longer_sound.mp4", &options), 0..120);
    let seconds = footage.facts().time_base.seconds(footage.table().end());
    assert!((seconds - 4.0).abs() < 1e-9, "the length is the video's, not {seconds}");
}

fn part(name: &str, size: &str, options: &str) -> PathBuf {
    let options =
        format!("{} {options} {H264} -f mpegts -muxdelay 0 -muxpreload 0", source(2, size, "30"));
    made(name, &options)
}

/// Each half is compared with what `ffmpeg` decodes from that half alone.
#[test]
fn size_and_pixels_may_change_in_the_middle() {
    let first = part("first.ts", "256x144", "");
    let larger = part("larger.ts", "320x192", "-output_ts_offset 2");
    let finer = part("finer.ts", "256x144", "-pix_fmt yuv444p -output_ts_offset 2");
    for (name, second, size) in
        [("new_size.ts", larger, [320, 192]), ("new_pixels.ts", finer, [256, 144])]
    {
        let clip = changed(name, &first, |bytes| {
            bytes.extend(fs::read(&second).expect("the second part"));
        });
        let halves = [&first, &second]
            .map(|half| oracle::linear(half, &Footage::open(half).expect("it opens")));
        let expected = halves.concat();
        check_halves(&clip, &expected, size);
        // The same in a container that describes the first half only.
        check_halves(&derived(&format!("{name}.mp4"), &clip, "-c copy"), &expected, size);
    }
}

fn check_halves(clip: &std::path::Path, expected: &[u64], second: [u32; 2]) {
    let footage = Footage::open(clip).expect("it opens");
    assert_eq!(footage.table().len(), expected.len(), "{}", clip.display());
    let mut decoder = Decoder::with_budget(&footage, 2, 0);
    for k in (0..120).rev().chain([0, 119, 59, 60, 61, 30]) {
        let picture = decoder.picture(k).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(picture.hash(), expected[k], "{}: frame {k}", clip.display());
        assert_eq!(oracle::bars(&picture), k as u32 % 60);
        let shown = picture.upright.shown_size();
        assert_eq!(shown, if k < 60 { [256, 144] } else { second });
        assert_eq!(picture.to_rgba_upright().dimensions(), shown.into());
    }
}

/// Returns two recordings of two seconds in one file, the second in a stream with a number of its own.
pub(crate) fn joined(name: &str, size: &str) -> PathBuf {
    let first = part("joined_first.ts", "256x144", "-streamid 0:256");
    let second = part(&format!("joined_{size}.ts"), size, "-output_ts_offset 2 -streamid 0:512");
    changed(name, &first, |bytes| bytes.extend(fs::read(&second).expect("the second part")))
}

#[test]
fn a_recording_that_changes_over_to_another_is_told() {
    let footage = check_bars(&joined("joined.ts", "256x144"), 0..60);
    let footage = footage.proved(&|| false).expect("it can be read");
    // The last frame before begins at 59/30 s.
    assert_eq!(footage.facts().notes, [Note::ChangesOver(1967)]);
    let text = frames_text(&footage);
    assert!(text.contains("at 2.0 s the recording changes over to another one"), "{text}");
    // Where the other one begins so early that it is seen while the clip is opened, the larger one
    // is shown.
    let short = made(
        "joined_short.ts",
        &format!("{} {H264} -frames:v 4 -f mpegts -streamid 0:256", source(1, "256x144", "30")),
    );
    let larger = part("joined_later.ts", "320x192", "-output_ts_offset 2 -streamid 0:512");
    let clip = changed("joined_larger.ts", &short, |bytes| {
        bytes.extend(fs::read(&larger).expect("the second part"));
    });
    let footage = Footage::open(&clip).expect("it opens");
    assert_eq!(footage.facts().width, 320);
    assert_eq!(bars(&footage), (0..60).collect::<Vec<_>>());
    assert_eq!(footage.facts().notes, [Note::ComesLater]);
}

/// Two cameras at the same time, and one recording after another in one stream.
#[test]
fn what_does_not_change_over_is_not_said_to() {
    let two = "-f lavfi -i color=gray:s=64x64:r=30:d=4 -map 0 -map 1 -c:v:0 copy -c:v:1 libx264";
    let options = format!("-i {} {two}", base().display());
    let both = check_bars(&made("both.ts", &options), 0..120);
    assert_eq!(both.facts().notes, []);
    let [first, second] =
        ["", "-output_ts_offset 2"].map(|it| part("same_stream.ts", "256x144", it));
    let clip = changed("same_stream_joined.ts", &first, |bytes| {
        bytes.extend(fs::read(&second).expect("the second part"));
    });
    let footage = Footage::open(&clip).expect("it opens");
    let notes = &footage.facts().notes;
    let is_told = notes.iter().any(|it| matches!(it, Note::ChangesOver(_) | Note::ComesLater));
    assert_eq!((footage.table().len(), is_told), (120, false), "{notes:?}");
}

/// A parameter set in mid-stream may not ask for more memory than one at the beginning.
#[test]
fn a_picture_that_grows_beyond_the_bound_is_not_decoded() {
    let first = derived("raw.h264", &base(), "-c copy -bsf:v h264_mp4toannexb");
    let clip = changed("growing.h264", &first, |bytes| bytes.extend(crate::safety::huge()));
    let footage = Footage::open(&clip).expect("it opens");
    assert_eq!(bars(&footage), (0..120).collect::<Vec<_>>());
}

/// The base layer is shown; what else a phone adds for other screens is left alone.
#[test]
fn hlg_with_a_dolby_vision_description_is_shown() {
    let tags = "-color_primaries bt2020 -color_trc arib-std-b67 -colorspace bt2020nc";
    let options = format!(
        "{} -pix_fmt yuv420p10le {HEVC}:colorprim=bt2020:transfer=arib-std-b67:\
         colormatrix=bt2020nc {tags}",
        source(2, "256x144", "30"),
    );
    let plain = made("hlg.mp4", &options);
    check_bars(&plain, 0..60);
    let described = changed("hlg_described.mp4", &plain, boxes::describe_dolby);
    let footage = check_bars(&described, 0..60);
    let text = frames_text(&footage);
    assert!(text.contains("BT.2020, limited range, HLG"), "{text}");
    let image = |clip| {
        let footage = Footage::open(clip).expect("it opens");
        Decoder::new(&footage, 1).picture(30).expect("a picture").to_rgba_upright()
    };
    assert_eq!(image(&described), image(&plain));
}

#[test]
fn tags_in_the_stream_choose_the_matrix() {
    let tag = |number: u8| {
        format!(
            "-c copy -bsf:v h264_metadata=colour_primaries={number}:\
             transfer_characteristics={number}:matrix_coefficients={number}"
        )
    };
    for (name, number, expected) in [
        ("tagged_601.mp4", 6, "BT.601, limited range\n"),
        ("tagged_709.mp4", 1, "BT.709, limited range\n"),
    ] {
        let text =
            frames_text(&Footage::open(&derived(name, &base(), &tag(number))).expect("it opens"));
        assert!(text.contains(expected), "{text}");
    }
}

/// 1080 rows are coded as 1088; the last eight are not part of the picture.
#[test]
fn coded_rows_below_the_picture_are_not_shown() {
    let clip =
        made("rows_1080.mp4", &format!("{} {H264}", "-f lavfi -i testsrc2=s=1920x1080:r=30:d=0.3"));
    let footage = check_sound(&clip);
    assert_eq!([footage.facts().width, footage.facts().height], [1920, 1080]);
    let picture = Decoder::new(&footage, 1).picture(3).expect("a picture");
    assert_eq!([picture.plane_size(0), picture.plane_size(1)], [[1920, 1080], [960, 540]]);
}

/// Two pictures in one packet (VP9's superframe, annex B of its specification): both are frames,
/// at the same time, and the index tells them apart.
#[test]
fn two_pictures_of_one_packet_are_two_frames() {
    let options = format!(
        "{} -c:v libvpx-vp9 -deadline realtime -cpu-used 8 -crf 20 -b:v 0 -auto-alt-ref 0 \
         -lag-in-frames 0 -g 30",
        source(2, "256x144", "30"),
    );
    let single = made("single.ivf", &options);
    check_bars(&single, 0..60);
    let joined = written("joined.ivf", &join_pairs(&fs::read(&single).expect("the clip")));
    let footage = check_bars(&joined, 0..60);
    let entries = footage.table().entries();
    for pair in entries.chunks(2) {
        assert_eq!(pair[0].ticks, pair[1].ticks);
    }
    assert!(entries.windows(3).all(|three| three[0].ticks < three[2].ticks));
    let [first, second] = [20, 21].map(|k| footage.table().frame_ref(k).expect("a frame"));
    assert!(first.order() < second.order());
    // Also in a container whose time stamps are trusted otherwise.
    for name in ["joined.webm", "joined.mp4"] {
        check_bars(&derived(name, &joined, "-c copy"), 0..60);
    }
}

/// A VP8 picture whose first byte says that it is not shown (RFC 6386, 9.1) is no frame, although
/// its packet has a time of its own.
#[test]
fn hidden_pictures_are_no_frames() {
    let options = format!(
        "{} -c:v libvpx -deadline realtime -cpu-used 8 -b:v 300k -auto-alt-ref 0 -g 30",
        source(2, "256x144", "30"),
    );
    let shown = made("shown.ivf", &options);
    let is_hidden = |k: u32| k % 7 == 3;
    let hidden = changed("hidden.ivf", &shown, |bytes| {
        let mut at = 32;
        for k in 0.. {
            let Some(length) = bytes.get(at..at + 4) else { break };
            let length = u32::from_le_bytes(length.try_into().expect("four bytes")) as usize;
            if is_hidden(k) {
                bytes[at + 12] &= !0x10;
            }
            at += 12 + length;
        }
    });
    let frames = || (0..60).filter(|&k| !is_hidden(k));
    check_bars(&hidden, frames());
    let footage = check_bars(&derived("hidden.webm", &hidden, "-c copy"), frames());
    assert!(!footage.table().is_proved(), "no decoding was needed to number them");
}

/// Joins every two packets of an IVF file: 32 bytes of header, then length (4) and time (8) of
/// each packet before its bytes.
fn join_pairs(file: &[u8]) -> Vec<u8> {
    let mut packets = Vec::new();
    let mut rest = &file[32..];
    while let Some((header, after)) = rest.split_at_checked(12) {
        let length = u32::from_le_bytes(header[..4].try_into().expect("four bytes")) as usize;
        packets.push((&header[4..], &after[..length]));
        rest = &after[length..];
    }
    let mut out = file[..32].to_vec();
    for pair in packets.chunks(2) {
        let sizes: Vec<u8> =
            pair.iter().flat_map(|(_, bytes)| (bytes.len() as u32).to_le_bytes()).collect();
        // Marker 110, four bytes a size, one less than the number of pictures.
        let marker = 0b1101_1000 | (pair.len() - 1) as u8;
        let bytes = pair.iter().flat_map(|(_, bytes)| bytes.to_vec());
        let bytes: Vec<u8> = bytes.chain([marker]).chain(sizes).chain([marker]).collect();
        out.extend((bytes.len() as u32).to_le_bytes());
        out.extend(pair[0].0);
        out.extend(bytes);
    }
    out
}
