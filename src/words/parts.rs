//! Where a written word breaks between its syllables, as printed songs break it: by spelling and word parts, not by
//! sounds alone (*riv-er*, *sing-ing*). Always as many parts as syllables.

use super::align::{Group, align};
use super::dictionary;
use super::phone::{Phone, Sound, Stress};
use super::syllables;

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

fn is_vowel_letter(letter: u8) -> bool {
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
        if let Some(at) = doubled(spelled) {
            return group.start + at;
        }
        if is_hushed(spelled) {
            return group.start;
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
        if self.ends_in_le(right) {
            return self.group(last).start;
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
            (Phone::IH, b"i" | b"y") | (Phone::UH, b"o" | b"u") => true,
            (Phone::IH, _) => !before_r && spelled.len() == 1,
            (Phone::EH, b"e" | b"ea" | b"a" | b"ai")
            | (Phone::AH, b"ou" | b"o" | b"u" | b"oo")
            | (Phone::AE, b"a" | b"au") => true,
            (Phone::AA, b"o" | b"ho") => true,
            (Phone::AO, b"o") => !before_r,
            _ => false,
        };
        short && matches!(sound.stress, Some(Stress::Primary | Stress::Secondary))
    }
}

/// Where a doubled letter parts, `tt` of *letter*, `ssi` of *passion*.
fn doubled(spelled: &[u8]) -> Option<usize> {
    match spelled {
        [a, b, ..] if a == b && !is_vowel_letter(*a) => Some(1),
        b"cq" | b"cqu" => Some(1),
        _ => None,
    }
}

/// -ti-, -ci-, -si- said as one sound go with the ending: *na-tion*, *spe-cial*.
fn is_hushed(spelled: &[u8]) -> bool {
    matches!(
        spelled,
        b"ti" | b"ci" | b"si" | b"sci" | b"xi" | b"ce" | b"zi"
    )
}

/// The bounds given, and those of the prefixes and suffixes that the letters show.
fn word_bounds(word: &str, sounds: &[Sound], given: &[usize]) -> Vec<usize> {
    let mut bounds = given.to_vec();
    if word.len() > 4 && word.starts_with("mc") {
        bounds.push(2);
    }
    let stem = word
        .strip_suffix("'s")
        .or_else(|| word.strip_suffix("s'"))
        .or_else(|| word.strip_suffix('s'))
        .unwrap_or(word);
    for prefix in ["un", "dis", "mis", "with", "out", "up"] {
        let opens = word.strip_prefix(prefix).is_some_and(|rest| rest.len() > 2);
        let is_you = sounds.first().is_some_and(|sound| sound.phone == Phone::Y);
        if opens && !is_you {
            bounds.push(prefix.len());
        }
    }
    for suffix in [
        "ness", "less", "ful", "ment", "ship", "hood", "ward", "some", "ly",
    ] {
        if let Some(base) = stem.strip_suffix(suffix)
            && base.len() > 2
            && !(suffix == "ly" && matches!(base.as_bytes().last(), Some(b'p' | b'f')))
        {
            bounds.push(base.len());
        }
    }
    for (suffix, known) in [
        ("ing", is_verb as fn(&str) -> bool),
        ("ings", is_verb),
        ("ed", is_verb),
        ("er", is_agent),
        ("est", is_adjective),
        ("en", is_bare),
        ("y", is_noun),
    ] {
        if let Some(base) = stem.strip_suffix(suffix)
            && base.len() > 2
            && known(base)
        {
            bounds.push(without_doubling(base));
        }
    }
    bounds
}

/// Where the suffix begins: behind the base, or between the letters doubled for it (*run-ning*, but *call-ing*).
fn without_doubling(base: &str) -> usize {
    match base.as_bytes() {
        [.., a, b] if a == b && !is_vowel_letter(*a) => {
            let own = matches!(a, b'l' | b's' | b'f' | b'z') && dictionary::has(base);
            base.len() - usize::from(!own)
        }
        _ => base.len(),
    }
}

fn is_verb(base: &str) -> bool {
    let undoubled = base.len() - 1;
    dictionary::has(base)
        || dictionary::has(&format!("{base}e"))
        || (without_doubling(base) == undoubled
            && base.get(..undoubled).is_some_and(dictionary::has))
}

fn is_agent(base: &str) -> bool {
    !matches!(base, "corn" | "numb" | "lett" | "bann" | "mann")
        && is_verb(base)
        && dictionary::has(&format!("{base}ing"))
        && dictionary::has(&format!("{base}ed"))
}

fn is_adjective(base: &str) -> bool {
    base != "temp" && is_verb(base) && dictionary::has(&format!("{base}er"))
}

fn is_bare(base: &str) -> bool {
    base.len() > 2
        && !matches!(base, "list" | "gard" | "hast" | "kitch" | "lint")
        && dictionary::has(base)
        && dictionary::has(&format!("{base}s"))
}

fn is_noun(base: &str) -> bool {
    base.len() > 3
        && !matches!(
            base,
            "part" | "count" | "pant" | "bell" | "full" | "cher" | "bount"
        )
        && dictionary::has(base)
        && dictionary::has(&format!("{base}s"))
        && dictionary::has(&format!("{base}ing"))
}

/// Words that the rules break wrongly, as dictionaries break them; in the order of their letters.
#[rustfmt::skip]
const EXCEPTIONS: &[&str] = &[
    "a-gain", "al-read-y", "an-oth-er", "an-y", "ar-my", "beau-ty", "bod-y", "bur-y", "bus-y", "di-a-mond", "earth-ly",
    "eve-ning", "ev-er", "for-ev-er", "for-ev-er-more", "is-land", "na-ive", "nev-er-more", "rhy-thm", "sail-or",
];

fn exception(word: &str, count: usize) -> Option<Vec<usize>> {
    let stems = [
        word,
        word.strip_suffix("'s").unwrap_or(word),
        word.strip_suffix('s').unwrap_or(word),
    ];
    let letters = |row: &'static str| row.bytes().filter(|sign| *sign != b'-');
    let row = stems.iter().find_map(|stem| {
        let at = EXCEPTIONS.binary_search_by(|row| letters(row).cmp(stem.bytes()));
        EXCEPTIONS.get(at.ok()?)
    })?;
    let mut at = 0;
    let mut starts = Vec::new();
    for part in row.split('-') {
        starts.push(at);
        at += part.len();
    }
    (starts.len() == count).then_some(starts)
}

/// Where a suffix behind this stem begins: behind it, or between the letters that were doubled for it.
pub(super) fn suffix_start(stem: &str) -> usize {
    without_doubling(stem)
}
