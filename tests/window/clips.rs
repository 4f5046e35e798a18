//! Small clips for the window, made by the sample clips generator and the `ffmpeg` program.

use std::{
    path::{Path, PathBuf},
    process::Command,
    sync::Mutex,
};

use sample_clips_generator::{Options, Truth, generate, truth_path};

/// Who decodes the library's clips: the program itself, because this one is a test.
pub(crate) fn apart() -> stillcall::footage::ApartDecoder {
    stillcall::footage::ApartDecoder::with(env!("CARGO_BIN_EXE_stillcall").into())
}

/// Width and height of the clips.
pub(crate) const SIZE: (u32, u32) = (480, 270);

static MAKING: Mutex<()> = Mutex::new(());

pub(crate) fn folder(name: &str) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("window").join(name);
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// Returns a half turn with its truth; the frame's number is in its top left corner.
pub(crate) fn numbered() -> (PathBuf, Truth) {
    let _one_at_a_time = MAKING.lock();
    let mut options = Options::new("turn-half", folder("clips").join("numbered.mp4"));
    options.size = SIZE;
    let truth = match std::fs::read_to_string(truth_path(&options)) {
        Ok(text) if options.out.exists() => serde_json::from_str(&text).unwrap(),
        _ => generate(&options).unwrap(),
    };
    (options.out, truth)
}

/// Returns a picture of 128 x 32, given as raw planes, coded without loss with the tags.
pub(crate) fn raw(name: &str, planes: &[u8], format: &str, tags: &str) -> PathBuf {
    let _one_at_a_time = MAKING.lock();
    let (source, target) = (folder("raw").join(name), folder("raw").join(format!("{name}.mkv")));
    std::fs::write(&source, planes).unwrap();
    let input = "-loglevel error -y -f rawvideo -s 128x32 -r 25 -pix_fmt";
    let output = Command::new("ffmpeg")
        .args(input.split(' ').chain([format, "-i"]))
        .arg(&source)
        .args("-c:v ffv1".split(' ').chain(tags.split_whitespace()))
        .arg(&target)
        .output()
        .expect("the ffmpeg program is installed");
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    target
}

/// Returns a moving test picture coded with the options.
pub(crate) fn coded(name: &str, options: &str) -> PathBuf {
    let _one_at_a_time = MAKING.lock();
    let target = folder("clips").join(name);
    if !target.exists() {
        // A failed run leaves an empty file, which must not be taken for the clip next time.
        let part = folder("clips").join(format!("part-{name}"));
        let source = "-loglevel error -y -f lavfi -i testsrc2=s=480x270:r=25:d=1";
        let output = Command::new("ffmpeg")
            .args(source.split(' ').chain(options.split(' ')))
            .arg(&part)
            .output()
            .expect("the ffmpeg program is installed");
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        std::fs::rename(&part, &target).expect("both in one folder");
    }
    target
}

/// Gives this process a folder of its own for journals; all its tests share it.
pub(crate) fn own_state() {
    static SET: std::sync::Once = std::sync::Once::new();
    SET.call_once(|| {
        let state = folder("state");
        let _ = std::fs::remove_dir_all(&state);
        stillcall::marks::StateFolder::use_in_this_process(state);
    });
}

/// Returns a fresh clip whose name says that it is bars, in a folder of its own without marks.
pub(crate) fn fresh(name: &str) -> PathBuf {
    own_state();
    let folder = folder(name);
    std::fs::remove_dir_all(&folder).unwrap();
    std::fs::create_dir_all(&folder).unwrap();
    let clip = folder.join("bars.mp4");
    std::fs::copy(numbered().0, &clip).unwrap();
    clip
}
