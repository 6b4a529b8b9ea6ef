//! The cheapest ways through a row of slots, exactly and in order of cost.
//!
//! Slots are layers of an acyclic graph and a variant is a path. Two demands count along the path, how far it is from the
//! written chords and from another variant, and how many slots are changed; the counters saturate at what is demanded and
//! are part of the state, so nothing has to be filtered afterwards. First the exact cost of finishing is reckoned backward for
//! every state (Viterbi 1967, "Error bounds for convolutional codes", IEEE Transactions on Information Theory 13, p. 260);
//! then paths are grown from the front, the most promising first, which finds them in order of cost (Hart, Nilsson and
//! Raphael 1968, "A formal basis for the heuristic determination of minimum cost paths", IEEE Transactions on Systems
//! Science and Cybernetics 4, p. 100).

use std::cmp::Reverse;
use std::collections::{BinaryHeap, HashSet};

/// One way to fill a slot.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Choice {
    /// In thousandths.
    pub cost: i64,
    /// Whether it differs from the written chord.
    pub changed: bool,
    /// How far it is from the written chord.
    pub different: usize,
    /// How far it is from the other variant.
    pub apart: usize,
    /// Its chords, as numbers in the order of their names; equal chords have equal numbers.
    pub chords: Vec<u16>,
}

/// What a stretch of slots has to reach.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Demand {
    /// The least sum of [`Choice::different`].
    pub different: usize,
    /// The least sum of [`Choice::apart`].
    pub apart: usize,
    /// The greatest number of changed slots.
    pub changes: usize,
}

/// One slot.
#[derive(Clone, Debug)]
pub struct Layer {
    /// The ways to fill it, at least one.
    pub choices: Vec<Choice>,
    /// What each step from a choice of the layer before costs, `[before][here]`; `None` forbids it. Empty in the first layer.
    pub steps: Vec<Vec<Option<i64>>>,
    /// Present where a stretch ends with this slot: what has been demanded of it. The last slot has to end one.
    pub demand: Option<Demand>,
}

/// A way through all layers.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Path {
    /// In thousandths.
    pub cost: i64,
    /// The choice taken in each layer.
    pub picks: Vec<usize>,
}

/// Among paths of equal cost and equally many changes, so many beyond the number asked for are compared by their chords.
const TIES_COMPARED: usize = 500;

/// After so many paths taken up the search asks whether to stop.
const STOP_ASKED: usize = 64;

/// No way to finish.
const NEVER: i64 = i64::MAX / 4;

/// Costs carry the number of changes in their low digits, so that of two equal costs fewer changes win.
const CHANGE: i64 = 1;
const COST: i64 = 4096;

/// The `count` cheapest paths, cheapest first; of equal cost fewer changes first, then fewer different chords, then by names of chords.
/// Paths with the same chords count once. `None` where `stop` says so before the end.
pub fn cheapest(layers: &[Layer], count: usize, stop: &dyn Fn() -> bool) -> Option<Vec<Path>> {
    if layers.is_empty() || count == 0 {
        return Some(Vec::new());
    }
    let stretches = stretches(layers);
    let table = Table::reckoned(layers, &stretches, stop)?;
    grow(layers, &table, count, stop)
}

/// The `count` cheapest paths, and among them up to `others` that differ: each is the cheapest where what the ones before it took
/// would cost `more` for each time it was taken. In order of cost, each row of chords once. `None` where `stop` says so before the end.
pub fn varied(
    layers: &[Layer],
    count: usize,
    (others, more): (usize, i64),
    stop: &dyn Fn() -> bool,
) -> Option<Vec<Path>> {
    let mut found = cheapest(layers, count, stop)?;
    let mut rows: HashSet<_> = found
        .iter()
        .map(|path| chords(layers, &path.picks))
        .collect();
    let mut dearer = layers.to_vec();
    for _ in 0..=others {
        let Some(path) = cheapest(&dearer, 1, stop)?.pop() else {
            break;
        };
        let mut cost = path.cost;
        for ((layer, dearer), &pick) in layers.iter().zip(&mut dearer).zip(&path.picks) {
            if let (Some(choice), Some(dearer)) =
                (layer.choices.get(pick), dearer.choices.get_mut(pick))
            {
                cost -= dearer.cost - choice.cost;
                dearer.cost += if choice.changed { more } else { 0 };
            }
        }
        if rows.insert(chords(layers, &path.picks)) {
            found.push(Path {
                cost,
                picks: path.picks,
            });
        }
    }
    found.sort_by_key(|path| path.cost);
    Some(found)
}

