use clap::Args;
use stillcall::{
    library::Code,
    window::{EyeWanted, OpensOn},
};

#[derive(Debug, Args)]
pub(super) struct Arguments {
    /// Code of the person, never a name; the window asks where there is none.
    #[arg(long, value_name = "CODE")]
    person: Option<Code>,
}

pub(super) fn run(arguments: &Arguments) -> anyhow::Result<()> {
    let person = arguments.person.as_ref().map(Code::to_string);
    super::show(OpensOn::Eye(EyeWanted::of_user(person)))
}
