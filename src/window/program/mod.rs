//! The program: which screen is shown, and what screens ask of each other.

mod asked;
mod beside;
mod clips;
mod demo;
mod display;
mod keys;
mod opens_on;
mod run;
mod sets;
mod state;

pub use opens_on::OpensOn;
pub use run::run;
#[cfg(feature = "harness")]
pub(crate) use state::{Message, Program, Screen};
