//! The chord a third above: it shares the upper two notes and leaves the root open.

use super::{Example, Offer, Rule, Spot};
use crate::harmony::variant::Family;
use crate::music::interval::Interval;

/// The rule.
pub const RULE: Rule = Rule {
    name: "third above",
    family: Family::Third,
    word: "wistful",
    idiom: [1, 2, 1, 0, 2, 3],
    cost: 1400,
    difference: 3,
    free: false,
    source: "Nottingham Music Database, 1031 tunes with chord letters, counted for this: fits 41 % of the slots on the tonic, 53 % of those on the fourth",
    offer,
    pro: Example {
        key: "G",
        chords: "G C G D",
        slot: 0,
        melody: "B4 2 D5 2",
        chord: "Bm",
    },
    contra: Example {
        key: "G",
        chords: "G C G D",
        slot: 0,
        melody: "G4 2 B4 2",
        chord: "Bm",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    if spot.sings_over_root(0) || spot.base.has_seventh() {
        return Vec::new();
    }
    let third = match spot.base.third() {
        Some(4) => Interval::new(3, 4),
        Some(3) => Interval::new(3, 3),
        _ => return Vec::new(),
    };
    let chord = Spot::triad(third.above(spot.base.root()), spot.base.is_minor());
    let Some(chord) = chord.filter(|chord| spot.is_in_key(chord)) else {
        return Vec::new();
    };
    let offer = Offer::whole(chord).once();
    // The chord on the third degree of major leads to the fourth or the sixth, rarely elsewhere.
    vec![if spot.is_major_on(0) {
        offer.before_roots(spot.roots(&[5, 9]))
    } else {
        offer
    }]
}