/// The demand in force at each layer.
fn stretches(layers: &[Layer]) -> Vec<Demand> {
    let mut demands = Vec::with_capacity(layers.len());
    let mut current = Demand {
        different: 0,
        apart: 0,
        changes: 0,
    };
    for layer in layers.iter().rev() {
        current = layer.demand.unwrap_or(current);
        demands.push(current);
    }
    demands.reverse();
    demands
}

/// What has been counted within a stretch.
#[derive(Clone, Copy, PartialEq, Eq)]
struct Counted {
    different: usize,
    apart: usize,
    changes: usize,
}

impl Counted {
    const NOTHING: Self = Self {
        different: 0,
        apart: 0,
        changes: 0,
    };

    /// With one more choice, or `None` where that is a change too many.
    fn with(self, choice: &Choice, demand: Demand) -> Option<Self> {
        let changes = self.changes + usize::from(choice.changed);
        (changes <= demand.changes).then(|| Self {
            different: (self.different + choice.different).min(demand.different),
            apart: (self.apart + choice.apart).min(demand.apart),
            changes,
        })
    }

    fn index(self, demand: Demand) -> usize {
        (self.different * (demand.apart + 1) + self.apart) * (demand.changes + 1) + self.changes
    }

    fn all(demand: Demand) -> impl Iterator<Item = Self> {
        (0..=demand.different).flat_map(move |different| {
            (0..=demand.apart).flat_map(move |apart| {
                (0..=demand.changes).map(move |changes| Self {
                    different,
                    apart,
                    changes,
                })
            })
        })
    }

    fn meets(self, demand: Demand) -> bool {
        self.different >= demand.different && self.apart >= demand.apart
    }
}

/// The cost of finishing from each layer, choice and count; the choice itself and what was counted with it lie behind.
struct Table {
    demands: Vec<Demand>,
    /// `[layer][choice][count]`
    rest: Vec<Vec<Vec<i64>>>,
}

impl Table {
    fn reckoned(layers: &[Layer], demands: &[Demand], stop: &dyn Fn() -> bool) -> Option<Self> {
        let mut rest: Vec<Vec<Vec<i64>>> = Vec::with_capacity(layers.len());
        for (at, layer) in layers.iter().enumerate().rev() {
            if stop() {
                return None;
            }
            let demand = *demands.get(at)?;
            let here = match (layers.get(at + 1), rest.last()) {
                (Some(next), Some(rest_of_next)) => {
                    let begun = entered(next, *demands.get(at + 1)?, rest_of_next, layer, demand);
                    (0..layer.choices.len())
                        .map(|choice| cheapest_entry(next, choice, &begun))
                        .collect()
                }
                // Nothing follows: it costs nothing where the demand is met.
                _ => {
                    let ends = Counted::all(demand)
                        .map(|counted| if counted.meets(demand) { 0 } else { NEVER })
                        .collect();
                    vec![ends; layer.choices.len()]
                }
            };
            rest.push(here);
        }
        rest.reverse();
        Some(Self {
            demands: demands.to_vec(),
            rest,
        })
    }

    fn finish(&self, layer: usize, choice: usize, counted: Counted) -> i64 {
        let at = |demand: &Demand| {
            let row = self.rest.get(layer)?.get(choice)?;
            row.get(counted.index(*demand)).copied()
        };
        self.demands.get(layer).and_then(at).unwrap_or(NEVER)
    }
}

/// For each choice of the next layer: what it costs to take it and finish, by the count that this layer ends with.
fn entered(
    next: &Layer,
    next_demand: Demand,
    rest_of_next: &[Vec<i64>],
    layer: &Layer,
    demand: Demand,
) -> Vec<Vec<i64>> {
    next.choices
        .iter()
        .zip(rest_of_next)
        .map(|(choice, rest)| {
            let from = |counted: Counted| -> Option<i64> {
                let start = match layer.demand {
                    Some(closed) if counted.meets(closed) => Counted::NOTHING,
                    Some(_) => return None,
                    None => counted,
                };
                let finish = *rest.get(start.with(choice, next_demand)?.index(next_demand))?;
                (finish < NEVER).then(|| weighed(choice) + finish)
            };
            Counted::all(demand)
                .map(|counted| from(counted).unwrap_or(NEVER))
                .collect()
        })
        .collect()
}

fn weighed(choice: &Choice) -> i64 {
    choice.cost * COST + if choice.changed { CHANGE } else { 0 }
}

