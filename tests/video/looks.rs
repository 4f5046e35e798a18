//! Pictures are shown upright, in square pixels and in the right colours.

use std::{fs, path::Path, path::PathBuf, process::Command};

use image::RgbaImage;
use stillcall::footage::{Decoder, Footage};
use stillcall::handout::{Drawings, Ground, HandoutError, StillFormat, Subject};
use stillcall::library::{FileKind, Leaving, Of};
use stillcall::units::{Orientation, PixelShape};

use crate::bar_codes::{BAR_COLOURS, BARS, full_in_ten_bits, raw_bars};
use crate::clips::{H264, base, changed, derived, made, scratch, source, turned};

/// Returns a frame as it leaves, with nothing drawn on it.
pub(crate) fn still(
    footage: &Footage,
    k: usize,
    turn: Option<Orientation>,
) -> Result<Vec<u8>, HandoutError> {
    let subject = Subject { footage: footage.clone(), drawings: Drawings::none(turn) };
    stillcall::handout::still(&subject, k, Ground::Picture, StillFormat::Png)
}

fn first(clip: &Path) -> (Footage, RgbaImage) {
    let footage = Footage::open(clip).unwrap_or_else(|error| panic!("{error}"));
    let image =
        Decoder::new(&footage, 1).picture(5).or_else(|_| Decoder::new(&footage, 1).picture(0));
    let image = image.expect("a picture").to_rgba_upright();
    (footage, image)
}

/// Returns the sixth picture as `ffmpeg` itself turns and colours it.
fn by_ffmpeg(clip: &Path, [width, height]: [u32; 2]) -> RgbaImage {
    let output = Command::new("ffmpeg")
        .args("-hide_banner -loglevel error -nostdin -i".split(' '))
        .arg(clip)
        .args("-vf select=eq(n\\,5) -frames:v 1 -pix_fmt rgba".split(' '))
        .args("-sws_flags bilinear+accurate_rnd+full_chroma_int -f rawvideo -".split(' '))
        .output()
        .expect("the ffmpeg program is installed");
    RgbaImage::from_raw(width, height, output.stdout).expect("a picture of this size")
}

fn mean_difference(a: &RgbaImage, b: &RgbaImage) -> f64 {
    assert_eq!(a.dimensions(), b.dimensions());
    let sum: u64 = a.as_raw().iter().zip(b.as_raw()).map(|(a, b)| u64::from(a.abs_diff(*b))).sum();
    sum as f64 / a.as_raw().len() as f64
}

/// Where the cells of frame 5 (101 in binary: first and third cell white) lie in the upright
/// picture, by hand: along which side, counted from which end.
#[test]
fn each_of_the_eight_orientations_stands_upright() {
    type Place = fn(u32) -> (u32, u32);
    let rows: [(&str, [f64; 4], Place); 8] = [
        ("plain.mp4", [1.0, 0.0, 0.0, 1.0], |cell| (cell * 16 + 8, 4)),
        ("turned_90.mp4", [0.0, 1.0, -1.0, 0.0], |cell| (143 - 4, cell * 16 + 8)),
        ("turned_180.mp4", [-1.0, 0.0, 0.0, -1.0], |cell| (255 - (cell * 16 + 8), 143 - 4)),
        ("turned_270.mp4", [0.0, -1.0, 1.0, 0.0], |cell| (4, 255 - (cell * 16 + 8))),
        ("mirrored.mp4", [-1.0, 0.0, 0.0, 1.0], |cell| (255 - (cell * 16 + 8), 4)),
        ("flipped.mp4", [1.0, 0.0, 0.0, -1.0], |cell| (cell * 16 + 8, 143 - 4)),
        ("transposed.mp4", [0.0, 1.0, 1.0, 0.0], |cell| (4, cell * 16 + 8)),
        ("transversed.mp4", [0.0, -1.0, -1.0, 0.0], |cell| (143 - 4, 255 - (cell * 16 + 8))),
    ];
    for (name, matrix, place) in rows {
        let clip = turned(name, matrix);
        let (footage, image) = first(&clip);
        let size = [footage.facts().width, footage.facts().height];
        assert_eq!(size, [image.width(), image.height()], "{name}");
        for cell in 0..16 {
            let (x, y) = place(cell);
            let white = image.get_pixel(x, y).0[1] > 128;
            assert_eq!(white, matches!(cell, 0 | 2), "{name}: cell {cell}");
        }
        // Not nearer, because ffmpeg turns the halved chroma before it converts. Any other
        // orientation is more than 30 away.
        let difference = mean_difference(&image, &by_ffmpeg(&clip, size));
        assert!(difference < 4.0, "{name}: {difference} from ffmpeg's picture");
    }
}

