//! Clips that nobody opened before are read and decoded in processes of their own: they are the
//! same, and what becomes of a process is told and goes no further.

use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
    sync::{Arc, Mutex},
    thread,
    time::{Duration, Instant},
};

use stillcall::footage::{
    ApartDecoder, DecodeError, Decoder, Footage, KnownClips, Note, Picture, Reader,
};

use crate::{
    clips::{H264, HEVC, base, derived, made, scratch, source, turned, usual},
    excerpts::phone,
    mutations::{corpus, damaged},
    oracle,
    streams::joined,
    tails::with_zeros,
};

/// Long enough for a loaded machine; a test that waits so long has failed.
const LONG: Duration = Duration::from_secs(60);

/// What is known to a test.
#[derive(Debug, Default)]
struct Known(Mutex<Vec<(u64, String)>>);

impl KnownClips for Known {
    fn of_length(&self, bytes: u64) -> Vec<String> {
        let known = self.0.lock().unwrap();
        known.iter().filter(|(length, _)| *length == bytes).map(|(_, hash)| hash.clone()).collect()
    }

    fn learn(&self, bytes: u64, content_hash: &str) {
        self.0.lock().unwrap().push((bytes, content_hash.to_owned()));
    }
}

fn nothing_known() -> Arc<dyn KnownClips> {
    Arc::new(Known::default())
}

fn apart() -> ApartDecoder {
    ApartDecoder::with(env!("CARGO_BIN_EXE_stillcall").into())
}

fn opened(clip: &Path) -> Footage {
    apart().open(clip, &nothing_known(), None).unwrap_or_else(|error| panic!("{error}"))
}

/// Returns a copy under a name of its own, by which its processes are found.
fn copy(name: &str, from: &Path) -> PathBuf {
    let clip = scratch("opened-apart").join(name);
    fs::copy(from, &clip).unwrap();
    clip
}

/// Returns the processes that decode a clip; Linux alone tells.
fn processes(clip: &Path) -> Vec<String> {
    let Ok(all) = fs::read_dir("/proc") else { return Vec::new() };
    let numbers = all.flatten().filter_map(|entry| entry.file_name().into_string().ok());
    let decodes = |number: &String| {
        let words = fs::read(format!("/proc/{number}/cmdline")).unwrap_or_default();
        let words: Vec<&[u8]> = words.split(|&byte| byte == 0).collect();
        words.get(1) == Some(&&b"decode-apart"[..])
            && words.contains(&clip.to_str().unwrap().as_bytes())
    };
    numbers.filter(decodes).collect()
}

fn signal(clip: &Path, signal: &str) {
    let found = processes(clip);
    assert!(!found.is_empty(), "no process decodes {}", clip.display());
    assert!(Command::new("kill").arg(signal).args(found).status().unwrap().success());
}

/// Everything about a picture but its samples.
fn told(picture: &Picture) -> String {
    let place = (picture.frame, picture.ticks, picture.upright, picture.colour);
    let flags = (picture.damaged, picture.interlaced, picture.first_field());
    format!("{place:?} {flags:?} {:?}", picture.layout())
}

/// All samples of a picture, and its colours.
fn samples(picture: &Picture) -> impl PartialEq + use<> {
    let planes = (0..4).map_while(|index| picture.plane(index));
    let rows = planes.flat_map(|plane| (0..plane.height).filter_map(move |y| plane.row(y)));
    (rows.map(<[u8]>::to_vec).collect::<Vec<_>>(), picture.hash(), picture.to_rgba_upright())
}

fn is_the_same(name: &str, here: &Footage, apart: &Footage) {
    same_with_threads(2, name, here, apart);
}

fn same_with_threads(threads: usize, name: &str, here: &Footage, apart: &Footage) {
    assert_eq!(here.table().entries(), apart.table().entries(), "{name}");
    assert_eq!(here.table().end(), apart.table().end(), "{name}");
    assert_eq!(format!("{:?}", here.facts()), format!("{:?}", apart.facts()), "{name}");
    let mut decoders = [here, apart].map(|footage| Decoder::new(footage, threads));
    let count = here.table().len();
    // Forward, and far back.
    for k in (0..count.min(30)).chain([count - 1, count / 2, 0]) {
        match decoders.each_mut().map(|decoder| decoder.picture(k)) {
            [Ok(here), Ok(apart)] => {
                assert_eq!(told(&here), told(&apart), "{name}, frame {k}");
                assert!(samples(&here) == samples(&apart), "{name}, frame {k}");
            }
            [Err(here), Err(apart)] => assert_eq!(here.to_string(), apart.to_string(), "{name}"),
            [here, apart] => panic!("{name}, frame {k}: {here:?}, apart {apart:?}"),
        }
    }
}

