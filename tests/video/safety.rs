//! What is no clip is refused with a message that says what to do, and nothing else is opened.

use std::{fs, os::unix::ffi::OsStringExt, path::Path, path::PathBuf};

use stillcall::footage::{Decoder, Footage, SourceState};

use crate::{
    bits::Bits,
    boxes,
    clips::{base, changed, derived, made, scratch},
    exact, oracle,
};

fn written(name: &str, bytes: &[u8]) -> PathBuf {
    let path = scratch("safety").join(name);
    fs::write(&path, bytes).expect("a place for files");
    path
}

fn refused(path: &Path, expected: &str) {
    let Err(error) = Footage::open(path) else { panic!("{} is opened", path.display()) };
    let message = error.to_string();
    assert!(message.contains(expected), "{message}");
    let name = path.file_name().expect("a name").to_string_lossy();
    assert!(message.contains(&*name), "{message} names the file");
    assert!(message.contains(';'), "{message} says what to do");
}

#[test]
fn files_that_are_no_clips_are_refused() {
    refused(&scratch("safety").join("missing.mp4"), "there is no such file");
    refused(&scratch("safety"), "is not a file");
    refused(&written("empty.mp4", b""), "is empty");
    refused(&written("zeros.mp4", &[0; 4096]), "is not a video file");
    refused(
        &written("text.mp4", &b"Dear coach, see the clip.\n".repeat(50)),
        "is not a video file",
    );
    let noise: Vec<u8> =
        (0_u32..65536).map(|n| (n.wrapping_mul(2_654_435_761) >> 13) as u8).collect();
    refused(&written("noise.mp4", &noise), "is not a video file");
    let sound = made("sound.m4a", "-f lavfi -i sine=d=2 -c:a aac");
    refused(&sound, "only sound or data");
}

#[test]
fn playlists_dressed_as_clips_open_nothing() {
    let target = base();
    let target = target.display();
    let hls = format!(
        "#EXTM3U\n#EXT-X-VERSION:3\n#EXT-X-TARGETDURATION:4\n#EXTINF:4,\n{target}\n#EXT-X-ENDLIST\n",
    );
    refused(&written("hls.mp4", hls.as_bytes()), "is not a video file");
    let list = format!("ffconcat version 1.0\nfile '{target}'\n");
    refused(&written("list.mp4", list.as_bytes()), "is not a video file");
    let web = "#EXTM3U\n#EXTINF:4,\nhttp://127.0.0.1:9/clip.ts\n#EXT-X-ENDLIST\n";
    refused(&written("web.m3u8", web.as_bytes()), "is not a video file");
    let session = "v=0\no=- 0 0 IN IP4 127.0.0.1\ns=x\nc=IN IP4 127.0.0.1\nt=0 0\nm=video 9 RTP/AVP 96\n\
                   a=rtpmap:96 H264/90000\n";
    refused(&written("session.sdp", session.as_bytes()), "is not a video file");
}

/// Nobody is called over the network: neither by a playlist nor by a session's description.
#[test]
fn nothing_is_called_over_the_network() {
    let server = std::net::TcpListener::bind("127.0.0.1:0").expect("a port");
    server.set_nonblocking(true).expect("a port that can be looked at");
    let address = server.local_addr().expect("its address");
    let hls = format!("#EXTM3U\n#EXTINF:4,\nhttp://{address}/clip.ts\n#EXT-X-ENDLIST\n");
    let list = format!("ffconcat version 1.0\nfile 'http://{address}/clip.mp4'\n");
    for (name, bytes) in [("call.m3u8", &hls), ("call.mp4", &hls), ("call.txt", &list)] {
        refused(&written(name, bytes.as_bytes()), "is not a video file");
    }
    let caller = server.accept().map(|(_, from)| from);
    let nobody = std::io::ErrorKind::WouldBlock;
    assert_eq!(caller.expect_err("nobody calls").kind(), nobody);
    // The port is one that a call would have reached.
    let _call = std::net::TcpStream::connect(address).expect("a call");
    server.set_nonblocking(false).expect("a port that waits");
    server.accept().expect("the call arrives");
}

