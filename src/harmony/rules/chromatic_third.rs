//! A major chord a third from home, from outside the key, under a note that both share.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "chromatic third",
    family: Family::Mixture,
    word: "wonder",
    idiom: [0, 1, 1, 0, 0, 2],
    cost: 2600,
    difference: 4,
    free: false,
    source: "common practice of film and song writers, no source",
    offer,
    pro: Example {
        key: "G",
        chords: "G G C G",
        slot: 1,
        melody: "B4 4",
        chord: "B",
    },
    contra: Example {
        key: "G",
        chords: "G G C G",
        slot: 1,
        melody: "B4 2 D5 2",
        chord: "B",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    if !spot.is_major_on(0) || spot.first || spot.place != Place::Inside {
        return Vec::new();
    }
    let key = spot.key();
    // Degree, its alteration, and the note shared with home.
    [(3, 0, 4), (6, 0, 4), (6, -1, 0), (3, -1, 7)]
        .into_iter()
        .filter(|&(_, _, shared)| spot.sings(shared) && spot.sings_only(&[shared]))
        .filter_map(|(degree, alter, _)| {
            let chord = Spot::triad(key.degree(degree, alter), true)?;
            let on_by_fifth = (spot.above_tonic(chord.root()) + 5) % 12;
            Some(
                Offer::whole(chord)
                    .before_roots(spot.roots(&[0, on_by_fifth]))
                    .because("the sung note stays, all else shifts"),
            )
        })
        .collect()
}
