//! From slots to variants: what is demanded of a variant, and how a way through the candidates is told.

use super::candidates;
use super::cost;
use super::difference::{DEARER, OTHERS, POOL, Scale, demands, spread};
use super::reasons::told;
use super::search::{self, Choice, Demand, Layer};
use super::slot::{Setting, Slot};
use super::variant::{ANY_ROOT, Candidate, Family, Sounding, Variant};
use std::collections::BTreeMap;

/// What is wanted of variants.
#[derive(Clone, Copy, Debug)]
pub struct Wish<'a> {
    /// How many at most.
    pub count: usize,
    /// How different from the written chords, in hundredths of a difference a slot: with 100 every slot has another bass or every
    /// fourth another function. Where so much cannot be had, as much as can.
    pub different: usize,
    /// How far apart the variants are from each other at least, as far as enough of them can be had, in hundredths likewise. With 0 they are
    /// the very cheapest, which often differ in one bass note.
    pub spread: usize,
    /// Another variant from which they have to be at least one difference a slot apart: the verse before.
    pub apart_from: Option<&'a [Vec<Sounding>]>,
}

impl Wish<'_> {
    /// So many variants, of the usual difference.
    #[must_use]
    pub const fn of(count: usize) -> Self {
        Self {
            count,
            different: 100,
            spread: 50,
            apart_from: None,
        }
    }
}

/// The candidates and the variants of a section.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Found {
    /// For each slot: the chord as written, then the others, cheapest first.
    pub candidates: Vec<Vec<Candidate>>,
    /// Cheapest first; empty where nothing can be changed.
    pub variants: Vec<Variant>,
}

/// Other chords for a section, best first. `None` where `stop` said so before the end.
///
/// The search is exact: no row of candidates costs less than the first variant and is as different as was wished. The others follow in
/// order of cost; rows that hardly differ from a cheaper one are left out while there are enough others, and to have such others rows are
/// sought, exactly again, in which what the ones before took costs more.
///
/// ```
/// # use breathmark::harmony::{examples, slot::Style, vary::{Wish, vary}};
/// let slots = examples::slots("G C G D / G C D G");
/// let setting = examples::setting("G", Style::Folk);
/// let found = vary(&slots, &setting, Wish::of(3), &|| false).unwrap();
/// assert_eq!(found.variants.len(), 3);
/// ```
#[must_use]
pub fn vary(
    slots: &[Slot],
    setting: &Setting,
    wish: Wish<'_>,
    stop: &dyn Fn() -> bool,
) -> Option<Found> {
    let candidates = candidates::for_slots(slots, setting);
    let variants = variants(slots, &candidates, wish, stop)?;
    Some(Found {
        candidates,
        variants,
    })
}

/// The best ways through given candidates, of which the first of each slot is the chord as written.
#[must_use]
pub fn variants(
    slots: &[Slot],
    candidates: &[Vec<Candidate>],
    wish: Wish<'_>,
    stop: &dyn Fn() -> bool,
) -> Option<Vec<Variant>> {
    let scale = Scale::of(slots);
    let usable = usable(candidates);
    let mut layers = layers(slots, &usable, scale, wish);
    let wanted = demands(slots, &layers, scale, wish);
    // Neighbours may forbid what each slot alone could reach: then ask for less.
    for part in [4, 3, 2, 1, 0] {
        for (layer, demand) in layers.iter_mut().zip(&wanted) {
            layer.demand = demand.map(|d| Demand {
                different: d.different * part / 4,
                apart: d.apart * part / 4,
                changes: d.changes,
            });
        }
        let pool = match wish.spread {
            0 => wish.count,
            _ => (wish.count * 4).max(POOL),
        };
        let others = match wish.spread {
            0 => 0,
            _ => wish.count.min(OTHERS),
        };
        let mut paths = search::varied(&layers, pool.saturating_add(1), (others, DEARER), stop)?;
        paths.retain(|path| path.picks.iter().any(|&pick| pick > 0));
        let chosen = spread(slots, &usable, scale, &paths, wish);
        let found: Vec<Variant> = chosen
            .into_iter()
            .map(|path| told(slots, &usable, path, scale))
            .collect();
        if !found.is_empty() {
            return Some(found);
        }
    }
    Some(Vec::new())
}