#[test]
fn a_truncated_clip_shows_what_is_there() {
    let cut =
        |name: &str, from: &Path| changed(name, from, |bytes| bytes.truncate(bytes.len() * 6 / 10));
    let front = derived("faststart.mp4", &base(), "-c copy -movflags +faststart");
    for (name, from) in [
        ("cut_faststart.mp4", front.clone()),
        ("cut.mkv", derived("cues.mkv", &base(), "-c copy")),
        ("cut.ts", derived("plain.ts", &base(), "-c copy")),
    ] {
        let footage = exact::check(&cut(name, &from));
        let frames = footage.table().len();
        assert!((60..80).contains(&frames), "{name}: {frames} frames");
        // Matroska's index stood at its end and went with it; a transport stream has none.
        let is_told = footage.facts().notes.contains(&stillcall::footage::Note::CutShort);
        let is_indexed = Path::new(name).extension().is_some_and(|it| it == "mp4");
        assert_eq!(is_told, is_indexed, "{name}");
        assert_eq!(exact::bars(&footage)[..60], (0..60).collect::<Vec<_>>());
    }
    refused(&cut("cut_no_index.mp4", &base()), "its beginning or index is missing");
    let start = changed("cut_in_header.mp4", &front, |bytes| bytes.truncate(406));
    refused(&start, "cut_in_header.mp4");
}

#[test]
fn huge_pictures_are_refused_before_memory_is_taken() {
    let path = written("bomb.h264", &huge());
    refused(&path, "megapixels");
    // The same size, claimed by the container.
    let claimed = changed("bomb.mp4", &base(), |bytes| {
        boxes::set_claimed_size(bytes, 16000, 16000);
    });
    // The pictures themselves say what they are.
    let footage = Footage::open(&claimed).expect("it opens");
    assert_eq!([footage.facts().width, footage.facts().height], [256, 144]);
    assert_eq!(exact::bars(&footage), (0..120).collect::<Vec<_>>());
    // No more pixels than a square of the largest side has, and yet too long for a graphics card.
    let png = "-f lavfi -i color=black:s=16000x4000:r=1:d=1 -frames:v 1 -c:v png";
    refused(&made("bomb.mkv", png), "more than the 8192 x 8192");
}

/// 130 MiB in one packet, of which the file holds nothing but zeros.
#[test]
fn packets_larger_than_any_picture_are_refused() {
    let path = scratch("safety").join("dense.ivf");
    let mut bytes = b"DKIF\0\0\x20\0VP90\0\x01\x90\0\x19\0\0\0\x01\0\0\0".to_vec();
    bytes.resize(32, 0);
    bytes.extend((130_u32 << 20).to_le_bytes());
    bytes.extend([0; 8]);
    let file = fs::File::create(&path).expect("a place for files");
    std::io::Write::write_all(&mut &file, &bytes).expect("a place for files");
    file.set_len(44 + (130 << 20)).expect("a file with a hole");
    refused(&path, "takes more than 128 MiB");
}

/// A transport stream whose first picture comes after 65 MiB of filling.
#[test]
fn a_clip_is_not_searched_for_ever() {
    let stream = derived("plain.ts", &base(), "-c copy");
    let late = changed("filled.ts", &stream, |bytes| {
        let filling = [&[0x47, 0x1f, 0xff, 0x10][..], &[0xff; 184]].concat();
        bytes.splice(188 * 3..188 * 3, filling.repeat((65 << 20) / 188));
    });
    refused(&late, "no picture in its first 64 MiB");
}

