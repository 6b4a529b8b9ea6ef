//! A whole tone down from home and back.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;
use crate::music::chord::Chord;

/// The rule.
pub const RULE: Rule = Rule {
    name: "Mixolydian neighbour",
    family: Family::Mixture,
    word: "sway",
    idiom: [3, 3, 1, 1, 0, 1],
    cost: 1400,
    difference: 4,
    free: false,
    source: "Nottingham Music Database, 1031 tunes with chord letters, counted for this: fits 1 % of whole slots on the tonic, so it is offered for half slots too",
    offer,
    pro: Example {
        key: "Dmix",
        chords: "D D D A",
        slot: 1,
        melody: "E4 2 G4 2",
        chord: "C",
    },
    contra: Example {
        key: "Dmix",
        chords: "D D D A",
        slot: 1,
        melody: "F#4 2 A4 2",
        chord: "C",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let home = |chord: Option<&Chord>| chord.is_some_and(|c| spot.above_tonic(c.root()) == 0);
    if !spot.is_home()
        || !home(spot.next)
        || !matches!(spot.place, Place::Inside | Place::BeforeClose)
    {
        return Vec::new();
    }
    let Some(below) = Spot::triad(spot.key().degree(7, -1), true) else {
        return Vec::new();
    };
    let home_again = spot.roots(&[0]);
    let third = if spot.in_minor() { 3 } else { 4 };
    let whole = (home(spot.before) && !spot.sings_any(&[0, third, 11])).then(|| {
        Offer::whole(below.clone())
            .after_roots(home_again)
            .before_roots(home_again)
    });
    let half = spot
        .middle()
        .map(|middle| Offer::split(spot.base.clone(), below, middle).before_roots(home_again));
    whole
        .into_iter()
        .chain(half)
        .map(|offer| offer.because("home on both sides"))
        .collect()
}
