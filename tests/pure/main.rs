//! Tests of the rooms that know neither video nor window.

mod books;
mod geometry_angles;
mod geometry_decide;
mod geometry_moment;
mod marks;
mod rooms;
mod rulebook;
mod sheet;
