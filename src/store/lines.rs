//! The lines of a log: JSON each, with a checksum before it where the format has one.

use serde::de::DeserializeOwned;

/// A whole line of a log with checksums.
#[derive(Clone, Copy, Debug)]
pub struct LogLine<'a> {
    /// Its checksum.
    pub checksum: &'a str,
    /// What it holds.
    pub json: &'a str,
    /// Where the next one begins, in bytes of the log.
    pub end: usize,
}

/// Returns the lines of a log with checksums; nothing in the place of one whose checksum is wrong
/// or whose end is missing.
pub fn checked_lines(bytes: &[u8]) -> impl Iterator<Item = Option<LogLine<'_>>> {
    let mut end = 0;
    bytes.split_inclusive(|&byte| byte == b'\n').map(move |line| {
        end += line.len();
        let text = std::str::from_utf8(line.strip_suffix(b"\n")?).ok()?;
        let (checksum, json) = text.split_once(' ')?;
        (checksum == checksum_of(json)).then_some(LogLine { checksum, json, end })
    })
}

/// Returns the lines up to the first that is damaged: there a crash tore the log, and nothing after
/// it can be trusted.
pub fn whole_lines(bytes: &[u8]) -> impl Iterator<Item = LogLine<'_>> {
    checked_lines(bytes).map_while(|line| line)
}

/// Returns what the lines of a log without checksums hold; one that cannot be read is passed over.
pub fn plain_lines<T: DeserializeOwned>(bytes: &[u8]) -> Vec<T> {
    let lines = bytes.split(|&byte| byte == b'\n');
    lines.filter_map(|line| serde_json::from_slice(line).ok()).collect()
}

pub(super) fn checksum_of(json: &str) -> String {
    blake3::hash(json.as_bytes()).to_hex()[..16].to_owned()
}
