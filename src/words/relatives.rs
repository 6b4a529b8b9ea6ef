//! Words whose base or sibling is listed though they are not: *meadow* from *meadows*, *eligibility* from *eligible*.
//!
//! The ending of the listed word is taken off, letters and sounds, and the other one put there. Kept are the exchanges
//! that give a listed pronunciation for some nine in ten of the common words where the dictionary has both sides,
//! AH0 and IH0 taken as one.

use super::affixes::Derived;
use super::phone::{Phone, Sound, Stress};
use super::search::Search;
use super::written::{past, plural};

/// The ending of the word, its sounds; the ending of the listed word, the sounds this may have.
type Exchange = (
    &'static str,
    &'static str,
    &'static str,
    &'static [&'static str],
);

/// A word from its own inflected forms.
#[rustfmt::skip]
const INFLECTED: &[Exchange] = &[
    ("e", "", "es", &["IH0 Z", "AH0 Z"]), ("", "", "es", &["IH0 Z", "AH0 Z"]), ("", "", "s", &["Z", "S"]), ("y", "IY0", "ies", &["IY0 Z"]),
    ("y", "", "ies", &["Z"]), ("y", "", "ied", &["D"]), ("y", "IY0", "ier", &["IY0 ER0"]), ("y", "IY0", "iness", &["IY0 N AH0 S"]),
    ("y", "IY0", "ily", &["AH0 L IY0"]),
    ("e", "", "ed", &["IH0 D", "AH0 D", "D", "T"]), ("e", "", "ing", &["IH0 NG"]), ("", "", "ed", &["IH0 D", "AH0 D", "D", "T"]), ("", "", "ing", &["IH0 NG"]),
    ("al", "AH0 L", "ally", &["AH0 L IY0"]), ("ful", "F AH0 L", "fully", &["F AH0 L IY0"]), ("", "", "ly", &["L IY0"]), ("", "", "ness", &["N AH0 S", "N IH0 S"]),
    ("", "", "less", &["L AH0 S", "L IH0 S"]), ("", "", "ful", &["F AH0 L"]), ("", "", "ment", &["M AH0 N T"]),
    ("e", "", "er", &["ER0"]), ("", "", "er", &["ER0"]), ("", "", "able", &["AH0 B AH0 L"]), ("o", "OW0", "os", &["OW0 Z", "OW2 Z"]),
];

/// A word from others of its family. Where the new ending has the main stress, that of the listed word is lowered.
#[rustfmt::skip]
const SIBLINGS: &[Exchange] = &[
    ("ent", "AH0 N T", "ence", &["AH0 N S"]), ("ence", "AH0 N S", "ent", &["AH0 N T"]), ("ency", "AH0 N S IY0", "ent", &["AH0 N T"]),
    ("ent", "AH0 N T", "ency", &["AH0 N S IY0"]), ("ant", "AH0 N T", "ance", &["AH0 N S"]), ("ance", "AH0 N S", "ant", &["AH0 N T"]),
    ("ancy", "AH0 N S IY0", "ant", &["AH0 N T"]),
    ("ate", "EY2 T", "ating", &["EY2 T IH0 NG"]), ("ate", "EY2 T", "ator", &["EY2 T ER0"]), ("ator", "EY2 T ER0", "ated", &["EY2 T IH0 D", "EY2 T AH0 D"]),
    ("ator", "EY2 T ER0", "ate", &["EY2 T"]), ("ation", "EY1 SH AH0 N", "ate", &["EY2 T", "EY1 T"]), ("ation", "EY1 SH AH0 N", "ated", &["EY2 T IH0 D", "EY2 T AH0 D"]),
    ("ization", "AH0 Z EY1 SH AH0 N", "ize", &["AY2 Z"]), ("ization", "AH0 Z EY1 SH AH0 N", "ized", &["AY2 Z D"]),
    ("ability", "AH0 B IH1 L AH0 T IY0", "able", &["AH0 B AH0 L"]), ("ibility", "AH0 B IH1 L AH0 T IY0", "ible", &["AH0 B AH0 L"]),
    ("ably", "AH0 B L IY0", "able", &["AH0 B AH0 L"]), ("ibly", "AH0 B L IY0", "ible", &["AH0 B AH0 L"]),
    ("ical", "IH0 K AH0 L", "ic", &["IH0 K"]), ("ic", "IH0 K", "ical", &["IH0 K AH0 L"]), ("ic", "IH0 K", "ically", &["IH0 K L IY0"]),
    ("ologist", "AA1 L AH0 JH IH0 S T", "ology", &["AA1 L AH0 JH IY0"]), ("ology", "AA1 L AH0 JH IY0", "ologist", &["AA1 L AH0 JH IH0 S T", "AA1 L AH0 JH AH0 S T"]),
    ("ous", "AH0 S", "ously", &["AH0 S L IY0"]), ("ify", "AH0 F AY2", "ified", &["AH0 F AY2 D", "IH0 F AY2 D"]),
    ("ification", "AH0 F AH0 K EY1 SH AH0 N", "ify", &["AH0 F AY2", "IH0 F AY2"]), ("ifier", "AH0 F AY2 ER0", "ify", &["AH0 F AY2", "IH0 F AY2"]),
    ("ism", "IH2 Z AH0 M", "ist", &["IH0 S T", "AH0 S T"]), ("ist", "IH0 S T", "ism", &["IH2 Z AH0 M", "IH0 Z AH0 M"]), ("ism", "IH2 Z AH0 M", "ize", &["AY2 Z"]),
    ("icism", "IH0 S IH2 Z AH0 M", "ic", &["IH0 K"]), ("or", "ER0", "ing", &["IH0 NG"]), ("er", "ER0", "ing", &["IH0 NG"]), ("ing", "IH0 NG", "er", &["ER0"]),
    ("tor", "T ER0", "t", &["T"]), ("tive", "T IH0 V", "t", &["T"]), ("ize", "AY2 Z", "", &[""]), ("us", "AH0 S", "i", &["AY2"]),
];