/// A sequence parameter set that claims 16000 x 16000 pixels (1000 macroblocks each way) in a
/// stream of a few bytes. Written bit by bit from ITU-T H.264, 7.3.2.1.
pub(crate) fn huge() -> Vec<u8> {
    let mut bits = Bits::default();
    bits.put(66, 8).put(0, 8).put(51, 8);
    // id, log2_max_frame_num - 4, picture order type 2, references, gaps, width, height.
    bits.golomb(0).golomb(0).golomb(2).golomb(1).put(0, 1).golomb(999).golomb(999);
    // Frames only, direct 8x8, no crop, no usability information.
    bits.put(1, 1).put(1, 1).put(0, 1).put(0, 1);
    let mut picture = Bits::default();
    picture.golomb(0).golomb(0).put(0, 1).put(0, 1).golomb(0).golomb(0).golomb(0).put(0, 1);
    picture.put(0, 2).golomb(0).golomb(0).golomb(0).put(0, 1).put(0, 1).put(0, 1);
    let slice = [0, 0, 0, 1, 0x65, 0x88, 0x84, 0, 0x10, 0xff, 0xfe, 0xf6, 0xf0];
    [bits.unit(0x67), picture.unit(0x68), slice.repeat(8)].concat()
}

#[test]
fn more_streams_than_any_camera_writes_are_refused() {
    let seventy = "-map 0:v ".repeat(70);
    for name in ["seventy.mp4", "seventy.mkv", "seventy.ts"] {
        let clip = derived(name, &base(), &format!("-t 0.2 {{}} {seventy} -c copy"));
        refused(&clip, "more than 64 streams");
    }
}

/// Every edit shows the whole clip once more, so that a small file has as many pictures as somebody
/// likes. As many as are read come out as `ffmpeg` decodes them.
#[test]
fn an_edit_list_without_bound_is_refused() {
    let edited = |name: &str, from: &Path, edits: &[(u32, i32)]| {
        changed(name, from, |bytes| boxes::set_edits(bytes, edits))
    };
    let fragments = derived("fragments.mp4", &base(), "-c copy -movflags frag_keyframe+delay_moov");
    for (name, from) in [("edits.mp4", &base()), ("edits_of_fragments.mp4", &fragments)] {
        let many = edited(name, from, &vec![(4000, 1024); 3000]);
        refused(&many, "its edit list has 3000 entries, more than the 500 that Stillcall reads");
        let Err(error) = Footage::open_proved(&many, None, &|_| ()) else { panic!("it is opened") };
        assert!(error.to_string().contains("save it anew without edits"), "{error}");
    }
    refused(&edited("edits_501.mp4", &base(), &[(33, 1024); 501]), "has 501 entries");
    // The clip's ticks are 1/15360 s: each begins at one of the five key pictures, 24 frames apart.
    let many: Vec<_> = (0..500).map(|k| (34, 1024 + k % 5 * 24 * 512)).collect();
    let clip = edited("edits_500.mp4", &base(), &many);
    let footage = Footage::open(&clip).expect("it opens");
    let expected = oracle::linear(&clip, &footage);
    assert!(expected.len() >= 500, "{}", expected.len());
    let mut decoder = Decoder::new(&footage, 1);
    assert_eq!(footage.table().len(), expected.len());
    for k in (0..expected.len()).step_by(41).chain([expected.len() - 1, 0]) {
        assert_eq!(decoder.picture(k).expect("a picture").hash(), expected[k], "frame {k}");
    }
}

#[test]
fn odd_names_are_no_obstacle() {
    let folder = scratch("safety");
    let odd = [
        "a:b.mp4".into(),
        "100%d.mp4".into(),
        "-i.mp4".into(),
        "née Ω 体操.mp4".into(),
        std::ffi::OsString::from_vec(b"not\xffutf8.mp4".to_vec()),
        "no extension".into(),
    ];
    for name in odd {
        let path = folder.join(&name);
        fs::copy(base(), &path).expect("a copy");
        let footage = Footage::open(&path).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(footage.table().len(), 120, "{}", path.display());
    }
}

/// A name that looks like a protocol, given without its folder.
#[test]
fn a_name_with_a_colon_is_a_file_in_this_folder() {
    let folder = scratch("safety");
    fs::copy(base(), folder.join("a:b.mp4")).expect("a copy");
    let output = std::process::Command::new(env!("CARGO_BIN_EXE_stillcall"))
        .args(["frames", "a:b.mp4"])
        .current_dir(folder)
        .output()
        .expect("the program starts");
    let said = String::from_utf8_lossy(&output.stdout);
    assert!(output.status.success() && said.contains("120"), "{output:?}");
}

