//! The fourth degree before the last home of a line, in place of the dominant.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "plagal close",
    family: Family::Function,
    word: "resigned, blessing",
    idiom: [1, 2, 2, 3, 3, 1],
    cost: 1800,
    difference: 4,
    free: false,
    source: "de Clercq and Temperley, A corpus analysis of rock harmony, Popular Music 30 (2011): 40 % of the ways into the tonic come from the fourth degree, 31 % from the fifth",
    offer,
    pro: Example {
        key: "G",
        chords: "G C D G",
        slot: 2,
        melody: "C5 3 - 1",
        chord: "C",
    },
    contra: Example {
        key: "G",
        chords: "G C D G",
        slot: 2,
        melody: "A4 2 D5 2",
        chord: "C",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let fifth = spot.above_tonic(spot.base.root()) == 7;
    if spot.place != Place::BeforeClose || !fifth || spot.sings_any(&[7, 10, 11]) {
        return Vec::new();
    }
    let fourth = spot.key().degree(4, 0);
    let plain =
        Spot::triad(fourth, !spot.in_minor()).filter(|_| !spot.in_minor() || !spot.sings(9));
    let other = Spot::triad(fourth, spot.in_minor())
        .filter(|_| !spot.sings(if spot.in_minor() { 8 } else { 9 }));
    let home = spot.roots(&[0]);
    let offer = |chord, extra| {
        Offer::whole(chord)
            .before_roots(home)
            .before_the_written()
            .dearer(extra)
            .because("home is reached from the other side")
    };
    plain
        .map(|chord| offer(chord, 0))
        .into_iter()
        .chain(other.map(|chord| offer(chord, if spot.in_minor() { 0 } else { 600 })))
        .collect()
}
