//! Another note of the chord in the bass: the same harmony, on its way.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "bass note",
    family: Family::Bass,
    word: "motion, floating",
    idiom: [1, 3, 3, 1, 3, 3],
    cost: 500,
    difference: 1,
    free: true,
    source: "Nottingham Music Database, 1031 tunes with chord letters, counted for this: 1.9 % of the chords written have a slash",
    offer,
    pro: Example {
        key: "G",
        chords: "G C D G",
        slot: 1,
        melody: "E5 4",
        chord: "C/E",
    },
    contra: Example {
        key: "G",
        chords: "G C D G / G C D G",
        slot: 3,
        melody: "G4 4",
        chord: "G/B",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    if spot.base.is_inverted() || !matches!(spot.place, Place::Inside | Place::BeforeClose) {
        return Vec::new();
    }
    let third = spot
        .base
        .tone(3)
        .map(|third| Offer::whole(spot.base.over(third)).because("its third is in the bass"));
    // The fifth in the bass is unrest: only before the dominant, or between two steps of the bass.
    let fifth = spot.base.tone(5).map(|fifth| {
        let chord = Offer::whole(spot.base.over(fifth));
        if spot.is_home() {
            let dominant = spot.roots(&[7]);
            return chord
                .before_roots(dominant)
                .because("its fifth is in the bass, the dominant follows");
        }
        let near = spot.roots(&[1, 2, 10, 11].map(|s| (spot.above_tonic(fifth) + s) % 12));
        chord
            .after_roots(near)
            .before_roots(near)
            .because("its fifth is in the bass, a step on the way")
    });
    third.into_iter().chain(fifth).collect()
}
