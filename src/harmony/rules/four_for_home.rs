//! The fourth degree where the melody on home allows it.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "four for home",
    family: Family::Function,
    word: "wide",
    idiom: [2, 2, 2, 3, 2, 2],
    cost: 1600,
    difference: 4,
    free: false,
    source: "Nottingham Music Database, 1031 tunes with chord letters, counted for this: fits 28 % of the slots on the tonic",
    offer,
    pro: Example {
        key: "G",
        chords: "G G D G",
        slot: 1,
        melody: "G4 2 E4 2",
        chord: "C",
    },
    contra: Example {
        key: "G",
        chords: "G G D G",
        slot: 1,
        melody: "B4 2 G4 2",
        chord: "C",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    if !spot.is_home() || spot.first || !matches!(spot.place, Place::Inside | Place::BeforeClose) {
        return Vec::new();
    }
    let sixth = if spot.in_minor() { 8 } else { 9 };
    if !spot.sings_only(&[0, 5, sixth]) {
        return Vec::new();
    }
    Spot::triad(spot.key().degree(4, 0), !spot.in_minor())
        .map(|chord| Offer::whole(chord).before_roots(spot.roots(&[0, 7])))
        .into_iter()
        .collect()
}
