//! The diminished chord on the leading tone: the dominant without its root.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "leading-tone chord",
    family: Family::Function,
    word: "tighter",
    idiom: [0, 1, 1, 0, 2, 2],
    cost: 1600,
    difference: 2,
    free: false,
    source: "Nottingham Music Database, 1031 tunes with chord letters, counted for this: fits 47 % of the slots on the dominant",
    offer,
    pro: Example {
        key: "G",
        chords: "G C D G",
        slot: 2,
        melody: "A4 2 F#4 2",
        chord: "F#dim",
    },
    contra: Example {
        key: "G",
        chords: "G C D G",
        slot: 2,
        melody: "D5 2 F#4 2",
        chord: "F#dim",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    if !spot.is_dominant() || spot.sings(7) || spot.place == Place::HalfCadence {
        return Vec::new();
    }
    let onward = spot.roots(&[0, if spot.in_minor() { 8 } else { 9 }]);
    Spot::of_kind(spot.key().degree(7, 0), "diminished")
        .map(|chord| {
            Offer::whole(chord)
                .before_roots(onward)
                .because("it creeps up to home")
        })
        .into_iter()
        .collect()
}
