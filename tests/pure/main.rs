//! Tests of the rooms that know neither video nor window.

mod books;
mod card;
mod command;
mod geometry_accuracy;
mod geometry_angles;
mod geometry_decide;
mod geometry_moment;
mod geometry_plane;
mod guide;
mod kinds;
mod marks;
mod rooms;
mod rulebook;
mod saltmarsh;
mod scene;
mod sheet;
mod sheet_laws;
mod sheet_speed;
mod trade;
