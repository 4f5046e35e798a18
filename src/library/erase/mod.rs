//! Taking away: a clip that is deleted, an athlete who withdraws.
//!
//! A plan is drawn up from a fresh look through the folders (`seek`, then `draw_up` with `chosen`,
//! `made_of`, `listed` and `doubtful`, which add to a `draft`), written down (`log`), carried out step
//! by step (`carry_out`), and looked for again (`proof`); `erasing` puts these together. `tombstone` is
//! the word that is left for other computers, and `heed` does what it says.

mod belongings;
mod carry_out;
mod chosen;
mod close;
mod doubtful;
mod draft;
mod draw_up;
pub(crate) mod erased;
pub(crate) mod erasing;
pub(crate) mod error;
mod forget;
pub(crate) mod heed;
mod listed;
mod log;
mod made_of;
mod names;
pub(crate) mod plan;
mod proof;
mod recent;
mod seek;
mod set_looks;
mod shown;
pub(crate) mod step;
pub(crate) mod tombstone;
pub(crate) mod wish;
pub(crate) mod withdrawn;
