//! The command line: parses, calls one function per command, prints an error once.

mod command;

use std::process::ExitCode;

use clap::Parser as _;

fn main() -> ExitCode {
    tracing_subscriber::fmt()
        .with_env_filter(tracing_subscriber::EnvFilter::from_default_env())
        .with_writer(std::io::stderr)
        .init();
    match command::run(command::CommandLine::parse()) {
        Ok(code) => code,
        Err(error) if is_closed_pipe(&error) => ExitCode::SUCCESS,
        Err(error) => {
            #[expect(clippy::print_stderr, reason = "the one place where errors are shown")]
            {
                eprintln!("stillcall: {error:#}");
            }
            ExitCode::FAILURE
        }
    }
}

/// Returns whether the reader of our output went away, as `head` does: that is no failure.
fn is_closed_pipe(error: &anyhow::Error) -> bool {
    error
        .chain()
        .filter_map(|cause| cause.downcast_ref::<std::io::Error>())
        .any(|error| error.kind() == std::io::ErrorKind::BrokenPipe)
}
