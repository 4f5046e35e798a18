//! The command line: parses, calls one function per command, prints an error once.

mod command;

use std::{io, io::Write as _, process::ExitCode};

use clap::Parser as _;

fn main() -> ExitCode {
    // Another process of this program wants a clip decoded, and nothing else done.
    #[cfg(feature = "video")]
    if let Some(code) = stillcall::footage::decode_when_asked() {
        return code;
    }
    tracing_subscriber::fmt()
        .with_env_filter(tracing_subscriber::EnvFilter::from_default_env())
        .with_writer(io::stderr)
        .init();
    match command::run(command::CommandLine::parse()) {
        Ok(code) => code,
        Err(error) if is_closed_pipe(&error) => ExitCode::SUCCESS,
        Err(error) => {
            // Where it cannot be written nobody reads it.
            let _ = writeln!(command::printed::err(), "stillcall: {}", in_words(&error));
            ExitCode::FAILURE
        }
    }
}

/// Returns what went wrong and why, each reason once: most errors say their cause themselves.
fn in_words(error: &anyhow::Error) -> String {
    error.chain().map(ToString::to_string).fold(String::new(), |said, cause| {
        match said.is_empty() {
            true => cause,
            false if said.contains(&cause) => said,
            false => format!("{said}: {cause}"),
        }
    })
}

/// Returns whether the reader of our output went away, as `head` does: that is no failure.
fn is_closed_pipe(error: &anyhow::Error) -> bool {
    let kind = |cause: &(dyn std::error::Error + 'static)| {
        let of_json = || cause.downcast_ref::<serde_json::Error>()?.io_error_kind();
        cause.downcast_ref::<io::Error>().map(io::Error::kind).or_else(of_json)
    };
    error.chain().any(|cause| kind(cause) == Some(io::ErrorKind::BrokenPipe))
}
