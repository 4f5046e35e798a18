//! Draws gymnastics clips whose truth is known.
