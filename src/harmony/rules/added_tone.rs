//! A tone more: sixth, ninth, or the minor seventh of a minor chord.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "added tone",
    family: Family::Colour,
    word: "glow",
    idiom: [0, 3, 2, 2, 1, 3],
    cost: 600,
    difference: 1,
    free: false,
    source: "common practice of accompanists, no source",
    offer,
    pro: Example {
        key: "G",
        chords: "G C D G",
        slot: 1,
        melody: "E5 2 C5 2",
        chord: "Cadd9",
    },
    contra: Example {
        key: "G",
        chords: "G C D G",
        slot: 1,
        melody: "E5 2 Eb5 2",
        chord: "Cadd9",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    use crate::harmony::slot::Style;
    let closes = spot.place == Place::SectionEnd
        && matches!(spot.setting.style, Style::Hymn | Style::OldTime);
    if closes || spot.base.intervals().len() != 3 || spot.base.tone(5).is_none() {
        return Vec::new();
    }
    let kinds: &[(&str, u8, &str)] = if spot.base.is_minor() {
        &[
            ("minor seventh", 10, "its seventh softens it"),
            ("minor with added ninth", 2, "with the ninth"),
        ]
    } else if spot.is_dominant() || !spot.base.is_major() {
        &[]
    } else if spot.setting.style == Style::Jazz {
        &[
            ("major seventh", 11, "its seventh shimmers"),
            ("added ninth", 2, "with the ninth"),
            ("sixth", 9, "with the sixth"),
        ]
    } else {
        &[
            ("added ninth", 2, "with the ninth"),
            ("sixth", 9, "with the sixth"),
            ("suspended second", 2, "the second for its third"),
        ]
    };
    let rubs = |added: u8| {
        spot.sings_over_root((added + 1) % 12) || spot.sings_over_root((added + 11) % 12)
    };
    kinds
        .iter()
        .filter(|&&(_, added, _)| !rubs(added))
        .filter_map(|&(kind, _, reason)| {
            Some(Offer::whole(Spot::of_kind(spot.base.root(), kind)?).because(reason))
        })
        .collect()
}
