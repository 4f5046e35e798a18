//! The books that come with the program, as text.

/// Texts of the books that come with the program, by name.
const SHIPPED: &[(&str, &str)] = &[
    ("saltmarsh", include_str!("shipped/saltmarsh.toml")),
    ("saltmarsh-cup", include_str!("shipped/saltmarsh-cup.toml")),
];

/// Returns the text of a commented blank book that passes, to begin one's own from.
pub const fn blank() -> &'static str {
    include_str!("shipped/blank.toml")
}

/// Returns the names of the books that come with the program.
pub fn shipped() -> Vec<&'static str> {
    SHIPPED.iter().map(|(name, _)| *name).collect()
}

/// Returns the text of a shipped book.
pub fn shipped_text(name: &str) -> Option<&'static str> {
    SHIPPED.iter().find(|(known, _)| *known == name).map(|(_, text)| *text)
}
