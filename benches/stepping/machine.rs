//! What the system knows of this process; Linux only, 0 elsewhere.

use std::fs;

/// Returns seconds of processor time that this process has used.
pub(crate) fn cpu_seconds() -> f64 {
    let stat = fs::read_to_string("/proc/self/stat").unwrap_or_default();
    let after_name = stat.rsplit(')').next().unwrap_or_default();
    let ticks = |at: usize| {
        after_name.split_whitespace().nth(at).and_then(|t| t.parse::<f64>().ok()).unwrap_or(0.0)
    };
    // User and system time are fields 14 and 15; Linux counts 100 ticks a second for programs.
    (ticks(11) + ticks(12)) / 100.0
}

/// Returns the most memory that this process ever held, in MiB.
pub(crate) fn peak_mebibytes() -> f64 {
    let status = fs::read_to_string("/proc/self/status").unwrap_or_default();
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:")).unwrap_or_default();
    let kibibytes = line.split_whitespace().next().and_then(|number| number.parse::<f64>().ok());
    kibibytes.unwrap_or(0.0) / 1024.0
}
