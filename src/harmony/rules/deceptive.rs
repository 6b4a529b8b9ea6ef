//! After the dominant not home but another chord: the music has to go on.

use super::{Example, Offer, Place, Rule, Spot};
use crate::harmony::variant::Family;

/// The rule.
pub const RULE: Rule = Rule {
    name: "deceptive turn",
    family: Family::Function,
    word: "turn, not yet",
    idiom: [1, 2, 2, 0, 2, 3],
    cost: 1600,
    difference: 4,
    free: false,
    source: "Nottingham Music Database, 1031 tunes with chord letters, counted for this: 5 % of dominants go to the sixth degree; in 200 rock songs 9 % (de Clercq and Temperley 2011)",
    offer,
    pro: Example {
        key: "G",
        chords: "G C D G / G C D G",
        slot: 3,
        melody: "G4 4",
        chord: "Em",
    },
    contra: Example {
        key: "G",
        chords: "G C D G / G C D G",
        slot: 3,
        melody: "D4 4",
        chord: "Em",
    },
};

fn offer(spot: &Spot) -> Vec<Offer> {
    let after_dominant = spot.before.is_some_and(|c| spot.above_tonic(c.root()) == 7);
    if !spot.is_home() || !after_dominant || spot.place == Place::SectionEnd {
        return Vec::new();
    }
    let key = spot.key();
    let mut chords = Vec::new();
    if spot.in_minor() {
        if spot.sings_only(&[0, 3, 8]) {
            chords.push((Spot::triad(key.degree(6, -1), true), 0));
        }
    } else {
        if spot.sings_only(&[0, 4, 9]) {
            chords.push((Spot::triad(key.degree(6, 0), false), 0));
        }
        if spot.sings_only(&[0, 5, 9]) {
            chords.push((Spot::triad(key.degree(4, 0), true), 200));
        }
        if spot.sings_only(&[0, 3, 8]) {
            chords.push((Spot::triad(key.degree(6, -1), true), 600));
        }
    }
    let dominant = spot.roots(&[7]);
    chords
        .into_iter()
        .filter_map(|(chord, extra)| Some((chord?, extra)))
        .map(|(chord, extra)| {
            Offer::whole(chord)
                .after_roots(dominant)
                .after_the_written()
                .dearer(extra)
                .because("the close is put off")
        })
        .collect()
}