#[test]
fn clips_are_the_same_as_read_and_decoded_here() {
    let two = source(2, "256x144", "30");
    let (at_25, small) = (source(1, "256x144", "25"), source(1, "64x48", "10"));
    let hlg = format!(
        "{two} -pix_fmt yuv420p10le {HEVC}:colorprim=bt2020:transfer=arib-std-b67:colormatrix=bt2020nc"
    );
    let interlaced = format!("{two} -vf interlace {H264} -flags +ilme+ildct");
    let clips = [
        turned("apart_90.mp4", [0.0, 1.0, -1.0, 0.0]),
        made("apart_interlaced.mp4", &interlaced),
        made("apart_hlg.mp4", &hlg),
        made("apart_gray.mkv", &format!("{small} -pix_fmt gray -c:v ffv1")),
        made("apart_rgb.mkv", &format!("{small} -pix_fmt gbrp10le -c:v ffv1")),
        made("apart_wide.mp4", &format!("{at_25} -vf setsar=4/3 {H264}")),
        made("apart_open.mp4", &format!("{} {HEVC}:open-gop=1", usual())),
        // Upside down, and with a palette.
        made("apart_raw.avi", &format!("{small} -pix_fmt bgr24 -c:v rawvideo")),
        made("apart_palette.avi", &format!("{small} -pix_fmt pal8 -c:v rawvideo")),
        joined("apart_joined.ts", "256x144"),
        with_zeros(&derived("apart_tail.ts", &base(), "-c copy"), 4 << 20),
        base(),
        phone(),
    ];
    for clip in clips {
        let here = Footage::open(&clip).unwrap();
        let name = clip.display().to_string();
        is_the_same(&name, &here, &opened(&clip));
        let proved = |footage: &Footage| footage.proved(&|| false).expect("it is not stopped");
        is_the_same(&name, &proved(&here), &proved(&opened(&clip)));
    }
}

/// A picture of 57 MB goes through memory of 16.
#[test]
fn a_picture_larger_than_the_shared_memory_comes_in_parts() {
    let large = "-f lavfi -i testsrc2=s=4096x2304:r=5:d=0.4,format=yuv444p10le -c:v ffv1";
    let clip = made("apart_large.mkv", large);
    is_the_same("large", &Footage::open(&clip).unwrap(), &opened(&clip));
}

#[test]
fn damaged_clips_are_the_same_or_refused_in_the_same_words() {
    let (clips, folder) = (corpus(), scratch("opened-apart"));
    for (name, clip) in &clips {
        let whole = folder.join(name);
        fs::write(&whole, clip).unwrap();
        is_the_same(name, &Footage::open(&whole).unwrap(), &opened(&whole));
    }
    for seed in 0..48 {
        let (name, clip) = &clips[seed as usize % clips.len()];
        let hurt = folder.join(format!("damaged-{seed}-{name}"));
        fs::write(&hurt, damaged(clip, seed)).unwrap();
        match (Footage::open(&hurt), apart().open(&hurt, &nothing_known(), None)) {
            // With several, what comes out amid damage depends on which is quicker, here as there.
            (Ok(here), Ok(apart)) => {
                same_with_threads(1, &hurt.display().to_string(), &here, &apart);
            }
            (Err(here), Err(apart)) => assert_eq!(here.to_string(), apart.to_string()),
            (here, apart) => panic!("{}: {here:?}, apart {apart:?}", hurt.display()),
        }
    }
}

#[test]
fn a_clip_that_is_none_is_told_as_ever() {
    let folder = scratch("opened-apart");
    for name in ["empty.mp4", "words.mp4", "gone.mp4"] {
        let clip = folder.join(name);
        match name {
            "empty.mp4" => fs::write(&clip, "").unwrap(),
            "words.mp4" => fs::write(&clip, "no clip").unwrap(),
            _ => {}
        }
        let said = apart().open(&clip, &nothing_known(), None).unwrap_err().to_string();
        assert_eq!(said, Footage::open(&clip).unwrap_err().to_string());
    }
}

#[test]
fn a_process_that_is_killed_is_started_again() {
    let clip = copy("killed.mp4", &base());
    let footage = opened(&clip);
    let mut decoder = Decoder::new(&footage, 1);
    for k in 0..120 {
        if k % 40 == 25 {
            signal(&clip, "-KILL");
        }
        let picture = decoder.picture(k).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(oracle::bars(&picture), k as u32);
    }
    drop(decoder);
    assert!(processes(&clip).is_empty(), "nobody decodes it any more");
}

