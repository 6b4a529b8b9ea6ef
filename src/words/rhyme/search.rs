//! The words of the dictionary that rhyme with a given ending, best first.

use super::ending::{Ending, Way};
use super::kind::{Kind, Rhyme, SLANT, full_of_ways, of_ways};
use super::sieve::{Near, Same};
use crate::words::dictionary::{self, Listed, Pronunciation};
use crate::words::phone::Stress;
use std::cmp::Reverse;
use std::ops::RangeInclusive;

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
    /// Whether it has as many syllables as wished, and its main stress on one that is to have stress.
    pub fits: bool,
}

/// What is looked for.
#[derive(Clone, Copy, Debug)]
pub struct Wish<'a> {
    /// The stresses that the place asks for, a syllable each; or those of the word it is to rhyme with.
    pub stresses: &'a [Stress],
    /// Whether only words are given that fit these.
    pub fitting: bool,
    /// A word to leave out: the one asked about.
    pub except: &'a str,
    /// Near rhymes are given only up to so many words in all.
    pub enough: usize,
    /// Only words of so many syllables, where that is asked for.
    pub syllables: Option<usize>,
}

/// Names and words that no list has come after all others.
const COMMON: u8 = 4;
/// Light rhymes are given of words up to SCOWL's size 50: *sea* alone has thousands.
const KNOWN: u8 = 3;
/// Where near rhymes are sought, one after the other until there are enough: among the 11,000 commonest words, SCOWL's sizes 10 and
/// 20; then with the same vowel among the 23,000 of size 35.
const NEAR: [(RangeInclusive<u8>, bool); 2] = [(0..=1, true), (2..=2, false)];

/// The words that rhyme with an ending: all known ones that rhyme fully, then near ones as long as there are not enough, then names
/// and words in no list that rhyme fully. Within these in the order of the kinds, then those that fit the place, then the commoner.
///
/// ```
/// use breathmark::words::{SongWords, read, rhyme::{ending::Ending, search::{Wish, rhymes}}};
/// let river = Ending::of_word(&read("river", &SongWords::default()));
/// let found = rhymes(&river, Wish { stresses: &river.stresses(), fitting: false, except: "river", enough: 20, syllables: None });
/// assert_eq!((found[0].word.as_str(), found[0].kind.name()), ("liver", "perfect"));
/// ```
#[must_use]
pub fn rhymes(with: &Ending, wish: Wish<'_>) -> Vec<Found> {
    let mut search = Search {
        with,
        wish,
        way: Way::default(),
        found: Vec::new(),
    };
    let same = Same::new(with);
    dictionary::each(|listed| {
        search.compare(listed, |said| same.lets_through(said), full_of_ways);
    });
    let near = Near::new(with);
    for (ranks, other_vowels) in NEAR {
        let known = search.found.iter().filter(|found| found.rank <= COMMON);
        if known.count() < wish.enough {
            dictionary::each(|listed| {
                if ranks.contains(&listed.rank) {
                    let sieve = |said| near.lets_through(said, other_vowels);
                    search.compare(listed, sieve, of_ways);
                }
            });
        }
    }
    let mut found = search.found;
    found.sort_by(|a, b| order(a).cmp(&order(b)).then_with(|| tie(a).cmp(&tie(b))));
    found.dedup_by(|a, b| a.word == b.word);
    let mut at = 0;
    found.retain(|found| {
        at += 1;
        found.kind.is_full() || at <= wish.enough
    });
    found
}

fn order(found: &Found) -> (bool, bool, u8, bool, u8) {
    let kind = match found.kind {
        Kind::Masculine | Kind::Feminine | Kind::Dactylic => 0,
        other => other as u8,
    };
    // Articles and the like end no line.
    let light = matches!(
        found.word.as_str(),
        "a" | "an" | "and" | "of" | "the" | "to"
    );
    let rank = if light { COMMON } else { found.rank };
    (
        found.rank > COMMON,
        !found.kind.is_full(),
        kind,
        !found.fits,
        rank,
    )
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

struct Search<'a> {
    with: &'a Ending,
    wish: Wish<'a>,
    /// Room for the word at hand.
    way: Way,
    found: Vec<Found>,
}

impl Search<'_> {
    /// Compares the ways to say a word that the sieve lets through, and keeps the word where it rhymes.
    fn compare(
        &mut self,
        listed: Listed,
        sieve: impl Fn(Pronunciation) -> bool,
        rhyme: fn(&Way, &Way) -> Rhyme,
    ) {
        let mut best: Option<(Rhyme, Pronunciation)> = None;
        // Said without stress, *for* would rhyme with *her*: a word at a line's end keeps its own, where it has one.
        let is_full = |said: &Pronunciation| {
            said.sounds()
                .any(|sound| matches!(sound.stress, Some(Stress::Primary | Stress::Secondary)))
        };
        let full = listed.said.clone().any(|said| is_full(&said));
        for said in listed
            .said
            .filter(|said| (!full || is_full(said)) && sieve(*said))
        {
            self.way.set(said.sounds());
            let mut found = Rhyme::NONE;
            for wanted in &self.with.ways {
                found.take(rhyme(wanted, &self.way));
            }
            if best.is_none_or(|(known, _)| found.is_better(&known)) {
                best = Some((found, said));
            }
        }
        let Some((rhyme, said)) = best else { return };
        if rhyme.kind == Kind::None || !(rhyme.kind.is_full() || rhyme.score >= SLANT) {
            return;
        }
        if rhyme.kind == Kind::Light && listed.rank > KNOWN {
            return;
        }
        let stresses = || said.sounds().filter_map(|sound| sound.stress);
        let syllables = stresses().count().max(1);
        if self
            .wish
            .syllables
            .is_some_and(|wished| wished != syllables)
        {
            return;
        }
        let fits = fits(stresses(), self.wish.stresses);
        if self.wish.fitting && !fits {
            return;
        }
        let word = listed.word();
        if word == self.wish.except || word.contains('.') {
            return;
        }
        self.found.push(Found {
            word,
            kind: rhyme.kind,
            score: rhyme.score,
            syllables,
            rank: listed.rank,
            fits,
        });
    }
}

/// Whether a word with these stresses stands well where those are wished: as many syllables, the main stress on one that has some.
fn fits(word: impl Iterator<Item = Stress>, wished: &[Stress]) -> bool {
    let (mut count, mut main) = (0, None);
    for stress in word {
        if stress == Stress::Primary {
            main = Some(count);
        }
        count += 1;
    }
    let place = main.or_else(|| usize::checked_sub(count, 1));
    let strong = |place: usize| wished.get(place).is_some_and(|wish| *wish != Stress::None);
    // A word without stress of its own (*the*) is stressed where it ends a line.
    let any = wished.iter().any(|wish| *wish != Stress::None);
    count == wished.len()
        && place.is_some_and(|place| strong(place) || (!any && place + 1 == count))
}
