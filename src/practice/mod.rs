//! Practice and agreement: how well the calls of two or more people match.

pub mod agreement;
pub mod statistics;
