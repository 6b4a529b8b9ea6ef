//! A second chord in the slot that leads on.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "split",
    family: Family::Rhythm,
    word: "hurry",
    idiom: [2, 3, 3, 2, 3, 3],
    cost: 600,
    difference: 2,
    free: false,
    source: "our choice",
    offer,
    pro: Example {
        key: "G",
        chords: "G C G C",
        slot: 1,
        melody: "C5 2 A4 2",
        chord: "C D7",
    },
    contra: Example {
        key: "G",
        chords: "G C G C",
        slot: 1,
        melody: "C5 2 G4 2",
        chord: "C D7",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let (Some(next), Some(middle)) = (spot.next, spot.middle()) else {
        return Vec::new();
    };
    if !matches!(spot.place, Place::Inside | Place::BeforeClose) || next.root() == spot.base.root()
    {
        return Vec::new();
    }
    let (key, root) = (spot.key(), spot.above_tonic(spot.base.root()));
    let onward = Spot::root_bit(next.root());
    let late = spot
        .melody
        .within(spot.slot.meter, spot.slot.start + middle, spot.slot.end());
    let sung_late = |semitones: u8| {
        late.iter()
            .any(|part| part.is_strong() && spot.above_tonic(part.pitch.note) == semitones)
    };
    let mut seconds = Vec::new();
    match spot.above_tonic(next.root()) {
        // The dominant leads home.
        0 if root != 7 && !sung_late(0) => {
            seconds.push((
                Spot::of_kind(key.degree(5, 0), "seventh"),
                400,
                "the dominant leads home",
            ));
        }
        // Two or four leads to the dominant.
        7 if root == 0 && spot.in_minor() => seconds.push((
            Spot::triad(key.degree(4, 0), false),
            400,
            "four leads to five",
        )),
        7 if root == 0 => seconds.push((
            Spot::triad(key.degree(2, 0), false),
            400,
            "two leads to five",
        )),
        // The bass steps down between home and six.
        9 if root == 0 && !spot.in_minor() => {
            let five = Spot::triad(key.degree(5, 0), true);
            seconds.push((
                five.map(|c| c.over(key.degree(7, 0))),
                500,
                "the bass steps down",
            ));
        }
        8 if root == 0 && spot.in_minor() => {
            let five = Spot::triad(key.degree(5, 0), false);
            seconds.push((
                five.map(|c| c.over(key.degree(7, -1))),
                500,
                "the bass steps down",
            ));
        }
        _ => {}
    }
    seconds
        .into_iter()
        .filter_map(|(second, extra, reason)| Some((second?, extra, reason)))
        .filter(|(second, ..)| second.root() != spot.base.root())
        .map(|(second, extra, reason)| {
            Offer::split(spot.base.clone(), second, middle)
                .before_roots(onward)
                .dearer(extra)
                .because(reason)
        })
        .collect()
}
