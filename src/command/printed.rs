//! What is printed: nothing in it steers the terminal.

use std::io::{self, IsTerminal, Write};

use stillcall::units::visible;

/// Returns where results go.
pub(crate) fn out() -> Printed<io::Stdout> {
    Printed { to: io::stdout(), rest: Vec::new() }
}

/// Returns where remarks and errors go.
pub(crate) fn err() -> Printed<io::Stderr> {
    Printed { to: io::stderr(), rest: Vec::new() }
}

/// Writes text on, with what would steer a terminal written out.
pub(crate) struct Printed<W: Write> {
    to: W,
    /// The beginning of a letter whose other bytes are still to come.
    rest: Vec<u8>,
}

/// Says how far something is, in the place of what was said last; to a person only.
pub(crate) fn in_place(said: &str) {
    if io::stderr().is_terminal() {
        // Nobody reads it where it cannot be written.
        let _ = write!(io::stderr(), "\r{said}  ").and_then(|()| io::stderr().flush());
    }
}

impl<W: Write> Printed<W> {
    fn pass_on(&mut self, bytes: &[u8]) -> io::Result<()> {
        self.to.write_all(visible(&String::from_utf8_lossy(bytes)).as_bytes())
    }
}

impl<W: Write> Write for Printed<W> {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let mut all = std::mem::take(&mut self.rest);
        all.extend_from_slice(bytes);
        let whole = match std::str::from_utf8(&all) {
            // Only a letter that is cut off at the end may still become one.
            Err(error) if error.error_len().is_none() => error.valid_up_to(),
            _ => all.len(),
        };
        self.rest = all.split_off(whole);
        self.pass_on(&all)?;
        Ok(bytes.len())
    }

    fn flush(&mut self) -> io::Result<()> {
        self.to.flush()
    }
}

impl<W: Write> Drop for Printed<W> {
    fn drop(&mut self) {
        let rest = std::mem::take(&mut self.rest);
        // What could not be written was told by the write before.
        let _ = self.pass_on(&rest);
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test fails by panicking")]

    use super::*;

    #[test]
    fn a_letter_may_come_in_pieces_and_what_steers_is_written_out() {
        let mut to = Vec::new();
        let mut printed = Printed { to: &mut to, rest: Vec::new() };
        for byte in "é\u{1b}[2J\u{202e}ア\n".bytes() {
            printed.write_all(&[byte]).unwrap();
        }
        printed.write_all(&[0xe3, 0x82]).unwrap();
        drop(printed);
        assert_eq!(String::from_utf8(to).unwrap(), "é\\u001b[2J\\u202eア\n\u{fffd}");
    }
}
