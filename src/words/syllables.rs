//! Syllables of a string of sounds: one to a vowel, parted by the maximal onset.

use super::phone::{Phone, Sound};
use Phone::*;
use std::ops::Range;

/// The clusters that open English syllables; every single consonant but NG does too. The textbook rule for three is s,
/// then p t k, then l r w y. Clusters that only names have (SHW SHL SHM VL ZW) are left out.
#[rustfmt::skip]
const ONSETS: &[&[Phone]] = &[
    &[P, L], &[P, R], &[P, Y], &[B, L], &[B, R], &[B, Y], &[T, R], &[T, W], &[D, R], &[D, W], &[K, L], &[K, R],
    &[K, W], &[K, Y], &[G, L], &[G, R], &[G, W], &[F, L], &[F, R], &[F, Y], &[V, Y], &[TH, R], &[TH, W], &[SH, R],
    &[HH, Y], &[M, Y], &[HH, W], &[S, P], &[S, T], &[S, K], &[S, M], &[S, N], &[S, L], &[S, W], &[S, F], &[S, P, L],
    &[S, P, R], &[S, P, Y], &[S, T, R], &[S, K, R], &[S, K, W], &[S, K, L], &[S, K, Y],
];

/// Whether these consonants can open an English syllable; none at all can.
///
/// ```
/// use breathmark::words::{phone::Phone::*, syllables::is_onset};
/// assert!(is_onset(&[S, T, R]) && is_onset(&[N]) && is_onset(&[]));
/// assert!(!is_onset(&[NG]) && !is_onset(&[N, D]));
/// ```
#[must_use]
pub fn is_onset(consonants: &[Phone]) -> bool {
    match consonants {
        [] => true,
        [one] => *one != NG && !one.is_vowel(),
        several => ONSETS.contains(&several),
    }
}

/// How many of these consonants, which stand between two vowels, open the second vowel's syllable: the longest tail
/// that can (maximal onset).
#[must_use]
pub fn onset_length(consonants: &[Phone]) -> usize {
    (0..=consonants.len().min(3))
        .rev()
        .find(|length| {
            let tail = consonants.get(consonants.len() - length..);
            tail.is_some_and(is_onset)
        })
        .unwrap_or(0)
}

/// As [`onset_length`].
fn onset(between: &[Sound]) -> usize {
    let tail = between.get(between.len().saturating_sub(3)..);
    match *tail.unwrap_or_default() {
        [] => 0,
        [a] => onset_length(&[a.phone]),
        [a, b] => onset_length(&[a.phone, b.phone]),
        [a, b, c, ..] => onset_length(&[a.phone, b.phone, c.phone]),
    }
}

/// The syllables, as ranges of the sounds. A word without a vowel (*mmm*) is one syllable; no sounds are none.
///
/// ```
/// use breathmark::words::{phone::Sound, syllables::syllables};
/// let winter = Sound::parse_all("W IH1 N T ER0").unwrap_or_default();
/// assert_eq!(syllables(&winter), [0..3, 3..5]);
/// ```
#[must_use]
pub fn syllables(sounds: &[Sound]) -> Vec<Range<usize>> {
    if sounds.is_empty() {
        return Vec::new();
    }
    let mut ranges = Vec::new();
    let mut start = 0;
    let mut last_vowel = None;
    for (index, _) in sounds
        .iter()
        .enumerate()
        .filter(|(_, sound)| sound.is_vowel())
    {
        if let Some(before) = last_vowel {
            let between = sounds.get(before + 1..index).unwrap_or_default();
            let cut = index - onset(between);
            ranges.push(start..cut);
            start = cut;
        }
        last_vowel = Some(index);
    }
    ranges.push(start..sounds.len());
    ranges
}

/// How many syllables these sounds have: the vowels, but at least one where there is a sound.
#[must_use]
pub fn count(sounds: &[Sound]) -> usize {
    let vowels = sounds.iter().filter(|sound| sound.is_vowel()).count();
    vowels.max(usize::from(!sounds.is_empty()))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(sounds: &str, expected: &str) {
        let sounds = Sound::parse_all(sounds).unwrap_or_default();
        let parts: Vec<String> = syllables(&sounds)
            .into_iter()
            .filter_map(|range| sounds.get(range))
            .map(|part| {
                part.iter()
                    .map(Sound::to_string)
                    .collect::<Vec<_>>()
                    .join(" ")
            })
            .collect();
        assert_eq!(parts.join(" | "), expected);
        assert_eq!(parts.len(), count(&sounds));
    }

    #[test]
    fn the_longest_onset_goes_right() {
        check("W AO1 T ER0", "W AO1 | T ER0");
        check("W IH1 N T ER0", "W IH1 N | T ER0");
        check("M AA1 N S T ER0", "M AA1 N | S T ER0");
        check("EH0 K S T R AH0", "EH0 K | S T R AH0");
        check("S IH1 NG ER0", "S IH1 NG | ER0");
        check("F IH1 NG G ER0", "F IH1 NG | G ER0");
        check("P OW1 AH0 M", "P OW1 | AH0 M");
        check("AH0 TH L EH1 T IH0 K", "AH0 TH | L EH1 | T IH0 K");
        check("P AH1 B L IH0 SH", "P AH1 | B L IH0 SH");
    }

    #[test]
    fn words_without_a_vowel_are_one_syllable() {
        check("HH M", "HH M");
        check("", "");
    }

    #[test]
    fn the_table_has_no_row_twice_and_no_vowel() {
        for (index, row) in ONSETS.iter().enumerate() {
            assert!(row.len() > 1 && row.iter().all(|phone| !phone.is_vowel()));
            assert!(!ONSETS.iter().skip(index + 1).any(|other| other == row));
        }
    }
}
