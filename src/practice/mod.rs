//! Practice and agreement: calling from one look, and how well the calls of two or more people
//! match.

pub mod agreement;
pub mod eye;
pub mod gather;
pub mod set;
pub mod sitting;
pub mod statistics;
