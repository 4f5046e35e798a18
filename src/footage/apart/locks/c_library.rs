/// Settles what the C library would otherwise ask a file for while a clip is decoded, which would
/// end the process. To be called when no file can be opened any more.
pub(super) fn settle() {
    #[cfg(target_env = "gnu")]
    // SAFETY: the first call sets a number within the allocator; the second gets two texts that end
    // in a zero, and what it may return is never used; a moment of zeros is one.
    unsafe {
        // How many processors there are, to share memory out among threads.
        libc::mallopt(libc::M_ARENA_MAX, 1);
        // Which sets of letters there are: transport streams name theirs. Looked for once and not
        // found, they are never looked for again.
        libc::iconv_open(c"UTF-8".as_ptr(), c"ISO6937".as_ptr());
        // How far the clocks here are from those of the world: clips tell when they were filmed. It
        // holds as long as the environment names the same zone; without any it is looked for anew.
        let mut moment: libc::tm = std::mem::zeroed();
        libc::mktime(&raw mut moment);
    }
}
