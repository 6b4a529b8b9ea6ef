//! The JSON of the commands. Keys only ever get added; numbers are finite and rounded to six decimals; what does not exist is
//! `null` or `[]`; `section` and `line` count from 1, slots and columns from 0.

use crate::music::chord::Chord;
use crate::music::key::Key;
use serde::{Serialize, Serializer};

pub mod check;
pub mod rhymes;
pub mod vary;
pub mod words;

/// A number rounded to six decimals; one that is not finite is written as `null`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Number(pub f64);

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let rounded = (self.0 * 1e6).round() / 1e6;
        if rounded.is_finite() {
            serializer.serialize_f64(rounded + 0.0)
        } else {
            serializer.serialize_none()
        }
    }
}

/// The answer of `chord`, one chord's.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct ChordAnswer {
    pub chord: String,
    pub notes: Vec<String>,
    pub bass: String,
    pub numeral: Option<String>,
    pub shapes: Vec<()>,
}

/// What `chord` answers for a chord.
#[must_use]
pub fn chord(chord: &Chord, key: Option<Key>) -> ChordAnswer {
    ChordAnswer {
        chord: chord.to_string(),
        notes: chord.notes().iter().map(ToString::to_string).collect(),
        bass: chord.bass().to_string(),
        numeral: key.map(|key| crate::music::numeral::numeral(chord, key)),
        shapes: Vec::new(),
    }
}
