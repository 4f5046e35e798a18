//! Where a row of a book stands.

/// A row of a table, or one inside it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct RowAt {
    /// The table's key.
    pub table: &'static str,
    /// Which of its rows.
    pub at: usize,
    /// The way to a row inside, from the outside.
    pub inner: Vec<Inner>,
}

/// One step inward.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Inner {
    /// The key of the inner table or of the list of them.
    pub key: &'static str,
    /// Which of a list; 0 of a single one.
    pub at: usize,
}

impl RowAt {
    /// Returns the place of a row of a table.
    pub(crate) const fn row(table: &'static str, at: usize) -> Self {
        Self { table, at, inner: Vec::new() }
    }

    /// Returns the place of a row inside this one.
    pub(crate) fn inside(&self, key: &'static str, at: usize) -> Self {
        let mut place = self.clone();
        place.inner.push(Inner { key, at });
        place
    }
}
