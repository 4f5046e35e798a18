//! Which packet shows which frame, and when; a clip is opened and counted here.

mod counted;
mod damage;
pub(crate) mod facts;
pub(crate) mod footage;
pub(crate) mod mend;
pub(crate) mod open;
mod order;
pub(crate) mod proof;
pub(crate) mod prove;
pub(crate) mod soundness;
pub(crate) mod table;
