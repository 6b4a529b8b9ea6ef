//! The major chord on the lowered sixth degree.

use super::{Example, Offer, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "flat six",
    family: Family::Mixture,
    word: "grand, strange",
    idiom: [0, 1, 1, 1, 0, 2],
    cost: 2200,
    difference: 4,
    free: false,
    source: "de Clercq and Temperley, A corpus analysis of rock harmony, Popular Music 30 (2011): 3.6 % of the chords; 31 % go on to the lowered seventh, 45 % to the tonic",
    offer,
    pro: Example {
        key: "G",
        chords: "G Em F G",
        slot: 1,
        melody: "G4 2 Eb5 2",
        chord: "Eb",
    },
    contra: Example {
        key: "G",
        chords: "G Em F G",
        slot: 1,
        melody: "B4 2 G4 2",
        chord: "Eb",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let replaces = spot.is_minor_on(9) || spot.is_major_on(5);
    if spot.in_minor() || !replaces || !spot.sings_only(&[0, 3, 8]) {
        return Vec::new();
    }
    Spot::triad(spot.key().degree(6, -1), true)
        .map(|chord| Offer::whole(chord).before_roots(spot.roots(&[0, 10])))
        .into_iter()
        .collect()
}
