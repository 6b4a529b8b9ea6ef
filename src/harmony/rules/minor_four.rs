//! The fourth degree turned minor, borrowed from the parallel minor.

use super::{Example, Offer, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "minor four",
    family: Family::Mixture,
    word: "ache",
    idiom: [0, 2, 2, 1, 2, 3],
    cost: 1800,
    difference: 3,
    free: false,
    source: "Gotham and others, Open Music Theory (2021), Modal Mixture; fits 32 % of the slots on the fourth degree in the Nottingham Music Database",
    offer,
    pro: Example {
        key: "G",
        chords: "G C G D",
        slot: 1,
        melody: "C5 2 G4 2",
        chord: "Cm",
    },
    contra: Example {
        key: "G",
        chords: "G C G D",
        slot: 1,
        melody: "C5 2 E5 2",
        chord: "Cm",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    if spot.in_minor() || !spot.is_major_on(5) || spot.base.has_seventh() {
        return Vec::new();
    }
    let Some(minor) = Spot::triad(spot.base.root(), false) else {
        return Vec::new();
    };
    let onward = spot.roots(&[0, 7]);
    let whole = (!spot.sings(9)).then(|| Offer::whole(minor.clone()));
    let late = spot
        .middle()
        .map(|middle| Offer::split(spot.base.clone(), minor, middle));
    whole
        .into_iter()
        .chain(late)
        .map(|offer| offer.before_roots(onward).because("its third falls"))
        .collect()
}
