//! Which ways of a line's words come nearest to the number of syllables of a pattern. Costs in thousandths, our choice.

use super::Pattern;
use super::scansion::{LARGEST, times};
use crate::singing::ways::{MOST_REDUCED, Way};

/// Each syllable more or less than the verse pattern has.
const OFF_PATTERN: u32 = 600;
/// The same where the verses keep the number: *the* runs into a vowel, but no -ed is sounded that is not written so.
const OFF_STRICT: u32 = 1000;

/// So many counts of reduced words are told apart.
const REDUCED: usize = MOST_REDUCED + 1;

/// For each word, the ways that may be taken.
pub(super) fn allowed(line: &[Vec<Way>], pattern: Pattern) -> Vec<Vec<usize>> {
    let off = if pattern.strict {
        OFF_STRICT
    } else {
        OFF_PATTERN
    };
    let near = pattern
        .syllables
        .and_then(|wanted| nearest(line, wanted, off));
    near.map_or_else(
        || line.iter().map(|ways| usual(ways)).collect(),
        |ways| ways.into_iter().map(|way| vec![way]).collect(),
    )
}

/// The ways that cost least.
fn usual(ways: &[Way]) -> Vec<usize> {
    let least = ways.iter().map(|way| way.cost).min();
    let indices = 0..ways.len();
    indices
        .filter(|&i| ways.get(i).map(|way| way.cost) == least)
        .collect()
}

/// What a word's way adds: its index, syllables, whether it is reduced, cost.
type Step = (usize, usize, usize, u32);

/// The ways worth asking: one that costs more than all the syllables that it brings the line nearer is never taken.
fn steps(ways: &[Way], off: u32) -> Vec<Step> {
    let usual = ways.first().map_or(0, |way| way.classes.len());
    let step = |(index, way): (usize, &Way)| {
        let syllables = way.classes.len();
        let gain = off.saturating_mul(times(syllables.abs_diff(usual)));
        (index == 0 || way.cost <= gain)
            .then(|| (index, syllables, usize::from(way.reduced), way.cost))
    };
    ways.iter().enumerate().filter_map(step).collect()
}

/// What is reached behind a word: from so many syllables on, for each number and each count of reduced words, the least cost and the step taken.
struct Reached {
    from: usize,
    best: Vec<(u32, Step)>,
}

/// The ways that come nearest to a number of syllables at the least cost, of equals the fullest.
fn nearest(line: &[Vec<Way>], wanted: usize, off: u32) -> Option<Vec<usize>> {
    let most: usize = line
        .iter()
        .map(|ways| ways.iter().map(|w| w.classes.len()).max().unwrap_or(0))
        .sum();
    if line.len().saturating_mul(most) > LARGEST {
        return None;
    }
    let nothing: Step = (0, 0, 0, 0);
    let mut all: Vec<Reached> = Vec::with_capacity(line.len() + 1);
    let mut begin = vec![(u32::MAX, nothing); REDUCED];
    if let Some(first) = begin.first_mut() {
        first.0 = 0;
    }
    all.push(Reached {
        from: 0,
        best: begin,
    });
    for ways in line {
        let mut steps = steps(ways, off);
        if steps.is_empty() {
            steps.push(nothing);
        }
        all.push(behind(all.last()?, &steps));
    }
    let last = all.last()?;
    let total = |index: usize, cost: u32| {
        let syllables = last.from + index / REDUCED;
        cost.saturating_add(off.saturating_mul(times(syllables.abs_diff(wanted))))
    };
    let reached = last.best.iter().map(|found| found.0).enumerate();
    let (mut at, _) = reached
        .filter(|(_, cost)| *cost != u32::MAX)
        .min_by_key(|&(index, cost)| (total(index, cost), usize::MAX - index))?;
    let mut chosen = Vec::with_capacity(line.len());
    for (reached, before) in all.iter().skip(1).zip(&all).rev() {
        let (_, (way, syllables, reduced, _)) = *reached.best.get(at)?;
        at = (at + (reached.from - before.from) * REDUCED)
            .checked_sub(syllables * REDUCED + reduced)?;
        chosen.push(way);
    }
    chosen.reverse();
    Some(chosen)
}

fn behind(before: &Reached, steps: &[Step]) -> Reached {
    let counts = || steps.iter().map(|step| step.1);
    let (fewest, most) = (counts().min().unwrap_or(0), counts().max().unwrap_or(0));
    let width = before.best.len() + (most - fewest) * REDUCED;
    let mut best = vec![(u32::MAX, (0, 0, 0, 0)); width];
    for step in steps {
        let (_, syllables, reduced, added) = *step;
        for (index, &(cost, _)) in before.best.iter().enumerate() {
            if cost == u32::MAX || index % REDUCED + reduced >= REDUCED {
                continue;
            }
            let cost = cost.saturating_add(added);
            if let Some(slot) = best.get_mut(index + (syllables - fewest) * REDUCED + reduced)
                && cost < slot.0
            {
                *slot = (cost, *step);
            }
        }
    }
    Reached {
        from: before.from + fewest,
        best,
    }
}
