//! The chord before goes on.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::melody::Part;
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "hold over",
    family: Family::Rhythm,
    word: "calm",
    idiom: [3, 3, 2, 3, 2, 1],
    cost: 800,
    difference: 2,
    free: false,
    source: "our choice; shape-note tunes stay long on the tonic",
    offer,
    pro: Example {
        key: "G",
        chords: "G C D G",
        slot: 1,
        melody: "D5 2 B4 2",
        chord: "G",
    },
    contra: Example {
        key: "G",
        chords: "G C D G / G C D G",
        slot: 3,
        melody: "D5 4",
        chord: "D",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let Some(before) = spot
        .before
        .filter(|before| before.root() != spot.base.root())
    else {
        return Vec::new();
    };
    // What is sung strongly has to belong to the chord that goes on.
    let passes = |part: &&Part| !part.is_strong() || before.sounds(part.class());
    if spot.place != Place::Inside
        || spot.begins_line
        || !spot.parts.iter().all(|part| passes(&part))
    {
        return Vec::new();
    }
    vec![
        Offer::whole(before.clone())
            .after_roots(Spot::root_bit(before.root()))
            .because(format!("{} goes on", before.name())),
    ]
}
