//! One variant for each repeat of a tune, so that neighbours differ and the whole has a curve.

use super::candidates;
use super::cost;
use super::slot::{Setting, Slot};
use super::variant::{Sounding, Variant};
use super::vary::{self, Wish};
use crate::music::quarters::Quarters;
use std::collections::BTreeSet;

/// One repeat of a tune.
#[derive(Clone, Copy, Debug)]
pub struct Repeat<'a> {
    /// Its chords and melody.
    pub slots: &'a [Slot],
    /// What holds for it; its mood may be its own.
    pub setting: &'a Setting,
    /// How far it should go from the written chords, 0 to 100 (see [`Variant::heat`]).
    pub heat: i64,
    /// Whether it keeps its chords, whatever its place: the writer has given it chords of its own.
    pub stays: bool,
}

/// How far repeats of a tune should go from the written chords, one after another: from nothing up to 60 before `turn` (counted
/// from 0), where the story turns, and back to 20 after it.
///
/// The shape is our choice.
///
/// ```
/// # use breathmark::harmony::plan::curve;
/// assert_eq!(curve(6, 4), [0, 20, 40, 60, 60, 20]);
/// ```
#[must_use]
pub fn curve(repeats: usize, turn: usize) -> Vec<i64> {
    let number = |n: usize| i64::try_from(n).unwrap_or(i64::MAX / 100);
    let last = repeats.saturating_sub(1);
    let top = turn.min(last).saturating_sub(1).max(1);
    let after = number(last.saturating_sub(turn)).max(1);
    (0..repeats)
        .map(|at| {
            if at <= turn {
                60 * number(at.min(top)) / number(top)
            } else {
                60 - 40 * number(at - turn) / after
            }
        })
        .collect()
}

/// The turn of a story whose writer marked none: three quarters of the way.
#[must_use]
pub const fn usual_turn(repeats: usize) -> usize {
    repeats * 3 / 4
}

/// What a missing difference to the repeat before costs, in thousandths for one difference in one slot.
const TOO_ALIKE: i64 = 4000;

/// What a heat besides the curve costs, in thousandths a slot for the whole way from 0 to 100.
const OFF_THE_CURVE: i64 = 4000;

/// So many variants are weighed for each repeat at each degree of difference.
const WEIGHED: usize = 30;

/// Degrees of difference that are weighed, in hundredths a slot.
const DEGREES: [usize; 4] = [50, 100, 150, 200];

