//! Tests of the rooms that know neither video nor window.

mod geometry_angles;
mod geometry_moment;
mod marks;
mod rooms;
