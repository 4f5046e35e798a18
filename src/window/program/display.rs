//! Opening the window where there may be no display to open it on.

use std::{
    panic::{self, AssertUnwindSafe},
    sync::atomic::{AtomicBool, Ordering},
};

use anyhow::Context as _;

/// Whether the display answered; from then on a panic is a fault of ours and says so itself.
static REACHED: AtomicBool = AtomicBool::new(false);

const UNREACHABLE: &str = "the window could not be opened: the display does not answer. Check \
                           DISPLAY or WAYLAND_DISPLAY; without a graphics card, \
                           ICED_BACKEND=tiny-skia may help. The commands of `stillcall --help` \
                           need no display";

/// Takes note that the display answered.
pub(crate) fn reached() {
    REACHED.store(true, Ordering::Relaxed);
}

/// Runs the window. The library under it panics when a display is named that does not answer;
/// here that becomes an error in words.
pub(crate) fn guarded(run: impl FnOnce() -> iced::Result) -> anyhow::Result<()> {
    let usual = panic::take_hook();
    panic::set_hook(Box::new(move |info| {
        if REACHED.load(Ordering::Relaxed) {
            usual(info);
        }
    }));
    match panic::catch_unwind(AssertUnwindSafe(run)) {
        Ok(result) => result.context(UNREACHABLE),
        Err(panicked) if REACHED.load(Ordering::Relaxed) => panic::resume_unwind(panicked),
        Err(_) => anyhow::bail!(UNREACHABLE),
    }
}
