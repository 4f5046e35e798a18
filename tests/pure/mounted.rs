//! Folders that become read-only or full and are well again, as a share or a stick is.

use std::{
    env,
    fs::File,
    io::Write as _,
    path::{Path, PathBuf},
    process::Command,
};

/// Whoever may not mount sets this, and goes without these tests.
const NO_MOUNTS: &str = "STILLCALL_NO_MOUNTS";

/// A folder that is mounted as long as this is held.
pub(crate) struct Mounted(PathBuf);

impl Mounted {
    /// Puts a disk of that size in memory over a folder; nothing where one may not and need not.
    pub(crate) fn memory(at: &Path, size: &str) -> Option<Self> {
        let options = format!("size={size}");
        mount(&["-t", "tmpfs", "-o", &options, "tmpfs"], at).then(|| Self(at.to_owned()))
    }

    /// Makes a folder a disk of its own, with what is in it.
    pub(crate) fn itself(at: &Path) -> Option<Self> {
        let name = at.to_str().unwrap();
        mount(&["--bind", name], at).then(|| Self(at.to_owned()))
    }

    pub(crate) fn read_only(&self, is_so: bool) {
        let options = if is_so { "remount,bind,ro" } else { "remount,bind,rw" };
        assert!(mount(&["-o", options], &self.0), "{options}");
    }

    /// Writes until there is no room; returns the file that takes it.
    pub(crate) fn fill(&self) -> PathBuf {
        let path = self.0.join("filler");
        let mut file = File::create(&path).unwrap();
        for size in [1 << 16, 1 << 12, 1] {
            while file.write_all(&vec![b'.'; size]).is_ok() {}
        }
        path
    }
}

impl Drop for Mounted {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(&self.0).status();
    }
}

fn mount(arguments: &[&str], at: &Path) -> bool {
    let done = Command::new("mount").args(arguments).arg(at).output();
    let is_done = done.as_ref().is_ok_and(|done| done.status.success());
    if !is_done {
        let may_miss = env::var_os(NO_MOUNTS).is_some();
        assert!(may_miss, "only root may mount; {NO_MOUNTS}=1 goes without: {done:?}");
        println!("SKIPPED, NOT PASSED: {done:?}");
    }
    is_done
}
