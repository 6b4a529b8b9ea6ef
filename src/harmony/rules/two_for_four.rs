//! The second degree for the fourth and back: both lead to the dominant.

use super::{Example, Offer, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "two for four",
    family: Family::Function,
    word: "softer, plainer",
    idiom: [1, 2, 2, 1, 3, 3],
    cost: 1000,
    difference: 2,
    free: false,
    source: "Nottingham Music Database, 1031 tunes with chord letters, counted for this: from the second degree 88 % go to the fifth",
    offer,
    pro: Example {
        key: "G",
        chords: "G C D G",
        slot: 1,
        melody: "C5 2 E5 2",
        chord: "Am7",
    },
    contra: Example {
        key: "G",
        chords: "G Am D G",
        slot: 1,
        melody: "A4 2 C5 2",
        chord: "C",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let second = spot.key().degree(2, 0);
    let chord = if spot.is_major_on(5) {
        Spot::of_kind(second, "minor seventh")
    } else if spot.is_minor_on(5) {
        Spot::of_kind(second, "half-diminished")
    } else if spot.above_tonic(spot.base.root()) == 2 && spot.base.is_minor() && !spot.sings(2) {
        let minor = spot
            .base
            .intervals()
            .iter()
            .any(|t| (t.degree, t.semitones) == (5, 6));
        Spot::triad(spot.key().degree(4, 0), !minor)
    } else {
        None
    };
    let onward = spot.roots(&[0, 7]);
    chord
        .map(|chord| Offer::whole(chord).before_roots(onward))
        .into_iter()
        .collect()
}
