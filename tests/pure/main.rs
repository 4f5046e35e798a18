//! Tests of the rooms that know neither video nor window.

mod marks;