/// The candidates of each slot whose neighbours exist.
fn usable(candidates: &[Vec<Candidate>]) -> Vec<Vec<&Candidate>> {
    let last = candidates.len().saturating_sub(1);
    candidates
        .iter()
        .enumerate()
        .map(|(at, here)| {
            let has_neighbours = |c: &&Candidate| {
                (at > 0 || c.around.before == ANY_ROOT) && (at < last || c.around.next == ANY_ROOT)
            };
            here.iter().filter(has_neighbours).collect()
        })
        .collect()
}

fn layers(slots: &[Slot], usable: &[Vec<&Candidate>], scale: Scale, wish: Wish<'_>) -> Vec<Layer> {
    // Chords are numbered in the order of their names.
    let mut names: BTreeMap<String, u16> = BTreeMap::new();
    let sounding = usable
        .iter()
        .flatten()
        .flat_map(|candidate| &candidate.chords);
    names.extend(sounding.map(|s| (s.chord.name(), 0)));
    for (number, value) in (0..).zip(names.values_mut()) {
        *value = number;
    }
    let choice = |at: usize, slot: &Slot, candidate: &Candidate| {
        let other = wish.apart_from.and_then(|other| other.get(at));
        let apart = other.map_or(0, |other| cost::distance_of_rows(&candidate.chords, other));
        Choice {
            cost: candidate.cost,
            changed: candidate.family != Family::AsWritten,
            different: scale.counted(slot, candidate.difference),
            apart: scale.counted(slot, apart),
            chords: candidate
                .chords
                .iter()
                .filter_map(|s| names.get(&s.chord.name()).copied())
                .collect(),
        }
    };
    slots
        .iter()
        .zip(usable)
        .enumerate()
        .map(|(at, (slot, here))| Layer {
            choices: here
                .iter()
                .map(|candidate| choice(at, slot, candidate))
                .collect(),
            steps: at
                .checked_sub(1)
                .and_then(|before| Some((slots.get(before)?, usable.get(before)?)))
                .map(|(slot_before, before)| steps((slot_before, before), (slot, here)))
                .unwrap_or_default(),
            demand: None,
        })
        .collect()
}

