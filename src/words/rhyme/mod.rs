//! Rhyme by sound: what two words have in common, the scheme of a stanza, words that rhyme with a given one. Spelling never counts.

pub mod ending;
pub mod kind;
pub mod likeness;
pub mod line_end;
pub mod scheme;
pub mod search;
mod sieve;
mod stanza;

pub use stanza::Habit;
