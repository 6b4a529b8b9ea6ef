//! The words of a lyric row with their readings.

use super::cutter::cut;
use super::{Readings, SongWords, read};

/// A word of a row, its place and its readings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WordReadings {
    /// As written.
    pub text: String,
    /// Where it begins in the row, in graphemes from 0.
    pub column: usize,
    /// How many graphemes it has.
    pub length: usize,
    /// How it can be sung.
    pub readings: Readings,
}

/// The words of a row, from left to right.
#[must_use]
pub fn line(row: &str, song: &SongWords) -> Vec<WordReadings> {
    let words = cut(row).into_iter();
    words
        .map(|word| WordReadings {
            text: word.text.to_string(),
            column: word.column,
            length: word.length,
            readings: read(word.text, song),
        })
        .collect()
}
