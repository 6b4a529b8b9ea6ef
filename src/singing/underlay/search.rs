//! The best way to lay the syllables of a line on places in order: dynamic programming over words, their ways, and places.

use super::costs;
use super::places::{Place, Row, Split};
use crate::singing::ways::{Chosen, MOST_REDUCED, Way, syllables};
use crate::words::stress::Class;
use std::ops::Range;

/// What the search found.
#[derive(Clone, Debug)]
pub(super) struct Found {
    pub(super) syllables: Vec<(Chosen, On)>,
    /// In thousandths, the ways' costs included.
    pub(super) cost: u32,
}

/// What a syllable is laid on.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct On {
    /// Whether it takes the rest before the first note.
    pub(super) before: bool,
    /// Its places; one where it shares it.
    pub(super) places: Range<usize>,
    /// Among how many syllables its place is shared, and which of them it is, from 0.
    pub(super) parts: usize,
    pub(super) part: usize,
}

/// Between two syllables: how many places are taken, whether the next one is shared and how far, how many words are reduced.
type State = usize;

/// The next place is free, or it is being shared: one of two syllables is laid, one of three, two of three.
const FREE: usize = 0;
const ONE_OF_TWO: usize = 1;
const ONE_OF_THREE: usize = 2;
const TWO_OF_THREE: usize = 3;
const PHASES: usize = 4;
const REDUCED: usize = MOST_REDUCED + 1;

const fn state(taken: usize, phase: usize, reduced: usize) -> State {
    (taken * PHASES + phase) * REDUCED + reduced
}

const fn parts(state: State) -> (usize, usize, usize) {
    let rest = state / REDUCED;
    (rest / PHASES, rest % PHASES, state % REDUCED)
}

/// A cost with what decides between equals: fuller ways first, then longer notes shared. 20 bits below the thousandths.
type Key = u64;
const NEVER: Key = Key::MAX;

const fn key(cost: u32) -> Key {
    (cost as Key) << 20
}

/// A search larger than this, in states times syllables, is not worth anybody's wait: such lines are laid evenly.
const LARGEST: usize = 4_000_000;

/// The cheapest way to lay a line on places. `None` where there is nothing to lay or to lay it on, where there are more
/// syllables than three a note, or where the search would be too large.
pub(super) fn best(line: &[Vec<Way>], row: Row<'_>, habit: Option<&[bool]>) -> Option<Found> {
    let fewest: usize = line
        .iter()
        .map(|ways| ways.iter().map(|w| w.classes.len()).min().unwrap_or(0))
        .sum();
    let most: usize = line.iter().flatten().map(|w| w.classes.len()).sum();
    let states = state(row.len(), PHASES - 1, REDUCED - 1) + 1;
    if fewest == 0
        || row.len() == 0
        || fewest > 3 * row.len() + 1
        || states.saturating_mul(most) > LARGEST
    {
        return None;
    }
    let search = Search {
        row,
        habit: habit_costs(row, habit),
        // Long enough that the fewest syllables cover all notes.
        longest: row.len().div_ceil(fewest).max(4),
    };
    search.run(line, states)
}

/// What departing from the habit costs on each place: where a syllable begins on it, and where one goes on to it.
fn habit_costs(row: Row<'_>, habit: Option<&[bool]>) -> Vec<(u32, u32)> {
    let departs = |note: usize, begins: bool| match habit.and_then(|h| h.get(note)) {
        Some(was) if *was != begins => costs::HABIT,
        _ => 0,
    };
    row.places
        .iter()
        .map(|place| {
            let first = place.notes.start;
            let inner: u32 = place
                .notes
                .clone()
                .skip(1)
                .map(|note| departs(note, false))
                .sum();
            (departs(first, true) + inner, departs(first, false) + inner)
        })
        .collect()
}

struct Search<'a> {
    row: Row<'a>,
    habit: Vec<(u32, u32)>,
    /// The most places of one syllable.
    longest: usize,
}

/// For each state behind a syllable, the state before it.
type From = Vec<u32>;
const NOWHERE: u32 = u32::MAX;
/// For a word: for each state behind it the way taken, and for each way and syllable the states before.
type Taken = (Vec<u8>, Vec<Vec<From>>);