/// The least of what the next layer's choices cost, each with the step to it.
fn cheapest_entry(next: &Layer, choice: usize, begun: &[Vec<i64>]) -> Vec<i64> {
    let width = begun.first().map_or(0, Vec::len);
    let mut least = vec![NEVER; width];
    let steps = next.steps.get(choice).map_or(&[][..], Vec::as_slice);
    for (step, costs) in steps.iter().zip(begun) {
        let Some(step) = step else { continue };
        for (best, cost) in least.iter_mut().zip(costs) {
            *best = (*best).min(cost + step * COST);
        }
    }
    for best in &mut least {
        if *best > NEVER / 2 {
            *best = NEVER;
        }
    }
    least
}

/// A path begun: its last choice, and the node before it.
struct Node {
    before: Option<usize>,
    layer: usize,
    choice: usize,
    counted: Counted,
    spent: i64,
}

fn grow(
    layers: &[Layer],
    table: &Table,
    count: usize,
    stop: &dyn Fn() -> bool,
) -> Option<Vec<Path>> {
    let mut nodes: Vec<Node> = Vec::new();
    // Cheapest first; of equal cost the longest, so that paths are finished before others are begun.
    let mut open: BinaryHeap<(Reverse<i64>, usize, Reverse<usize>)> = BinaryHeap::new();
    let push = |nodes: &mut Vec<Node>, open: &mut BinaryHeap<_>, before: Option<usize>| {
        let (layer, counted, spent, last) = match before.and_then(|b| nodes.get(b)) {
            Some(node) => {
                let closes = layers.get(node.layer).is_some_and(|l| l.demand.is_some());
                let counted = if closes {
                    Counted::NOTHING
                } else {
                    node.counted
                };
                (node.layer + 1, counted, node.spent, Some(node.choice))
            }
            None => (0, Counted::NOTHING, 0, None),
        };
        let (Some(here), Some(&demand)) = (layers.get(layer), table.demands.get(layer)) else {
            return;
        };
        for (choice, taken) in here.choices.iter().enumerate() {
            let step = match last {
                Some(last) => here.steps.get(last).and_then(|row| *row.get(choice)?),
                None => Some(0),
            };
            let (Some(step), Some(counted)) = (step, counted.with(taken, demand)) else {
                continue;
            };
            let spent = spent + step * COST + weighed(taken);
            let finish = table.finish(layer, choice, counted);
            if finish < NEVER {
                open.push((Reverse(spent + finish), layer, Reverse(nodes.len())));
                nodes.push(Node {
                    before,
                    layer,
                    choice,
                    counted,
                    spent,
                });
            }
        }
    };
    push(&mut nodes, &mut open, None);
    let mut found: Vec<(i64, Vec<usize>)> = Vec::new();
    let mut rows: HashSet<Vec<Vec<u16>>> = HashSet::new();
    let mut last_wanted = None;
    let mut popped = 0_usize;
    while let Some((Reverse(cost), layer, Reverse(node))) = open.pop() {
        popped += 1;
        if popped.is_multiple_of(STOP_ASKED) && stop() {
            return None;
        }
        let beyond = last_wanted.is_some_and(|last| cost > last);
        if beyond || found.len() >= count + TIES_COMPARED {
            break;
        }
        if layer + 1 < layers.len() {
            push(&mut nodes, &mut open, Some(node));
            continue;
        }
        let picks = picks(&nodes, node);
        if rows.insert(chords(layers, &picks)) {
            found.push((cost, picks));
            if found.len() == count {
                last_wanted = Some(cost);
            }
        }
    }
    found.sort_by_cached_key(|(cost, picks)| {
        let row = chords(layers, picks);
        let mut different = row.concat();
        different.sort_unstable();
        different.dedup();
        (*cost, different.len(), row)
    });
    found.truncate(count);
    Some(
        found
            .into_iter()
            .map(|(cost, picks)| Path {
                cost: cost.div_euclid(COST),
                picks,
            })
            .collect(),
    )
}

fn picks(nodes: &[Node], last: usize) -> Vec<usize> {
    let mut picks = Vec::new();
    let mut at = nodes.get(last);
    while let Some(node) = at {
        picks.push(node.choice);
        at = node.before.and_then(|before| nodes.get(before));
    }
    picks.reverse();
    picks
}

fn chords(layers: &[Layer], picks: &[usize]) -> Vec<Vec<u16>> {
    layers
        .iter()
        .zip(picks)
        .filter_map(|(layer, &pick)| Some(layer.choices.get(pick)?.chords.clone()))
        .collect()
}

#[cfg(test)]
mod tests;
