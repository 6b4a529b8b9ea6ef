//! Home stays in the bass while the chord above it moves.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;
use crate::music::chord::Chord;

/// The rule.
pub const RULE: Rule = Rule {
    name: "pedal bass",
    family: Family::Bass,
    word: "waiting",
    idiom: [3, 3, 1, 1, 2, 2],
    cost: 700,
    difference: 1,
    free: true,
    source: "Open Music Theory (2021), Embellishing Tones: pedal point",
    offer,
    pro: Example {
        key: "G",
        chords: "G C G D",
        slot: 1,
        melody: "C5 2 E5 2",
        chord: "C/G",
    },
    contra: Example {
        key: "G",
        chords: "G C D G",
        slot: 1,
        melody: "C5 2 E5 2",
        chord: "C/G",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let home = |chord: Option<&Chord>| chord.is_some_and(|c| spot.above_tonic(c.root()) == 0);
    let away = !spot.is_home() && !spot.base.is_inverted() && spot.base.third().is_some();
    if !away || !home(spot.before) || !home(spot.next) || spot.place != Place::Inside {
        return Vec::new();
    }
    let roots = spot.roots(&[0]);
    vec![
        Offer::whole(spot.base.over(spot.key().tonic()))
            .after_roots(roots)
            .before_roots(roots)
            .because("home stays in the bass"),
    ]
}
