//! The words of the dictionary that rhyme with a given ending, best first.

use super::ending::{Ending, Stressed, Way};
use super::kind::{Kind, Rhyme, SLANT, of_ways};
use super::likeness::between_vowels;
use crate::words::dictionary::{self, Pronunciation};
use crate::words::phone::{Phone, Sound, Stress};
use std::cmp::Reverse;

/// A word that rhymes.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// In lower case, as the dictionary writes it.
    pub word: String,
    /// How it rhymes.
    pub kind: Kind,
    /// How near it comes, 0 to 1.
    pub score: f64,
    /// How many syllables it has.
    pub syllables: usize,
    /// How common it is: 0 most, 4 least, 7 for names and words in no list.
    pub rank: u8,
    /// Whether it has as many syllables as wished, and its main stress in the same place.
    pub fits: bool,
}

/// What is looked for.
#[derive(Clone, Copy, Debug)]
pub struct Wish<'a> {
    /// The stress of the syllables that the word is to replace, or of the word it is to rhyme with.
    pub stresses: &'a [Stress],
    /// A word to leave out: the one asked about.
    pub except: &'a str,
    /// Near rhymes are given only up to so many words in all.
    pub enough: usize,
}

/// Names and words that no list has come after all others of their kind.
const COMMON: u8 = 4;
/// Where words are sought that are alike by measure only: among the 11,000 commonest and the 23,000 after these.
const WELL_KNOWN: u8 = 2;

/// The words that rhyme with an ending: all that rhyme fully, then near ones as long as there are not enough. In the order of the
/// kinds; within a kind common words before names, then those with the wished stresses, then the commoner ones.
///
/// ```
/// use breathmark::words::{SongWords, read, rhyme::{ending::Ending, search::{Wish, rhymes}}};
/// let river = Ending::of_word(&read("river", &SongWords::default()));
/// let found = rhymes(&river, Wish { stresses: &river.stresses(), except: "river", enough: 20 });
/// assert_eq!(found[0].word, "deliver");
/// ```
#[must_use]
pub fn rhymes(with: &Ending, wish: Wish<'_>) -> Vec<Found> {
    let mut found = Vec::new();
    let same = Sieve::new(with, |one, other| may_be_same(one, other));
    gather(with, wish, &same, u8::MAX, &mut found);
    if found.len() < wish.enough {
        let near = Sieve::new(with, |one, other| {
            !may_be_same(one, other) && between_vowels(one, other) < 1.0
        });
        gather(with, wish, &near, WELL_KNOWN, &mut found);
    }
    found.sort_by(|a, b| order(a).cmp(&order(b)).then_with(|| tie(a).cmp(&tie(b))));
    found.dedup_by(|a, b| a.word == b.word);
    let full = found.iter().filter(|found| found.kind.is_full()).count();
    found.truncate(full.max(wish.enough));
    found
}

fn order(found: &Found) -> (u8, bool, bool, u8) {
    let kind = match found.kind {
        Kind::Masculine | Kind::Feminine | Kind::Dactylic => 0,
        other => other as u8,
    };
    (kind, found.rank > COMMON, !found.fits, found.rank)
}

fn tie(found: &Found) -> (Reverse<u32>, usize, &str) {
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a score of 0 to 1 in thousandths"
    )]
    let score = (found.score * 1000.0).round() as u32;
    (Reverse(score), found.syllables, &found.word)
}

fn gather(with: &Ending, wish: Wish<'_>, sieve: &Sieve, rarest: u8, found: &mut Vec<Found>) {
    let mut way = Way::default();
    dictionary::each(|word, rank, said| {
        if rank > rarest {
            return;
        }
        let mut best = Rhyme::NONE;
        let mut codes = None;
        for said in said {
            if !sieve.lets_through(said) {
                continue;
            }
            way.set(said.sounds());
            let before = best;
            for wanted in &with.ways {
                best.take(of_ways(wanted, &way));
            }
            if codes.is_none() || before != best {
                codes = Some(said);
            }
        }
        let Some(said) = codes else { return };
        let near = best.kind != Kind::None && best.score >= SLANT;
        if !(best.kind.is_full() || near) || word.contains(&b'.') {
            return;
        }
        let word = String::from_utf8_lossy(word);
        if word == wish.except {
            return;
        }
        let stresses = || said.sounds().filter_map(|sound| sound.stress);
        found.push(Found {
            word: word.into_owned(),
            kind: best.kind,
            score: best.score,
            syllables: stresses().count().max(1),
            rank,
            fits: main_stress(stresses()) == main_stress(wish.stresses.iter().copied()),
        });
    });
}

/// How many syllables there are, and which has the main stress.
fn main_stress(stresses: impl Iterator<Item = Stress>) -> (usize, Option<usize>) {
    let (mut count, mut main) = (0, None);
    for stress in stresses {
        if stress == Stress::Primary {
            main = Some(count);
        }
        count += 1;
    }
    (count, main.or_else(|| count.checked_sub(1)))
}

/// Whether two vowels can be heard as one, before some consonant or in some place.
fn may_be_same(one: Phone, other: Phone) -> bool {
    use Phone::{AA, AE, AH, AO, EH, IH, IY, OW, UH, UW};
    let merged = |one, other| {
        matches!(
            (one, other),
            (AA | OW, AO) | (IH, IY | AH) | (UH, UW) | (EH, AE | AH) | (AE, AH)
        )
    };
    one == other || merged(one, other) || merged(other, one)
}

/// What can be seen of a word at a glance, without comparing it: how many syllables its rhyme part has, and its first vowel.
struct Sieve {
    /// For each number of syllables the codes of the stressed vowels that may rhyme, a bit each.
    full: [u64; LONGEST],
    /// The same for the last vowel, where only the beat stresses it.
    promoted: u64,
}

/// No rhyme part is longer.
const LONGEST: usize = 8;

impl Sieve {
    fn new(with: &Ending, fits: impl Fn(Phone, Phone) -> bool) -> Self {
        let mut sieve = Self {
            full: [0; LONGEST],
            promoted: 0,
        };
        for part in with.ways.iter().flat_map(Way::parts) {
            let mut codes = 0;
            for code in 0..45 {
                if Sound::from_code(code).is_some_and(|sound| fits(part.first, sound.phone)) {
                    codes |= 1_u64 << code;
                }
            }
            let length = part.beats().count();
            if let Some(full) = length.checked_sub(1).and_then(|at| sieve.full.get_mut(at)) {
                *full |= codes;
            }
            if length == 1 && part.stress == Stressed::Fully {
                sieve.promoted |= codes;
            }
        }
        sieve
    }

    fn lets_through(&self, said: Pronunciation) -> bool {
        let (mut length, mut last_stress) = (0, None);
        for code in said.codes().iter().rev().filter(|code| **code < 45) {
            let stress = code % 3;
            let bit = 1_u64 << code;
            let full = self.full.get(length).copied().unwrap_or(0);
            if stress > 0 && full & bit != 0 {
                return true;
            }
            // A light last vowel behind another light one.
            if length == 1
                && stress == 0
                && last_stress.is_some_and(|last| self.promoted & last != 0)
            {
                return true;
            }
            if length == 0 && stress == 0 {
                last_stress = Some(bit);
            }
            if stress == 1 {
                return false;
            }
            length += 1;
        }
        // Without any main stress the last vowel serves.
        last_stress.is_some_and(|last| self.full.first().is_some_and(|full| full & last != 0))
    }
}
