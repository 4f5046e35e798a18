//! The longest order that two lists have in common.

use std::hash::Hash;

use similar::{Algorithm, DiffOp, capture_diff_slices};

/// Returns the pairs of places at which both lists hold the same, in order and as many as can be.
pub(crate) fn common_order<T: Hash + Ord>(a: &[T], b: &[T]) -> Vec<(usize, usize)> {
    // The longest is needed; tests/pure/compulsory.rs holds this one against all selections.
    let steps = capture_diff_slices(Algorithm::Myers, a, b);
    let kept = steps.into_iter().filter_map(|step| match step {
        DiffOp::Equal { old_index, new_index, len } => Some((old_index, new_index, len)),
        _ => None,
    });
    kept.flat_map(|(a, b, len)| (a..a + len).zip(b..b + len)).collect()
}
