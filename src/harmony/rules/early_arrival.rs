//! The next chord a beat early.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "early arrival",
    family: Family::Rhythm,
    word: "eager",
    idiom: [2, 2, 3, 3, 0, 3],
    cost: 800,
    difference: 2,
    free: false,
    source: "our choice",
    offer,
    pro: Example {
        key: "G",
        chords: "G C D G",
        slot: 0,
        melody: "B4 2 G4 1 C5 1",
        chord: "G C",
    },
    contra: Example {
        key: "G",
        chords: "G G C D",
        slot: 0,
        melody: "B4 2 G4 1 C5 1",
        chord: "G C",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let Some(next) = spot.next.filter(|next| next.root() != spot.base.root()) else {
        return Vec::new();
    };
    let beat = spot.slot.meter.beat();
    let early = spot.slot.length - beat;
    let on_beat = (spot.slot.start + early).modulo(beat).is_zero();
    if early < beat * 2 || !on_beat || !matches!(spot.place, Place::Inside) {
        return Vec::new();
    }
    vec![
        Offer::split(spot.base.clone(), next.clone(), early)
            .before_the_written()
            .because(format!("{} comes a beat early", next.name())),
    ]
}
