//! Taking away: a clip that is deleted, an athlete who withdraws.
//!
//! A plan is drawn up from a fresh look through the folders (`draw_up`), written down (`log`),
//! carried out step by step (`carry_out`), and looked for again (`proof`); `erasing` puts these
//! together. `tombstone` is the word that is left for other computers.

mod belongings;
mod carry_out;
mod close;
mod draw_up;
pub(crate) mod erasing;
pub(crate) mod error;
mod forget;
mod log;
pub(crate) mod plan;
mod proof;
mod seek;
mod set_looks;
mod shown;
pub(crate) mod tombstone;
pub(crate) mod wish;
