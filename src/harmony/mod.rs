//! Other chords for the same melody.
//!
//! In: the slots of a section (written chords, their spans, the notes over them), key, style and mood. Out: candidates for each slot
//! and whole variants, best first, each change with its reason. Never: a song, a file, a clock; and never another melody.

pub mod candidates;
pub mod cost;
mod difference;
pub mod examples;
pub mod fit;
pub mod key_profile;
pub mod melody;
pub mod mood;
pub mod plan;
mod reasons;
pub mod rules;
pub mod search;
pub mod slot;
pub mod variant;
pub mod vary;
