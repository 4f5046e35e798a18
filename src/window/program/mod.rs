//! The program: which screen is shown, and what screens ask of each other.

mod asked;
mod beside;
mod books;
mod clips;
mod demo;
mod display;
mod drawing;
mod keys;
mod message;
mod opens_on;
mod run;
mod sets;
mod state;

#[cfg(feature = "harness")]
pub(crate) use message::Message;
pub use opens_on::OpensOn;
pub use run::run;
#[cfg(feature = "harness")]
pub(crate) use state::{Program, Screen};
