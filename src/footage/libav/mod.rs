//! The only place that talks to FFmpeg's C interface.
//!
//! Every `unsafe` block of the crate's video half is in this folder; what leaves it is safe.
//! Enumerations of C structures are read as plain integers, because a newer FFmpeg may know
//! values that these bindings do not.

mod codec;
mod complaints;
mod encoder;
mod error;
mod film;
mod frame;
mod input;
mod limits;
mod muxer;
mod packet;
mod parser;
mod pool;
mod setup;
mod stream;
mod traits;
mod values;

pub(crate) use codec::{Codec, Output, Parameters, Threads, Unneeded};
pub(crate) use complaints::Complaint;
pub(crate) use encoder::{Encoding, jpeg};
pub(crate) use error::{Error, LOST, NOT_ON_LIST, in_parentheses, is_out_of_bounds};
pub(crate) use film::Film;
pub(crate) use frame::{Component, Description, Frame, PlaneView};
pub(crate) use input::{Aim, Input};
pub(crate) use limits::Limits;
pub(crate) use muxer::Muxer;
pub(crate) use packet::{Packet, Palette};
pub(crate) use parser::{Parser, Structure};
pub(crate) use pool::{Pool, SLAB};
pub(crate) use setup::version;
pub(crate) use stream::VideoStream;
pub(crate) use traits::Traits;
