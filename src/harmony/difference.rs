//! How far rows of chords are from each other, and how much of it is demanded.

use super::cost;
use super::search::{self, Choice, Demand, Layer};
use super::slot::Slot;
use super::variant::Candidate;
use super::vary::Wish;
use crate::music::quarters::Quarters;

/// How differences are counted: weighed by the slot's length over the mean, in whole steps.
#[derive(Clone, Copy)]
pub(super) struct Scale {
    pub(super) mean: Quarters,
    /// Steps to one difference: one where all slots are equally long, two where they are not.
    pub(super) steps: usize,
}

impl Scale {
    pub(super) fn of(slots: &[Slot]) -> Self {
        let count = i64::try_from(slots.len()).unwrap_or(i64::MAX).max(1);
        let mean = slots.iter().map(|slot| slot.length).sum::<Quarters>() / count;
        let even = slots.iter().all(|slot| slot.length == mean);
        Self {
            mean,
            steps: if even { 1 } else { 2 },
        }
    }

    /// A difference in a slot; at least one step where there is any.
    pub(super) fn counted(self, slot: &Slot, difference: u8) -> usize {
        if difference == 0 {
            return 0;
        }
        let steps = i64::try_from(self.steps).unwrap_or(1) * i64::from(difference);
        let weighed = slot.length * steps / self.mean + Quarters::new(1, 2);
        usize::try_from(weighed.floor()).unwrap_or(0).max(1)
    }
}

/// The shortest and the longest stretch that is asked for difference as a whole. A long section is asked stretch by stretch, so
/// that it does not change at one end only.
const STRETCH: (usize, usize) = (8, 16);

/// What is demanded at the end of each stretch: as much difference as wished, but at most three quarters of what its slots could
/// reach, in at most three quarters of them.
pub(super) fn demands(
    slots: &[Slot],
    layers: &[Layer],
    scale: Scale,
    wish: Wish<'_>,
) -> Vec<Option<Demand>> {
    let mut demands = Vec::with_capacity(slots.len());
    let mut begun = 0;
    for (at, slot) in slots.iter().enumerate() {
        let (length, left) = (at + 1 - begun, slots.len() - at - 1);
        let closes = left == 0
            || (slot.line_end
                && length >= STRETCH.0
                && left >= STRETCH.0 / 2
                && slots.len() > STRETCH.1)
            || length == STRETCH.1;
        if closes {
            let stretch = layers.get(begun..=at).unwrap_or_default();
            demands.push(Some(demand(stretch, scale, wish)));
            begun = at + 1;
        } else {
            demands.push(None);
        }
    }
    demands
}

fn demand(stretch: &[Layer], scale: Scale, wish: Wish<'_>) -> Demand {
    let changes = stretch.len() * 3 / 4;
    let reach = |count: fn(&Choice) -> usize, slots: usize| {
        let most = |layer: &Layer| layer.choices.iter().map(count).max().unwrap_or(0);
        let mut most: Vec<usize> = stretch.iter().map(most).collect();
        most.sort_unstable_by(|a, b| b.cmp(a));
        most.iter().take(slots).sum::<usize>() * 3 / 4
    };
    let wanted = stretch.len() * scale.steps;
    Demand {
        different: (wanted * wish.different / 100).min(reach(|c| c.different, changes)),
        apart: match wish.apart_from {
            Some(_) => wanted.min(reach(|c| c.apart, stretch.len())),
            None => 0,
        },
        changes,
    }
}

/// From so many of the cheapest at least, those are chosen that differ.
pub(super) const POOL: usize = 100;

/// So many more are sought that do not take what the ones before them took, as long as that costs less than [`DEARER`] more each time.
pub(super) const OTHERS: usize = 8;

/// In thousandths: half a relative minor. Our choice.
pub(super) const DEARER: i64 = 500;

/// Of paths in order of cost, as many as wished: first those that are far enough from all chosen before, then those that differ in more
/// than colour, then the cheapest of the others; again in order of cost.
pub(super) fn spread<'p>(
    slots: &[Slot],
    usable: &[Vec<&Candidate>],
    scale: Scale,
    paths: &'p [search::Path],
    wish: Wish<'_>,
) -> Vec<&'p search::Path> {
    let wanted = slots.len() * scale.steps * wish.spread / 100;
    let apart: Vec<Vec<Vec<usize>>> = slots
        .iter()
        .zip(usable)
        .map(|(slot, here)| {
            let from = |a: &Candidate, b: &Candidate| {
                if cost::only_coloured(&a.chords, &b.chords) {
                    return 0;
                }
                scale.counted(slot, cost::distance_of_rows(&a.chords, &b.chords))
            };
            here.iter()
                .map(|a| here.iter().map(|b| from(a, b)).collect())
                .collect()
        })
        .collect();
    let distance = |a: &search::Path, b: &search::Path| -> usize {
        let picks = a.picks.iter().zip(&b.picks).zip(&apart);
        picks
            .filter_map(|((&a, &b), apart)| apart.get(a)?.get(b))
            .sum()
    };
    let mut chosen: Vec<(usize, &search::Path)> = Vec::new();
    for wanted in [wanted, 1, 0] {
        for (at, path) in paths.iter().enumerate() {
            let is_new = chosen
                .iter()
                .all(|&(known, other)| known != at && distance(path, other) >= wanted);
            if is_new && chosen.len() < wish.count {
                chosen.push((at, path));
            }
        }
    }
    chosen.sort_by_key(|&(at, _)| at);
    chosen.into_iter().map(|(_, path)| path).collect()
}
