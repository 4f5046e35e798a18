//! Points to angles and what can be said of them; pure mathematics on `f64`.
