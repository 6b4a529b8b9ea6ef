//! Which syllables carry a line's beats: dynamic programming over words and beats. Costs in thousandths, our choice: set on some 1,100 lines
//! of hymns and poems whose metre says which syllables carry it, sixteen lines of old songs kept right.

use super::Frame;
use crate::singing::ways::Way;
use crate::words::stress::Class;

/// The most light syllables in a row; a line that asks for more than its beats can hold is counted off.
const MOST_LIGHTS: usize = 12;

/// Lines of more syllables times beats are sung in their usual words and counted off from the first syllable.
pub(super) const LARGEST: usize = 100_000;

/// A syllable that carries a beat.
const fn on_beat(class: Class) -> u32 {
    match class {
        Class::Primary | Class::Content => 0,
        Class::Secondary => 700,
        Class::Function => 800,
        Class::Light => 900,
        Class::Remote => 1000,
        // With its word's stress off the beat it comes to 5500, the worst fault.
        Class::Unstressed => 3500,
    }
}

/// A syllable between beats.
const fn off_beat(class: Class) -> u32 {
    match class {
        Class::Primary => 2000,
        Class::Content => 1400,
        Class::Secondary => 700,
        Class::Function | Class::Light | Class::Remote | Class::Unstressed => 0,
    }
}

/// So many light syllables between two beats; none is a clash.
fn between(lights: usize, triple: bool) -> u32 {
    match lights {
        0 => 2500,
        1 => 0,
        2 if triple => 400,
        2 => 500,
        3 => 2500,
        4 => 5000,
        5 => 8000,
        more => 8000 + 3000 * times(more - 5) + crowd(more - 5),
    }
}

/// So many before the first beat.
fn pickup(lights: usize) -> u32 {
    match lights {
        0 | 1 => 0,
        2 => 600,
        3 => 2000,
        more => 4000 + 6000 * times(more - 4) + crowd(more - 4),
    }
}

/// So many after the last.
fn trailing(lights: usize) -> u32 {
    match lights {
        0 => 0,
        1 => 500,
        2 => 1100,
        more => 3000 + 2500 * times(more - 3) + crowd(more - 3),
    }
}

/// So many beats carried: of four the last may be silent, of more all that are left over.
fn used(beats: usize, of: usize, pattern: Option<usize>) -> u32 {
    if let Some(pattern) = pattern {
        return 3000 * times(beats.abs_diff(pattern.min(of)));
    }
    match of.min(4).saturating_sub(beats) {
        0 => 0,
        1 => 1100,
        2 => 5000,
        _ => 9000,
    }
}

/// Each more costs more than the one before, so that many syllables spread over all beats.
fn crowd(beyond: usize) -> u32 {
    200 * times(beyond) * times(beyond)
}

pub(super) fn times(count: usize) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX).min(1000)
}

/// What the scansion found.
pub(super) struct Scanned {
    pub(super) ways: Vec<usize>,
    pub(super) on: Vec<Option<usize>>,
    pub(super) cost: u32,
}

/// Between two syllables: how many beats are carried, and how many syllables stand after the last one.
const fn state(beats: usize, lights: usize) -> usize {
    beats * (MOST_LIGHTS + 1) + lights
}

/// For each state behind a syllable, the state before it.
type From = Vec<usize>;

struct Taken {
    /// For each state behind the word, the way taken.
    choice: Vec<usize>,
    /// For each allowed way and syllable, the states before.
    from: Vec<Vec<From>>,
}

