//! Where a written word breaks between its syllables, as printed songs break it: by spelling and word parts, not by
//! sounds alone (*riv-er*, *sing-ing*). Always as many parts as syllables.

use super::align::{Group, align};
use super::phone::{Phone, Sound, Stress};
use super::syllables;

pub(super) mod bounds;
mod exceptions;

use bounds::word_bounds;
use exceptions::exception;

/// Where the parts begin, as indices of letters, ascending; the first is 0.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Parts {
    /// One for each syllable.
    pub starts: Vec<usize>,
    /// Whether the letters could not be read as the sounds, so that the word was only split evenly.
    pub guessed: bool,
}

/// Breaks a word in plain lower-case letters into as many parts as the sounds have syllables.
///
/// ```
/// use breathmark::words::{parts::break_word, phone::Sound};
/// let river = Sound::parse_all("R IH1 V ER0").unwrap_or_default();
/// assert_eq!(break_word("river", &river, &[]).starts, [0, 3]);
/// ```
///
/// `bounds` are letters at which a part of the word (a prefix, a suffix, a second word) is known to begin.
#[must_use]
pub fn break_word(word: &str, sounds: &[Sound], bounds: &[usize]) -> Parts {
    let count = syllables::count(sounds);
    if count < 2 {
        return Parts {
            starts: vec![0; count],
            guessed: false,
        };
    }
    if let Some(starts) = exception(word, count) {
        return Parts {
            starts,
            guessed: false,
        };
    }
    let letters = word.as_bytes();
    if bounds.len() + 1 == count
        && bounds.is_sorted_by(|a, b| a < b)
        && bounds
            .iter()
            .all(|bound| (1..letters.len()).contains(bound))
    {
        let starts = std::iter::once(0).chain(bounds.iter().copied()).collect();
        return Parts {
            starts,
            guessed: false,
        };
    }
    let Some((groups, hardly)) = align(letters, sounds) else {
        return split_evenly(letters, count);
    };
    let word = Word {
        letters,
        sounds,
        groups: &groups,
        bounds: &word_bounds(word, sounds, bounds),
    };
    let mut starts = vec![0];
    let mut first = None;
    for (second, _) in sounds
        .iter()
        .enumerate()
        .filter(|(_, sound)| sound.is_vowel())
    {
        if let Some(first) = first {
            starts.push(word.break_between(first, second));
        }
        first = Some(second);
    }
    let rising = starts.is_sorted_by(|a, b| a < b)
        && starts.last().is_some_and(|last| *last < letters.len());
    if rising && !hardly {
        return Parts {
            starts,
            guessed: false,
        };
    }
    split_evenly(letters, count)
}

/// Splits at vowels where there are enough of them, else by length.
pub(super) fn split_evenly(letters: &[u8], count: usize) -> Parts {
    let mut nuclei: Vec<usize> = Vec::new();
    for (index, letter) in letters.iter().enumerate() {
        let after_vowel = index > 0
            && letters
                .get(index - 1)
                .is_some_and(|before| is_vowel_letter(*before));
        if is_vowel_letter(*letter) && !after_vowel {
            nuclei.push(index);
        }
    }
    let starts = if nuclei.len() >= count {
        (0..count)
            .map(|part| {
                let nucleus = nuclei
                    .get(part * nuclei.len() / count)
                    .copied()
                    .unwrap_or(0);
                let consonant = nucleus > 0
                    && letters
                        .get(nucleus - 1)
                        .is_some_and(|before| !is_vowel_letter(*before));
                if part == 0 {
                    0
                } else {
                    nucleus - usize::from(consonant)
                }
            })
            .collect()
    } else {
        (0..count)
            .map(|part| part * letters.len() / count)
            .collect()
    };
    Parts {
        starts,
        guessed: true,
    }
}

pub(super) fn is_vowel_letter(letter: u8) -> bool {
    matches!(letter, b'a' | b'e' | b'i' | b'o' | b'u' | b'y' | b'#')
}

struct Word<'a> {
    letters: &'a [u8],
    sounds: &'a [Sound],
    groups: &'a [Group],
    bounds: &'a [usize],
}

