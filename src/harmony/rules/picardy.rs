//! The major third in the last chord of a minor song.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "Picardy third",
    family: Family::Mixture,
    word: "light at the close",
    idiom: [1, 2, 1, 0, 3, 1],
    cost: 1200,
    difference: 1,
    free: false,
    source: "common practice, no source",
    offer,
    pro: Example {
        key: "Em",
        chords: "Em C B7 Em",
        slot: 3,
        melody: "E4 4",
        chord: "E",
    },
    contra: Example {
        key: "Em",
        chords: "Em C B7 Em",
        slot: 3,
        melody: "E4 2 G4 2",
        chord: "E",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let closes = matches!(spot.place, Place::SectionEnd | Place::Close);
    let sings_third = spot
        .parts
        .iter()
        .any(|part| spot.above_tonic(part.pitch.note) == 3);
    if !closes || !spot.is_minor_on(0) || sings_third {
        return Vec::new();
    }
    Spot::triad(spot.base.root(), true)
        .map(Offer::whole)
        .into_iter()
        .collect()
}