/// Chooses among the allowed ways and finds the syllables that carry the beats.
pub(super) fn scan(
    line: &[Vec<Way>],
    allowed: &[Vec<usize>],
    frame: Frame,
    pattern: Option<usize>,
) -> Scanned {
    let beats = frame.beats();
    let count: usize = line.iter().flatten().map(|way| way.classes.len()).sum();
    if count.saturating_mul(beats) > LARGEST {
        return counted_off(line, allowed, beats);
    }
    let halves = usize::try_from((frame.span() * 2 / frame.unit()).floor()).unwrap_or(0);
    let search = Search {
        beats,
        pickup: halves.clamp(4, MOST_LIGHTS),
        triple: frame.meter.is_triple(),
    };
    let mut costs = vec![u32::MAX; state(beats, MOST_LIGHTS) + 1];
    costs[0] = 0;
    let mut taken = Vec::with_capacity(line.len());
    for (ways, allowed) in line.iter().zip(allowed) {
        let mut behind = vec![u32::MAX; costs.len()];
        let mut choice = vec![usize::MAX; costs.len()];
        let mut froms = Vec::with_capacity(allowed.len());
        if allowed.is_empty() {
            behind.clone_from(&costs);
        }
        for (index, way) in allowed
            .iter()
            .enumerate()
            .filter_map(|(i, way)| Some((i, ways.get(*way)?)))
        {
            let mut now: Vec<u32> = costs
                .iter()
                .map(|cost| cost.saturating_add(way.cost))
                .collect();
            let mut from = Vec::with_capacity(way.classes.len());
            for class in &way.classes {
                let (next, before) = search.step(&now, *class);
                now = next;
                from.push(before);
            }
            for (state, (&found, best)) in now.iter().zip(&mut behind).enumerate() {
                if found < *best {
                    *best = found;
                    if let Some(slot) = choice.get_mut(state) {
                        *slot = index;
                    }
                }
            }
            froms.push(from);
        }
        costs = behind;
        taken.push(Taken {
            choice,
            from: froms,
        });
    }
    let end = |state: usize, cost: u32| {
        let (carried, lights) = (state / (MOST_LIGHTS + 1), state % (MOST_LIGHTS + 1));
        cost.saturating_add(trailing(lights))
            .saturating_add(used(carried, beats, pattern))
    };
    // A line without a beat is no line, unless it has no syllable.
    let carried = costs
        .iter()
        .enumerate()
        .filter(|(s, c)| **c != u32::MAX && (*s > MOST_LIGHTS || *s == 0));
    let best = carried
        .map(|(state, cost)| (end(state, *cost), state))
        .min();
    let Some((cost, last)) = best else {
        return counted_off(line, allowed, beats);
    };
    trace(allowed, &taken, last, cost)
}

fn trace(allowed: &[Vec<usize>], taken: &[Taken], last: usize, cost: u32) -> Scanned {
    let (mut ways, mut on) = (Vec::new(), Vec::new());
    let mut at = last;
    for (allowed, taken) in allowed.iter().zip(taken).rev() {
        let choice = taken.choice.get(at).copied().unwrap_or(usize::MAX);
        for from in taken
            .from
            .get(choice)
            .map(Vec::as_slice)
            .unwrap_or_default()
            .iter()
            .rev()
        {
            let before = from.get(at).copied().unwrap_or(0);
            let (beats, carried) = (before / (MOST_LIGHTS + 1), at / (MOST_LIGHTS + 1));
            on.push((carried > beats).then_some(beats));
            at = before;
        }
        ways.push(allowed.get(choice).copied().unwrap_or(0));
    }
    ways.reverse();
    on.reverse();
    Scanned { ways, on, cost }
}

struct Search {
    beats: usize,
    /// The most syllables in the pickup: no longer than a line beat, as far as half a unit each goes.
    pickup: usize,
    triple: bool,
}

impl Search {
    fn step(&self, costs: &[u32], class: Class) -> (Vec<u32>, From) {
        let mut next = vec![u32::MAX; costs.len()];
        let mut from = vec![0; costs.len()];
        for (before, &cost) in costs.iter().enumerate().filter(|(_, c)| **c != u32::MAX) {
            let (beats, lights) = (before / (MOST_LIGHTS + 1), before % (MOST_LIGHTS + 1));
            let mut go = |to: usize, cost: u32| {
                if let (Some(best), Some(slot)) = (next.get_mut(to), from.get_mut(to))
                    && cost < *best
                {
                    (*best, *slot) = (cost, before);
                }
            };
            if beats < self.beats {
                let run = if beats == 0 {
                    pickup(lights)
                } else {
                    between(lights, self.triple)
                };
                go(
                    state(beats + 1, 0),
                    cost.saturating_add(run).saturating_add(on_beat(class)),
                );
            }
            if lights < if beats == 0 { self.pickup } else { MOST_LIGHTS } {
                go(
                    state(beats, lights + 1),
                    cost.saturating_add(off_beat(class)),
                );
            }
        }
        (next, from)
    }
}

/// A line that is too long to search: the first beat falls on its first syllable, the others at even distances.
fn counted_off(line: &[Vec<Way>], allowed: &[Vec<usize>], beats: usize) -> Scanned {
    let ways: Vec<usize> = allowed
        .iter()
        .map(|ways| ways.first().copied().unwrap_or(0))
        .collect();
    let count: usize = line
        .iter()
        .zip(&ways)
        .map(|(choices, way)| choices.get(*way).map_or(0, |w| w.classes.len()))
        .sum();
    let mut on = vec![None; count];
    for beat in 0..beats.min(count) {
        if let Some(slot) = on.get_mut(beat * count / beats.min(count).max(1)) {
            *slot = Some(beat);
        }
    }
    Scanned {
        ways,
        on,
        cost: between(count / beats.max(1), false),
    }
}
