//! How a process ended.

use std::{
    process::{Child, ExitStatus},
    thread,
    time::{Duration, Instant},
};

use super::wish::SECONDS;

pub(super) fn wait_until(child: &mut Child, end: Instant) -> Option<ExitStatus> {
    loop {
        if let Ok(Some(status)) = child.try_wait() {
            return Some(status);
        }
        if Instant::now() > end {
            return None;
        }
        thread::sleep(Duration::from_millis(1));
    }
}

/// Says how a process ended that did not end well.
pub(super) fn how(status: ExitStatus) -> String {
    #[cfg(target_os = "linux")]
    {
        use std::os::unix::process::ExitStatusExt as _;
        match status.signal() {
            Some(libc::SIGSYS) => return "it asked for what no decoder needs and was ended".into(),
            Some(libc::SIGXCPU) => return format!("it was busy for more than {SECONDS} s"),
            Some(libc::SIGABRT) => return "it gave up, most likely for want of memory".into(),
            _ => {}
        }
    }
    format!("it failed: {status}")
}