#[test]
fn useless_matrices_leave_the_picture_as_it_is() {
    let odd = turned("turned_30.mp4", [0.866, 0.5, -0.5, 0.866]);
    let zero = turned("zero_matrix.mp4", [0.0; 4]);
    for clip in [odd, zero] {
        assert_eq!(first(&clip).0.facts().upright.orientation, Orientation::UPRIGHT);
    }
}

/// A display orientation message in the stream itself (H.264 annex D.2.27) says anticlockwise.
#[test]
fn the_turn_may_travel_in_the_pictures() {
    let options = "-c copy -bsf:v h264_metadata=display_orientation=insert:rotate=90";
    let clip = derived("turned_in_stream.mp4", &base(), options);
    let (footage, image) = first(&clip);
    assert_eq!(footage.facts().upright.orientation.quarter_turns, 3);
    assert_eq!(image.dimensions(), (144, 256));
    assert!(image.get_pixel(4, 255 - 8).0[1] > 128 && image.get_pixel(4, 255 - 24).0[1] < 128);
    // Where container and pictures disagree the pictures count.
    let both = changed("turned_in_both.mp4", &clip, |bytes| {
        crate::boxes::set_matrix(bytes, [-1.0, 0.0, 0.0, -1.0]);
    });
    let (footage, again) = first(&both);
    assert_eq!(footage.facts().upright.orientation.quarter_turns, 3);
    assert_eq!(again, image);
}

/// A picture turned and mirrored by hand looks like one whose file says so.
#[test]
fn a_turn_by_hand_counts_before_the_file() {
    let plain = Footage::open(&base()).expect("it opens");
    let picture = Decoder::new(&plain, 1).picture(5).expect("a picture");
    let wrong = turned("turned_180.mp4", [-1.0, 0.0, 0.0, -1.0]);
    let wrong = Footage::open(&wrong).expect("it opens");
    let other = Decoder::new(&wrong, 1).picture(5).expect("a picture");
    for (name, matrix) in [
        ("turned_90.mp4", [0.0, 1.0, -1.0, 0.0]),
        ("mirrored.mp4", [-1.0, 0.0, 0.0, 1.0]),
        ("transposed.mp4", [0.0, 1.0, 1.0, 0.0]),
    ] {
        let (footage, right) = first(&turned(name, matrix));
        let by_hand = Some(footage.facts().upright.orientation);
        assert_eq!(picture.to_rgba_turned(by_hand), right, "{name}");
        assert_eq!(other.to_rgba_turned(by_hand), right, "{name}");
        let png = still(&wrong, 5, by_hand).expect("a still");
        assert_eq!(image::load_from_memory(&png).expect("a PNG").into_rgba8(), right, "{name}");
    }
}

#[test]
fn wide_pixels_widen_the_picture_and_the_container_counts() {
    let wide = made("wide.mp4", &format!("{} -vf setsar=4/3 {H264}", source(2, "256x144", "30")));
    let (footage, image) = first(&wide);
    assert_eq!(footage.facts().upright.pixel, PixelShape { width: 4, height: 3 });
    // 256 · 4 / 3 = 341.3
    assert_eq!(image.dimensions(), (341, 144));
    assert!(image.get_pixel(341 * 5 / 32, 4).0[1] > 200, "the third cell is white");
    let other = derived("wide_by_container.mp4", &wide, "-c copy -aspect 16:9");
    assert_eq!(first(&other).1.dimensions(), (256, 144));
}

#[test]
fn the_stream_counts_when_the_container_lies_about_the_size() {
    let clip = changed("lying_size.mp4", &base(), |bytes| {
        crate::boxes::set_claimed_size(bytes, 640, 360);
    });
    let facts = first(&clip).0.facts().clone();
    assert_eq!([facts.width, facts.height], [256, 144]);
}

