//! Two falling fourths into home, flat seven and four, in place of one chord.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "double plagal",
    family: Family::Mixture,
    word: "rolling home",
    idiom: [1, 2, 2, 2, 0, 1],
    cost: 2000,
    difference: 4,
    free: false,
    source: "de Clercq and Temperley, A corpus analysis of rock harmony, Popular Music 30 (2011): 25 % of the chords on the lowered seventh go to the fourth degree",
    offer,
    pro: Example {
        key: "G",
        chords: "G C D G",
        slot: 2,
        melody: "F4 2 C5 2",
        chord: "F C",
    },
    contra: Example {
        key: "G",
        chords: "G C D G",
        slot: 2,
        melody: "F#4 2 C5 2",
        chord: "F C",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let root = spot.above_tonic(spot.base.root());
    let ends = matches!(spot.place, Place::Inside | Place::BeforeClose);
    if !matches!(root, 5 | 7) || !ends || spot.sings_any(&[7, 11]) {
        return Vec::new();
    }
    let key = spot.key();
    let chords = (
        Spot::triad(key.degree(7, -1), true),
        Spot::triad(key.degree(4, 0), true),
        spot.middle(),
    );
    let (Some(seventh), Some(fourth), Some(middle)) = chords else {
        return Vec::new();
    };
    vec![Offer::split(seventh, fourth, middle).before_roots(spot.roots(&[0]))]
}
