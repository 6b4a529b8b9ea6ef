//! Rhymes of a word, for the list beside the lyric.

use super::worker::Rhyme;

/// The words that rhyme best.
#[must_use]
pub fn of(_word: &str) -> Vec<Rhyme> {
    Vec::new()
}
