//! The JSON of `words`.

use super::Number;
use crate::words::phone::Sound;
use crate::words::{Reading, Readings};
use serde::{Serialize, Serializer};

/// The answer of `words`, one word's.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct Word<'a> {
    pub word: &'a str,
    pub syllables: usize,
    pub parts: Vec<&'a str>,
    pub phones: Vec<Phone>,
    pub from: &'static str,
    pub readings: Vec<WordReading>,
}

/// A reading in `words`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct WordReading {
    pub syllables: usize,
    pub phones: Vec<Phone>,
    pub cost: Number,
}

/// A sound, written as its name: `AO1`.
#[derive(Clone, Copy, Debug)]
pub struct Phone(pub Sound);

impl Serialize for Phone {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(self.0.name())
    }
}

/// What `words` answers for a word.
#[must_use]
pub fn word(readings: &Readings) -> Word<'_> {
    let phones = |reading: &Reading| reading.sounds().map(Phone).collect::<Vec<_>>();
    let first = readings.readings.first();
    let parts = first.map(|reading| &reading.syllables);
    Word {
        word: &readings.word,
        syllables: first.map_or(0, Reading::count),
        parts: parts
            .into_iter()
            .flatten()
            .map(|syllable| syllable.text.as_str())
            .collect(),
        phones: first.map_or_else(Vec::new, phones),
        from: readings.from.name(),
        readings: readings
            .readings
            .iter()
            .map(|reading| WordReading {
                syllables: reading.count(),
                phones: phones(reading),
                cost: Number(f64::from(reading.cost) / 1000.0),
            })
            .collect(),
    }
}
