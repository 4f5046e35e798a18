//! What would win something back, and what each thing cost.

pub(crate) mod causes;
pub(crate) mod changes;
pub(crate) mod skills;
pub(crate) mod suggestions;
pub(crate) mod win_back;
