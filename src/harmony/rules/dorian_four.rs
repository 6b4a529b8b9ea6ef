//! The major chord on the fourth degree of minor: the Dorian sixth.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "Dorian four",
    family: Family::Mixture,
    word: "lift inside the dark",
    idiom: [3, 3, 1, 2, 1, 2],
    cost: 1000,
    difference: 3,
    free: false,
    source: "Nottingham Music Database, 1031 tunes with chord letters, counted for this: 37 % of the chords on the fourth degree of minor are major",
    offer,
    pro: Example {
        key: "Em",
        chords: "Em Am Em D",
        slot: 1,
        melody: "A4 2 E4 2",
        chord: "A",
    },
    contra: Example {
        key: "Em",
        chords: "Em Am Em D",
        slot: 1,
        melody: "C5 2 A4 2",
        chord: "A",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let four = spot.is_minor_on(5);
    let home = spot.is_minor_on(0)
        && !spot.first
        && spot.place == Place::Inside
        && spot.sings_only(&[0, 5, 9]);
    if !(spot.in_minor() && (four || home)) || spot.sings(8) {
        return Vec::new();
    }
    let extra = if four { 0 } else { 600 };
    Spot::triad(spot.key().degree(4, 0), true)
        .map(|chord| {
            Offer::whole(chord)
                .before_roots(spot.roots(&[0, 10]))
                .dearer(extra)
                .because("with the raised sixth")
        })
        .into_iter()
        .collect()
}
