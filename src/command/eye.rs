use clap::Args;
use stillcall::window::{EyeWanted, OpensOn};

#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// Code of the person, never a name; the window asks where there is none.
    #[arg(long, value_name = "CODE")]
    person: Option<String>,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    super::show(OpensOn::Eye(EyeWanted::of_user(arguments.person.clone())))
}