/// A variant for each repeat: the first as written, since the tune has to be learned, the last as written, since home has to be
/// known again (with two repeats only the first); between them each differs from its neighbours by a difference a slot where
/// that can be had, follows the curve, and none comes twice. `None` where `stop` said so before the end.
///
/// Exact with respect to the variants weighed, the best at several degrees of difference, but for the rule that none comes twice: that
/// is kept by taking the second of two out and choosing again.
#[must_use]
pub fn plan(repeats: &[Repeat<'_>], stop: &dyn Fn() -> bool) -> Option<Vec<Variant>> {
    let mut weighed: Vec<Vec<Variant>> = Vec::with_capacity(repeats.len());
    for (at, repeat) in repeats.iter().enumerate() {
        let alike =
            |other: &Repeat<'_>| other.slots == repeat.slots && other.setting == repeat.setting;
        let known = repeats
            .iter()
            .take(at)
            .position(alike)
            .filter(|&known| !stays(known, repeats));
        let variants = if stays(at, repeats) {
            Vec::new()
        } else if let Some(known) = known.and_then(|known| weighed.get(known)) {
            known.clone()
        } else {
            worth_weighing(repeat, stop)?
        };
        weighed.push(variants);
    }
    for (repeat, variants) in repeats.iter().zip(&mut weighed) {
        if variants.is_empty() {
            variants.push(as_written(repeat.slots));
        }
    }
    let distances = distances(repeats, &weighed);
    let mut banned = BTreeSet::new();
    let mut picks = cheapest(repeats, &weighed, &distances, &banned);
    while let Some(twice) = second_of_two(&weighed, &picks) {
        banned.insert(twice);
        let again = cheapest(repeats, &weighed, &distances, &banned);
        if again.is_empty() || stop() {
            break;
        }
        picks = again;
    }
    let picked = weighed.iter().zip(picks);
    Some(
        picked
            .filter_map(|(variants, pick)| variants.get(pick).cloned())
            .collect(),
    )
}

/// Whether a repeat keeps the written chords.
fn stays(at: usize, repeats: &[Repeat<'_>]) -> bool {
    let is_last = at + 1 == repeats.len() && repeats.len() > 2;
    at == 0 || is_last || repeats.get(at).is_some_and(|repeat| repeat.stays)
}

fn worth_weighing(repeat: &Repeat<'_>, stop: &dyn Fn() -> bool) -> Option<Vec<Variant>> {
    let candidates = candidates::for_slots(repeat.slots, repeat.setting);
    let mut variants: Vec<Variant> = Vec::new();
    for different in DEGREES {
        let wish = Wish {
            different,
            ..Wish::of(WEIGHED)
        };
        for variant in vary::variants(repeat.slots, &candidates, wish, stop)? {
            if !variants.iter().any(|known| known.chords == variant.chords) {
                variants.push(variant);
            }
        }
    }
    Some(variants)
}

/// The written chords as a variant without changes.
#[must_use]
pub fn as_written(slots: &[Slot]) -> Variant {
    let sounding = |slot: &Slot| -> Vec<Sounding> {
        let chords = slot.base.iter().cloned();
        chords
            .map(|chord| Sounding {
                chord,
                after: Quarters::ZERO,
            })
            .collect()
    };
    Variant {
        cost: 0,
        heat: 0,
        chords: slots.iter().map(sounding).collect(),
        changes: Vec::new(),
        effect: "",
        summary: "as written".to_owned(),
    }
}

/// What each variant lacks in difference to each of the repeat before, in thousandths: `[repeat][variant before][variant]`. Repeats with
/// other chords than their neighbours differ anyway.
fn distances(repeats: &[Repeat<'_>], weighed: &[Vec<Variant>]) -> Vec<Vec<Vec<i64>>> {
    let mut all: Vec<Vec<Vec<i64>>> = Vec::with_capacity(repeats.len());
    for (at, here) in repeats.iter().enumerate() {
        let lists = |at: usize| {
            let before = at.checked_sub(1)?;
            let comparable = repeats.get(before)?.slots.len() == here.slots.len();
            weighed
                .get(before)
                .zip(weighed.get(at))
                .filter(|_| comparable)
        };
        let same_as_before = at > 0 && lists(at) == lists(at - 1);
        let distances = match (lists(at), all.last()) {
            (_, Some(known)) if same_as_before => known.clone(),
            (Some((ones, others)), _) => lacking(here.slots, ones, others),
            (None, _) => Vec::new(),
        };
        all.push(distances);
    }
    all
}

/// What variants lack in difference to others of the same slots: `[one][other]`.
fn lacking(slots: &[Slot], ones: &[Variant], others: &[Variant]) -> Vec<Vec<i64>> {
    // Few different fillings stand in a slot: compare these once, then add up.
    let mut apart = vec![vec![Quarters::ZERO; others.len()]; ones.len()];
    for (at, slot) in slots.iter().enumerate() {
        let (kinds, of_ones, of_others) = fillings(at, ones, others);
        let table: Vec<Vec<Quarters>> = kinds
            .iter()
            .map(|a| {
                let distance = |b: &[Sounding]| match cost::only_coloured(a, b) {
                    true => 0, // hardly heard from verse to verse
                    false => cost::distance_of_rows(a, b),
                };
                let weighed = |b: &&[Sounding]| slot.length * i64::from(distance(b));
                kinds.iter().map(weighed).collect()
            })
            .collect();
        for (row, &one) in apart.iter_mut().zip(&of_ones) {
            for (sum, &other) in row.iter_mut().zip(&of_others) {
                let distance = table.get(one).and_then(|row| row.get(other));
                *sum += distance.copied().unwrap_or(Quarters::ZERO);
            }
        }
    }
    let total: Quarters = slots.iter().map(|slot| slot.length).sum();
    let count = i64::try_from(slots.len()).unwrap_or(1);
    let lacks =
        |apart: Quarters| ((total - apart).max(Quarters::ZERO) / total * count * TOO_ALIKE).floor();
    apart
        .into_iter()
        .map(|row| row.into_iter().map(lacks).collect())
        .collect()
}

/// The different fillings of a slot, and which of them each variant has.
fn fillings<'v>(
    at: usize,
    ones: &'v [Variant],
    others: &'v [Variant],
) -> (Vec<&'v [Sounding]>, Vec<usize>, Vec<usize>) {
    let mut kinds: Vec<&[Sounding]> = Vec::new();
    let mut number = |variant: &'v Variant| {
        let filling = variant.chords.get(at).map_or(&[][..], Vec::as_slice);
        kinds
            .iter()
            .position(|kind| *kind == filling)
            .unwrap_or_else(|| {
                kinds.push(filling);
                kinds.len() - 1
            })
    };
    let of_ones = ones.iter().map(&mut number).collect();
    let of_others = others.iter().map(&mut number).collect();
    (kinds, of_ones, of_others)
}

/// The cheapest choice of one variant each (Viterbi), without those banned; empty where nothing is left.
fn cheapest(
    repeats: &[Repeat<'_>],
    weighed: &[Vec<Variant>],
    distances: &[Vec<Vec<i64>>],
    banned: &BTreeSet<(usize, usize)>,
) -> Vec<usize> {
    // For each repeat and variant: the least cost up to it, and the variant before.
    let mut table: Vec<Vec<Option<(i64, usize)>>> = Vec::new();
    for (at, (repeat, variants)) in repeats.iter().zip(weighed).enumerate() {
        let slots = i64::try_from(repeat.slots.len()).unwrap_or(0);
        let own = |variant: &Variant| {
            variant.cost + (variant.heat - repeat.heat).abs() * slots * OFF_THE_CURVE / 100
        };
        let alike = |before: usize, here: usize| {
            let row = distances.get(at).and_then(|rows| rows.get(before));
            row.and_then(|row| row.get(here)).copied().unwrap_or(0)
        };
        let reach = |here: usize| match table.last() {
            None => Some((0, 0)),
            Some(row) => row
                .iter()
                .enumerate()
                .filter_map(|(before, cost)| Some(((*cost)?.0 + alike(before, here), before)))
                .min(),
        };
        let row = variants
            .iter()
            .enumerate()
            .map(|(here, variant)| {
                let (cost, before) = reach(here).filter(|_| !banned.contains(&(at, here)))?;
                Some((cost + own(variant), before))
            })
            .collect();
        table.push(row);
    }
    let best = |row: &Vec<Option<(i64, usize)>>| {
        let ends = row.iter().enumerate();
        ends.filter_map(|(at, cost)| Some(((*cost)?.0, at)))
            .min()
            .map(|(_, at)| at)
    };
    let Some(mut pick) = table.last().and_then(best) else {
        return Vec::new();
    };
    let mut picks = Vec::with_capacity(table.len());
    for row in table.iter().rev() {
        picks.push(pick);
        pick = row
            .get(pick)
            .copied()
            .flatten()
            .map_or(0, |(_, before)| before);
    }
    picks.reverse();
    picks
}

/// The repeat and the variant that was chosen before already, leaving the written chords out.
fn second_of_two(weighed: &[Vec<Variant>], picks: &[usize]) -> Option<(usize, usize)> {
    let mut seen: Vec<&Variant> = Vec::new();
    for (at, (variants, &pick)) in weighed.iter().zip(picks).enumerate() {
        let variant = variants.get(pick)?;
        if variant.changes.is_empty() {
            continue;
        }
        if seen.iter().any(|other| other.chords == variant.chords) {
            return Some((at, pick));
        }
        seen.push(variant);
    }
    None
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;
    use crate::harmony::slot::Style;
    use crate::harmony::{examples, variant};

    fn planned(repeats: usize) -> (Vec<Slot>, Vec<Variant>) {
        let slots = examples::slots("Em C G D / Em G D Em");
        let setting = examples::setting("Em", Style::Folk);
        let repeats: Vec<Repeat<'_>> = curve(repeats, usual_turn(repeats))
            .into_iter()
            .map(|heat| Repeat {
                stays: false,
                slots: &slots,
                setting: &setting,
                heat,
            })
            .collect();
        let plan = plan(&repeats, &|| false).unwrap();
        (slots, plan)
    }

    #[test]
    fn neighbours_differ_and_nothing_comes_twice() {
        let (slots, plan) = planned(7);
        assert_eq!(plan.len(), 7);
        for pair in plan.windows(2) {
            let apart: u8 = pair[0]
                .chords
                .iter()
                .zip(&pair[1].chords)
                .map(|(a, b)| cost::distance_of_rows(a, b))
                .sum();
            assert!(usize::from(apart) >= slots.len() / 2, "{pair:?}");
        }
        let mut rows: Vec<String> = plan[1..6]
            .iter()
            .map(|v| {
                v.chords
                    .iter()
                    .map(|c| variant::row_text(c))
                    .collect::<Vec<_>>()
                    .join(" ")
            })
            .collect();
        rows.sort();
        rows.dedup();
        assert_eq!(rows.len(), 5);
    }

    #[test]
    fn it_begins_and_ends_as_written_and_is_farthest_at_the_turn() {
        let (slots, plan) = planned(6);
        assert_eq!(plan[0], as_written(&slots));
        assert_eq!(plan[5], as_written(&slots));
        let heats: Vec<i64> = plan.iter().map(|v| v.heat).collect();
        let turn = usual_turn(6);
        assert_eq!(
            heats[turn].max(heats[turn - 1]),
            *heats.iter().max().unwrap(),
            "{heats:?}"
        );
        assert!(heats[1] < heats[turn], "{heats:?}");
    }

    #[test]
    fn few_repeats_and_none() {
        assert_eq!(planned(0).1, []);
        assert_eq!(planned(1).1.len(), 1);
        let (_, two) = planned(2);
        assert!(two[0].changes.is_empty() && !two[1].changes.is_empty());
    }

    #[test]
    fn curves_rise_to_the_turn_and_come_back() {
        for repeats in 0..20 {
            let curve = curve(repeats, usual_turn(repeats));
            assert_eq!(curve.len(), repeats);
            assert!(
                curve.iter().all(|heat| (0..=60).contains(heat)),
                "{curve:?}"
            );
            assert!(curve.first().is_none_or(|&heat| heat == 0));
        }
    }
}
