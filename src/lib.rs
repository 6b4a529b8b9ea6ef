//! A lyric-and-chord notebook that says, while a ballad is being written, what cannot be sung on one breath.
//!
//! The rooms, in the order to read them in. A room uses only rooms above it; `tests/rooms.rs` holds the table.

pub mod music;

pub mod words;

pub mod wording;

pub mod song;

pub mod singing;

pub mod harmony;

pub mod reading;

pub mod warnings;

pub mod formats;

pub mod desk;

pub mod notebook;

pub mod tui;

pub mod cli;
