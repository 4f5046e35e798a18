//! Draws gymnastics clips whose truth is known.
fn main() {}
