//! The seventh that leans on: V becomes V7; in the blues, home and four carry one too.

use super::{Example, Offer, Rule, Spot};
use crate::harmony::slot::Style;
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "seventh",
    family: Family::Colour,
    word: "lean",
    idiom: [2, 3, 3, 3, 3, 3],
    cost: 400,
    difference: 1,
    free: true,
    source: "Nottingham Music Database, 1031 tunes with chord letters, counted for this: 65 % of the chords on the fifth degree of major carry it",
    offer,
    pro: Example {
        key: "G",
        chords: "G C D G",
        slot: 2,
        melody: "A4 3 - 1",
        chord: "D7",
    },
    contra: Example {
        key: "G",
        chords: "G C D G",
        slot: 2,
        melody: "B4 3 - 1",
        chord: "D7",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let blues = spot.setting.style == Style::Blues;
    let plain = !spot.base.has_seventh() && spot.base.is_major();
    // Over V7 the third of home rubs against the seventh; a blues seventh is at home with everything.
    let leans = spot.is_dominant() && !spot.sings(if spot.in_minor() { 3 } else { 4 });
    let rolls = blues && (spot.is_major_on(0) || spot.is_major_on(5)) && !spot.sings_over_root(11);
    if !plain || !(leans || rolls) {
        return Vec::new();
    }
    Spot::of_kind(spot.base.root(), "seventh")
        .map(|chord| Offer::whole(chord).because(if leans { "it wants to go home" } else { "" }))
        .into_iter()
        .collect()
}
