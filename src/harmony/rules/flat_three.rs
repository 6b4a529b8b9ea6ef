//! The major chord on the lowered third degree.

use super::{Example, Offer, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "flat three",
    family: Family::Mixture,
    word: "rough",
    idiom: [0, 1, 1, 2, 0, 2],
    cost: 2200,
    difference: 4,
    free: false,
    source: "de Clercq and Temperley, A corpus analysis of rock harmony, Popular Music 30 (2011): from it 28 % go to the fourth degree, 24 % to the lowered sixth, 21 % to the lowered seventh",
    offer,
    pro: Example {
        key: "G",
        chords: "G G C D",
        slot: 1,
        melody: "D5 2 F5 2",
        chord: "Bb",
    },
    contra: Example {
        key: "G",
        chords: "G G C D",
        slot: 1,
        melody: "B4 2 D5 2",
        chord: "Bb",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let replaces = spot.is_major_on(0) || spot.is_minor_on(4);
    if spot.in_minor() || !replaces || spot.first || !spot.sings_only(&[3, 7, 10]) {
        return Vec::new();
    }
    Spot::triad(spot.key().degree(3, -1), true)
        .map(|chord| Offer::whole(chord).before_roots(spot.roots(&[5, 8, 10])))
        .into_iter()
        .collect()
}
