//! From the text of a lyric line to what its words can sound like.
//!
//! In: a row of text, and the song's own `words`. Out: each word with its place and its readings, each
//! reading with syllables, sounds, stress and a cost; no reading is chosen here beyond the default. Never: fails, touches
//! a file, or knows what a song or a tune is.

mod affixes;
mod align;
pub mod cutter;
pub mod dictionary;
pub mod estimate;
pub mod line;
pub mod lists;
pub mod model;
pub mod numbers;
mod outlines;
pub mod parts;
pub mod phone;
mod relatives;
pub mod rhyme;
mod search;
mod spelling;
pub mod stress;
mod sung;
pub mod syllables;
mod written;

use model::table::Table;
use phone::{Sound, Stress};
use search::{Found, Listed, Said, Search};
use spelling::Spelling;
use std::collections::BTreeMap;

/// Where the sounds of a word come from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Source {
    /// The song's own `words`.
    Song,
    /// The pronouncing dictionary.
    Dictionary,
    /// A rule over words of the dictionary, or a list of ours: contractions, figures, affixes, compounds.
    Rule,
    /// An estimate from the letters.
    Estimate,
}

impl Source {
    /// As the program's answers name it: `song`, `dictionary`, `rule`, `estimate`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Song => "song",
            Self::Dictionary => "dictionary",
            Self::Rule => "rule",
            Self::Estimate => "estimate",
        }
    }
}

/// The ways to sing a word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Readings {
    /// As written.
    pub word: String,
    /// Where the default reading comes from.
    pub from: Source,
    /// At least one; the first is the default, at no cost. No two have the same sounds.
    pub readings: Vec<Reading>,
}

/// One way to sing a word.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reading {
    /// In order. Their texts, joined, are the word as written. At least one, but in a line's *the* or *to* that runs into the vowel behind it.
    pub syllables: Vec<Syllable>,
    /// How far it is from the default, in thousandths. The sizes are our choice.
    pub cost: u32,
    /// The rule that gives it, for people.
    pub why: &'static str,
    /// Whether the written parts were only split evenly because the letters could not be read as the sounds.
    pub parts_guessed: bool,
}

/// A syllable of a reading.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Syllable {
    /// Its letters as they stand in the lyric. Empty where figures have fewer signs than syllables.
    pub text: String,
    /// What it is said as, where the word is written with figures or signs: *eigh* in 1847.
    pub said: Option<String>,
    /// Where it begins in the word, in graphemes.
    pub column: usize,
    /// Its sounds, parted from those of its neighbours by maximal onset.
    pub sounds: Vec<Sound>,
    /// The stress of its vowel.
    pub stress: Stress,
}

/// The song's own way to say words, from the entries of its `words` map.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SongWords {
    entries: BTreeMap<String, String>,
}

impl SongWords {
    /// Takes the entries as the song writes them: `quay` said like `kee`, `evening` in the parts `eve-ning`. Case and
    /// kind of apostrophe do not matter; of two entries for one word the later one holds.
    ///
    /// ```
    /// use breathmark::words::{SongWords, read};
    /// let words = SongWords::new([("Quay", "kee"), ("evening", "e-ve-ning")]);
    /// assert_eq!(read("evening", &words).readings[0].syllables.len(), 3);
    /// ```
    pub fn new<'a>(entries: impl IntoIterator<Item = (&'a str, &'a str)>) -> Self {
        let entries = entries
            .into_iter()
            .map(|(word, said)| (Spelling::new(word.trim()).plain, said.trim().to_string()));
        Self {
            entries: entries
                .filter(|(word, said)| !word.is_empty() && !said.is_empty())
                .collect(),
        }
    }

    fn get(&self, plain: &str) -> Option<&str> {
        self.entries.get(plain).map(String::as_str)
    }
}

/// The ways to sing a word: the song's own, else the dictionary's and the sung forms of these, else by rule or estimate.
///
/// Any text gives readings; what holds no letter at all gives one syllable without a sound.
///
/// ```
/// use breathmark::words::{SongWords, read};
/// let heaven = read("Heaven", &SongWords::default());
/// let counts: Vec<usize> = heaven.readings.iter().map(|reading| reading.syllables.len()).collect();
/// assert_eq!(counts, [2, 1]);
/// assert_eq!(heaven.readings[0].syllables[0].text, "Heav");
/// ```
#[must_use]
pub fn read(word: &str, song: &SongWords) -> Readings {
    read_with(word, &Search::new(song))
}

/// Whether two texts name one word in the song's words: case and kind of apostrophe do not matter.
#[must_use]
pub fn same_word(one: &str, other: &str) -> bool {
    Spelling::new(one.trim()).plain == Spelling::new(other.trim()).plain
}

