//! The page and the contents: the song on the screen while it is written.
//!
//! In: keys, pastes, clicks, sizes, signals, answers of the worker. Out: frames, and the effects that `run` carries out.
//! `update` knows no terminal, no disk and no clock; a view draws and changes nothing.
//! Never: a figure of its own (they come from the reading), or a change to the song that is no `Edit`.

pub mod cells;
pub mod chord_typing;
pub mod commands;
pub mod cursor;
pub mod keys;
pub mod look;
pub mod rows;
pub mod sheet;
pub mod spread;
