use serde::{Deserialize, Serialize};

/// Which way a plane lies.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Lies {
    /// As the floor, a mat or a beam's top.
    Flat,
    /// Upright along the movement, x level and y up.
    Upright,
}

impl Lies {
    /// Returns the word for it.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Flat => "flat",
            Self::Upright => "upright",
        }
    }
}
