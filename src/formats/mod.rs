//! Bytes to songs and tunes, and back.
//!
//! In: the text or bytes of a file in memory. Out: a song or a tune, or a message that says where the file is not one; and text
//! or bytes to write. Never: a file opened, a decision about a song, a guess that is not told.

pub mod json;
pub mod yaml;
