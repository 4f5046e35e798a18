//! Tests of the rooms that know neither video nor window.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "the helpers of tests fail by panicking, as the tests themselves do"
)]

mod agreement;
mod agreement_course;
mod agreement_reference;
mod agreement_tables;
mod angle_bands;
mod books;
mod card;
mod chosen_amounts;
mod command;
mod consequences;
mod downgraded;
mod editions;
mod examples;
mod eye;
mod figure;
mod geometry_accuracy;
mod geometry_angles;
mod geometry_decide;
mod geometry_handbook;
mod geometry_lengths;
mod geometry_measure;
mod geometry_moment;
mod geometry_motion_lengths;
mod geometry_motions;
mod geometry_plane;
mod geometry_recorded;
mod geometry_reference;
mod geometry_tables;
mod guide;
mod kills;
mod kinds;
mod library_agree;
mod library_assign;
mod library_bundle;
mod library_club;
mod library_find;
mod library_gate;
mod library_offline;
mod library_query;
mod library_scan;
mod library_sets;
mod library_sidecar;
mod library_withdraw;
mod lints;
mod marks;
mod marks_remeasure;
mod placing;
mod rooms;
mod rulebook;
mod rulebook_speed;
mod saltmarsh;
mod scene;
mod schema;
mod scored_kinds;
mod serving;
mod sets;
mod settling;
mod sheet;
mod sheet_exact;
mod sheet_laws;
mod sheet_lines;
mod sheet_speed;
mod sitting_command;
mod sittings;
mod together;
mod trade;
mod win_back;
mod worked;