impl Search<'_> {
    fn run(&self, line: &[Vec<Way>], states: usize) -> Option<Found> {
        let mut keys = vec![NEVER; states];
        keys[state(0, FREE, 0)] = 0;
        let mut taken: Vec<Taken> = Vec::with_capacity(line.len());
        let mut at_beginning = true;
        for ways in line {
            if ways.is_empty() {
                // Nothing is sung here, such as a dash between words.
                taken.push((vec![0; states], vec![Vec::new()]));
                continue;
            }
            let fullest = ways.iter().map(|w| w.classes.len()).max().unwrap_or(0);
            let mut behind = vec![NEVER; states];
            let mut choice = vec![u8::MAX; states];
            let mut froms = Vec::with_capacity(ways.len());
            for (index, way) in ways.iter().enumerate().take(usize::from(u8::MAX)) {
                let missing = u64::try_from(fullest - way.classes.len())
                    .unwrap_or(0)
                    .min(63);
                let mut now = self.enter(&keys, way, key(way.cost) + (missing << 12));
                let mut from = Vec::with_capacity(way.classes.len());
                for (syllable, &class) in way.classes.iter().enumerate() {
                    let (next, before) = self.step(&now, class, at_beginning && syllable == 0);
                    now = next;
                    from.push(before);
                }
                for (state, (&found, best)) in now.iter().zip(&mut behind).enumerate() {
                    if found < *best {
                        *best = found;
                        if let (Some(slot), Ok(index)) =
                            (choice.get_mut(state), u8::try_from(index))
                        {
                            *slot = index;
                        }
                    }
                }
                froms.push(from);
            }
            at_beginning &= fullest == 0;
            keys = behind;
            taken.push((choice, froms));
        }
        let last = (0..REDUCED)
            .map(|reduced| state(self.row.len(), FREE, reduced))
            .min_by_key(|&s| keys.get(s).copied())?;
        let best = keys.get(last).copied().filter(|k| *k != NEVER)?;
        let (ways, laid) = trace(line, &taken, last)?;
        let syllables = syllables(line, &ways).into_iter().zip(laid).collect();
        Some(Found {
            syllables,
            cost: u32::try_from(best >> 20).unwrap_or(u32::MAX),
        })
    }

    /// The states with a way's cost added; a reduced way counts.
    fn enter(&self, keys: &[Key], way: &Way, cost: Key) -> Vec<Key> {
        let mut entered = vec![NEVER; keys.len()];
        for (index, &found) in keys.iter().enumerate().filter(|(_, k)| **k != NEVER) {
            let (places, phase, reduced) = parts(index);
            let reduced = reduced + usize::from(way.reduced);
            if reduced < REDUCED
                && let Some(slot) = entered.get_mut(state(places, phase, reduced))
            {
                *slot = (*slot).min(found + cost);
            }
        }
        entered
    }

    /// Lays one syllable from every state.
    fn step(&self, keys: &[Key], class: Class, first: bool) -> (Vec<Key>, From) {
        let mut next = vec![NEVER; keys.len()];
        let mut from = vec![NOWHERE; keys.len()];
        let light = if costs::is_light(class) {
            costs::LIGHT_MELISMA
        } else {
            0
        };
        for (index, &found) in keys.iter().enumerate().filter(|(_, k)| **k != NEVER) {
            let (taken, phase, reduced) = parts(index);
            let mut go = |places: usize, phase: usize, key: Key| {
                let to = state(places, phase, reduced);
                if let (Some(best), Some(before)) = (next.get_mut(to), from.get_mut(to))
                    && key <= *best
                {
                    *best = key;
                    *before = u32::try_from(index).unwrap_or(NOWHERE);
                }
            };
            let Some(place) = self.row.places.get(taken) else {
                continue;
            };
            match phase {
                FREE => {
                    if first && let Some(before) = self.row.before {
                        go(taken, FREE, found + key(cost_of(&before, class)));
                    }
                    let (begins, _) = self.habit_of(taken);
                    let mut sum = found + key(cost_of(&place.start, class) + begins);
                    for (split, phase) in [(&place.two, ONE_OF_TWO), (&place.three, ONE_OF_THREE)] {
                        if let Some(split) = split {
                            go(
                                taken,
                                phase,
                                sum + key(split.cost) + u64::from(split.longer.min(255)),
                            );
                        }
                    }
                    go(taken + 1, FREE, sum);
                    for more in 1..self.longest {
                        let Some(added) = self.row.places.get(taken + more) else {
                            break;
                        };
                        sum += key(self.going_on(taken + more, added, light));
                        go(taken + more + 1, FREE, sum);
                    }
                }
                ONE_OF_TWO => go(taken + 1, FREE, found + key(later(&place.two, 0, class))),
                ONE_OF_THREE => go(
                    taken,
                    TWO_OF_THREE,
                    found + key(later(&place.three, 0, class)),
                ),
                _ => go(taken + 1, FREE, found + key(later(&place.three, 1, class))),
            }
        }
        (next, from)
    }

    fn going_on(&self, index: usize, place: &Place, light: u32) -> u32 {
        let (_, goes_on) = self.habit_of(index);
        place.added + goes_on + if place.added_freely { 0 } else { light }
    }

    fn habit_of(&self, place: usize) -> (u32, u32) {
        self.habit.get(place).copied().unwrap_or((0, 0))
    }
}