#[test]
fn cropped_pictures_are_shown_cropped() {
    let crop =
        |edges: &str| format!("{} {H264} -bsf:v h264_metadata={edges}", source(2, "256x144", "30"));
    let (_, image) = first(&made("crop_left_top.mp4", &crop("crop_left=6:crop_top=2")));
    assert_eq!(image.dimensions(), (250, 142));
    // The first cell is 16 wide: after six columns are gone, ten are left.
    assert!(image.get_pixel(8, 4).0[1] > 200 && image.get_pixel(11, 4).0[1] < 60);
    let (_, image) = first(&made("crop_bottom.mp4", &crop("crop_bottom=6")));
    assert_eq!(image.dimensions(), (256, 138));
}

fn bars_clip(name: &str, raw: &[u8], format: &str, tags: &str) -> PathBuf {
    let path = scratch("bars").join(format!("{name}.yuv"));
    fs::write(&path, raw).expect("a place for bars");
    let recipe = format!(
        "-f rawvideo -s 128x32 -pix_fmt {format} -r 25 -i {} -c:v ffv1 {tags}",
        path.display(),
    );
    made(&format!("{name}.mkv"), &recipe)
}

fn check_bars(name: &str, clip: &Path) {
    let (_, image) = first(clip);
    for (bar, colour) in BAR_COLOURS.iter().enumerate() {
        let found = image.get_pixel(bar as u32 * 16 + 8, 16).0;
        for (found, part) in found.iter().zip(colour) {
            let expected = part * 191;
            assert!(found.abs_diff(expected) <= 1, "{name}: bar {bar} is {found}, not {expected}");
        }
    }
}

#[test]
fn bars_have_their_colours_in_every_matrix_range_depth_and_subsampling() {
    for (matrix, limited, limited_10, full) in &BARS {
        for (sub, shifts) in [("420", [1, 1]), ("422", [1, 0]), ("444", [0, 0])] {
            let kinds = [
                (limited, 1, "", "tv"),
                (limited_10, 2, "10le", "tv"),
                (full, 1, "", "pc"),
                (&full_in_ten_bits(matrix), 2, "10le", "pc"),
            ];
            for (codes, bytes, suffix, range) in kinds {
                let format = format!("yuv{sub}p{suffix}");
                let name = format!("bars-{matrix}-{format}-{range}");
                let tags = format!("-colorspace {matrix} -color_range {range}");
                let raw = raw_bars(codes, shifts, bytes);
                check_bars(&name, &bars_clip(&name, &raw, &format, &tags));
            }
        }
    }
}

#[test]
fn small_untagged_pictures_are_taken_for_bt_601() {
    let raw = raw_bars(&BARS[0].1, [1, 1], 1);
    check_bars("bars-untagged", &bars_clip("bars-untagged", &raw, "yuv420p", ""));
}

#[test]
fn other_kinds_of_pixels_look_the_same() {
    let two = source(2, "256x144", "30");
    let by_kind = [
        ("rgb.mp4", "-pix_fmt gbrp -c:v libx264rgb -preset veryfast -threads 1 -crf 10 -g 24", 3.0),
        ("alpha.mov", "-vf format=yuva444p10le -c:v prores_ks -profile:v 4444", 3.0),
        ("packed.avi", "-pix_fmt yuyv422 -c:v rawvideo", 3.0),
        ("semi_planar.mkv", "-pix_fmt nv12 -c:v rawvideo", 3.0),
        ("bottom_up.avi", "-pix_fmt bgr24 -c:v rawvideo", 3.0),
        (
            "full_range.mp4",
            &format!("-vf scale=out_range=full,format=yuvj420p -color_range pc {H264}"),
            3.0,
        ),
    ];
    let (_, plain) = first(&base());
    for (name, options, most) in by_kind {
        let (_, image) = first(&made(name, &format!("{two} {options}")));
        let difference = mean_difference(&image, &plain);
        assert!(difference < most, "{name}: {difference} from the plain clip");
        assert!(image.get_pixel(8, 4).0[1] > 240 && image.get_pixel(24, 4).0[1] < 15, "{name}");
    }
}

