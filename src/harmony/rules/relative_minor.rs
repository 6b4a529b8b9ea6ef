//! The minor chord a third below a major one; two of three notes stay.

use super::{Example, Offer, Rule, Spot};
use crate::harmony::variant::Family;
use crate::music::interval::Interval;

/// The rule.
pub const RULE: Rule = Rule {
    name: "relative minor",
    family: Family::Relative,
    word: "darker",
    idiom: [2, 3, 3, 1, 2, 3],
    cost: 1000,
    difference: 2,
    free: false,
    source: "Nottingham Music Database, 1031 tunes with chord letters, counted for this: of 10,202 slots on the tonic 55 % have their main notes in the chord a third below",
    offer,
    pro: Example {
        key: "G",
        chords: "G C D G",
        slot: 1,
        melody: "C5 1 E5 1 C5 2",
        chord: "Am",
    },
    contra: Example {
        key: "G",
        chords: "G C D G",
        slot: 1,
        melody: "G4 2 E5 2",
        chord: "Am",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let dominant_seventh =
        spot.base.has_seventh() && spot.base.intervals().iter().any(|t| t.semitones == 10);
    // The old fifth would be a seventh; as a strong note it pulls the ear back to the old chord.
    if !spot.base.is_major() || dominant_seventh || spot.sings_over_root(7) {
        return Vec::new();
    }
    let root = Interval::new(6, 9).above(spot.base.root());
    let chord = Spot::triad(root, false).filter(|chord| spot.is_in_key(chord));
    // For the dominant this gives up the pull home.
    let extra = if spot.is_dominant() { 1000 } else { 0 };
    chord
        .map(|chord| Offer::whole(chord).once().dearer(extra))
        .into_iter()
        .collect()
}
