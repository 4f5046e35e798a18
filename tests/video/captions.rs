//! Captions as FFmpeg's own reader of WebVTT understands them; its writer of `SubRip` tells what it read.

use std::{fs, process::Command};

use serde_json::json;
use stillcall::{
    marks::Sheaf,
    report,
    rulebook::{read, shipped_text},
    sheet,
};

#[test]
fn another_reader_finds_every_caption_at_its_time() {
    let frame = |ticks: i64| json!({"ticks": ticks, "index": ticks / 30, "lo": ticks, "hi": ticks});
    let element = |id: i64, from: i64, to: i64, element: &str| {
        let at = json!({"span": [frame(from), frame(to)]});
        json!({"id": id, "at": at, "kind": "element", "element": element})
    };
    let sheaf: Sheaf = serde_json::from_value(json!({
        "routine": {"id": "r", "event": "beam", "division": "heron", "book": "saltmarsh"},
        "clip": {
            "name": "a.mp4", "quick_id": "", "time_base": [1, 900],
            "upright": {
                "coded_width": 64, "coded_height": 48, "pixel": {"width": 1, "height": 1},
                "orientation": {"quarter_turns": 0, "mirrored": false},
            },
        },
        "marks": [element(1, 900, 4500, "R & B -> <turn>"), element(2, 55_800, 55_800, "another")],
    }))
    .unwrap();
    let (book, _) = read(shipped_text("saltmarsh").unwrap(), "saltmarsh").unwrap();
    let captions = report::captions(&sheet::score(&book, &sheaf));
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("captions.vtt");
    fs::write(&file, &captions).unwrap();
    let read = Command::new("ffmpeg")
        .args(["-v", "error", "-i"])
        .arg(&file)
        .args(["-f", "srt", "-"])
        .output()
        .expect("the ffmpeg program is installed");
    let said = String::from_utf8(read.stdout).unwrap();
    assert!(read.status.success() && read.stderr.is_empty(), "{captions}");
    for expected in [
        "\n00:00:01,000 --> 00:00:05,000\n1. R & B -> <turn>",
        "\n00:01:02,000 --> 00:01:04,000\n2. another",
    ] {
        assert!(said.contains(expected), "{said}");
    }
    assert_eq!(said.matches(" --> ").count(), captions.matches(" --> ").count(), "{said}");
}
