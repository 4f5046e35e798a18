//! Placing points on the frame: those of an angle, and those of a plane of known size.
//!
//! One machine places, moves and takes back; an angle and a plane each tell it what is asked for.

mod bar;
mod machine;
mod measuring;
mod plane_bar;
mod plane_form;
mod planing;
mod subject;

pub(crate) use bar::view as bar;
pub(crate) use machine::{Placing, What};
pub(crate) use measuring::{Measuring, Rule, ToCompare};
pub(crate) use plane_form::{Message as PlaneMessage, PlaneForm, message_for as plane_message_for};
pub(crate) use planing::Planing;
pub(crate) use subject::{Change, Sight};
