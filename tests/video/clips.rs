//! Clips made by the `ffmpeg` program, cached between runs.
//!
//! Each frame carries its source number as sixteen black and white cells across its top sixteen
//! rows, bit 0 leftmost: it survives lossy coding, dropped frames and any container, and shows
//! turns and mirrors.

use std::{
    fs,
    path::{Path, PathBuf},
    process::Command,
};

use crate::boxes;

const BAR: &str = "geq=lum='if(lt(Y,16),16+219*mod(floor(N/pow(2,floor(X*16/W))),2),lum(X,Y))'\
                   :cb='if(lt(Y,8),128,cb(X,Y))':cr='if(lt(Y,8),128,cr(X,Y))'";
/// H.264 with three B-pictures and a key picture every 24.
pub(crate) const H264: &str = "-c:v libx264 -preset veryfast -threads 1 -crf 18 -g 24 -keyint_min 24 \
                        -sc_threshold 0 -bf 3 -b_strategy 0";
/// HEVC likewise; further options follow after a colon.
pub(crate) const HEVC: &str = "-c:v libx265 -preset ultrafast -crf 18 -tag:v hvc1 -x265-params \
                        log-level=error:pools=none:frame-threads=1:keyint=24:min-keyint=24:\
                        scenecut=0:bframes=3:b-adapt=0";

/// Returns the options for `seconds` of a moving test picture with numbers.
pub(crate) fn source(seconds: u32, size: &str, rate: &str) -> String {
    format!("-f lavfi -i testsrc2=s={size}:r={rate}:d={seconds},format=yuv420p,{BAR}")
}

/// Returns the usual four seconds: 120 frames of 256 x 144.
pub(crate) fn usual() -> String {
    source(4, "256x144", "30")
}

/// Returns a clip that `ffmpeg` makes with these options, written as on a command line without
/// quotes; no option may hold a space.
pub(crate) fn made(name: &str, options: &str) -> PathBuf {
    attempted(name, options).unwrap_or_else(|said| panic!("ffmpeg {options}: {said}"))
}

/// Returns a clip as [`made`] does, or what `ffmpeg` says where it cannot make it.
pub(crate) fn attempted(name: &str, options: &str) -> Result<PathBuf, String> {
    cached(name, options.as_bytes(), |target| ffmpeg(options, target))
}

/// Returns a clip made from another one with options that stand between input and output.
pub(crate) fn derived(name: &str, from: &Path, options: &str) -> PathBuf {
    let input = from.to_str().expect("cached clips have plain names");
    let options = match options.split_once("{}") {
        Some((before, after)) => format!("{before} -i {input} {after}"),
        None => format!("-i {input} {options}"),
    };
    made(name, &options)
}

/// Returns a clip whose bytes are another one's, changed.
pub(crate) fn changed(name: &str, from: &Path, change: impl FnOnce(&mut Vec<u8>)) -> PathBuf {
    let mut bytes = fs::read(from).expect("the clip it is made from");
    change(&mut bytes);
    written(name, &bytes)
}

/// Returns a file of these bytes.
pub(crate) fn written(name: &str, bytes: &[u8]) -> PathBuf {
    cached(name, bytes, |target| fs::write(target, bytes).map_err(|error| error.to_string()))
        .expect("a place for clips")
}

/// Returns the plain clip that many others are made from.
pub(crate) fn base() -> PathBuf {
    made("base.mp4", &format!("{} {H264}", usual()))
}

/// Returns the plain clip with another display matrix.
pub(crate) fn turned(name: &str, matrix: [f64; 4]) -> PathBuf {
    changed(name, &base(), |bytes| boxes::set_matrix(bytes, matrix))
}

/// Returns a folder of this test run's own.
pub(crate) fn scratch(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("scratch").join(name);
    fs::create_dir_all(&folder).expect("a place for scratch files");
    folder
}

/// Runs `ffmpeg` with the options, then the target; an error is what it says.
fn ffmpeg(options: &str, target: &Path) -> Result<(), String> {
    let quiet = "-hide_banner -loglevel error -nostdin -y";
    let output = Command::new("ffmpeg")
        .args(quiet.split(' '))
        .args(options.split_whitespace())
        .arg(target)
        .output()
        .expect("the ffmpeg program is installed");
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    if output.status.success() { Ok(()) } else { Err(said) }
}

/// Makes a file once; what it is made by is part of its name, so that another recipe is another
/// file.
fn cached(
    name: &str,
    recipe: &[u8],
    make: impl FnOnce(&Path) -> Result<(), String>,
) -> Result<PathBuf, String> {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("clips");
    fs::create_dir_all(&folder).expect("a place for clips");
    let key = &blake3::hash(recipe).to_hex()[..8];
    let target = folder.join(format!("{key}-{name}"));
    if !target.exists() {
        // Made beside and renamed, because two tests may want the same clip at the same time.
        let own = format!("{:?}", std::thread::current().id()).replace(['(', ')'], "-");
        let making = folder.join(format!("making-{}-{own}-{key}-{name}", std::process::id()));
        make(&making)?;
        fs::rename(&making, &target).expect("a place for clips");
    }
    Ok(target)
}
