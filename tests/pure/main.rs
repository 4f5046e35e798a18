//! Tests of the rooms that know neither video nor window.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "the helpers of tests fail by panicking, as the tests themselves do"
)]

// What a score comes from: all that `make mutants` builds.
mod angle_bands;
mod angle_rounding;
mod books;
mod chosen_amounts;
mod class_by_division;
mod clicking;
mod command;
mod compulsory;
mod consequences;
mod downgraded;
mod editions;
mod examples;
mod guide;
mod kindest;
mod kinds;
mod lints;
mod never;
mod panels;
mod printed;
mod programmes;
mod promises;
mod rulebook;
mod saltmarsh;
mod schema;
mod scored_kinds;
mod second;
mod serving;
mod settling;
mod sheet;
mod sheet_exact;
mod sheet_laws;
mod sheet_lines;
mod times;
mod together;
mod told;
mod trade;
mod unscored;
mod vaults;
mod win_back;
mod won;
mod worked;

#[cfg(not(mutants))]
mod acting;
mod agreement;
#[cfg(not(mutants))]
mod agreement_course;
#[cfg(not(mutants))]
mod agreement_course_grid;
#[cfg(not(mutants))]
mod agreement_reference;
#[cfg(not(mutants))]
mod agreement_tables;
#[cfg(not(mutants))]
mod aside;
#[cfg(not(mutants))]
mod captions;
mod card;
#[cfg(not(mutants))]
mod containers;
#[cfg(not(mutants))]
mod eye;
#[cfg(not(mutants))]
mod figure;
#[cfg(not(mutants))]
mod geometry_accuracy;
#[cfg(not(mutants))]
mod geometry_angles;
#[cfg(not(mutants))]
mod geometry_bodies;
mod geometry_camera;
#[cfg(not(mutants))]
mod geometry_decide;
#[cfg(not(mutants))]
mod geometry_handbook;
#[cfg(not(mutants))]
mod geometry_joints;
#[cfg(not(mutants))]
mod geometry_lengths;
#[cfg(not(mutants))]
mod geometry_measure;
#[cfg(not(mutants))]
mod geometry_moment;
#[cfg(not(mutants))]
mod geometry_motion_lengths;
#[cfg(not(mutants))]
mod geometry_motions;
#[cfg(not(mutants))]
mod geometry_plane;
#[cfg(not(mutants))]
mod geometry_recorded;
#[cfg(not(mutants))]
mod geometry_reference;
#[cfg(not(mutants))]
mod geometry_tables;
#[cfg(not(mutants))]
mod imports;
#[cfg(not(mutants))]
mod journals;
#[cfg(not(mutants))]
mod judged;
#[cfg(not(mutants))]
mod kills;
#[cfg(not(mutants))]
mod ledger;
mod library_agree;
#[cfg(not(mutants))]
mod library_assign;
#[cfg(not(mutants))]
mod library_bundle;
#[cfg(not(mutants))]
mod library_club;
#[cfg(not(mutants))]
mod library_day;
#[cfg(not(mutants))]
mod library_erase;
#[cfg(not(mutants))]
mod library_find;
#[cfg(not(mutants))]
mod library_gate;
#[cfg(not(mutants))]
mod library_kills;
#[cfg(not(mutants))]
mod library_leave;
#[cfg(not(mutants))]
mod library_offline;
#[cfg(not(mutants))]
mod library_query;
#[cfg(not(mutants))]
mod library_scan;
#[cfg(not(mutants))]
mod library_sets;
mod library_settle;
#[cfg(not(mutants))]
mod library_sidecar;
#[cfg(not(mutants))]
mod library_speed;
#[cfg(not(mutants))]
mod library_tombstone;
#[cfg(not(mutants))]
mod library_withdraw;
#[cfg(not(mutants))]
mod marks;
#[cfg(not(mutants))]
mod marks_remeasure;
#[cfg(not(mutants))]
mod merging;
#[cfg(all(unix, not(mutants)))]
mod mounted;
#[cfg(not(mutants))]
mod placing;
#[cfg(all(unix, not(mutants)))]
mod rights;
#[cfg(not(mutants))]
mod rooms;
#[cfg(not(mutants))]
mod rulebook_speed;
#[cfg(not(mutants))]
mod scene;
#[cfg(not(mutants))]
mod sets;
#[cfg(all(unix, not(mutants)))]
mod shares;
#[cfg(not(mutants))]
mod sheet_speed;
#[cfg(not(mutants))]
mod sitting_command;
#[cfg(not(mutants))]
mod sittings;
#[cfg(not(mutants))]
mod store;
#[cfg(not(mutants))]
mod versions;