#[test]
fn a_process_that_hangs_is_ended_and_another_one_asked() {
    let clip = copy("stopped.mp4", &base());
    let patient = apart().patient_for(Duration::from_secs(4));
    let footage = patient.open(&clip, &nothing_known(), None).unwrap();
    let mut decoder = Decoder::new(&footage, 1);
    assert_eq!(oracle::bars(&decoder.picture(3).unwrap()), 3);
    signal(&clip, "-STOP");
    let stopped = processes(&clip);
    assert_eq!(oracle::bars(&decoder.picture(60).unwrap()), 60);
    let now = processes(&clip);
    assert!(stopped.iter().all(|process| !now.contains(process)), "{stopped:?} still runs");
}

/// Neither does a picture that is not wanted any more end anything.
#[test]
fn a_wish_that_is_dropped_takes_nothing_along() {
    let footage = opened(&copy("dropped.mp4", &base()));
    // It keeps a handful, so that what is dropped is not at hand.
    let mut decoder = Decoder::with_budget(&footage, 2, 0);
    for k in [110, 5, 64, 63, 20] {
        let dropped = decoder.picture_unless(k, &|| true);
        assert!(matches!(dropped, Err(DecodeError::Abandoned)), "{dropped:?}");
        assert_eq!(oracle::bars(&decoder.picture(k / 2).unwrap()), (k / 2) as u32);
    }
}

#[test]
fn what_no_decoder_needs_ends_the_process_and_is_told() {
    for what in ["socket", "file", "program", "memory", "asleep", "busy"] {
        let trying = apart().trying(what).patient_for(Duration::from_secs(2));
        let said = trying.open(&base(), &nothing_known(), None).unwrap_err().to_string();
        assert!(said.contains("base.mp4: could not be decoded safely"), "{what}: {said}");
    }
    assert!(apart().trying("nothing").open(&base(), &nothing_known(), None).is_ok());
}

/// What is said, and what follows.
type Said<'a> = (&'a str, &'a [u8]);

/// Returns a program that says this and nothing else.
fn liar(name: &str, says: &[Said]) -> ApartDecoder {
    let folder = scratch("liars");
    let (words, program) = (folder.join(format!("{name}.words")), folder.join(name));
    let mut bytes = Vec::new();
    for (header, tail) in says {
        bytes.extend((header.len() as u32).to_le_bytes());
        bytes.extend((tail.len() as u32).to_le_bytes());
        bytes.extend(header.as_bytes());
        bytes.extend(*tail);
    }
    fs::write(&words, bytes).unwrap();
    fs::write(&program, format!("#!/bin/sh\ncat '{}'\nsleep 20\n", words.display())).unwrap();
    assert!(Command::new("chmod").arg("+x").arg(&program).status().unwrap().success());
    ApartDecoder::with(program).patient_for(Duration::from_secs(3))
}

const READY: Said = (r#"{"Ready":{"limits":true,"files":true,"calls":true}}"#, b"");

fn tells(width: u32, packets: u32) -> String {
    format!(
        r#"{{"Opened":{{"said":{{"stream":{{"index":0,"width":{width},"height":48,"codec":"ffv1",
        "time_base":[1,25],"stamp_bits":64,"rate":[25,1],"chosen_by_file":true,"cover":false,"pixel_shape":[1,1],
        "matrix":null}},"format":"matroska,webm","defaults":{{"matrix":null,"pixel_shape":[1,1]}}}},
        "packets":{packets},"cut_short":false,"is_whole":true,"first":0}}}}"#
    )
}

fn shows(format: i32, width: u32, height: u32) -> String {
    format!(
        r#"{{"Picture":[{{"format":{format},"width":{width},"height":{height},"ordinal":0,
        "damaged":false,"interlaced":false,"top_first":false,"pixel_shape":[1,1],
        "colour":[2,2,2,2,0],"matrix":null}},
        {{"fed":1,"whole_from":0,"ended":false,"hurt":false,"troubles":[]}}]}}"#
    )
}

/// A key packet that shows one picture at 0.
fn packet() -> Vec<u8> {
    let mut record = vec![0; 50];
    (record[0], record[1]) = (0b1_0001, 1);
    record
}

