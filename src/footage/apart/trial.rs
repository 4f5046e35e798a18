//! What a decoder with a flaw might try. It is tried for tests, to see that it ends the process;
//! nothing else comes of it, whoever asks.

use std::{
    ffi::OsStr, fs::File, hint, io, net::UdpSocket, process::Command, thread, time::Duration,
};

/// Tries to open a file where only the lock on files stands before it.
pub(super) fn before_limits(what: &OsStr) -> io::Result<()> {
    if what == "file-alone" { open().map(drop) } else { Ok(()) }
}

/// Tries something; comes back only where nothing ended the process.
pub(super) fn run(what: &OsStr) {
    match what.to_str() {
        Some("socket") => drop(UdpSocket::bind("127.0.0.1:0")),
        Some("file") => drop(open()),
        Some("program") => drop(Command::new("true").spawn()),
        Some("memory") => drop(hint::black_box(vec![1_u8; 3 << 30])),
        Some("busy") => loop {
            hint::spin_loop();
        },
        Some("asleep") => thread::sleep(Duration::from_secs(600)),
        _ => {}
    }
}

fn open() -> io::Result<File> {
    File::options().read(true).open("/dev/null")
}
