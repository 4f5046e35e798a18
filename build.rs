//! Tells the code which FFmpeg it is built against, where its interface differs.

fn main() {
    println!("cargo::rustc-check-cfg=cfg(before_ffmpeg_6)");
    println!("cargo::rerun-if-changed=build.rs");
    // Said by the build script of the crate that binds FFmpeg, when there is one.
    let video = std::env::var_os("CARGO_FEATURE_VIDEO").is_some();
    if video && std::env::var_os("DEP_FFMPEG_FFMPEG_6_0").is_none() {
        println!("cargo::rustc-cfg=before_ffmpeg_6");
    }
}
