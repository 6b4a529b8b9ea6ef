//! Written music: how long, how high, in what key and meter, over which chord.
//!
//! In: text as musicians write it (`Em`, `3/4`, `B,2`). Out: spelled values with units.
//! Never: a clock (seconds begin in `singing`), words, a file.

pub mod chord;
pub mod chord_row;
pub mod interval;
pub mod key;
pub mod meter;
pub mod numeral;
pub mod pitch;
pub mod quarters;
pub mod tune;
