//! The report on agreement in the window: the same numbers and charts as on its page.

mod chart;
mod screen;
mod view;

pub(crate) use screen::{Message, Report, key_pressed, update};
