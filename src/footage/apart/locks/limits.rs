use crate::footage::apart::wish::SECONDS;

/// Address space in bytes; the program itself takes a tenth of it.
const MEMORY: libc::rlim_t = 2 << 30;

/// Sets an end to memory and processor time, and to opening and writing files.
pub(super) fn set() -> bool {
    let limits = [
        (libc::RLIMIT_AS, MEMORY),
        (libc::RLIMIT_CPU, SECONDS),
        (libc::RLIMIT_CORE, 0),
        (libc::RLIMIT_NOFILE, 0),
        (libc::RLIMIT_FSIZE, 0),
    ];
    limits.into_iter().all(|(resource, most)| {
        let mut limit = libc::rlimit { rlim_cur: 0, rlim_max: 0 };
        // SAFETY: both calls get a live struct of the type that they ask for.
        unsafe {
            if libc::getrlimit(resource, &raw mut limit) != 0 {
                return false;
            }
            // It may be narrower already, and can then not be widened.
            let most = most.min(limit.rlim_max);
            let limit = libc::rlimit { rlim_cur: most, rlim_max: most };
            libc::setrlimit(resource, &raw const limit) == 0
        }
    })
}

/// Closes everything but input, output and errors.
pub(super) fn close_others() {
    // SAFETY: called before this process has opened anything itself.
    // Before Linux 5.9 there is no such call; what this program opens is closed by itself then.
    unsafe {
        libc::syscall(libc::SYS_close_range, 3, libc::c_uint::MAX, 0);
    }
}
