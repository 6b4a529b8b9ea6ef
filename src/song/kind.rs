//! What kind of section a section is, and what it is called.

use super::Section;
use super::field::Field;

/// The kinds of section there are.
pub const KINDS: [&str; 7] = [
    "verse",
    "chorus",
    "refrain",
    "bridge",
    "intro",
    "interlude",
    "outro",
];

/// A section's kind: as typed, else what its label begins with, else a verse.
#[must_use]
pub fn kind_of(section: &Section) -> String {
    if let Some(kind) = section
        .values
        .get(Field::Kind)
        .map(str::trim)
        .filter(|kind| !kind.is_empty())
    {
        return kind.to_owned();
    }
    let label = section
        .values
        .get(Field::Label)
        .unwrap_or("")
        .trim()
        .to_lowercase();
    KINDS
        .iter()
        .find(|kind| label.starts_with(**kind))
        .map_or_else(|| "verse".to_owned(), |kind| (*kind).to_owned())
}

/// What a section is called: its label, or its kind.
#[must_use]
pub fn label_of(section: &Section) -> String {
    match section
        .values
        .get(Field::Label)
        .map(str::trim)
        .filter(|label| !label.is_empty())
    {
        Some(label) => label.to_owned(),
        None => kind_of(section),
    }
}
