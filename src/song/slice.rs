//! What the file held for a node, so that a save writes it back byte for byte.

/// The text of a map in the file, cut into its entries; carried by the node through moves, setting aside and undo.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Slice {
    /// The entries in the file's order.
    pub entries: Vec<Entry>,
}

/// One key of a map in the file, with the comments and blank lines above it and the comment behind its value.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Entry {
    /// The key as written, without quotes.
    pub key: String,
    /// All of its text.
    pub text: String,
}