/// What the song's words have to say so that a word is read in this way: its parts, or with an apostrophe where its only syllable
/// swallows a vowel. `None` where neither says it.
///
/// ```
/// use breathmark::words::{SongWords, as_song_says, read};
/// let says = |word| {
///     let readings = read(word, &SongWords::default()).readings;
///     readings.iter().filter_map(|reading| as_song_says(word, reading)).collect::<Vec<_>>()
/// };
/// assert_eq!(says("every"), ["ev-ery", "ev-er-y"]);
/// assert!(says("heaven").contains(&"heav'n".to_owned()));
/// ```
#[must_use]
pub fn as_song_says(word: &str, reading: &Reading) -> Option<String> {
    let says = |said: &String| {
        let found = read(word, &SongWords::new([(word, said.as_str())]));
        found.default_reading().is_some_and(|found| {
            found.count() == reading.count() && found.sounds().eq(reading.sounds())
        })
    };
    let without = |(at, letter): (usize, char)| {
        let (before, after) = (word.get(..at)?, word.get(at + letter.len_utf8()..)?);
        Some(format!("{before}'{after}"))
    };
    let vowels = word
        .char_indices()
        .filter(|(_, letter)| "aeiou".contains(*letter));
    std::iter::once(reading.hyphenated().to_lowercase())
        .chain(vowels.filter_map(without))
        .find(says)
}

/// As [`read`], with the dictionary left out: what the program would make of a word that nobody has listed.
#[must_use]
pub fn read_estimate(word: &str) -> Readings {
    let song = SongWords::default();
    read_with(
        word,
        &Search {
            song: &song,
            listed: Listed::Nothing,
            model: None,
        },
    )
}

/// As [`read`], with this one word and its possessive left out of the dictionary, and estimated by this table: what the
/// program would make of the word if nobody had listed it, its relatives being known.
#[must_use]
pub fn read_unlisted(word: &str, table: &Table<'_>) -> Readings {
    let song = SongWords::default();
    read_with(
        word,
        &Search {
            song: &song,
            listed: Listed::AllBut(word),
            model: Some(table),
        },
    )
}

fn read_with(word: &str, search: &Search<'_>) -> Readings {
    let spelling = Spelling::new(word);
    let Found { said, from } = search.find(&spelling);
    let mut readings: Vec<Reading> = Vec::with_capacity(said.len());
    for said in said {
        readings.push(Reading::new(&spelling, said));
    }
    Readings {
        word: word.to_string(),
        from,
        readings,
    }
}

/// A word that is said as these plain words, whatever its letters.
fn read_as(word: &str, said: &[&str]) -> Readings {
    let nothing = SongWords::default();
    let search = Search::new(&nothing);
    let spelling = Spelling::new(word);
    let said = search.spoken_words(&spelling.plain, said, 0);
    Readings {
        word: word.to_string(),
        from: Source::Rule,
        readings: vec![Reading::new(&spelling, said)],
    }
}

impl Readings {
    /// The default reading.
    #[must_use]
    pub fn default_reading(&self) -> Option<&Reading> {
        self.readings.first()
    }

    /// Whether the word is only estimated, so that the page can mark it.
    #[must_use]
    pub fn is_estimate(&self) -> bool {
        self.from == Source::Estimate
    }
}

impl Reading {
    fn new(spelling: &Spelling<'_>, said: Said) -> Self {
        let Said {
            sounds,
            cost,
            why,
            starts,
            guessed,
            spoken,
        } = said;
        let parts = spelling.parts(&starts);
        let ranges = syllables::syllables(&sounds);
        let mut spoken = spoken.into_iter();
        let syllables = parts
            .into_iter()
            .enumerate()
            .map(|(index, (column, text))| {
                let own = ranges
                    .get(index)
                    .and_then(|range| sounds.get(range.clone()))
                    .unwrap_or_default();
                Syllable {
                    text: text.to_string(),
                    said: spoken.next(),
                    column,
                    stress: own
                        .iter()
                        .find_map(|sound| sound.stress)
                        .unwrap_or_default(),
                    sounds: own.to_vec(),
                }
            })
            .collect();
        Self {
            syllables,
            cost,
            why,
            parts_guessed: guessed,
        }
    }

    /// How many syllables it has.
    #[must_use]
    pub fn count(&self) -> usize {
        self.syllables.len()
    }

    /// All its sounds in order.
    pub fn sounds(&self) -> impl Iterator<Item = Sound> {
        self.syllables
            .iter()
            .flat_map(|syllable| syllable.sounds.iter().copied())
    }

    /// The written parts with a hyphen between: `wa-ter`. Where the writer's own hyphen or a blank stands, no other is put.
    #[must_use]
    pub fn hyphenated(&self) -> String {
        let mut text = String::new();
        for syllable in &self.syllables {
            if !(text.is_empty()
                || syllable.text.is_empty()
                || text.ends_with(['-', '\u{2010}', '\u{2011}', ' ']))
            {
                text.push('-');
            }
            text.push_str(&syllable.text);
        }
        text
    }

    /// The stress of its syllables as digits: `10`.
    #[must_use]
    pub fn stress_digits(&self) -> String {
        let digits = self
            .syllables
            .iter()
            .map(|syllable| syllable.stress.digit());
        digits.map(|digit| char::from(b'0' + digit)).collect()
    }
}
