//! Placing points on the frame: those of an angle, and those of a plane of known size.

mod bar;
mod measuring;
mod plane_form;
mod planing;

pub(crate) use bar::view as bar;
pub(crate) use measuring::{Measuring, Rule};
pub(crate) use plane_form::{Message as PlaneMessage, PlaneForm, message_for as plane_message_for};
pub(crate) use planing::Planing;
