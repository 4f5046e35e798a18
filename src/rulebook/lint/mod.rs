//! What is legal in a book and still hardly meant.

pub(crate) mod all;
mod angles;
mod elements;
mod idle;
mod meets;
mod numbers;
mod parts;
mod reach;
mod scope;
mod spots;
mod sums;
