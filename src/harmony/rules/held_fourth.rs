//! The fourth held before the third: the chord waits for itself.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "held fourth",
    family: Family::Colour,
    word: "suspense",
    idiom: [1, 3, 2, 0, 3, 2],
    cost: 800,
    difference: 1,
    free: false,
    source: "common practice of accompanists, no source",
    offer,
    pro: Example {
        key: "G",
        chords: "G C D G",
        slot: 2,
        melody: "A4 3 - 1",
        chord: "Dsus4",
    },
    contra: Example {
        key: "G",
        chords: "G C D G",
        slot: 2,
        melody: "F#4 3 - 1",
        chord: "Dsus4",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let fits = (spot.is_dominant() || spot.is_major_on(0)) && spot.place != Place::SectionEnd;
    if !fits || spot.base.is_inverted() {
        return Vec::new();
    }
    let kind = if spot.base.has_seventh() {
        "suspended seventh"
    } else {
        "suspended fourth"
    };
    let Some(held) = Spot::of_kind(spot.base.root(), kind) else {
        return Vec::new();
    };
    let root = spot.above_tonic(spot.base.root());
    let whole = (!spot.sings_over_root(4)).then(|| {
        Offer::whole(held.clone())
            .before_roots(spot.roots(&[root, (root + 5) % 12]))
            .because("its third is held back")
    });
    let resolved = spot.middle().map(|middle| {
        Offer::split(held, spot.base.clone(), middle).because("its third comes late")
    });
    whole.into_iter().chain(resolved).collect()
}
