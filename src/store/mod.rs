//! Files of our own: a log only grows, a document is replaced as a whole.
//!
//! Whatever is kept on the disk is kept by one of the two, so that a crash, a full disk or a second
//! window costs nothing that a person entered, and a file that could not be read is never written
//! over. What the lines and the keys mean is told by the rooms above.

mod document;
mod held_at;
mod lines;
mod log;
mod reading;
mod replace;
mod rights;
mod unfinished;

pub use document::{DocumentError, Format, Held};
pub use held_at::is_in_use;
pub use lines::{LogLine, checked_lines, plain_lines, whole_lines};
pub use log::{Begin, Keeping, Lock, Log, LogError};
pub use reading::{
    NoReading, about_to_read, open_file, read_at_most, read_file, read_text, read_written,
};
pub use replace::{Replacing, free_beside, replace_file, replace_private};
pub use rights::{Readers, own_file, own_folder};
pub use unfinished::{TEMPORARY, Unfinished, clear_unfinished, is_being_made, note_unfinished_in};
