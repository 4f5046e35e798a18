//! What is legal in a book and still hardly meant.

pub(crate) mod all;
pub(crate) mod angles;
pub(crate) mod elements;
pub(crate) mod meets;
pub(crate) mod numbers;
pub(crate) mod scope;
pub(crate) mod sums;
pub(crate) mod taken;
