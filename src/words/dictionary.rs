//! The CMU Pronouncing Dictionary, packed when the program is built (`data/pack.rs` says how) and searched in place.

use super::phone::Sound;
use std::cmp::Ordering;

static BLOCKS: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/dictionary.blocks"));
static STARTS: &[u8] = include_bytes!(concat!(env!("OUT_DIR"), "/dictionary.starts"));

/// No word of the dictionary is as long.
const LONGEST: usize = 48;
/// Bytes that tell of a block: the first letters of its first word, and where it begins.
const HEAD: usize = 12;

/// The pronunciations of a word, in the order of the dictionary; empty where it does not list the word.
#[derive(Clone, Copy, Debug, Default)]
pub struct Pronunciations {
    rest: &'static [u8],
}

/// One pronunciation.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pronunciation {
    codes: &'static [u8],
}

/// A word of the dictionary and how it is said.
#[derive(Clone, Debug)]
pub struct Entry {
    /// In lower case.
    pub word: String,
    /// At least one.
    pub pronunciations: Pronunciations,
    /// How common it is: 0 to 4 by the sizes of SCOWL, 10, 20, 35, 50 and 70; 7 for names and for what is in none.
    pub rank: u8,
}

/// The pronunciations listed for a word in lower case with a plain apostrophe; about half a microsecond.
///
/// ```
/// use breathmark::words::dictionary::lookup;
/// let said: Vec<String> = lookup("water").map(|said| said.to_string()).collect();
/// assert_eq!(said, ["W AO1 T ER0"]);
/// assert_eq!(lookup("qwertz").count(), 0);
/// ```
#[must_use]
pub fn lookup(word: &str) -> Pronunciations {
    find(word.as_bytes()).map_or_else(Pronunciations::default, |entry| Pronunciations {
        rest: entry.body,
    })
}

/// Whether the dictionary lists this word.
#[must_use]
pub fn has(word: &str) -> bool {
    find(word.as_bytes()).is_some()
}

/// How common a listed word is: 0 to 4 by the sizes of SCOWL, 7 for names and for what is in none.
#[must_use]
pub fn rank(word: &str) -> Option<u8> {
    find(word.as_bytes()).map(|entry| entry.rank)
}

/// Whether the dictionary lists the word made of these two parts.
pub(super) fn has_with(stem: &str, ending: &str) -> bool {
    let mut letters = [0; LONGEST];
    let length = stem.len() + ending.len();
    for (place, letter) in letters.iter_mut().zip(stem.bytes().chain(ending.bytes())) {
        *place = letter;
    }
    letters
        .get(..length)
        .is_some_and(|word| find(word).is_some())
}

/// All words, in the order of their bytes.
pub fn entries() -> impl Iterator<Item = Entry> {
    let mut at = 0;
    let mut word = Vec::new();
    std::iter::from_fn(move || {
        let entry = RawEntry::at(at)?;
        at = entry.next;
        word.truncate(entry.shared);
        word.extend_from_slice(entry.rest);
        Some(Entry {
            word: String::from_utf8_lossy(&word).into_owned(),
            pronunciations: Pronunciations { rest: entry.body },
            rank: entry.rank,
        })
    })
}

/// A word met on the way through the dictionary; its letters are put together only when asked for.
#[derive(Clone, Copy)]
pub(super) struct Listed {
    /// How common it is: 0 to 4 by the sizes of SCOWL, 10, 20, 35, 50 and 70; 7 for names and for what is in none.
    pub(super) rank: u8,
    /// How it is said.
    pub(super) said: Pronunciations,
    block: usize,
    at: usize,
}

/// Calls back for every word, in the order of their bytes; about a millisecond for all of them.
pub(super) fn each(mut told: impl FnMut(Listed)) {
    let (mut at, mut block) = (0, 0);
    while let Some(entry) = RawEntry::at(at) {
        // Only the first word of a block shares nothing with the one before, or another one that shares nothing with it.
        if entry.shared == 0 {
            block = at;
        }
        let said = Pronunciations { rest: entry.body };
        told(Listed {
            rank: entry.rank,
            said,
            block,
            at,
        });
        at = entry.next;
    }
}

impl Listed {
    /// Its letters.
    pub(super) fn word(self) -> String {
        let mut word = Vec::with_capacity(16);
        let mut at = self.block;
        while let Some(entry) = RawEntry::at(at) {
            word.truncate(entry.shared);
            word.extend_from_slice(entry.rest);
            if at == self.at {
                break;
            }
            at = entry.next;
        }
        String::from_utf8_lossy(&word).into_owned()
    }
}

struct RawEntry {
    rank: u8,
    shared: usize,
    rest: &'static [u8],
    body: &'static [u8],
    next: usize,
}

impl RawEntry {
    fn at(at: usize) -> Option<Self> {
        let head = *BLOCKS.get(at)?;
        let letters = at + 2;
        let letters_end = letters + usize::from(*BLOCKS.get(at + 1)?);
        let body = letters_end + 1;
        let next = body + usize::from(*BLOCKS.get(letters_end)?);
        Some(Self {
            rank: head >> 5,
            shared: usize::from(head & 31),
            rest: BLOCKS.get(letters..letters_end)?,
            body: BLOCKS.get(body..next)?,
            next,
        })
    }
}

