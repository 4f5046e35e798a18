//! Tests of the rooms that know neither video nor window.

mod books;
mod geometry_decide;
mod marks;
mod rooms;
mod rulebook;
mod saltmarsh;
mod sheet;
mod sheet_laws;