/// Shorter rests of a word are left by chance.
const SHORTEST: usize = 3;
/// Relatives have to be words of the language: SCOWL's sizes up to 70.
const COMMON: u8 = 4;

/// The word from its own inflected forms.
pub(super) fn base(word: &str, search: &Search<'_>) -> Option<Derived> {
    exchanged(word, INFLECTED, search)
}

/// The word from others of its family.
pub(super) fn sibling(word: &str, search: &Search<'_>) -> Option<Derived> {
    exchanged(word, SIBLINGS, search)
}

fn exchanged(word: &str, exchanges: &[Exchange], search: &Search<'_>) -> Option<Derived> {
    exchanges.iter().find_map(|exchange| {
        let stem = word.strip_suffix(exchange.0)?;
        let other = exchange.2;
        // -ly swallows an L: *poetically* does not tell of *poetical*.
        if stem.len() < SHORTEST || other == "ly" && stem.ends_with('l') {
            return None;
        }
        let doubles =
            exchange.0.is_empty() && matches!(other, "ed" | "ing" | "er") && ends_short(stem);
        let last = stem.chars().last().filter(|_| doubles);
        let listed = last
            .map(|last| format!("{stem}{last}{other}"))
            .into_iter()
            // *car* has no part in *cared*.
            .chain((!doubles || !is_monosyllable(stem)).then(|| format!("{stem}{other}")));
        let sounds = listed
            .filter(|relative| search.rank(relative).is_some_and(|rank| rank <= COMMON))
            .find_map(|relative| {
                search
                    .listed(&relative)
                    .find_map(|said| swapped(word, exchange, &said.sounds().collect::<Vec<_>>()))
            })?;
        Some(Derived {
            sounds,
            bounds: Vec::new(),
            why: "relative",
        })
    })
}

/// The sounds with the ending exchanged; `None` where they end otherwise.
fn swapped(word: &str, exchange: &Exchange, sounds: &[Sound]) -> Option<Vec<Sound>> {
    let (_, own, other, tails) = exchange;
    tails.iter().find_map(|tail| {
        let tail = Sound::parse_all(tail)?;
        let mut sounds = sounds.strip_suffix(tail.as_slice())?.to_vec();
        let last = sounds.last()?;
        // The tail has to be the one that the base would take.
        let regular = match *other {
            "s" | "es" | "os" => Some(plural(*last)),
            "ed" => Some(past(*last)),
            _ => None,
        };
        let ending_phones = |sounds: &[Sound]| -> Vec<Phone> {
            let neutral = |sound: &Sound| {
                if sound.is_unstressed_vowel() {
                    Phone::AH
                } else {
                    sound.phone
                }
            };
            sounds.iter().map(neutral).collect()
        };
        if own.is_empty()
            && let Some(regular) = regular
            && ending_phones(&Sound::parse_all(regular)?) != ending_phones(&tail)
        {
            return None;
        }
        let before = sounds.len().checked_sub(2).and_then(|at| sounds.get(at));
        if word.ends_with("le")
            && last.phone == Phone::L
            && before.is_some_and(|sound| !sound.is_vowel())
        {
            sounds.insert(sounds.len() - 1, Sound::new(Phone::AH, Stress::None));
        }
        let own = Sound::parse_all(own)?;
        let is_main = |sound: &Sound| sound.stress == Some(Stress::Primary);
        if own.iter().any(is_main) {
            for sound in sounds.iter_mut().filter(|sound| is_main(sound)) {
                sound.stress = Some(Stress::Secondary);
            }
        }
        sounds.extend(own);
        sounds.iter().any(is_main).then_some(sounds)
    })
}

