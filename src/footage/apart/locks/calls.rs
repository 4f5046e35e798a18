use std::{collections::BTreeMap, env, process};

use seccompiler::{
    BpfProgram, Error, SeccompAction, SeccompCmpArgLen, SeccompCmpOp, SeccompCondition,
    SeccompFilter, SeccompRule, TargetArch, apply_filter,
};

/// What decoding with threads calls for, whatever the arguments.
const PLAIN: &[i64] = &[
    // The open file, and the answer.
    libc::SYS_read,
    libc::SYS_readv,
    libc::SYS_pread64,
    libc::SYS_lseek,
    libc::SYS_write,
    libc::SYS_writev,
    libc::SYS_close,
    // Memory.
    libc::SYS_brk,
    libc::SYS_munmap,
    libc::SYS_mremap,
    libc::SYS_madvise,
    // Threads.
    libc::SYS_futex,
    libc::SYS_set_robust_list,
    libc::SYS_rseq,
    libc::SYS_gettid,
    libc::SYS_getpid,
    libc::SYS_sched_yield,
    libc::SYS_sched_getaffinity,
    libc::SYS_exit,
    libc::SYS_exit_group,
    // Signals to itself.
    libc::SYS_rt_sigaction,
    libc::SYS_rt_sigprocmask,
    libc::SYS_rt_sigreturn,
    libc::SYS_sigaltstack,
    libc::SYS_restart_syscall,
    // Clocks and chance.
    libc::SYS_clock_gettime,
    libc::SYS_clock_nanosleep,
    libc::SYS_nanosleep,
    libc::SYS_getrandom,
    // Answered by the filter that stands before this one.
    libc::SYS_clone3,
];

/// Ends this process on every call that is not on the list; returns whether the kernel does so.
pub(super) fn keep() -> bool {
    install().is_ok()
}

fn install() -> Result<(), Error> {
    let architecture: TargetArch = env::consts::ARCH.try_into()?;
    // The arguments of this one lie in memory, where no filter sees them: refused as unknown, the
    // C library takes `clone` in its place.
    let unknown = SeccompAction::Errno(libc::ENOSYS as u32);
    let newer = [(libc::SYS_clone3, Vec::new())].into_iter().collect();
    let newer = SeccompFilter::new(newer, SeccompAction::Allow, unknown, architecture)?;
    let (otherwise, listed) = (SeccompAction::KillProcess, SeccompAction::Allow);
    let list = SeccompFilter::new(list()?, otherwise, listed, architecture)?;
    let [newer, list]: [BpfProgram; 2] = [newer.try_into()?, list.try_into()?];
    // Of two filters the stricter answer counts. After the second no other can be set.
    apply_filter(&newer)?;
    apply_filter(&list)
}

fn list() -> Result<BTreeMap<i64, Vec<SeccompRule>>, Error> {
    let exec = libc::PROT_EXEC as u64;
    let thread = libc::CLONE_THREAD as u64;
    let own = u64::from(process::id());
    let only_where = [
        // No memory becomes code.
        (libc::SYS_mmap, 2, SeccompCmpOp::MaskedEq(exec), 0),
        (libc::SYS_mprotect, 2, SeccompCmpOp::MaskedEq(exec), 0),
        // A thread, never a process.
        (libc::SYS_clone, 0, SeccompCmpOp::MaskedEq(thread), thread),
        (libc::SYS_prctl, 0, SeccompCmpOp::Eq, libc::PR_SET_NAME as u64),
        (libc::SYS_tgkill, 0, SeccompCmpOp::Eq, own),
        // Whether a file is open, which builds for tests ask before they close it.
        (libc::SYS_fcntl, 1, SeccompCmpOp::Eq, libc::F_GETFD as u64),
        // Limits are read, not set.
        (libc::SYS_prlimit64, 2, SeccompCmpOp::Eq, 0),
    ];
    let mut list: BTreeMap<i64, Vec<SeccompRule>> =
        PLAIN.iter().map(|call| (*call, Vec::new())).collect();
    for (call, argument, is, value) in only_where {
        let condition = SeccompCondition::new(argument, SeccompCmpArgLen::Qword, is, value);
        let condition = condition.map_err(Error::Backend)?;
        let rule = SeccompRule::new(vec![condition]).map_err(Error::Backend)?;
        list.insert(call, vec![rule]);
    }
    Ok(list)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_that_reaches_beyond_the_process_is_on_the_list() {
        let list = list().unwrap();
        let beyond = [
            libc::SYS_socket,
            libc::SYS_connect,
            libc::SYS_sendto,
            libc::SYS_openat,
            libc::SYS_openat2,
            libc::SYS_unlinkat,
            libc::SYS_execve,
            libc::SYS_execveat,
            libc::SYS_ptrace,
            libc::SYS_process_vm_writev,
            libc::SYS_kill,
            libc::SYS_io_uring_setup,
            libc::SYS_memfd_create,
            libc::SYS_ioctl,
        ];
        for call in beyond {
            assert!(!list.contains_key(&call), "{call}");
        }
        for call in [libc::SYS_clone, libc::SYS_mmap, libc::SYS_mprotect, libc::SYS_prctl] {
            assert_eq!(list[&call].len(), 1, "{call} is allowed under a condition alone");
        }
    }
}
