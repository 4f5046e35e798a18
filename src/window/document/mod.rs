//! Draws what a page says on screen: the same parts as on paper and in a terminal.

mod chart;
mod view;

pub(crate) use view::parts;
