//! What the model looks at when it decides what a letter sounds like: the letters around, and what was decided before.
//!
//! Each sight is a number, a *context*. The decoder and the training program share these functions, so that both see the
//! same. The choice of contexts is ours: strings of letters around the place, as the aligned letter strings of
//! Jiampojamarn, Kondrak and Sherif (2007, Proceedings of NAACL HLT: 372–379), the pairs of letter and sounds before, as
//! the joint sequences of Bisani and Ney (2008, Speech Communication 50: 434–451), and the stress so far against the
//! ending of the word.

use crate::words::phone::{Sound, Stress};

/// Letters are numbered: a is 1, z is 26, the apostrophe 27; this stands before and behind the word.
const BORDER: u32 = 30;
const PADDING: usize = 6;
/// Farthest letters before and behind, and both together, in a string of letters around the place.
const BEFORE: usize = 3;
const BEHIND: usize = 4;
const TOGETHER: usize = 6;
/// From this length on, strings of letters also tell of the phones without their stress.
const LONG: usize = 4;

/// What a context speaks of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum View {
    /// The sounds with their stress.
    Sounds,
    /// The phones only.
    Phones,
    /// The stress only.
    Stress,
}

/// A sight, and what it speaks of.
#[derive(Clone, Copy, Debug)]
pub struct Context {
    hash: u32,
    view: View,
}

/// What the contexts speak of, for the sounds that a letter may have.
#[derive(Clone, Copy, Debug)]
pub struct Answer {
    /// By [`View`].
    said: [u32; 3],
}

fn mix(mut hash: u32) -> u32 {
    hash ^= hash >> 16;
    hash = hash.wrapping_mul(0x7feb_352d);
    hash ^= hash >> 15;
    hash = hash.wrapping_mul(0x846c_a68b);
    hash ^ (hash >> 16)
}

fn join(hash: u32, next: u32) -> u32 {
    (hash ^ next)
        .wrapping_mul(0x9e37_79b1)
        .rotate_left(13)
        .wrapping_mul(0x85eb_ca6b)
        ^ (hash >> 7)
}

fn all<const N: usize>(parts: [u32; N]) -> u32 {
    parts.into_iter().fold(0x1234, join)
}

impl Answer {
    /// Of the sounds of one letter, none to two.
    #[must_use]
    pub fn new(sounds: impl IntoIterator<Item = Sound>) -> Self {
        let [mut codes, mut phones, mut stresses] = [991, 773, 77];
        for sound in sounds {
            codes = join(codes, u32::from(sound.code()));
            phones = join(phones, u32::from(sound.phone as u8));
            if let Some(stress) = sound.stress {
                stresses = join(stresses, u32::from(stress.digit()));
            }
        }
        Self {
            said: [codes, phones, stresses].map(mix),
        }
    }
}

impl Context {
    /// The key in the table of weights for this context and answer; its first 24 bits are well mixed.
    #[must_use]
    pub fn key(self, answer: &Answer) -> u32 {
        let said = answer.said[self.view as usize];
        self.hash.wrapping_add(said).wrapping_mul(0x2545_f491)
    }
}

/// The letters of a word, numbered.
#[derive(Clone, Debug)]
pub struct Letters {
    padded: Vec<u32>,
    length: usize,
    /// Groups of vowel letters up to each place, and behind it.
    groups: Vec<(u32, u32)>,
    endings: [u32; 4],
}

/// What has been decided for the letters before.
#[derive(Clone, Copy, Debug)]
pub struct Past {
    /// The last answers, by their number, latest first.
    answers: [u16; 4],
    phones: [u8; 3],
    vowel: u8,
    stresses: u32,
    has_primary: bool,
}

fn is_vowel_letter(letter: u32) -> bool {
    matches!(letter, 1 | 5 | 9 | 15 | 21 | 25)
}

/// Vowel letters, the apostrophe, and l m n r t w: letters that may bring a vowel along.
fn may_be_vowel(letter: u32) -> bool {
    is_vowel_letter(letter) || matches!(letter, 12 | 13 | 14 | 18 | 20 | 23 | 27)
}

