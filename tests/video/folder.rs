//! A check over any folder of clips, for developers.

use crate::exact;

/// Set `STILLCALL_CLIPS` to a folder and run with `--ignored --nocapture`.
#[test]
#[ignore = "needs a folder of clips, named by STILLCALL_CLIPS"]
fn every_clip_of_a_folder() {
    let folder = std::env::var_os("STILLCALL_CLIPS").expect("STILLCALL_CLIPS names a folder");
    let mut clips: Vec<_> = std::fs::read_dir(folder)
        .expect("the folder can be read")
        .map(|entry| entry.expect("an entry").path())
        .collect();
    clips.sort();
    let failed = clips.iter().filter(|clip| {
        let result = std::panic::catch_unwind(|| exact::check(clip));
        println!("{} {}", if result.is_ok() { "ok    " } else { "FAILED" }, clip.display());
        result.is_err()
    });
    assert_eq!(failed.count(), 0);
}
