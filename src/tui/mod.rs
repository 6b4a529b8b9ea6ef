//! The page and the contents: the song on the screen while it is written.
//!
//! In: keys, pastes, clicks, sizes, signals, answers of the worker. Out: frames, and the effects that `run` carries out.
//! `update` knows no terminal, no disk and no clock; a view draws and changes nothing.
//! Never: a figure of its own (they come from the reading), or a change to the song that is no `Edit`.

pub mod app;
pub mod asking;
pub mod cells;
pub mod chord_typing;
pub mod commands;
pub mod contents;
pub mod cursor;
pub mod disk;
pub mod finding;
pub mod keys;
pub mod left_at;
pub mod lists;
pub mod look;
pub mod page;
pub mod plan;
pub mod preview;
pub mod rhymes;
pub mod rows;
pub mod run;
pub mod said;
pub mod screen;
pub mod sheet;
pub mod songs;
pub mod spread;
pub mod steady_note;
pub mod structure;
pub mod typing;
pub mod update;
pub mod views;
pub mod worker;
