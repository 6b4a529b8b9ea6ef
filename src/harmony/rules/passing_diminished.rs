//! A diminished chord between two chords a whole tone apart: the bass climbs by semitones.

use super::{Example, Offer, Rule, Spot};
use crate::harmony::variant::Family;
use crate::music::chord::Chord;
use crate::music::pitch::Note;

/// The rule.
pub const RULE: Rule = Rule {
    name: "passing diminished",
    family: Family::Push,
    word: "climb",
    idiom: [0, 1, 2, 2, 2, 3],
    cost: 2200,
    difference: 3,
    free: false,
    source: "common practice of accompanists, no source",
    offer,
    pro: Example {
        key: "G",
        chords: "G Am D G",
        slot: 0,
        melody: "G4 2 B4 2",
        chord: "G G#dim7",
    },
    contra: Example {
        key: "G",
        chords: "G C D G",
        slot: 0,
        melody: "G4 2 B4 2",
        chord: "G G#dim7",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let climbs = |next: &Chord| (12 + next.root().class() - spot.base.root().class()) % 12 == 2;
    let (Some(next), Some(middle)) = (spot.next.filter(|c| climbs(c)), spot.middle()) else {
        return Vec::new();
    };
    let raised = Note {
        alter: spot.base.root().alter + 1,
        ..spot.base.root()
    };
    if !spot.base.is_major() || spot.base.has_seventh() {
        return Vec::new();
    }
    Spot::of_kind(raised, "diminished seventh")
        .map(|chord| {
            Offer::split(spot.base.clone(), chord, middle)
                .before_roots(Spot::root_bit(next.root()))
                .because(format!("the bass climbs to {}", next.name()))
        })
        .into_iter()
        .collect()
}
