//! A lyric-and-chord notebook that says, while a ballad is being written, what cannot be sung on one breath.
//!
//! The rooms, in the order to read them in. A room uses only rooms above it; `tests/rooms.rs` holds the table.

pub mod formats;
pub mod harmony;
pub mod music;
pub mod notebook;
pub mod singing;
pub mod song;
pub mod tui;
pub mod wording;
pub mod words;
