//! The song file: YAML that a person can read and edit, written back byte for byte where nothing changed.
//!
//! [`read::read`] parses the text into a tree with the place of every value (`tree`), takes the song out of it, and gives every
//! node the slice of the text it came from. [`write::write`] puts the slices together again: an entry whose value is what the slice
//! said is written as it stood, a changed one is changed in place (`rewrite`), a new one is written fresh (`scalar`, `fresh`).

mod comments;
pub mod content;
mod findings;
mod fresh;
mod keys;
mod nodes;
pub mod read;
mod rewrite;
mod scalar;
mod slices;
#[cfg(test)]
mod tests;
mod tree;
mod trouble;
mod values;
pub mod write;