fn is_vowel(letter: u8) -> bool {
    matches!(letter, b'a' | b'e' | b'i' | b'o' | b'u' | b'y')
}

/// One vowel letter and one consonant at the end, which is doubled before a vowel if the stress is there: *run*, *admit*.
fn ends_short(stem: &str) -> bool {
    match stem.as_bytes() {
        [.., before, vowel, last] => {
            is_vowel(*vowel)
                && !is_vowel(*last)
                && !matches!(last, b'w' | b'x')
                && (!is_vowel(*before) || *before == b'u')
        }
        _ => false,
    }
}

/// Whether a stem has one group of vowel letters.
fn is_monosyllable(stem: &str) -> bool {
    let vowels = stem.bytes().map(is_vowel);
    vowels
        .clone()
        .zip(vowels.skip(1))
        .filter(|pair| *pair == (true, false))
        .count()
        <= 1
}

/// A stem that takes *-e* before it takes a vowel: *bit* of *biting*, since *bit* would double its consonant.
pub(super) fn wants_e(stem: &str) -> bool {
    ends_short(stem) && is_monosyllable(stem)
        || matches!(stem.as_bytes(), [vowel, last] if is_vowel(*vowel) && !is_vowel(*last))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::dictionary;
    use crate::words::phone::Phone;
    use crate::words::search::Listed;
    use crate::words::{SongWords, syllables};

    /// What is made of a word that the dictionary lists, as if it did not.
    fn hidden(word: &str, way: fn(&str, &Search<'_>) -> Option<Derived>) -> Option<Vec<Sound>> {
        let song = SongWords::default();
        let search = Search {
            song: &song,
            listed: Listed::AllBut(word),
            model: None,
        };
        way(word, &search).map(|derived| derived.sounds)
    }

    fn agree(one: &[Sound], other: &[Sound]) -> bool {
        let weak = |sound: &Sound| {
            sound.is_unstressed_vowel() && matches!(sound.phone, Phone::AH | Phone::IH)
        };
        let same = |(a, b): (&Sound, &Sound)| a.phone == b.phone || weak(a) && weak(b);
        one.len() == other.len() && one.iter().zip(other).all(same)
    }

    /// Against the CMU dictionary's own entries.
    #[test]
    fn words_are_found_from_their_relatives() {
        for (word, way) in [
            ("meadow", base as fn(&str, &Search<'_>) -> Option<Derived>),
            ("weary", base),
            ("run", base),
            ("handle", base),
            ("wonderful", base),
            ("excellence", sibling),
            ("navigation", sibling),
            ("navigator", sibling),
        ] {
            let found = hidden(word, way).unwrap_or_default();
            let mut listed = dictionary::lookup(word);
            assert!(
                listed.any(|said| agree(&said.sounds().collect::<Vec<_>>(), &found)),
                "{word}: {found:?}"
            );
        }
        for word in ["car", "gospel"] {
            let sounds = hidden(word, sibling);
            assert!(sounds.is_none(), "{word}: {sounds:?}");
        }
    }

    /// Against the CMU dictionary: one common word in twenty, left out.
    #[test]
    fn nearly_all_relatives_tell_the_truth() {
        let (mut all, mut right, mut counts) = (0, 0, 0);
        let common = dictionary::entries().filter(|entry| entry.rank <= COMMON);
        for entry in common.step_by(20) {
            let found = hidden(&entry.word, base).or_else(|| hidden(&entry.word, sibling));
            let Some(found) = found else { continue };
            let listed: Vec<Vec<Sound>> = entry
                .pronunciations
                .map(|said| said.sounds().collect())
                .collect();
            let count = syllables::count(&found);
            all += 1;
            right += usize::from(listed.iter().any(|said| agree(said, &found)));
            counts += usize::from(listed.iter().any(|said| syllables::count(said) == count));
        }
        assert!(all > 500, "{all}");
        assert!(right * 100 > all * 92, "{right} of {all}");
        assert!(counts * 100 > all * 98, "{counts} of {all}");
    }
}
