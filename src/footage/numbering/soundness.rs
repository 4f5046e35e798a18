//! Whether a picture is what was recorded.

/// Whether a frame's picture is what was recorded, as far as a decoder can tell.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Soundness {
    /// Nothing speaks against it.
    #[default]
    Sound,
    /// It leans on a picture that is damaged or missing, directly or through others.
    Following,
    /// Its own data is damaged, or what it leans on was not there.
    Damaged,
}

impl Soundness {
    /// Returns what to say of it; nothing of a sound one.
    pub fn says(self) -> Option<&'static str> {
        match self {
            Self::Sound => None,
            Self::Following => Some("may be damaged: follows a damaged frame"),
            Self::Damaged => Some("damaged"),
        }
    }
}