/// What each step costs beyond the written one; `None` where one of the two does not suit the other.
fn steps(before: (&Slot, &[&Candidate]), here: (&Slot, &[&Candidate])) -> Vec<Vec<Option<i64>>> {
    let written = cost::step(before.0.base.as_ref(), here.0.base.as_ref());
    let same_base = before.0.base == here.0.base;
    let root_bit =
        |sounding: Option<&Sounding>| sounding.map_or(0, |s| 1 << s.chord.root().class());
    let suit = |a: &Candidate, b: &Candidate| {
        let (from, to) = (a.chords.last(), b.chords.first());
        let kept = |c: &Candidate| c.family == Family::AsWritten;
        (a.around.next == ANY_ROOT || a.around.next & root_bit(to) != 0)
            && (b.around.before == ANY_ROOT || b.around.before & root_bit(from) != 0)
            && (!b.around.before_as_written || kept(a))
            && (!a.around.next_as_written || kept(b))
            && !(b.around.once && same_base && a.chords == b.chords)
    };
    let step = |a: &Candidate, b: &Candidate| {
        let (from, to) = (a.chords.last(), b.chords.first());
        suit(a, b).then(|| cost::step(from.map(|s| &s.chord), to.map(|s| &s.chord)) - written)
    };
    before
        .1
        .iter()
        .map(|a| here.1.iter().map(|b| step(a, b)).collect())
        .collect()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;
    use crate::harmony::fit;
    use crate::harmony::melody::Melody;
    use crate::harmony::slot::Style;
    use crate::harmony::variant::Around;
    use crate::harmony::variant::row_text;
    use crate::harmony::{examples, search::Path};
    use crate::music::chord::Chord;
    use crate::music::quarters::Quarters;

    /// Eight bars in G, two lines, with a melody.
    fn two_lines() -> Vec<Slot> {
        let mut slots = examples::slots("G C G D / G C D G");
        for (at, melody) in [
            "D4 1 G4 1 B4 2",
            "C5 1 E5 1 C5 2",
            "B4 2 A4 1 G4 1",
            "A4 3 - 1",
            "D4 1 G4 1 B4 1 D5 1",
            "E5 2 D5 1 C5 1",
            "B4 1 A4 2 F#4 1",
            "G4 4",
        ]
        .iter()
        .enumerate()
        {
            examples::sing(&mut slots, at, melody);
        }
        slots
    }

    /// Few candidates with set costs and differences, so that every way can be tried.
    fn few_candidates(slots: &[Slot]) -> Vec<Vec<Candidate>> {
        let melody = Melody::of(slots);
        let offers = |base: &str, at: usize| -> &[(&str, i64, u8)] {
            match (base, at) {
                (_, 7) => &[],
                (_, 3) => &[("D7", 400, 1), ("Dsus4", 800, 1)],
                ("G", _) => &[
                    ("Em", 1000, 2),
                    ("G/B", 500, 1),
                    ("Bm", 2000, 3),
                    ("G5", 1400, 2),
                ],
                ("C", _) => &[
                    ("Am", 1000, 2),
                    ("C/E", 500, 1),
                    ("Am7", 1200, 2),
                    ("Cadd9", 600, 1),
                ],
                _ => &[
                    ("D7", 400, 1),
                    ("D/F#", 500, 1),
                    ("Dsus4", 800, 1),
                    ("Am7", 2400, 4),
                    ("Bm", 2000, 2),
                ],
            }
        };
        let candidate = |name: &str, cost, difference, family| Candidate {
            chords: vec![Sounding {
                chord: Chord::parse(name).unwrap(),
                after: Quarters::ZERO,
            }],
            family,
            rule: "rule",
            word: "",
            cost,
            why: String::new(),
            difference,
            around: Around::ANY,
        };
        slots
            .iter()
            .enumerate()
            .map(|(at, slot)| {
                let base = slot.base.as_ref().unwrap();
                let parts = melody.within(slot.meter, slot.start, slot.end());
                let misfit = |chord: &Chord| {
                    fit::misfit(&parts, chord, None, slot.meter).map(fit::Misfit::share)
                };
                let mut here = vec![candidate(&base.name(), 0, 0, Family::AsWritten)];
                for &(name, cost, difference) in offers(&base.name(), at) {
                    let Some(share) = misfit(&Chord::parse(name).unwrap()) else {
                        continue;
                    };
                    let worse = (share - misfit(base).unwrap()).max(Quarters::ZERO) * 2000;
                    let cost = cost + (worse + Quarters::new(1, 2)).floor();
                    here.push(candidate(name, cost, difference, Family::Relative));
                }
                here
            })
            .collect()
    }

    fn cheapest(count: usize) -> Wish<'static> {
        Wish {
            spread: 0,
            ..Wish::of(count)
        }
    }

    fn rows(variants: &[Variant]) -> Vec<(i64, String)> {
        let row = |v: &Variant| {
            v.chords
                .iter()
                .map(|c| row_text(c))
                .collect::<Vec<_>>()
                .join(" ")
        };
        variants.iter().map(|v| (v.cost, row(v))).collect()
    }

    #[test]
    fn the_best_of_two_lines_in_g() {
        let slots = two_lines();
        let found = variants(&slots, &few_candidates(&slots), cheapest(7), &|| false).unwrap();
        let found = rows(&found);
        assert_eq!(found[0], (3918, "G Am Em D7 G Am D7 G".to_owned()));
        let mut second: Vec<_> = found[1..5].to_vec();
        second.sort();
        assert_eq!(
            second,
            [
                (4018, "G/B Am Em D G Am D7 G".to_owned()),
                (4018, "G/B Am Em D7 G Am D G".to_owned()),
                (4018, "G/B Am Em D7 G Cadd9 D7 G".to_owned()),
                (4018, "G/B Am Em D7 G/B C D7 G".to_owned()),
            ]
        );
        assert_eq!(
            found[5..],
            [
                (4038, "Em Am G D7 G Am D7 G".to_owned()),
                (4038, "Em Am Em D7 G C D7 G".to_owned()),
            ]
        );
    }

    #[test]
    fn the_verse_after_it_is_different_again() {
        let slots = two_lines();
        let candidates = few_candidates(&slots);
        let first = variants(&slots, &candidates, Wish::of(1), &|| false).unwrap();
        let wish = Wish {
            apart_from: Some(&first[0].chords),
            ..Wish::of(1)
        };
        let second = variants(&slots, &candidates, wish, &|| false).unwrap();
        assert_eq!(
            rows(&second),
            [(4238, "Em Am G D7 G/B C/E D/F# G".to_owned())]
        );
    }

    /// Every way through the candidates that meets the usual wish, cheapest first.
    fn tried(slots: &[Slot], candidates: &[Vec<Candidate>]) -> Vec<i64> {
        let usable: Vec<Vec<&Candidate>> = candidates.iter().map(|c| c.iter().collect()).collect();
        let scale = Scale::of(slots);
        let layers = layers(slots, &usable, scale, Wish::of(1));
        let mut paths = vec![(0, 0, 0, Vec::new())];
        for layer in &layers {
            paths = paths
                .iter()
                .flat_map(
                    |(cost, different, changes, picks): &(i64, usize, usize, Vec<usize>)| {
                        layer
                            .choices
                            .iter()
                            .enumerate()
                            .filter_map(move |(at, choice)| {
                                let step = picks
                                    .last()
                                    .map_or(Some(0), |&last| layer.steps[last][at])?;
                                let picks = picks.iter().copied().chain([at]).collect();
                                let changes = changes + usize::from(choice.changed);
                                Some((
                                    cost + step + choice.cost,
                                    different + choice.different,
                                    changes,
                                    picks,
                                ))
                            })
                    },
                )
                .collect();
        }
        let mut costs: Vec<i64> = paths
            .iter()
            .filter(|(_, different, changes, _)| {
                *different >= slots.len() && *changes <= slots.len() * 3 / 4
            })
            .map(|(cost, ..)| *cost)
            .collect();
        costs.sort_unstable();
        costs
    }

    #[test]
    fn nothing_cheaper_is_overlooked() {
        let slots = two_lines();
        let candidates = few_candidates(&slots);
        let expected = tried(&slots, &candidates);
        let found = variants(&slots, &candidates, cheapest(60), &|| false).unwrap();
        let costs: Vec<i64> = found.iter().map(|v| v.cost).collect();
        assert_eq!(costs, expected[..60]);
    }

    #[test]
    fn variants_are_spread_and_stay_in_order() {
        let slots = two_lines();
        let candidates = few_candidates(&slots);
        let found = variants(&slots, &candidates, Wish::of(6), &|| false).unwrap();
        assert_eq!(found.len(), 6);
        assert!(found.is_sorted_by_key(|v| v.cost));
        for (at, one) in found.iter().enumerate() {
            for other in &found[..at] {
                let apart: u8 = one
                    .chords
                    .iter()
                    .zip(&other.chords)
                    .map(|(a, b)| cost::distance_of_rows(a, b))
                    .sum();
                assert!(apart >= 4, "{one:?} {other:?}");
            }
        }
        assert_eq!(found[0].cost, 3918);
    }

    #[test]
    fn what_is_told_of_a_path_agrees_with_it() {
        let slots = two_lines();
        let setting = examples::setting("G", Style::Folk);
        let found = vary(&slots, &setting, Wish::of(20), &|| false).unwrap();
        assert_eq!(found.variants.len(), 20);
        for variant in &found.variants {
            for (at, (chords, slot)) in variant.chords.iter().zip(&slots).enumerate() {
                let change = variant.changes.iter().find(|c| c.slot == at);
                let written = slot.base.as_ref().unwrap().to_string();
                assert_eq!(row_text(chords), change.map_or(written, |c| c.to.clone()));
            }
            assert!(
                variant.changes.len() <= 6 && variant.heat >= 25,
                "{variant:?}"
            );
        }
    }

    #[test]
    fn sections_that_cannot_change_have_no_variants() {
        let setting = examples::setting("G", Style::Folk);
        for chords in ["", "N.C.", "N.C. N.C. / N.C."] {
            let found = vary(&examples::slots(chords), &setting, Wish::of(5), &|| false).unwrap();
            assert_eq!(found.variants, [], "{chords}");
        }
        assert_eq!(vary(&two_lines(), &setting, Wish::of(5), &|| true), None);
        let path = Path {
            cost: 0,
            picks: Vec::new(),
        };
        assert_eq!(told(&[], &[], &path, Scale::of(&[])).changes, []);
    }
}
