//! Undamaged files whose time stamps tell another order, or other pictures, than decoding them does.

use std::path::PathBuf;

use crate::{
    boxes,
    clips::{changed, derived, made, source},
    drawn::{Drawn, units},
    parameters,
};

/// What a family of files is called, and how one of it is made.
pub(crate) type Family = (&'static str, fn(&mut Drawn, u64) -> PathBuf);

pub(crate) const FAMILIES: &[Family] = &[
    ("B pictures of MPEG-4 part 2", exchanged),
    ("pictures that are not coded", not_coded),
    ("an end of sequence before a key picture", ended),
    ("samples that hold only remarks", remarks),
    ("recovery points that promise too much", recovering),
    ("layers in time", layered),
    ("three layers in time", thrice_layered),
    ("samples without a byte", emptied),
    ("an order that begins late and is not declared", late),
];

pub(crate) fn moving() -> String {
    source(2, "128x96", "30")
}

fn exchanged(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let ending = ["mp4", "mkv"][drawn.of(0, 1) as usize];
    let (run, between) = (drawn.of(8, 40), drawn.of(1, 3));
    let options = format!("-c:v libxvid -q:v 4 -g {run} -bf {between}");
    made(&format!("exchanged-{seed}.{ending}"), &format!("{} {options}", moving()))
}

/// The bit that says whether a picture is coded (ISO/IEC 14496-2, 6.2.5): behind the start code two
/// bits of kind, seconds as ones and a zero, a marker, five bits of time at 30 a second, a marker.
fn not_coded(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let options = format!("-c:v mpeg4 -q:v 4 -bf 0 -g {}", drawn.of(8, 40));
    let plain = made(&format!("coded-{seed}.mp4"), &format!("{} {options}", moving()));
    let every = drawn.of(3, 9) as usize;
    changed(&format!("not-coded-{seed}.mp4"), &plain, |bytes| {
        let starts = bytes.windows(4).enumerate();
        let starts: Vec<usize> =
            starts.filter(|(_, code)| *code == [0, 0, 1, 0xb6]).map(|(at, _)| at + 4).collect();
        for at in starts.into_iter().skip(1).step_by(every) {
            let is = |bit: usize, bytes: &[u8]| bytes[at + bit / 8] >> (7 - bit % 8) & 1 == 1;
            if bytes[at] >> 6 != 1 {
                continue;
            }
            let mut bit = 2;
            while is(bit, bytes) {
                bit += 1;
            }
            let coded = bit + 1 + 1 + 5 + 1;
            bytes[at + coded / 8] &= !(1 << (7 - coded % 8));
        }
    })
}

fn hevc(drawn: &mut Drawn, more: &str) -> String {
    let (run, between) = (drawn.of(10, 24), drawn.of(2, 4));
    format!(
        "{} -c:v libx265 -preset ultrafast -crf 20 -tag:v hvc1 -x265-params \
         log-level=error:pools=none:frame-threads=1:keyint={run}:min-keyint={run}:scenecut=0:\
         bframes={between}:b-adapt=0:open-gop=1:{more}",
        moving()
    )
}

/// Its delimiter (kind 35) becomes an end of sequence (36) in samples of a key picture (21).
fn ended(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let options = hevc(drawn, "aud=1");
    let plain = made(&format!("not-ended-{seed}.mp4"), &options);
    changed(&format!("ended-{seed}.mp4"), &plain, |bytes| {
        let units = units(bytes);
        let kind = |bytes: &[u8], at: usize| bytes[at] >> 1 & 63;
        let mut delimiter = None;
        for unit in units {
            match kind(bytes, unit.start) {
                35 => delimiter = Some(unit.start),
                21 => bytes[delimiter.expect("a delimiter")] = 36 << 1,
                _ => {}
            }
        }
    })
}

/// Slices on which nothing leans become remarks of the user's own (kind 6, 5) of the same length.
fn remarks(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let options = format!(
        "-c:v libx264 -preset veryfast -threads 1 -crf 20 -g {} -bf 3 -b_strategy 0",
        drawn.of(10, 40)
    );
    let plain = made(&format!("unremarked-{seed}.mp4"), &format!("{} {options}", moving()));
    let every = drawn.of(2, 6) as usize;
    changed(&format!("remarks-{seed}.mp4"), &plain, |bytes| {
        let slices = units(bytes).into_iter().filter(|unit| bytes[unit.start] & 0x7f == 1);
        for unit in slices.collect::<Vec<_>>().into_iter().step_by(every) {
            let length = unit.len();
            let mut said = vec![6, 5];
            // The length is written as so many 255 and the rest.
            let lengths = (1..length).find(|n| (length - 3 - n) / 255 < *n).expect("it fits");
            let rest = length - 3 - lengths;
            said.extend(std::iter::repeat_n(255, rest / 255));
            said.push((rest % 255) as u8);
            said.extend(std::iter::repeat_n(0x55, rest));
            said.push(0x80);
            // Where one length byte less would do, a zero trails.
            said.resize(length, 0);
            bytes[unit].copy_from_slice(&said);
        }
    })
}

fn recovering(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let options = format!(
        "-c:v libx264 -preset veryfast -threads 1 -crf 20 -g {} -bf 0 -x264-params intra-refresh=1",
        drawn.of(10, 24)
    );
    let stream = made(&format!("recovering-{seed}.ts"), &format!("{} {options}", moving()));
    let ending = ["mp4", "mkv"][drawn.of(0, 1) as usize];
    derived(&format!("recovering-{seed}.{ending}"), &stream, "-c copy")
}

fn layered(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let options = hevc(drawn, "temporal-layers=1:b-pyramid=1");
    made(&format!("layered-{seed}.mp4"), &options)
}

/// One more layer: the pictures between two others that lean on the one amid them go up to the third,
/// and that one to the second, where it is no reference for its own layer (kinds 0 and 8) but is for
/// theirs. With one reference each way nothing below leans on it. `ffmpeg` reads no more of the layers
/// than these headers.
fn thrice_layered(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let options = hevc(drawn, "temporal-layers=1:b-pyramid=1:ref=1");
    let plain = made(&format!("twice-layered-{seed}.mp4"), &options);
    changed(&format!("thrice-layered-{seed}.mp4"), &plain, |bytes| {
        let kind = |bytes: &[u8], at: usize| bytes[at] >> 1 & 63;
        let slices: Vec<usize> = units(bytes).into_iter().map(|unit| unit.start).collect();
        let slices: Vec<usize> = slices.into_iter().filter(|&at| kind(bytes, at) < 32).collect();
        let kinds: Vec<u8> = slices.iter().map(|&at| kind(bytes, at)).collect();
        let mut changed = 0;
        for (k, &at) in slices.iter().enumerate() {
            let next = kinds.get(k + 1);
            let (new, layer) = match kinds[k] {
                1 if next == Some(&2) => (0, 1),
                9 if next == Some(&8) => (8, 1),
                other @ (2 | 8) => (other, 2),
                _ => continue,
            };
            bytes[at] = new << 1;
            bytes[at + 1] = layer + 1;
            changed += 1;
        }
        assert!(changed > slices.len() / 2, "{kinds:?}");
    })
}

/// Pictures that are gone without a byte left of them, and stay in the index: of H.264 those on which
/// nothing leans, of ProRes any.
fn emptied(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let codec = drawn.of(0, 1) as usize;
    let options = [
        format!("-c:v libx264 -preset veryfast -threads 1 -crf 20 -g {} -bf 3", drawn.of(10, 40)),
        "-c:v prores_ks -profile:v 0 -pix_fmt yuv422p10le".to_owned(),
    ];
    let plain = made(&format!("full-{seed}.mov"), &format!("{} {}", moving(), options[codec]));
    let every = drawn.of(2, 6) as usize;
    changed(&format!("emptied-{seed}.mov"), &plain, |bytes| {
        let samples = boxes::samples(bytes);
        // Behind the length of the only unit: no reference (ITU-T H.264, 7.3.1), a slice.
        let is_free = |at: usize| codec == 1 || bytes[at + 4] & 0x7f == 1;
        let free = (1..samples.len()).filter(|&k| is_free(samples[k].start));
        let emptied: Vec<usize> = free.step_by(every).collect();
        assert!(emptied.len() > 3, "{emptied:?}");
        boxes::empty_samples(bytes, &emptied);
    })
}

/// First key pictures alone, then pictures that are shown in another order, which the stream does not
/// declare: decoders find out when it is too late for the first of them. (With fewer than three between
/// two others one more picture of delay is enough, and none is lost.)
fn late(drawn: &mut Drawn, seed: u64) -> PathBuf {
    let (begin, run) = (drawn.of(25, 40), drawn.of(8, 20));
    let options = format!(
        "-c:v libx264 -preset veryfast -threads 1 -crf 20 -g 300 -sc_threshold 0 -bf {} -b_strategy 0 \
         -force_key_frames expr:lt(n,{begin})+not(mod(n,{run}))",
        drawn.of(3, 5)
    );
    let plain = made(&format!("declared-{seed}.mp4"), &format!("{} {options}", moving()));
    let silent = changed(&format!("undeclared-{seed}.mp4"), &plain, |bytes| {
        parameters::forget_order(bytes);
    });
    derived(&format!("late-{seed}.mkv"), &silent, "-c copy")
}