#[test]
fn gray_pictures_are_gray() {
    let two = source(2, "256x144", "30");
    let clip = made("gray.mkv", &format!("{two} -pix_fmt gray -c:v ffv1"));
    let (_, image) = first(&clip);
    let difference = mean_difference(&image, &by_ffmpeg(&clip, [256, 144]));
    assert!(difference < 1.0, "{difference} from ffmpeg's picture");
    assert!(image.pixels().all(|pixel| pixel.0[0] == pixel.0[1] && pixel.0[1] == pixel.0[2]));
}

/// The last column and row of a picture of odd sides have half a chroma sample of their own; where
/// it is lost they turn green.
#[test]
fn odd_sides_keep_the_colour_of_their_last_column_and_row() {
    let options = "-f lavfi -i color=0xc04020:s=322x182:r=30:d=1 -vf crop=321:181:0:0:exact=1 \
                   -c:v ffv1 -pix_fmt yuv420p";
    let clip = made("odd_orange.mkv", options);
    let (footage, image) = first(&clip);
    assert_eq!([footage.facts().width, footage.facts().height], [321, 181]);
    assert_eq!(image.dimensions(), (321, 181));
    let edge = (0..321).map(|x| (x, 180)).chain((0..181).map(|y| (320, y)));
    for (x, y) in edge {
        let [red, green, blue, _] = image.get_pixel(x, y).0;
        let near = |found: u8, wanted: u8| found.abs_diff(wanted) <= 3;
        assert!(near(red, 0xc0) && near(green, 0x40) && near(blue, 0x20), "{x}, {y}");
    }
}

#[test]
fn a_still_is_the_frame_itself() {
    let clip = turned("turned_90.mp4", [0.0, 1.0, -1.0, 0.0]);
    let footage = Footage::open(&clip).expect("it opens");
    let target = scratch("still").join("frame.png");
    // From an earlier run.
    let _ = fs::remove_file(&target);
    let png = still(&footage, 77, None).expect("a still");
    Leaving::new(&target, FileKind::Picture).write(&png, None).expect("it is written");
    let found = image::open(&target).expect("a PNG").into_rgba8();
    let picture = Decoder::new(&footage, 2).picture(77).expect("a picture");
    assert_eq!(found, picture.to_rgba_upright());
    let number: u32 = (0..16)
        .filter(|cell| found.get_pixel(143 - 4, cell * 16 + 8).0[1] > 128)
        .map(|cell| 1 << cell)
        .sum();
    assert_eq!(number, 77);
}

#[test]
fn a_still_never_replaces_what_is_no_picture_file() {
    let clip = scratch("still").join("own.mp4");
    fs::copy(base(), &clip).expect("a copy");
    let footage = Footage::open(&clip).expect("it opens");
    let folder = scratch("still").join("folder.png");
    fs::create_dir_all(&folder).expect("a folder");
    let cases = [
        (folder, 0, "not a file"),
        (clip.clone(), 0, "the clip itself"),
        (scratch("still").join("missing/frame.png"), 0, "cannot be written"),
    ];
    for (target, frame, expected) in cases {
        let png = still(&footage, frame, None).expect("a still");
        let leaving = Leaving::new(&target, FileKind::Picture).of(Of::clip(&clip));
        let error = leaving.write(&png, None).expect_err("it is refused").to_string();
        assert!(error.contains(expected), "{error}");
    }
    let far = still(&footage, 120, None).expect_err("it is refused").to_string();
    assert!(far.contains("has no frame 120; its last one is 119"), "{far}");
    assert_eq!(fs::read(&clip).expect("the clip"), fs::read(base()).expect("the original"));
    let left = fs::read_dir(scratch("still")).expect("the folder");
    let names: Vec<_> = left.map(|entry| entry.expect("an entry").file_name()).collect();
    assert!(
        names.iter().all(|name| !name.to_string_lossy().starts_with(".stillcall-")),
        "{names:?}"
    );
}

/// The clips' own numbers must be readable, or the other tests would show nothing.
#[test]
fn a_wrong_picture_would_be_noticed() {
    let (_, fifth) = first(&base());
    let footage = Footage::open(&base()).expect("it opens");
    let sixth = Decoder::new(&footage, 1).picture(6).expect("a picture");
    assert!(mean_difference(&fifth, &sixth.to_rgba_upright()) > 0.5);
    assert_eq!(crate::oracle::bars(&sixth), 6);
}
