//! The dominant seventh a tritone away: third and seventh change places.

use super::{Example, Offer, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "tritone substitute",
    family: Family::Push,
    word: "slippery",
    idiom: [0, 0, 0, 1, 0, 3],
    cost: 3000,
    difference: 4,
    free: false,
    source: "common practice of jazz musicians, no source; fits 7 % of the slots on the dominant in the Nottingham Music Database",
    offer,
    pro: Example {
        key: "C",
        chords: "C F G7 C",
        slot: 2,
        melody: "F4 2 B4 2",
        chord: "Db7",
    },
    contra: Example {
        key: "C",
        chords: "C F G7 C",
        slot: 2,
        melody: "D5 2 B4 2",
        chord: "Db7",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    if !spot.is_dominant() || !spot.sings_only(&[1, 5, 8, 11]) {
        return Vec::new();
    }
    Spot::of_kind(spot.key().degree(2, -1), "seventh")
        .map(|chord| {
            Offer::whole(chord)
                .before_roots(spot.roots(&[0]))
                .because("it slips home by a semitone")
        })
        .into_iter()
        .collect()
}
