//! The JSON of `rhymes`.

use super::Number;
use crate::words::rhyme::search::Found;
use serde::Serialize;

/// A word that rhymes, in `rhymes`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct RhymingWord {
    pub word: String,
    pub kind: &'static str,
    pub score: Number,
    pub syllables: usize,
}

/// What `rhymes` answers for a word.
#[must_use]
pub fn rhyme(found: &Found) -> RhymingWord {
    RhymingWord {
        word: found.word.clone(),
        kind: found.kind.name(),
        score: Number(found.score),
        syllables: found.syllables,
    }
}