/// Follows the best path back: the ways, and what each syllable is laid on.
fn trace(line: &[Vec<Way>], taken: &[Taken], last: State) -> Option<(Vec<usize>, Vec<On>)> {
    let (mut ways, mut laid) = (Vec::new(), Vec::new());
    let mut at = last;
    for (word, (choice, froms)) in taken.iter().enumerate().rev() {
        let way = usize::from(*choice.get(at)?);
        let from = froms.get(way)?;
        for before in from.iter().rev() {
            let previous = usize::try_from(*before.get(at)?).ok()?;
            laid.push(on(previous, at));
            at = previous;
        }
        // The word's own reduction is undone: the state before the word counted one less, if it is a reduced way.
        let (places, phase, reduced) = parts(at);
        let was_reduced = line
            .get(word)
            .and_then(|ways| ways.get(way))
            .is_some_and(|w| w.reduced);
        at = state(
            places,
            phase,
            reduced.checked_sub(usize::from(was_reduced))?,
        );
        ways.push(way);
    }
    ways.reverse();
    laid.reverse();
    Some((ways, laid))
}

fn cost_of(costs: &[u32; 7], class: Class) -> u32 {
    costs.get(class.index()).copied().unwrap_or(0)
}

fn later(split: &Option<Split>, part: usize, class: Class) -> u32 {
    split
        .as_ref()
        .and_then(|s| s.later.get(part))
        .map_or(0, |costs| cost_of(costs, class))
}

/// What a syllable was laid on that led from one state to another.
fn on(before: State, after: State) -> On {
    let ((from, phase, _), (to, next, _)) = (parts(before), parts(after));
    let shared = |parts, part| On {
        before: false,
        places: from..from + 1,
        parts,
        part,
    };
    match (phase, next) {
        (FREE, ONE_OF_TWO) => shared(2, 0),
        (FREE, ONE_OF_THREE) => shared(3, 0),
        (ONE_OF_TWO, _) => shared(2, 1),
        (ONE_OF_THREE, _) => shared(3, 1),
        (TWO_OF_THREE, _) => shared(3, 2),
        _ => On {
            before: from == to,
            places: from..to,
            parts: 1,
            part: 0,
        },
    }
}

/// Lays a line evenly, whatever that costs: what is left where a line has many more syllables than notes, or is endless. Each word
/// is sung in its shortest way.
pub(super) fn evenly(line: &[Vec<Way>], row: Row<'_>) -> Option<Found> {
    let shortest = |ways: &Vec<Way>| {
        let index = (0..ways.len()).min_by_key(|&i| ways.get(i).map(|w| w.classes.len()));
        index.unwrap_or(0)
    };
    let ways: Vec<usize> = line.iter().map(shortest).collect();
    let chosen = syllables(line, &ways);
    let (count, places) = (chosen.len(), row.len());
    if count == 0 || places == 0 {
        return None;
    }
    let first_on = |place: usize| (place * count).div_ceil(places);
    let cost = u32::try_from(count.abs_diff(places))
        .unwrap_or(u32::MAX)
        .saturating_mul(costs::SPLIT_FINER);
    let laid = chosen.into_iter().enumerate().map(|(index, chosen)| {
        let on = if count > places {
            let place = index * places / count;
            let parts = first_on(place + 1) - first_on(place);
            On {
                before: false,
                places: place..place + 1,
                parts,
                part: index - first_on(place),
            }
        } else {
            On {
                before: false,
                places: index * places / count..(index + 1) * places / count,
                parts: 1,
                part: 0,
            }
        };
        (chosen, on)
    });
    Some(Found {
        syllables: laid.collect(),
        cost,
    })
}
