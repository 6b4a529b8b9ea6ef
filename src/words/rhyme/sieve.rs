//! What is seen of a word's codes at a glance: whether it is worth comparing. Most of the dictionary falls through here.

use super::ending::{Ending, Part, Stressed, Way};
use super::likeness::between_vowels;
use crate::words::dictionary::Pronunciation;
use crate::words::phone::{Phone, Sound};

/// A set of codes, a bit each.
type Codes = u128;

/// Vowels have the codes below.
const VOWELS: u8 = 45;

/// The stress of a vowel's code, as its digit.
const fn stress(code: u8) -> u8 {
    code % 3
}

fn codes(fits: impl Fn(Sound) -> bool) -> Codes {
    let fits = |code: &u8| Sound::from_code(*code).is_some_and(&fits);
    (0..69)
        .filter(fits)
        .fold(0, |codes, code| codes | (1 << code))
}

fn has(codes: Codes, code: u8) -> bool {
    codes & (1 << code) != 0
}

/// Lets through what ends in the same sounds.
pub(super) struct Same {
    /// For each part that rhymes the codes that may stand in its places, from the last one back.
    parts: Vec<Vec<Codes>>,
    /// The codes that may stand in any last place.
    last: Codes,
}

impl Same {
    pub(super) fn new(with: &Ending) -> Self {
        let parts: Vec<Vec<Codes>> = with.ways.iter().flat_map(Way::parts).map(places).collect();
        let last = parts
            .iter()
            .filter_map(|part| part.first())
            .fold(0, |all, codes| all | codes);
        Self { parts, last }
    }

    pub(super) fn lets_through(&self, said: Pronunciation) -> bool {
        let codes = said.codes();
        if !codes.last().is_some_and(|code| has(self.last, *code)) {
            return false;
        }
        self.parts.iter().any(|part| {
            let Some(first) = codes.len().checked_sub(part.len()) else {
                return false;
            };
            let (before, tail) = codes.split_at(first);
            tail.iter()
                .rev()
                .zip(part)
                .all(|(code, fits)| has(*fits, *code))
                && tail.first().is_some_and(|code| can_carry(before, *code))
        })
    }
}

/// Whether a vowel can begin a part that rhymes: it is stressed, or no vowel before it has any stress, or the one just before has none.
fn can_carry(before: &[u8], code: u8) -> bool {
    let mut vowels = before.iter().rev().filter(|code| **code < VOWELS);
    stress(code) > 0 || vowels.next().is_none_or(|code| stress(*code) == 0)
}

/// The codes that may stand in each place of a part, from the last one back.
fn places(part: Part<'_>) -> Vec<Codes> {
    let mut places = vec![codes(|sound| {
        sound.is_vowel() && may_be_same(sound.phone, part.first)
    })];
    for heard in part.behind {
        places.push(codes(|sound| {
            sound.phone == *heard || (heard.is_vowel() && may_be_same(sound.phone, *heard))
        }));
    }
    places.reverse();
    places
}

/// Whether two vowels can be heard as one, before some consonant or in some place.
fn may_be_same(one: Phone, other: Phone) -> bool {
    use Phone::{AA, AE, AH, AO, EH, IH, IY, OW, UH, UW};
    let merged = |one, other| {
        matches!(
            (one, other),
            (AA | OW, AO) | (IH, IY | AH | AE) | (UH, UW) | (EH, AE | AH | IH) | (AE, AH)
        )
    };
    one == other || merged(one, other) || merged(other, one)
}

/// Lets through what has as many syllables to rhyme, the first of them with the same vowel or one that is not too far.
pub(super) struct Near {
    /// For each number of syllables the codes of its first vowel where it is the same.
    same: [Codes; LONGEST],
    /// And where it is only near.
    near: [Codes; LONGEST],
}

/// No rhyme part is longer.
const LONGEST: usize = 8;

impl Near {
    pub(super) fn new(with: &Ending) -> Self {
        let mut sieve = Self {
            same: [0; LONGEST],
            near: [0; LONGEST],
        };
        let parts = with.ways.iter().flat_map(Way::parts);
        for part in parts.filter(|part| part.stress == Stressed::Fully) {
            let length = part.beats().count() - 1;
            let same = |sound: Sound| sound.is_vowel() && may_be_same(sound.phone, part.first);
            let near = |sound: Sound| {
                same(sound) || (sound.is_vowel() && between_vowels(sound.phone, part.first) < 1.0)
            };
            if let Some(first) = sieve.same.get_mut(length) {
                *first |= codes(same);
            }
            if let Some(first) = sieve.near.get_mut(length) {
                *first |= codes(near);
            }
        }
        sieve
    }

    /// Whether the word may rhyme with its vowel the same, or with another that is near.
    pub(super) fn lets_through(&self, said: Pronunciation, other_vowels: bool) -> bool {
        let firsts = if other_vowels { self.near } else { self.same };
        let vowels = said.codes().iter().rev().filter(|code| **code < VOWELS);
        for (code, first) in vowels.zip(firsts) {
            if stress(*code) > 0 && has(first, *code) {
                return true;
            }
            if stress(*code) == 1 {
                break;
            }
        }
        false
    }
}