/// What is told of a clip is believed as little as the clip itself.
#[test]
fn what_no_clip_can_have_is_not_believed() {
    let clip = made("apart_believed.mkv", &format!("{} -c:v ffv1", source(1, "64x48", "10")));
    let (sound, one, truth) = (tells(64, 1), packet(), shows(0, 64, 48));
    let [many, wide] = [tells(64, u32::MAX), tells(9000, 1)];
    let [huge, unknown] = [shows(0, 60_000, 60_000), shows(9999, 64, 48)];
    let packets: Said = ("\"Packets\"", &one);
    let wrong: [(&str, &[Said], &str); 8] = [
        ("silent", &[], "longer than 3 s"),
        ("open", &[(&sound, b"")], "not understood"),
        ("many", &[READY, (&many, b"")], "not understood"),
        ("more", &[READY, (&sound, b""), (packets.0, &[0; 100])], "not understood"),
        ("torn", &[READY, (&sound, b""), (packets.0, &[0; 49])], "not understood"),
        ("wide", &[READY, (&wide, b""), packets, (&truth, b"")], "more than the 8192"),
        ("huge", &[READY, (&sound, b""), packets, (&huge, b"")], "not understood"),
        ("unknown", &[READY, (&sound, b""), packets, (&unknown, b"")], "not understood"),
    ];
    for (name, says, told) in wrong {
        let said = liar(name, says).open(&clip, &nothing_known(), None).unwrap_err().to_string();
        assert!(said.contains(told) && said.contains("apart_believed.mkv"), "{name}: {said}");
    }
    // So that the others fail for what they are meant to.
    let honest = [READY, (&sound, b""), packets, (&truth, b"")];
    let footage = liar("honest", &honest).open(&clip, &nothing_known(), None).unwrap();
    assert_eq!(footage.table().len(), 1);
}

#[test]
fn a_frame_that_no_process_gives_is_told_with_the_reason() {
    let clip = copy("never.mp4", &base());
    let footage = opened(&clip);
    let mut decoder = Decoder::new(&footage, 1);
    decoder.picture(3).unwrap();
    let killer = {
        let clip = clip.clone();
        thread::spawn(move || {
            let end = Instant::now() + LONG;
            // Whichever process comes.
            while Instant::now() < end && clip.exists() {
                let found = processes(&clip);
                if !found.is_empty() {
                    let _ = Command::new("kill").arg("-KILL").args(found).status();
                }
            }
        })
    };
    thread::sleep(Duration::from_millis(200));
    let error = decoder.picture(100).unwrap_err();
    fs::remove_file(&clip).unwrap();
    killer.join().unwrap();
    assert!(matches!(error, DecodeError::Unsafe { frame: 100, .. }), "{error}");
    let said = error.to_string();
    assert!(said.contains("frame 100 could not be decoded safely (it failed: signal: 9"), "{said}");
}

fn shown(reader: &Reader, k: usize) -> Arc<Picture> {
    let end = Instant::now() + LONG;
    reader.want(k);
    loop {
        if let Some(picture) = reader.latest().filter(|picture| picture.frame == k) {
            return picture;
        }
        assert!(Instant::now() < end, "frame {k} never came: {:?}", reader.trouble());
        thread::sleep(Duration::from_millis(2));
    }
}

#[test]
fn a_clip_is_decoded_here_once_a_process_has_decoded_it_to_its_end() {
    let clip = copy("known.mp4", &base());
    let known = Arc::new(Known::default());
    let shared: Arc<dyn KnownClips> = Arc::<Known>::clone(&known);
    let footage = apart().open_beginning(&clip, &shared, None).unwrap();
    let reader = Reader::spawn(footage, || {});
    for k in [0, 90, 89, 88, 87, 3] {
        assert_eq!(oracle::bars(&shown(&reader, k)), k as u32);
    }
    let end = Instant::now() + LONG;
    while reader.proved().is_none() || known.0.lock().unwrap().is_empty() {
        assert!(Instant::now() < end, "it is never known");
        thread::sleep(Duration::from_millis(5));
    }
    drop(reader);
    assert!(processes(&clip).is_empty());
    let stepped = |clip: &Path| {
        let footage = apart().open_beginning(clip, &shared, None).unwrap();
        let mut decoder = Decoder::new(&footage, 1);
        assert_eq!(oracle::bars(&decoder.picture(60).unwrap()), 60);
        !processes(clip).is_empty()
    };
    assert!(!stepped(&clip), "the same content is decoded here");
    let mut bytes = fs::read(&clip).unwrap();
    let middle = bytes.len() - 10;
    bytes[middle] ^= 1;
    let other = copy("known-not.mp4", &clip);
    fs::write(&other, bytes).unwrap();
    assert!(cfg!(not(target_os = "linux")) || stepped(&other), "another content of that length");
}

/// What is stepped among pictures and decoded in part does not count.
#[test]
fn a_clip_of_which_only_a_part_was_decoded_is_not_known() {
    let clip = copy("part.mp4", &base());
    let known = Arc::new(Known::default());
    let shared: Arc<dyn KnownClips> = Arc::<Known>::clone(&known);
    let footage = apart().open(&clip, &shared, None).unwrap();
    let mut decoder = Decoder::new(&footage, 1);
    for k in [119, 50, 119, 0] {
        decoder.picture(k).unwrap();
    }
    thread::sleep(Duration::from_millis(300));
    assert!(known.0.lock().unwrap().is_empty());
    assert!(!footage.facts().notes.contains(&Note::Counting));
}
