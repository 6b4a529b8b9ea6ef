//! The seventh chord a whole tone below home.

use super::{Example, Offer, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "back door",
    family: Family::Push,
    word: "side door",
    idiom: [0, 1, 1, 1, 0, 3],
    cost: 2400,
    difference: 4,
    free: false,
    source: "common practice of jazz musicians, no source",
    offer,
    pro: Example {
        key: "C",
        chords: "C F G7 C",
        slot: 2,
        melody: "D5 2 F4 2",
        chord: "Bb7",
    },
    contra: Example {
        key: "C",
        chords: "C F G7 C",
        slot: 2,
        melody: "G4 2 D5 2",
        chord: "Bb7",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    if spot.in_minor() || !spot.is_dominant() || !spot.sings_only(&[2, 5, 8, 10]) {
        return Vec::new();
    }
    Spot::of_kind(spot.key().degree(7, -1), "seventh")
        .map(|chord| Offer::whole(chord).before_roots(spot.roots(&[0])))
        .into_iter()
        .collect()
}
