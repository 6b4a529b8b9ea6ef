//! The dominant of the chord that follows.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;
use crate::music::interval::Interval;

/// The rule.
pub const RULE: Rule = Rule {
    name: "secondary dominant",
    family: Family::Push,
    word: "push",
    idiom: [2, 2, 3, 2, 3, 3],
    cost: 1600,
    difference: 3,
    free: false,
    source: "Nottingham Music Database, 1031 tunes with chord letters, counted for this: 29 % of the chords on the second degree of major are major, 55 % of those on the third",
    offer,
    pro: Example {
        key: "G",
        chords: "G Am D G",
        slot: 1,
        melody: "A4 2 E4 2",
        chord: "A7",
    },
    contra: Example {
        key: "G",
        chords: "G Am D G",
        slot: 1,
        melody: "C5 2 A4 2",
        chord: "A7",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let Some(next) = spot.next.filter(|c| c.is_major() || c.is_minor()) else {
        return Vec::new();
    };
    let root = Interval::new(5, 7).above(next.root());
    let same_root = root.class() == spot.base.root().class();
    // On the fifth degree it is the dominant itself.
    if spot.above_tonic(root) == 7
        || spot.place == Place::HalfCadence
        || (same_root && spot.base.has_seventh())
    {
        return Vec::new();
    }
    let over = |semitones: u8| (spot.above_tonic(root) + semitones) % 12;
    // Notes a semitone beside its third and its seventh spoil it.
    if spot.sings_any(&[over(3), over(5), over(11)]) {
        return Vec::new();
    }
    let extra = if same_root { 0 } else { 600 };
    Spot::of_kind(root, "seventh")
        .map(|chord| {
            Offer::whole(chord)
                .before_roots(Spot::root_bit(next.root()))
                .dearer(extra)
                .because(format!("it is the dominant of {}", next.name()))
        })
        .into_iter()
        .collect()
}
