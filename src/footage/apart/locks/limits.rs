use super::bounds::Bounds;

/// Sets an end to memory and processor time, and to opening and writing files.
pub(super) fn set(bounds: Bounds) -> bool {
    let limits = [
        (libc::RLIMIT_AS, [bounds.memory; 2]),
        (libc::RLIMIT_CPU, [bounds.seconds, bounds.in_all]),
        (libc::RLIMIT_CORE, [0; 2]),
        (libc::RLIMIT_NOFILE, [0; 2]),
        (libc::RLIMIT_FSIZE, [0; 2]),
    ];
    limits.into_iter().all(|(resource, [now, most])| {
        let mut limit = libc::rlimit { rlim_cur: 0, rlim_max: 0 };
        // SAFETY: both calls get a live struct of the type that they ask for.
        unsafe {
            if libc::getrlimit(resource, &raw mut limit) != 0 {
                return false;
            }
            // It may be narrower already, and can then not be widened.
            let most = most.min(limit.rlim_max);
            let limit = libc::rlimit { rlim_cur: now.min(most), rlim_max: most };
            libc::setrlimit(resource, &raw const limit) == 0
        }
    })
}

/// Lets a process be busy for so many seconds more than it has been. Where that fails it has ended,
/// or soon will.
pub(super) fn allow(process: u32, seconds: u64) {
    let (mut clock, mut spent) = (0, libc::timespec { tv_sec: 0, tv_nsec: 0 });
    let mut limit = libc::rlimit { rlim_cur: 0, rlim_max: 0 };
    let process = process as libc::pid_t;
    // SAFETY: each call gets live places of the types that it asks for; the process is a child that
    // was not waited for, so that no other has its number.
    unsafe {
        if libc::clock_getcpuclockid(process, &raw mut clock) != 0
            || libc::clock_gettime(clock, &raw mut spent) != 0
            || libc::prlimit(process, libc::RLIMIT_CPU, std::ptr::null(), &raw mut limit) != 0
        {
            return;
        }
        limit.rlim_cur = limit.rlim_max.min(spent.tv_sec as u64 + seconds);
        libc::prlimit(process, libc::RLIMIT_CPU, &raw const limit, std::ptr::null_mut());
    }
}

/// Closes everything but input, output and errors.
pub(super) fn close_others() {
    // SAFETY: called before this process has opened anything itself.
    // Before Linux 5.9 there is no such call; what this program opens is closed by itself then.
    unsafe {
        libc::syscall(libc::SYS_close_range, 3, libc::c_uint::MAX, 0);
    }
}