#[test]
fn a_clip_that_goes_away_is_noticed_and_still_read() {
    let path = scratch("safety").join("going.mp4");
    fs::copy(base(), &path).expect("a copy");
    let footage = Footage::open(&path).expect("it opens");
    assert_eq!(footage.state(), SourceState::Same);
    let id = footage.content_id().expect("an id");
    fs::remove_file(&path).expect("it goes");
    assert_eq!(footage.state(), SourceState::Gone);
    assert_eq!(exact::bars(&footage), (0..120).collect::<Vec<_>>());
    assert_eq!(footage.content_id().expect("an id"), id);
    fs::write(&path, b"short").expect("another file");
    assert_eq!(footage.state(), SourceState::Shorter);
}

/// A copy that can be changed while it is open.
fn open_copy(name: &str) -> (PathBuf, Footage) {
    let path = scratch("safety").join(name);
    fs::copy(base(), &path).expect("a copy");
    let footage = Footage::open(&path).expect("it opens");
    (path, footage)
}

#[test]
fn a_clip_that_is_written_to_is_noticed() {
    let (path, footage) = open_copy("growing.mp4");
    let mut file = fs::OpenOptions::new().append(true).open(&path).expect("our own copy");
    std::io::Write::write_all(&mut file, b"more").expect("it grows");
    assert_eq!(footage.state(), SourceState::Changed);
    // What was there is there still.
    assert_eq!(exact::bars(&footage), (0..120).collect::<Vec<_>>());

    let (path, footage) = open_copy("rewritten.mp4");
    let mut decoder = Decoder::with_budget(&footage, 1, 0);
    decoder.picture(0).expect("a picture");
    let length = fs::metadata(&path).expect("our own copy").len() as usize;
    let file = fs::OpenOptions::new().write(true).open(&path).expect("our own copy");
    std::io::Write::write_all(&mut &file, &vec![0x55; length]).expect("it is overwritten");
    file.set_modified(std::time::SystemTime::now() + std::time::Duration::from_secs(5))
        .expect("a later time");
    assert_eq!(footage.state(), SourceState::Changed);
    let message = decoder.picture(100).expect_err("other bytes").to_string();
    assert!(message.contains("was changed since it was opened; open it again"), "{message}");
}

#[test]
fn a_clip_that_shrinks_is_noticed_and_its_beginning_still_read() {
    let front = derived("faststart.mp4", &base(), "-c copy -movflags +faststart");
    let path = scratch("safety").join("shrinking.mp4");
    fs::copy(&front, &path).expect("a copy");
    let footage = Footage::open(&path).expect("it opens");
    let file = fs::OpenOptions::new().write(true).open(&path).expect("our own copy");
    file.set_len(fs::metadata(&path).expect("our own copy").len() / 2).expect("it shrinks");
    assert_eq!(footage.state(), SourceState::Shorter);
    let mut decoder = Decoder::new(&footage, 2);
    let message = decoder.picture(110).expect_err("it is gone").to_string();
    assert!(message.contains("was cut since it was opened"), "{message}");
    for k in [30, 0, 24, 7] {
        assert_eq!(oracle::bars(&decoder.picture(k).expect("it is there")), k as u32);
    }
}

/// BLAKE3 of the whole file, by the blake3 crate's own one-call function.
#[test]
fn a_clip_is_known_by_its_bytes() {
    let footage = Footage::open(&base()).expect("it opens");
    let bytes = fs::read(base()).expect("the clip");
    assert_eq!(footage.content_hash().expect("a hash"), blake3::hash(&bytes).to_hex().as_str());
    let copy = written("copy.mp4", &bytes);
    let other = written("other.mp4", &[&bytes[..], b"\0\0\0\x08free"].concat());
    let id = |path: &Path| Footage::open(path).expect("it opens").content_id().expect("an id");
    assert_eq!(id(&copy), footage.content_id().expect("an id"));
    assert_ne!(id(&other), id(&copy));
    assert_eq!(id(&copy).len(), 32);
}
