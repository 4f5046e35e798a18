//! Which packet shows which frame, and when; a clip is opened and counted here.

mod damage;
pub(crate) mod facts;
pub(crate) mod footage;
pub(crate) mod open;
pub(crate) mod proof;
pub(crate) mod prove;
pub(crate) mod soundness;
pub(crate) mod table;
