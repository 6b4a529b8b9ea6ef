//! The ways in which the words of a line may be sung, as far as setting them to music asks.

pub use crate::words::stress::Class;

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
