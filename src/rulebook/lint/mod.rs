//! What is legal in a book and still hardly meant.

pub(crate) mod all;
mod angles;
mod elements;
mod meets;
mod numbers;
mod scope;
mod spots;
mod sums;