fn block_start(block: usize) -> Option<usize> {
    let [.., a, b, c, d] = *STARTS.as_chunks::<HEAD>().0.get(block)?;
    usize::try_from(u32::from_le_bytes([a, b, c, d])).ok()
}

/// The first eight letters of a block's first word, as a number in the order of words.
fn first_letters(block: usize) -> Option<u64> {
    let letters = STARTS.as_chunks::<HEAD>().0.get(block)?.first_chunk()?;
    Some(u64::from_be_bytes(*letters))
}

fn eight_letters(word: &[u8]) -> u64 {
    let mut letters = [0; 8];
    for (place, letter) in letters.iter_mut().zip(word) {
        *place = *letter;
    }
    u64::from_be_bytes(letters)
}

fn find(word: &[u8]) -> Option<RawEntry> {
    // The last block whose first word is not behind the word sought.
    let (mut low, mut high) = (0, STARTS.len() / HEAD);
    let sought = eight_letters(word);
    while high - low > 1 {
        let middle = low.midpoint(high);
        let not_behind = match first_letters(middle)?.cmp(&sought) {
            Ordering::Equal => RawEntry::at(block_start(middle)?)?.rest <= word,
            order => order == Ordering::Less,
        };
        if not_behind {
            low = middle;
        } else {
            high = middle;
        }
    }
    let mut at = block_start(low)?;
    let end = block_start(low + 1).unwrap_or(BLOCKS.len());
    // How many letters of the word before agree with the word sought: an entry that shares more than these with it
    // differs at the same letter, one that shares fewer has passed it.
    let mut agreed = 0;
    while at < end {
        let entry = RawEntry::at(at)?;
        at = entry.next;
        match entry.shared.cmp(&agreed) {
            Ordering::Greater => {}
            Ordering::Less => return None,
            Ordering::Equal => {
                let sought = word.get(agreed..)?;
                let same = entry
                    .rest
                    .iter()
                    .zip(sought)
                    .take_while(|(a, b)| a == b)
                    .count();
                if same == entry.rest.len() && same == sought.len() {
                    return Some(entry);
                }
                agreed += same;
            }
        }
    }
    None
}

impl Iterator for Pronunciations {
    type Item = Pronunciation;

    fn next(&mut self) -> Option<Pronunciation> {
        let (length, rest) = self.rest.split_first()?;
        let (codes, rest) = rest.split_at_checked(usize::from(*length))?;
        self.rest = rest;
        Some(Pronunciation { codes })
    }
}

impl Pronunciation {
    /// Its sounds in order.
    pub fn sounds(self) -> impl DoubleEndedIterator<Item = Sound> {
        self.codes.iter().filter_map(|code| Sound::from_code(*code))
    }

    /// Its sounds as codes.
    pub(super) const fn codes(self) -> &'static [u8] {
        self.codes
    }

    /// How many sounds it has.
    #[must_use]
    pub fn len(self) -> usize {
        self.codes.len()
    }

    /// Whether it has no sound; the dictionary lists none such.
    #[must_use]
    pub fn is_empty(self) -> bool {
        self.codes.is_empty()
    }
}

impl std::fmt::Display for Pronunciation {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for (index, sound) in self.sounds().enumerate() {
            let gap = if index == 0 { "" } else { " " };
            write!(f, "{gap}{sound}")?;
        }
        Ok(())
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    fn source() -> BTreeMap<&'static str, Vec<String>> {
        let mut source: BTreeMap<&str, Vec<String>> = BTreeMap::new();
        for line in include_str!("data/cmudict.dict").lines() {
            let (head, sounds) = line.split(" #").next().unwrap().split_once(' ').unwrap();
            let sounds = sounds.split_whitespace().collect::<Vec<_>>().join(" ");
            source
                .entry(head.split('(').next().unwrap())
                .or_default()
                .push(sounds);
        }
        source
    }

    #[test]
    fn every_line_of_the_source_is_given_back() {
        let source = source();
        assert_eq!(source.values().map(Vec::len).sum::<usize>(), 135_166);
        for (word, said) in &source {
            let found: Vec<String> = lookup(word).map(|said| said.to_string()).collect();
            assert_eq!(&found, said, "{word}");
        }
        let listed: Vec<String> = entries().map(|entry| entry.word).collect();
        assert!(listed.iter().map(String::as_str).eq(source.keys().copied()));
    }

    #[test]
    fn words_beside_listed_ones_are_not_found() {
        let source = source();
        for word in source.keys().step_by(97) {
            for near in [
                format!("{word}~"),
                format!("{word}'"),
                format!("!{word}"),
                word.to_uppercase(),
            ] {
                assert_eq!(has(&near), source.contains_key(near.as_str()), "{near}");
            }
            let mut shorter = (*word).to_string();
            shorter.pop();
            assert_eq!(
                has(&shorter),
                source.contains_key(shorter.as_str()),
                "{shorter}"
            );
        }
        assert!(!has(""));
        assert!(!has("\u{10ffff}"));
    }
}
