//! The minor chord on the fifth degree: no leading tone pulls.

use super::{Example, Offer, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "minor five",
    family: Family::Mixture,
    word: "older, unresolved",
    idiom: [3, 3, 1, 1, 1, 1],
    cost: 1600,
    difference: 3,
    free: false,
    source: "Nottingham Music Database, 1031 tunes with chord letters, counted for this: fits 46 % of the slots on the dominant",
    offer,
    pro: Example {
        key: "Em",
        chords: "Em C B Em",
        slot: 2,
        melody: "B4 2 F#4 2",
        chord: "Bm",
    },
    contra: Example {
        key: "Em",
        chords: "Em C B Em",
        slot: 2,
        melody: "B4 2 D#5 2",
        chord: "Bm",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    if !spot.is_dominant() || spot.sings(11) {
        return Vec::new();
    }
    Spot::triad(spot.base.root(), false)
        .map(|chord| {
            Offer::whole(chord)
                .before_roots(spot.roots(&[0, 5, 10]))
                .because("the leading tone is gone")
        })
        .into_iter()
        .collect()
}
