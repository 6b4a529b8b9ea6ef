//! How alike two sounds are to the ear: 0 for the same sound, 1 for sounds that have nothing in common.
//!
//! That voicing is heard least, nasals form a set of their own, and likeness of features predicts half-rhymes, is read in
//! "Rhyme and the structure of English consonants" (2003), Kawahara (2007) and Katz (2015). The sizes are our choice.

use crate::words::phone::{Class, Phone};
use Phone::*;

/// From this distance on, consonants are no kin any more.
pub const KIN: f64 = 0.5;

/// The most that vowels behind the stressed one can differ.
pub const MOST_BEHIND: f64 = 0.5;

/// Vowels that are near each other. All others are 1 apart.
const VOWELS: &[(Phone, Phone, f64)] = &[
    (AA, AO, 0.15),
    (IH, EH, 0.4),
    (IH, IY, 0.4),
    (UH, UW, 0.4),
    (AH, UH, 0.4),
    (EH, AE, 0.4),
    (IH, AH, 0.4),
    (EY, EH, 0.45),
    (OW, AO, 0.45),
    (AE, AA, 0.45),
    (AH, AA, 0.5),
    (AH, EH, 0.5),
    (AY, OY, 0.5),
    (AH, AO, 0.5),
    (ER, AH, 0.5),
    (EY, IY, 0.55),
    (OW, UW, 0.55),
    (AW, AA, 0.6),
    (AY, AA, 0.6),
];

/// How far two vowels are apart.
///
/// ```
/// use breathmark::words::{phone::Phone::*, rhyme::likeness::between_vowels};
/// assert!(between_vowels(IH, IY) < between_vowels(EY, IY));
/// assert_eq!(between_vowels(IY, UW), 1.0);
/// ```
#[must_use]
pub fn between_vowels(one: Phone, other: Phone) -> f64 {
    if one == other {
        return 0.0;
    }
    let row = APART.get(one as usize);
    row.and_then(|row| row.get(other as usize))
        .copied()
        .unwrap_or(1.0)
}

/// [`VOWELS`] by the numbers of both vowels, which come first among the phones.
const APART: [[f64; 15]; 15] = {
    let mut table = [[1.0; 15]; 15];
    let mut row = 0;
    while row < VOWELS.len() {
        let (one, other, distance) = VOWELS[row];
        table[one as usize][other as usize] = distance;
        table[other as usize][one as usize] = distance;
        row += 1;
    }
    table
};

/// Where a consonant is made; those of one manner and place differ at most in voicing.
fn place(phone: Phone) -> u8 {
    match phone {
        P | B | M | W => 0,
        F | V => 1,
        TH | DH => 2,
        T | D | S | Z | N | L | R => 3,
        SH | ZH | CH | JH | Y => 4,
        K | G | NG => 5,
        _ => 6,
    }
}

/// How far two consonants are apart.
///
/// ```
/// use breathmark::words::{phone::Phone::*, rhyme::likeness::between_consonants};
/// assert_eq!(between_consonants(S, Z), 0.25);
/// assert!(between_consonants(M, N) < between_consonants(P, T));
/// ```
#[must_use]
pub fn between_consonants(one: Phone, other: Phone) -> f64 {
    use Class::{Affricate, Fricative, Nasal, Stop};
    if one == other {
        return 0.0;
    }
    let voicing = one.is_voiced() != other.is_voiced();
    let hushed = |phone: Phone| phone.class() == Affricate || phone.is_sibilant();
    match (one.class(), other.class()) {
        (Nasal, Nasal) => 0.3,
        (a, b) if a == b && place(one) == place(other) && voicing => 0.25,
        (Stop, Stop) => further(0.45, voicing),
        (Fricative, Fricative | Affricate) | (Affricate, Fricative | Affricate)
            if hushed(one) && hushed(other) =>
        {
            further(0.5, voicing)
        }
        (Fricative, Fricative) => further(0.45, voicing),
        (Fricative, Affricate) | (Affricate, Fricative) => further(0.5, voicing),
        (Stop, Fricative) | (Fricative, Stop) => {
            if voicing {
                0.9
            } else {
                0.8
            }
        }
        _ => 1.0,
    }
}

fn further(distance: f64, voicing: bool) -> f64 {
    if voicing { distance + 0.2 } else { distance }
}

/// What it costs that one side has a consonant more.
#[must_use]
pub fn missing(phone: Phone) -> f64 {
    match phone {
        T | D | S | Z => 0.5,
        M | N | NG => 0.6,
        _ => 0.7,
    }
}

/// No two vowels of an English word stand further apart.
const LONGEST: usize = 12;

/// How far two groups of consonants are apart: the cheapest way to turn one into the other, over the longer one's length.
///
/// ```
/// use breathmark::words::{phone::Phone::*, rhyme::likeness::between_codas};
/// assert_eq!(between_codas(&[N, D], &[N]), 0.25);
/// assert_eq!(between_codas(&[], &[]), 0.0);
/// ```
#[must_use]
pub fn between_codas(one: &[Phone], other: &[Phone]) -> f64 {
    let longer = one.len().max(other.len());
    if longer == 0 || one == other {
        return 0.0;
    }
    // One row of the table; codas longer than any of English are cut.
    let mut row = [0.0; LONGEST + 1];
    let other = other.get(..LONGEST).unwrap_or(other);
    for (at, phone) in other.iter().enumerate() {
        if let [before, here] = row.get_mut(at..at + 2).unwrap_or_default() {
            *here = *before + missing(*phone);
        }
    }
    for a in one {
        let mut diagonal = row.first().copied().unwrap_or_default();
        let mut left = diagonal + missing(*a);
        if let Some(first) = row.first_mut() {
            *first = left;
        }
        for (above, b) in row.iter_mut().skip(1).zip(other) {
            let cost = (diagonal + between_consonants(*a, *b))
                .min(*above + missing(*a))
                .min(left + missing(*b));
            diagonal = *above;
            *above = cost;
            left = cost;
        }
    }
    #[expect(clippy::cast_precision_loss, reason = "a handful of consonants")]
    let length = longer as f64;
    (row.get(other.len()).copied().unwrap_or_default() / length).min(1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_of_vowels_has_no_pair_twice() {
        for (index, (one, other, distance)) in VOWELS.iter().enumerate() {
            assert!(one.is_vowel() && other.is_vowel() && one != other);
            assert!((0.0..1.0).contains(distance));
            for (a, b, _) in VOWELS.iter().skip(index + 1) {
                assert!((a, b) != (one, other) && (a, b) != (other, one));
            }
        }
    }

    #[test]
    fn distances_are_the_same_both_ways() {
        for one in Phone::all().filter(|phone| !phone.is_vowel()) {
            for other in Phone::all().filter(|phone| !phone.is_vowel()) {
                let distance = between_consonants(one, other);
                assert!((distance - between_consonants(other, one)).abs() < 1e-12);
                assert_eq!(distance < 1e-12, one == other);
                assert!(distance <= 1.0);
            }
        }
        let there = between_codas(&[L, D], &[D]);
        assert!((there - between_codas(&[D], &[L, D])).abs() < 1e-12);
    }

    /// The order of the evidence: voicing least, nasals next, then place, then manner.
    #[test]
    fn consonants_keep_the_order_of_the_evidence() {
        let rising = [(S, Z), (M, N), (P, T), (F, SH), (T, S), (T, N)];
        let distances: Vec<f64> = rising
            .iter()
            .map(|(one, other)| between_consonants(*one, *other))
            .collect();
        assert!(distances.is_sorted(), "{distances:?}");
    }
}
