//! The major chord a whole tone below home, in place of the dominant.

use super::{Example, Offer, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "flat seven for five",
    family: Family::Mixture,
    word: "rough, old",
    idiom: [3, 3, 1, 1, 1, 1],
    cost: 1600,
    difference: 4,
    free: false,
    source: "Nottingham Music Database, 1031 tunes with chord letters, counted for this: of these chords 50 % go to the tonic; in 200 rock songs 49 % (de Clercq and Temperley 2011)",
    offer,
    pro: Example {
        key: "Em",
        chords: "Em C B7 Em",
        slot: 2,
        melody: "A4 2 D5 2",
        chord: "D",
    },
    contra: Example {
        key: "Em",
        chords: "Em C B7 Em",
        slot: 2,
        melody: "D#5 2 A4 2",
        chord: "D",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    if spot.above_tonic(spot.base.root()) != 7 || spot.sings_any(&[7, 11]) {
        return Vec::new();
    }
    Spot::triad(spot.key().degree(7, -1), true)
        .map(|chord| {
            Offer::whole(chord)
                .before_roots(spot.roots(&[0, 5]))
                .because("home is reached from a whole tone below")
        })
        .into_iter()
        .collect()
}
