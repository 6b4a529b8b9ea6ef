//! What a change asks of the ear. All figures are in thousandths; one relative minor is 1000.
//!
//! The costs of steps are half the natural logarithm of how much rarer a root motion is than the commonest one, mean of two
//! collections counted for this: the Nottingham Music Database (1031 British and American tunes with chord letters) and the 200
//! songs of de Clercq and Temperley ("A corpus analysis of rock harmony", Popular Music 30, 2011). Everything else is our choice.

use super::slot::Style;
use super::variant::Sounding;
use crate::music::chord::Chord;
use crate::music::quarters::Quarters;

/// Half the log of rarity by semitones that the root moves up, weighed with 0.3: counts come from dance and rock, where
/// the thirds that variants live on are rare.
const ROOT_MOTION: [i64; 12] = [0, 576, 159, 411, 459, 0, 897, 69, 450, 327, 228, 585];

/// What the bass asks by the distance it moves: a repeated note stands still, steps are best.
const BASS_MOTION: [i64; 7] = [200, 0, 0, 300, 400, 100, 800];

/// The cost of a step from one chord to the next; nothing where the same chord goes on, or where none sounds.
#[must_use]
pub fn step(from: Option<&Chord>, to: Option<&Chord>) -> i64 {
    let (Some(from), Some(to)) = (from, to) else {
        return 0;
    };
    if from == to {
        return 0;
    }
    let up = (12 + to.root().class() - from.root().class()) % 12;
    let bass = (12 + to.bass().class() - from.bass().class()) % 12;
    let at = |table: &[i64], index: u8| table.get(usize::from(index)).copied().unwrap_or(0);
    at(&ROOT_MOTION, up) + at(&BASS_MOTION, bass.min(12 - bass))
}

/// The steps between the chords inside one slot.
#[must_use]
pub fn steps_within(chords: &[Sounding]) -> i64 {
    chords
        .windows(2)
        .map(|pair| {
            step(
                pair.first().map(|s| &s.chord),
                pair.last().map(|s| &s.chord),
            )
        })
        .sum()
}

/// How much a rule costs more in a style, by its grade there from 3 (everyday) to 1 (rare); `None` where it is not offered.
/// Grades stand in the order of [`Style::ALL`].
#[must_use]
pub fn style(grades: [u8; 6], style: Style) -> Option<i64> {
    let at = Style::ALL.iter().position(|&(s, _)| s == style)?;
    match grades.get(at)? {
        0 => None,
        1 => Some(1500),
        2 => Some(600),
        _ => Some(0),
    }
}

/// What a third chord in a bar costs.
pub const CROWDED_BAR: i64 = 500;

/// What is added where nobody knows the melody and the rule depends on it.
pub const UNHEARD: i64 = 700;

/// What is taken off where the section's mood asks for the rule's effect.
pub const MOOD: i64 = 150;

/// How far two chords are from each other: 0 the same, 1 the same root, 2 two shared tones, else 4.
#[must_use]
pub fn distance(one: &Chord, other: &Chord) -> u8 {
    if one == other {
        0
    } else if one.root().class() == other.root().class() {
        1
    } else if (one.classes() & other.classes()).count_ones() >= 2 {
        2
    } else {
        4
    }
}

/// How far two fillings of one slot are from each other: the greatest [`distance`] of chords that sound together.
#[must_use]
pub fn distance_of_rows(one: &[Sounding], other: &[Sounding]) -> u8 {
    one.iter()
        .chain(other)
        .map(
            |s| match (sounding_at(one, s.after), sounding_at(other, s.after)) {
                (Some(a), Some(b)) => distance(a, b),
                (None, None) => 0,
                _ => 4,
            },
        )
        .max()
        .unwrap_or(0)
}

/// Whether two fillings have the same roots and basses at the same moments: another tone in a chord makes no other row.
#[must_use]
pub fn only_coloured(one: &[Sounding], other: &[Sounding]) -> bool {
    let skeleton = |s: &Sounding| (s.after, s.chord.root().class(), s.chord.bass().class());
    one.iter().map(skeleton).eq(other.iter().map(skeleton))
}

fn sounding_at(row: &[Sounding], after: Quarters) -> Option<&Chord> {
    let begun = row.iter().rev().find(|s| s.after <= after);
    begun.map(|s| &s.chord)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;

    fn chord(name: &str) -> Chord {
        Chord::parse(name).unwrap()
    }

    #[test]
    fn steps_cost_what_counts_say() {
        for (from, to, expected) in [
            ("G", "C", 100),
            ("C", "G", 169),
            ("C", "D", 159),
            ("G", "Em", 627),
            ("Em", "Am", 100),
            ("D/F#", "G", 0),
            ("G", "G", 0),
            ("G", "G7", 200),
            ("G", "G/B", 400),
        ] {
            assert_eq!(
                step(Some(&chord(from)), Some(&chord(to))),
                expected,
                "{from} {to}"
            );
        }
        assert_eq!(step(None, Some(&chord("G"))), 0);
    }

    #[test]
    fn rarely_used_rules_cost_more() {
        let grades = [0, 1, 2, 3, 3, 3];
        let costs = Style::ALL.map(|(s, _)| style(grades, s));
        assert_eq!(
            costs,
            [None, Some(1500), Some(600), Some(0), Some(0), Some(0)]
        );
    }

    #[test]
    fn chords_are_as_far_as_they_sound() {
        for (a, b, expected) in [
            ("C", "C", 0),
            ("C", "C7", 1),
            ("C", "Am", 2),
            ("C", "Dm", 4),
            ("C", "G", 4),
        ] {
            assert_eq!(distance(&chord(a), &chord(b)), expected, "{a} {b}");
        }
    }
}
