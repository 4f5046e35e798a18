//! What makes a value unsure, each cause by itself, and how they add up.

pub mod moment;
pub mod placing;
pub mod propagate;
pub mod rng;
pub mod turned_away;
