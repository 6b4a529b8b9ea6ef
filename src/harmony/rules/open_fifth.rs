//! The chord without its third: bare, and neither major nor minor.

use super::{Example, Offer, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "open fifth",
    family: Family::Drone,
    word: "bare, old",
    idiom: [3, 2, 1, 1, 2, 0],
    cost: 800,
    difference: 2,
    free: true,
    source: "common practice of accompanists, no source",
    offer,
    pro: Example {
        key: "Em",
        chords: "Em D Em D",
        slot: 0,
        melody: "E4 2 G4 2",
        chord: "E5",
    },
    contra: Example {
        key: "Em",
        chords: "Em D F#dim B7",
        slot: 2,
        melody: "F#4 4",
        chord: "F#5",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let triad = spot.base.intervals().len() == 3 && !spot.base.is_inverted();
    let perfect = spot
        .base
        .intervals()
        .iter()
        .any(|t| (t.degree, t.semitones) == (5, 7));
    if !triad || !perfect || spot.base.third().is_none() {
        return Vec::new();
    }
    Spot::of_kind(spot.base.root(), "open fifth")
        .map(|chord| Offer::whole(chord).because("the third is left out"))
        .into_iter()
        .collect()
}