impl Word<'_> {
    fn group(&self, sound: usize) -> Group {
        self.groups.get(sound).copied().unwrap_or_default()
    }

    fn spelled(&self, sound: usize) -> &[u8] {
        let group = self.group(sound);
        self.letters.get(group.start..group.end).unwrap_or_default()
    }

    fn phone(&self, sound: usize) -> Option<Phone> {
        self.sounds.get(sound).map(|sound| sound.phone)
    }

    fn letter(&self, at: usize) -> Option<u8> {
        self.letters.get(at).copied()
    }

    /// The letter that opens the part of the second vowel, given the vowels before and behind the break.
    fn break_between(&self, first: usize, second: usize) -> usize {
        let left = self.group(first).end;
        let right = self.group(second).start;
        if let Some(bound) = self
            .bounds
            .iter()
            .rev()
            .find(|bound| (left..=right).contains(*bound))
        {
            return *bound;
        }
        // A sound that shares its letters with the vowel (the Y of *value*) belongs to it.
        let consonants: Vec<usize> = (first + 1..second)
            .filter(|sound| self.group(*sound).start < right)
            .collect();
        match consonants.as_slice() {
            [] => self.between_vowels(first, second),
            [one] => self.around_one(first, *one, right),
            several => self.among(first, several, right),
        }
    }

    fn between_vowels(&self, first: usize, second: usize) -> usize {
        let (one, two) = (self.group(first), self.group(second));
        if two.shares || two.start <= one.start {
            // *fi-re*, *hou-r*, *pow-er*.
            let spelled = self.spelled(first);
            let ends_in_re = spelled.ends_with(b"re");
            let open = spelled
                .len()
                .saturating_sub(if ends_in_re || spelled.ends_with(b"er") {
                    2
                } else {
                    1
                });
            return one.start + open.max(1);
        }
        if self.phone(first) == Some(Phone::ER) {
            let spelled = self.spelled(first);
            let doubled = self.letter(one.end) == Some(b'r') || spelled.ends_with(b"rr");
            let keeps_r = spelled == b"er" && !doubled;
            let last_r = spelled
                .iter()
                .rposition(|letter| *letter == b'r')
                .map_or(one.end, |at| one.start + at);
            return if doubled && spelled.ends_with(b"rr") {
                last_r
            } else if keeps_r || doubled {
                one.end
            } else {
                last_r.max(one.start + 1)
            };
        }
        two.start
    }

    /// One consonant sound between the vowels.
    fn around_one(&self, first: usize, consonant: usize, right: usize) -> usize {
        let group = self.group(consonant);
        let spelled = self.spelled(consonant);
        if let Some(at) = self.silent_t(group, right) {
            return at;
        }
        if let Some(at) = self.behind_x(consonant) {
            return at;
        }
        if let Some(at) = doubled(spelled) {
            return group.start + at;
        }
        if is_hushed(spelled) || self.phone(consonant) == Some(Phone::ZH) {
            return group.start;
        }
        // *na-tion-al*
        let before = self.letters.get(..group.start).unwrap_or_default();
        if spelled == b"n" && before.ends_with(b"io") {
            return group.end;
        }
        if self.ends_in_le(right) {
            return if spelled == b"ck" { right } else { group.start };
        }
        if matches!(spelled, b"x" | b"ck" | b"ng" | b"tch" | b"dg" | b"dge") {
            return right;
        }
        // *love-ly*: an unsounded e stays with the vowel that it lengthens.
        if self.silent_letter(group.end, right) == Some(b'e') {
            return right;
        }
        if self.is_short_and_stressed(first, consonant) {
            group.end
        } else {
            group.start
        }
    }

    /// Two or more consonant sounds.
    fn among(&self, first: usize, consonants: &[usize], right: usize) -> usize {
        let last = consonants.last().copied().unwrap_or(first);
        if let Some(at) = self.silent_t(self.group(last), right) {
            return at;
        }
        if let Some(at) = consonants.iter().find_map(|sound| self.behind_x(*sound)) {
            return at;
        }
        if self.ends_in_le(right) {
            return self.group(last).start;
        }
        if let [one, two] = consonants
            && self.phone(*two) == Some(Phone::Y)
            && let Some(at) = self.before_gliding_i(first, *one)
        {
            return at;
        }
        if let Some(at) = self.silent_inside(consonants) {
            return at;
        }
        let phones: Vec<Phone> = consonants
            .iter()
            .filter_map(|sound| self.phone(*sound))
            .collect();
        let mut open = syllables::onset_length(&phones);
        let whole = open == phones.len();
        if whole
            && let Some(at) = consonants
                .first()
                .and_then(|one| Some(self.group(*one).start + doubled(self.spelled(*one))?))
        {
            return at;
        }
        let first_is_s = phones.first() == Some(&Phone::S)
            && phones.get(1) != Some(&Phone::L)
            && phones.get(1) != Some(&Phone::W);
        let after_open_prefix = matches!(
            self.letters.get(..self.group(first).end),
            Some(b"re" | b"de" | b"be" | b"a" | b"pre" | b"pro")
        );
        let short = consonants
            .first()
            .is_some_and(|one| self.is_short_and_stressed(first, *one));
        let long = self.phone(first).is_some_and(Phone::is_long_vowel);
        if whole && (short || (first_is_s && !long && !after_open_prefix)) {
            open -= 1;
        }
        let opening = consonants
            .get(consonants.len() - open..)
            .and_then(<[usize]>::first);
        opening.map_or(right, |sound| {
            self.group(*sound).start.max(self.group(first).end)
        })
    }

    /// An x stays left: *ex-am-ple*, *box-er*, *anx-ious*.
    fn behind_x(&self, consonant: usize) -> Option<usize> {
        let at = self
            .spelled(consonant)
            .iter()
            .position(|letter| *letter == b'x')?;
        Some(self.group(consonant).start + at + 1)
    }

    /// One consonant and the Y of *mil-lion*, *sen-ior*: *se-nior* behind a long vowel, *val-iant* behind a short one.
    fn before_gliding_i(&self, vowel: usize, consonant: usize) -> Option<usize> {
        let group = self.group(consonant);
        if let Some(at) = doubled(self.spelled(consonant)) {
            return Some(group.start + at);
        }
        if self.phone(vowel).is_some_and(Phone::is_long_vowel) {
            return Some(group.start);
        }
        self.is_short_and_stressed(vowel, consonant)
            .then_some(group.end)
    }

    /// A vowel letter that is not sounded among the consonants: behind an e the next part begins (*some-thing*), before
    /// a dropped vowel it begins too (*ev-ery*, *fam-ily*).
    fn silent_inside(&self, consonants: &[usize]) -> Option<usize> {
        for pair in consonants.windows(2) {
            let &[one, two] = pair else { continue };
            let (end, start) = (self.group(one).end, self.group(two).start);
            if let Some(at) = doubled(self.spelled(one))
                && self.silent_letter(end, start).is_some()
            {
                return Some(self.group(one).start + at);
            }
            match self.silent_letter(end, start)? {
                b'e' if self.phone(two) != Some(Phone::R) => return Some(start),
                _ => return Some(end),
            }
        }
        None
    }

    /// The vowel letter that stands unsounded between these places.
    fn silent_letter(&self, from: usize, to: usize) -> Option<u8> {
        let gap = self.letters.get(from..to)?;
        gap.iter()
            .copied()
            .find(|letter| is_vowel_letter(*letter) && *letter != b'#')
    }

    fn is_before_i_and_consonant(&self, consonant: usize) -> bool {
        let behind = self
            .letters
            .get(self.group(consonant).end..)
            .unwrap_or_default();
        matches!(behind, [b'i', letter, ..] if !is_vowel_letter(*letter))
    }

    /// The silent t of *cas-tle*, *lis-ten*, *of-ten* opens the next part.
    fn silent_t(&self, group: Group, right: usize) -> Option<usize> {
        let at = right.checked_sub(1)?;
        let in_st = self.letters.get(group.start..group.end) == Some(b"st") && group.end == right;
        let dropped = at >= group.end && self.letter(at) == Some(b't');
        (in_st || dropped).then_some(at)
    }

    fn ends_in_le(&self, right: usize) -> bool {
        matches!(
            self.letters.get(right..),
            Some(b"le" | b"les" | b"led" | b"le's" | b"les'" | b"l'd")
        )
    }

    /// A vowel that keeps the consonant behind it: stressed, short, spelled by one letter or as in *heaven, trouble*;
    /// the O of *honor* too. Before r only as in *spir-it*, *ver-y*: *he-ro*, *glo-ry* are open.
    fn is_short_and_stressed(&self, vowel: usize, next: usize) -> bool {
        let Some(sound) = self.sounds.get(vowel) else {
            return false;
        };
        let spelled = self.spelled(vowel);
        let before_r = self.phone(next) == Some(Phone::R);
        let short = match (sound.phone, spelled) {
            (Phone::IH, b"i" | b"y") => true,
            (Phone::UH, b"o" | b"u" | b"oo") => !before_r,
            (Phone::IH, _) => !before_r && spelled.len() == 1,
            (Phone::EH, b"e" | b"ea" | b"a" | b"ai")
            | (Phone::AH, b"ou" | b"o" | b"u" | b"oo")
            | (Phone::AE, b"a" | b"au") => true,
            (Phone::AA, b"o" | b"ho") => true,
            // *qual-i-ty*
            (Phone::AA, b"a") => self
                .group(vowel)
                .start
                .checked_sub(1)
                .is_some_and(|at| matches!(self.letter(at), Some(b'w' | b'u'))),
            // *au-thor-i-ty*, but *glo-ri-ous*
            (Phone::AO, b"o") => !before_r || self.is_before_i_and_consonant(next),
            _ => false,
        };
        short && matches!(sound.stress, Some(Stress::Primary | Stress::Secondary))
    }
}

/// Where a doubled letter parts, `tt` of *letter*, `ssi` of *passion*.
fn doubled(spelled: &[u8]) -> Option<usize> {
    match spelled {
        [a, b, ..] if a == b && !is_vowel_letter(*a) => Some(1),
        b"cq" | b"cqu" | b"dj" => Some(1),
        _ => None,
    }
}

/// -ti-, -ci-, -si- said as one sound go with the ending: *na-tion*, *spe-cial*.
fn is_hushed(spelled: &[u8]) -> bool {
    matches!(
        spelled,
        b"ti" | b"ci" | b"si" | b"sci" | b"ce" | b"zi" | b"gi"
    )
}
