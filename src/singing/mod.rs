//! What a voice does with a line: which note each syllable gets, what air that costs, where it lies, how fast it goes.
//!
//! In: words with their readings, a phrase or bars with a meter, a tempo, a voice. Out: facts of a line and of a song, in
//! quarter notes, seconds and lungfuls.
//! Never: a sentence about them, a change to the song, a finding about anybody's health. Every function is pure: the same
//! input gives the same output, so that callers may remember it.

pub mod air;
pub mod breaths;
pub mod charge;
pub mod pace;
pub mod placement;
pub mod range;
pub mod stanza;
pub mod stresses;
pub mod underlay;
pub mod voice;
pub mod ways;
