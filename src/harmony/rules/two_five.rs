//! Two steps along the fifths to the chord that follows, in one slot.

use super::{Example, Offer, Rule, Spot};
use crate::harmony::variant::Family;
use crate::music::interval::Interval;

/// The rule.
pub const RULE: Rule = Rule {
    name: "two-five of the next chord",
    family: Family::Push,
    word: "walk",
    idiom: [0, 1, 1, 1, 1, 3],
    cost: 2200,
    difference: 4,
    free: false,
    source: "common practice of jazz musicians, no source",
    offer,
    pro: Example {
        key: "G",
        chords: "G Em Am D",
        slot: 1,
        melody: "B4 2 G#4 2",
        chord: "Bm7b5 E7",
    },
    contra: Example {
        key: "G",
        chords: "G Em Am D",
        slot: 1,
        melody: "C5 2 G4 2",
        chord: "Bm7b5 E7",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let goal = spot.next.filter(|c| c.is_major() || c.is_minor());
    let (Some(next), Some(middle)) = (goal, spot.middle()) else {
        return Vec::new();
    };
    let second = Interval::new(2, 2).above(next.root());
    let kind = if next.is_minor() {
        "half-diminished"
    } else {
        "minor seventh"
    };
    let chords = (
        Spot::of_kind(second, kind),
        Spot::of_kind(Interval::new(5, 7).above(next.root()), "seventh"),
    );
    let (Some(two), Some(five)) = chords else {
        return Vec::new();
    };
    if two.root().class() == spot.base.root().class()
        || spot.sings_only(&[]) && spot.slot.notes_known
    {
        return Vec::new();
    }
    let reason = format!("two steps along the fifths to {}", next.name());
    vec![
        Offer::split(two, five, middle)
            .before_roots(Spot::root_bit(next.root()))
            .because(reason),
    ]
}
