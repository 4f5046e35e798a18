//! The clip screen: the frame, the ribbon and the clip line, and the paper beside them.

mod angles;
mod asides;
mod beside;
mod commands;
mod complaining;
mod complaint;
mod cutting;
mod drawn;
mod errand;
mod file;
mod handing;
mod jobs;
mod looking;
mod meet;
mod message;
mod mode;
mod noting;
mod pages;
mod routine;
mod screen;
mod session;
mod update;
mod working;
mod writing;

pub(crate) use complaint::{Complaint, Remedy};
pub(crate) use file::{
    opening::{self, Opening},
    wanted::{First, Wanted},
};
pub(crate) use message::{Action, Message, Next};
pub(crate) use mode::Dialogue;
pub(crate) use screen::Clip;
pub(crate) use session::Session;
