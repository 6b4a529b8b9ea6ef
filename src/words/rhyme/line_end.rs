//! How a line ends, as far as rhyme goes.

use super::ending::Ending;
use super::kind::{Kind, Rhyme, rhyme};
use crate::words::line::WordReadings;
use crate::words::spelling::Spelling;
use crate::words::stress::is_function_word;

/// The end of a line.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct LineEnd {
    /// Its last word, in plain letters; empty where the line has no words.
    pub word: String,
    /// The word before that.
    before: String,
    /// What the last word offers.
    ending: Ending,
    /// What the word before offers together with a light last word: *find it*.
    joined: Ending,
    /// All words of the line in plain letters, to know it again.
    whole: String,
}

impl LineEnd {
    /// The end of a line with these words.
    #[must_use]
    pub fn of(words: &[WordReadings]) -> Self {
        let plain = |word: &WordReadings| Spelling::new(&word.text).plain;
        let Some((last, others)) = words.split_last() else {
            return Self::default();
        };
        let word = plain(last);
        let before = others.last();
        let is_light = is_function_word(&word);
        let joined = before
            .filter(|_| is_light)
            .map(|before| Ending::of_two(&before.readings, &last.readings));
        let mut whole = String::new();
        for word in words {
            whole.push_str(&plain(word));
            whole.push(' ');
        }
        Self {
            before: before.map(plain).unwrap_or_default(),
            ending: Ending::of_word(&last.readings),
            joined: joined.unwrap_or_default(),
            word,
            whole,
        }
    }

    /// What its last word offers to a rhyme.
    #[must_use]
    pub const fn ending(&self) -> &Ending {
        &self.ending
    }

    /// Whether the line has words.
    #[must_use]
    pub fn has_words(&self) -> bool {
        !self.whole.is_empty()
    }

    /// Whether both lines have the same words throughout: a refrain.
    #[must_use]
    pub fn repeats(&self, other: &Self) -> bool {
        self.has_words() && self.whole == other.whole
    }

    /// Whether both lines end on the same two words, which is meant.
    #[must_use]
    pub fn ends_alike(&self, other: &Self) -> bool {
        self.word == other.word && self.before == other.before
    }

    /// Whether both end on the same word, or one on a word made with it: *love, true-love*.
    pub(super) fn ends_on_word_of(&self, other: &Self) -> bool {
        let last = |end: &'_ Self| end.word.rsplit('-').next().map(str::to_owned);
        self.has_words() && last(self) == last(other)
    }

    /// Whether its last word is a light one.
    pub(super) fn ends_lightly(&self) -> bool {
        !self.joined.is_empty()
    }

    /// What both ends have in common. Light last words rhyme together with the words before them: *find it*, *mind it*.
    #[must_use]
    pub fn rhyme(&self, other: &Self) -> Rhyme {
        let found = rhyme(&self.ending, &other.ending);
        if found.kind.is_full() && found.kind != Kind::Identical {
            return found;
        }
        let with_before = [
            (&self.joined, &other.joined),
            (&self.joined, &other.ending),
            (&self.ending, &other.joined),
        ];
        let with_before = with_before
            .into_iter()
            .filter(|(one, other)| !one.is_empty() && !other.is_empty())
            .map(|(one, other)| rhyme(one, other));
        let mut best = found;
        for joined in with_before {
            if joined.kind.is_full() && joined.kind != Kind::Identical {
                return joined;
            }
            // Near ones count where the last words by themselves have nothing in common: *nigh him, dying*.
            if best.kind == Kind::None && joined.score > best.score {
                best.take(joined);
            }
        }
        best
    }
}
