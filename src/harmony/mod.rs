//! Other chords for the same melody.
//!
//! In: the slots of a section (written chords, their spans, the notes over them), key, style and mood. Out: candidates for each slot
//! and whole variants, best first, each change with its reason. Never: a song, a file, a clock; and never another melody.

pub mod slot;
pub mod variant;
