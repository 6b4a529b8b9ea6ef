//! The fourth or second degree in place of the dominant, in the middle of a line.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "four for five",
    family: Family::Function,
    word: "held back",
    idiom: [2, 2, 2, 3, 2, 2],
    cost: 1800,
    difference: 4,
    free: false,
    source: "Nottingham Music Database, 1031 tunes with chord letters, counted for this: fits 35 % (second degree) and 14 % (fourth) of the slots on the dominant",
    offer,
    pro: Example {
        key: "G",
        chords: "G D G C",
        slot: 1,
        melody: "C5 2 E5 2",
        chord: "C",
    },
    contra: Example {
        key: "G",
        chords: "G D G C",
        slot: 1,
        melody: "F#4 2 E5 2",
        chord: "C",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let fifth = spot.above_tonic(spot.base.root()) == 7 && spot.base.third().is_some();
    if !fifth || spot.place != Place::Inside || spot.sings_any(&[10, 11]) {
        return Vec::new();
    }
    let home = spot.roots(&[0]);
    let fourth = if spot.sings_any(&[2, 7]) {
        None
    } else {
        Spot::triad(spot.key().degree(4, 0), !spot.in_minor() || spot.sings(9))
    };
    let second = if spot.in_minor() {
        None
    } else {
        Spot::triad(spot.key().degree(2, 0), false)
    };
    fourth
        .into_iter()
        .chain(second)
        .map(|chord| Offer::whole(chord).before_roots(home))
        .collect()
}