/// The number of a letter, 1 to 27, `None` for anything but a–z and the plain apostrophe.
#[must_use]
pub fn number(letter: u8) -> Option<u8> {
    match letter {
        b'a'..=b'z' => Some(letter - b'a' + 1),
        b'\'' => Some(27),
        _ => None,
    }
}

impl Letters {
    /// Of letters by their numbers.
    #[must_use]
    pub fn new(numbers: &[u8]) -> Self {
        let mut padded = vec![BORDER; numbers.len() + 2 * PADDING];
        let mut groups = Vec::with_capacity(numbers.len());
        let (mut count, mut inside) = (0, false);
        for (place, letter) in padded.iter_mut().skip(PADDING).zip(numbers) {
            *place = u32::from(*letter);
            let vowel = is_vowel_letter(*place);
            count += u32::from(vowel && !inside);
            inside = vowel;
            groups.push((count, 0));
        }
        for group in &mut groups {
            // Capped, so that far places of a very long word look alike.
            group.1 = (count - group.0).min(7);
            group.0 = group.0.min(7);
        }
        let endings = Self::endings(&padded, numbers.len());
        Self {
            padded,
            length: numbers.len(),
            groups,
            endings,
        }
    }

    /// How many letters there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.length
    }

    /// Whether there is none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.length == 0
    }

    /// The two letters before a place, the nearer first, and the two behind it.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, reason = "letters are below 31")]
    pub fn beside(&self, at: usize) -> [u8; 4] {
        let here = PADDING + at;
        [here - 1, here - 2, here + 1, here + 2].map(|place| self.padded[place] as u8)
    }

    /// The last two, three, four and five letters.
    fn endings(padded: &[u32], length: usize) -> [u32; 4] {
        let end = PADDING + length;
        let ending =
            |letters| (1..=letters).fold(0x77, |hash, back| join(hash, padded[end - back]));
        [2, 3, 4, 5].map(ending)
    }

    /// The contexts that hold whatever was decided before, for the letter at a place.
    pub fn around(&self, at: usize, contexts: &mut Vec<Context>) {
        contexts.clear();
        let letters = &self.padded;
        let here = PADDING + at;
        let mut add = |hash: u32, view: View| {
            contexts.push(Context {
                hash: mix(hash),
                view,
            })
        };
        for before in 0..=BEFORE {
            if before > 1 && letters[here + 1 - before] == BORDER {
                break;
            }
            let left = letters[here - before..=here]
                .iter()
                .fold(0x1234 + u32::from(before == 0), |hash, letter| {
                    join(hash, *letter)
                });
            let mut string = join(left, 50);
            for behind in 0..=BEHIND.min(TOGETHER - before) {
                if behind > 0 {
                    if behind > 1 && letters[here + behind - 1] == BORDER {
                        break;
                    }
                    string = join(string, letters[here + behind]);
                }
                add(join(string, 100), View::Sounds);
                if before + behind >= LONG {
                    add(join(string, 200), View::Phones);
                }
            }
        }
        let [previous, letter, next, second, third] = [
            letters[here - 1],
            letters[here],
            letters[here + 1],
            letters[here + 2],
            letters[here + 3],
        ];
        let (left, right) = self.groups[at];
        let from_end = u32::try_from((self.length - at).min(12)).unwrap_or(12);
        let [two, three, four, five] = self.endings;
        add(all([letter, three, from_end, 301]), View::Sounds);
        add(all([letter, four, from_end, 302]), View::Sounds);
        add(all([letter, two, right, left.min(3), 303]), View::Sounds);
        add(all([letter, three, right, next, 304]), View::Sounds);
        if is_vowel_letter(letter) {
            add(all([letter, four, right, 305]), View::Stress);
            add(all([letter, five, right, 306]), View::Stress);
            add(all([letter, three, right, left, 307]), View::Stress);
            let beginning = all([letters[PADDING], letters[PADDING + 1], letters[PADDING + 2]]);
            add(
                all([letter, beginning, left, right.min(3), 308]),
                View::Stress,
            );
        }
        add(all([letter, next, third, 309]), View::Sounds);
        add(
            all([
                letter,
                second,
                if is_vowel_letter(next) { next } else { 0 },
                310,
            ]),
            View::Sounds,
        );
        add(all([letter, previous, second, 311]), View::Sounds);
    }

    /// The contexts that depend on what was decided before.
    pub fn behind(&self, at: usize, past: &Past, contexts: &mut Vec<Context>) {
        contexts.clear();
        let letters = &self.padded;
        let here = PADDING + at;
        let [previous, letter, next, second, third] = [
            letters[here - 1],
            letters[here],
            letters[here + 1],
            letters[here + 2],
            letters[here + 3],
        ];
        let mut add = |hash: u32, view: View| {
            contexts.push(Context {
                hash: mix(hash),
                view,
            })
        };
        // The letter and its sounds, back one to four places.
        let pair = |back: usize| u32::from(past.answers[back]) * 32 + letters[here - 1 - back];
        let one = all([letter, pair(0), 401]);
        let two = join(one, pair(1));
        let three = join(two, pair(2));
        let four = join(three, pair(3));
        add(join(one, next), View::Sounds);
        add(join(two, 402), View::Sounds);
        add(join(join(two, next), 403), View::Sounds);
        add(join(three, 404), View::Sounds);
        add(join(join(join(two, next), second), 405), View::Sounds);
        add(join(four, 406), View::Sounds);
        add(join(join(four, next), 407), View::Sounds);
        add(
            join(join(join(join(one, next), second), third), 408),
            View::Sounds,
        );
        let [last, before, third_last] = past.phones.map(u32::from);
        add(all([letter, last, 420]), View::Phones);
        add(all([letter, last, before, next, 421]), View::Phones);
        add(all([letter, last, before, third_last, 422]), View::Phones);
        let vowel = u32::from(past.vowel);
        add(all([letter, vowel, next, 430]), View::Sounds);
        if may_be_vowel(letter) {
            let right = self.groups[at].1;
            let primary = u32::from(past.has_primary);
            let [ending_two, ending_three, ending_four, _] = self.endings;
            add(all([past.stresses, right, 440]), View::Stress);
            add(all([past.stresses, ending_three, right, 441]), View::Stress);
            add(all([primary, ending_two, right, 444]), View::Stress);
            add(all([past.stresses, letter, right, 445]), View::Sounds);
            add(
                all([past.stresses & 15, letter, next, second, 446]),
                View::Sounds,
            );
            add(
                all([primary, letter, next, previous, right, 447]),
                View::Sounds,
            );
            add(all([primary, ending_four, right, 448]), View::Stress);
        }
    }
}

impl Past {
    /// Before the first letter.
    #[must_use]
    pub fn nothing() -> Self {
        Self {
            answers: [u16::MAX; 4],
            phones: [99; 3],
            vowel: 99,
            stresses: 0,
            has_primary: false,
        }
    }

    /// With the answer for one more letter: its number, and its sounds.
    #[must_use]
    pub fn then(&self, answer: u16, sounds: &[Sound]) -> Self {
        let mut past = *self;
        past.answers = [answer, self.answers[0], self.answers[1], self.answers[2]];
        for sound in sounds {
            past.phones = [sound.phone as u8, past.phones[0], past.phones[1]];
            if let Some(stress) = sound.stress {
                past.vowel = sound.code();
                // The last five vowels, two bits each; 0 is no vowel.
                past.stresses = ((past.stresses << 2) | u32::from(stress.digit() + 1)) & 0x3ff;
                past.has_primary |= stress == Stress::Primary;
            }
        }
        past
    }

    /// Whether a vowel has had the main stress.
    #[must_use]
    pub fn has_primary(&self) -> bool {
        self.has_primary
    }
}
