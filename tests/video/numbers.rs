//! A number and a time mean the same frame to the list that the program prints and to its stills.

use std::{fs, path::Path, process::Command};

use image::{DynamicImage, RgbImage};
use serde_json::Value;
use stillcall::footage::{Decoder, Footage};

use crate::{clips::scratch, oracle};

/// Asks for stills by numbers and times of the list, and compares them with what `ffmpeg` decodes;
/// returns the times of the list in ticks.
pub(crate) fn check(clip: &Path) -> Vec<i64> {
    let name = clip.file_name().expect("a name").to_string_lossy().into_owned();
    let folder = scratch("numbers").join(&name);
    let _ = fs::remove_dir_all(&folder);
    fs::create_dir_all(&folder).expect("a place for stills");
    let run = |arguments: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_stillcall"))
            .args(arguments)
            .env("STILLCALL_STATE", folder.join("state"))
            .output()
            .expect("the program starts");
        assert!(output.status.success(), "{arguments:?}: {output:?}");
        output.stdout
    };
    let copy = folder.join(&name);
    fs::copy(clip, &copy).expect("a copy");
    let path = copy.to_str().expect("clips of tests have plain names");
    let agreed =
        "--others none --athlete SC-07 --consent both --by office --for training --source phone";
    let agreed = agreed.split(' ');
    run(&["library", "note", path].into_iter().chain(agreed).collect::<Vec<_>>());
    let list: Value = serde_json::from_slice(&run(&["frames", "--json", path])).expect("JSON");
    let rows = list["frames"].as_array().expect("rows");
    let footage = Footage::open_proved(clip, None, &|_| ()).expect("it opens");
    let expected = oracle::linear(clip, &footage);
    assert_eq!(
        (rows.len(), list["frame_count"].as_u64()),
        (expected.len(), Some(rows.len() as u64))
    );
    let mut decoder = Decoder::new(&footage, 1);
    let mut right = |k: usize| -> RgbImage {
        let picture = decoder.picture(k).expect("a picture");
        assert_eq!(picture.hash(), expected[k], "{name}: frame {k}");
        DynamicImage::from(picture.to_rgba_upright()).into_rgb8()
    };
    let still = |way: &str, value: &str| {
        let out = folder.join(format!("{way}-{value}.png"));
        run(&["still", path, way, value, "--out", out.to_str().expect("a plain name")]);
        image::open(&out).expect("a PNG").into_rgb8()
    };
    let ticks: Vec<i64> = rows.iter().map(|row| row["ticks"].as_i64().expect("a time")).collect();
    for k in [rows.len() / 3, rows.len() - 1] {
        assert_eq!(rows[k]["frame"], k);
        assert!(still("--frame", &k.to_string()) == right(k), "{name}: frame {k}");
        // Of several frames at one time, the one that stays is shown then.
        let shown = ticks.iter().rposition(|it| *it == ticks[k]).expect("itself at least");
        let time = rows[k]["time_s"].to_string();
        assert!(still("--time", &time) == right(shown), "{name}: {time} s, frame {k}");
    }
    ticks
}
