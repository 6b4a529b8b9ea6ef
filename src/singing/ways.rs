//! The ways in which the words of a line may be sung, as far as setting them to music asks.

use crate::words::line::WordReadings;
use crate::words::stress::{Class, classes};

/// One way to sing a word.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Way {
    /// How far it is from the usual way, in thousandths.
    pub cost: u32,
    /// The class of each of its syllables.
    pub classes: Vec<Class>,
    /// Whether it drops a syllable that the usual way has. A line takes at most [`MOST_REDUCED`] of these.
    pub reduced: bool,
}

/// The ways of each word of a line: its readings, with their classes in this line.
///
/// ```
/// # use breathmark::{singing::ways, words::{SongWords, line::line}};
/// let line = ways::of_line(&line("The heavenly host", &SongWords::default()));
/// let counts: Vec<Vec<usize>> = line.iter().map(|ways| ways.iter().map(|way| way.classes.len()).collect()).collect();
/// assert_eq!(counts[0][0], 1);
/// assert!(counts[1].contains(&3));
/// ```
#[must_use]
pub fn of_line(words: &[WordReadings]) -> Vec<Vec<Way>> {
    let of_word = |(index, word): (usize, &WordReadings)| {
        let readings = &word.readings.readings;
        let usual = readings.first().map_or(0, |reading| reading.count());
        readings
            .iter()
            .map(|reading| Way {
                cost: reading.cost,
                classes: classes(word, reading, index + 1 == words.len()),
                reduced: reading.count() < usual,
            })
            .collect()
    };
    words.iter().enumerate().map(of_word).collect()
}

/// How many words of a line may be sung shorter than usual, unless they are written so. Our choice; the handbooks of verse
/// that allow such forms mock those who clip too much.
pub const MOST_REDUCED: usize = 2;

/// A syllable of a line with the word and the way that it comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Chosen {
    /// The word, from 0 in the line.
    pub word: usize,
    /// The way, as an index of the word's ways.
    pub way: usize,
    /// The syllable, from 0 in the word.
    pub syllable: usize,
    /// Its class.
    pub class: Class,
}

/// The syllables of a line, where word `i` is sung in the way `ways[i]`.
#[must_use]
pub fn syllables(line: &[Vec<Way>], ways: &[usize]) -> Vec<Chosen> {
    let mut syllables = Vec::new();
    for (word, (choices, &way)) in line.iter().zip(ways).enumerate() {
        let classes = choices.get(way).map(|way| way.classes.as_slice());
        for (syllable, &class) in classes.unwrap_or_default().iter().enumerate() {
            syllables.push(Chosen {
                word,
                way,
                syllable,
                class,
            });
        }
    }
    syllables
}
