//! Words that belong together: *walk, walked, walker, walking*.
//!
//! A stem is what is left when endings are taken off, rules and not knowledge: good enough to hold a word's relatives
//! out with it, and to tell words of the language, which have relatives, from names, which have few.

use breathmark::words::dictionary::Entry;
use std::collections::BTreeMap;

/// A family of so many words is one of the language. Our choice.
const LARGE: usize = 3;

/// Endings that make a relative of a word, the longer ones first.
#[rustfmt::skip]
const ENDINGS: &[&str] = &[
    "ations", "ation", "ingly", "edly", "able", "ally", "ions", "ists", "ment", "ness", "less", "est", "ers", "ful", "ian", "ied", "ier",
    "ies", "ing", "ion", "ism", "ist", "ity", "ive", "ors", "ous", "al", "ed", "er", "es", "ic", "ly", "or", "e", "i", "s", "y",
];

/// What the words of a family have in common.
pub(crate) fn stem(word: &str) -> String {
    let mut stem: String = word.split('\'').next().unwrap_or(word).to_string();
    while let Some(ending) = ENDINGS
        .iter()
        .find(|ending| stem.len() >= ending.len() + 4 && stem.ends_with(**ending))
    {
        stem.truncate(stem.len() - ending.len());
    }
    let doubled = matches!(stem.as_bytes(), [_, _, _, .., a, b] if a == b);
    if doubled {
        stem.pop();
    }
    stem
}

/// How many words each family has; possessives are not counted.
pub(crate) struct Families(BTreeMap<String, usize>);

impl Families {
    pub(crate) fn new(entries: &[Entry]) -> Self {
        let mut sizes = BTreeMap::new();
        for entry in entries.iter().filter(|entry| !entry.word.contains('\'')) {
            *sizes.entry(stem(&entry.word)).or_default() += 1;
        }
        Self(sizes)
    }

    /// Whether the word belongs to a family of the language.
    pub(crate) fn is_ordinary(&self, word: &str) -> bool {
        self.0.get(&stem(word)).is_some_and(|size| *size >= LARGE)
    }
}

/// A number that is the same for all words of a family.
pub(crate) fn lot(word: &str) -> u64 {
    mixed(&stem(word))
}

/// A number that says nothing about the letters it is made from.
pub(crate) fn mixed(letters: &str) -> u64 {
    // Fowler, Noll and Vo, FNV-1a of 64 bits; the high bits are mixed best.
    let hash = letters
        .bytes()
        .fold(0xcbf2_9ce4_8422_2325_u64, |hash, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        });
    (hash ^ (hash >> 29)).wrapping_mul(0xbf58_476d_1ce4_e5b9) >> 40
}
