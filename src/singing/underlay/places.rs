//! Where the syllables of a line can begin: the notes of a phrase, and the grid inside them.

use super::costs;
use super::search::Found;
use super::{Sung, SungNote, Underlay};
use crate::music::meter::{Meter, Strength};
use crate::music::pitch::Pitch;
use crate::music::quarters::Quarters;
use crate::music::tune::Phrase;
use crate::words::stress::Class;
use std::ops::Range;

/// A phrase prepared for setting words to it; the same for every line that is sung to the phrase.
#[derive(Clone, Debug)]
pub struct Places {
    meter: Meter,
    pickup: Quarters,
    notes: Vec<Note>,
    /// A place a slur, or a note outside one.
    merged: Vec<Place>,
    /// A place a note.
    single: Vec<Place>,
    /// Where a syllable before the first note would begin, if there is a rest to take it from.
    before: Option<Quarters>,
}

#[derive(Clone, Copy, Debug)]
struct Note {
    pitch: Option<Pitch>,
    start: Quarters,
    length: Quarters,
}

/// A note, or the notes under a slur, that a syllable may begin on.
#[derive(Clone, Debug)]
pub(super) struct Place {
    /// Its notes, rests not counted.
    pub(super) notes: Range<usize>,
    /// What a syllable of each class costs that begins here.
    pub(super) start: [u32; 7],
    /// What it costs to go on to this place in one syllable.
    pub(super) added: u32,
    /// Whether going on costs more for light syllables; under a written slur it does not.
    pub(super) added_freely: bool,
    /// What the parts cost if two or three syllables share it: begin costs of the later parts by class.
    pub(super) two: Option<Split>,
    pub(super) three: Option<Split>,
}

/// A note cut up.
#[derive(Clone, Debug)]
pub(super) struct Split {
    pub(super) cost: u32,
    pub(super) later: Vec<[u32; 7]>,
    /// How many notes of the phrase are longer: of equal ways to share, the longest note is taken.
    pub(super) longer: u32,
}

impl Places {
    /// Prepares a phrase that is sung in this meter. An extra syllable before its first note may take time from the rest there.
    #[must_use]
    pub fn of(phrase: &Phrase, meter: Meter) -> Self {
        let sung: Vec<_> = phrase
            .notes
            .iter()
            .filter(|note| note.pitch.is_some())
            .collect();
        let notes: Vec<Note> = sung
            .iter()
            .map(|note| Note {
                pitch: note.pitch,
                start: note.start,
                length: note.length,
            })
            .collect();
        let mut places = Self {
            meter,
            pickup: phrase.pickup,
            notes,
            merged: Vec::new(),
            single: Vec::new(),
            before: None,
        };
        for (index, note) in sung.iter().enumerate() {
            let slurred = index
                .checked_sub(1)
                .and_then(|b| sung.get(b))
                .is_some_and(|b| b.slur.is_some() && b.slur == note.slur);
            let place = places.place(index);
            match places.merged.last_mut() {
                Some(last) if slurred => {
                    last.notes.end = index + 1;
                    (last.two, last.three) = (None, None);
                }
                _ => places.merged.push(place.clone()),
            }
            places.single.push(if slurred {
                Place {
                    start: place.start.map(|cost| cost + costs::SLUR_SHARED),
                    added: 0,
                    added_freely: true,
                    ..place
                }
            } else {
                place
            });
        }
        places.before = places.before_the_first();
        places
    }

    /// How many syllables the phrase asks for: one a note, one a slur.
    #[must_use]
    pub fn wanted(&self) -> usize {
        self.merged.len()
    }

    pub(super) fn merged(&self) -> Row<'_> {
        Row {
            places: &self.merged,
            before: self.before_cost(),
        }
    }

    pub(super) fn single(&self) -> Row<'_> {
        Row {
            places: &self.single,
            before: self.before_cost(),
        }
    }

    fn strength(&self, moment: Quarters) -> Strength {
        self.meter.strength(moment - self.pickup)
    }

    fn starts(&self, moment: Quarters) -> [u32; 7] {
        let strength = self.strength(moment);
        Class::ALL.map(|class| costs::start(class, strength))
    }

    fn place(&self, index: usize) -> Place {
        let note = self.notes.get(index).copied();
        let (start, length) = note.map_or((Quarters::ZERO, Quarters::ONE), |n| (n.start, n.length));
        let after_rest = index
            .checked_sub(1)
            .and_then(|before| self.notes.get(before))
            .is_some_and(|before| before.start + before.length < start);
        Place {
            notes: index..index + 1,
            start: self.starts(start),
            added: costs::melisma(self.strength(start))
                + if after_rest { costs::OVER_A_REST } else { 0 },
            added_freely: false,
            two: Some(self.split(start, length, 2)),
            three: Some(self.split(start, length, 3)),
        }
    }

    fn split(&self, start: Quarters, length: Quarters, parts: usize) -> Split {
        let starts = self.cut(start, length, parts);
        let ends = starts.iter().copied().skip(1).chain([start + length]);
        let shortest = starts
            .iter()
            .zip(ends)
            .map(|(from, to)| to - *from)
            .min()
            .unwrap_or(length);
        let unit = self.meter.unit();
        let each = if shortest >= unit {
            costs::SPLIT_INTO_BEATS
        } else if shortest * 2 >= unit {
            costs::SPLIT_INTO_HALVES
        } else {
            costs::SPLIT_FINER
        };
        let added = u32::try_from(parts.saturating_sub(1)).unwrap_or(u32::MAX);
        Split {
            cost: each.saturating_mul(added),
            longer: self
                .notes
                .iter()
                .map(|note| u32::from(note.length > length))
                .sum(),
            later: starts
                .iter()
                .skip(1)
                .map(|moment| self.starts(*moment))
                .collect(),
        }
    }

    /// Where the parts of a note begin: it is cut at the strongest moments of the grid inside it, the latest of equals first; evenly where
    /// the grid has too few.
    fn cut(&self, start: Quarters, length: Quarters, parts: usize) -> Vec<Quarters> {
        let wanted = parts.saturating_sub(1);
        for fine in [1, 2, 4] {
            let step = self.meter.unit() / fine;
            let steps = (length / step).floor();
            if steps > 64 {
                break;
            }
            // The grid counts from the bar, the note may begin beside it.
            let first = start - (start - self.pickup).modulo(step);
            let mut inside: Vec<Quarters> = (1..=steps + 1)
                .map(|index| first + step * index)
                .filter(|moment| *moment > start && *moment < start + length)
                .collect();
            if inside.len() >= wanted {
                inside.sort_by_key(|moment| {
                    (
                        std::cmp::Reverse(self.strength(*moment)),
                        std::cmp::Reverse(*moment),
                    )
                });
                inside.truncate(wanted);
                inside.push(start);
                inside.sort();
                return inside;
            }
        }
        let count = i64::try_from(parts).unwrap_or(1).max(1);
        (0..count)
            .map(|index| start + length * index / count)
            .collect()
    }

    /// An extra syllable may begin one unit before the first note, in at most half of the rest there.
    fn before_the_first(&self) -> Option<Quarters> {
        let first = self.notes.first()?.start;
        let length = (first / 2).min(self.meter.unit());
        length.is_positive().then(|| first - length)
    }

    fn before_cost(&self) -> Option<[u32; 7]> {
        self.before.map(|moment| {
            self.starts(moment)
                .map(|cost| cost + costs::BEFORE_THE_FIRST_NOTE)
        })
    }

    /// Turns what the search found into syllables in time.
    pub(super) fn laid(&self, row: Row<'_>, found: &Found) -> Underlay {
        let mut underlay = Underlay {
            syllables: Vec::with_capacity(found.syllables.len()),
            notes: Vec::with_capacity(self.notes.len() + 4),
            cost: found.cost,
            wanted: Some(self.merged.len()),
            habit: vec![false; self.notes.len()],
        };
        for (chosen, on) in &found.syllables {
            let from = underlay.notes.len();
            let place = |index: usize| row.places.get(index).map_or(0..0, |p| p.notes.clone());
            if on.before {
                if let (Some(start), Some(first)) = (self.before, self.notes.first()) {
                    underlay.notes.push(SungNote {
                        pitch: first.pitch,
                        start,
                        length: first.start - start,
                    });
                }
            } else if on.parts > 1 {
                if let Some(note) = self.notes.get(place(on.places.start).start) {
                    let starts = self.cut(note.start, note.length, on.parts);
                    let start = starts.get(on.part).copied().unwrap_or(note.start);
                    let end = starts
                        .get(on.part + 1)
                        .copied()
                        .unwrap_or(note.start + note.length);
                    underlay.notes.push(SungNote {
                        pitch: note.pitch,
                        start,
                        length: end - start,
                    });
                }
            } else {
                let notes =
                    place(on.places.start).start..place(on.places.end.saturating_sub(1)).end;
                for note in self.notes.get(notes).unwrap_or_default() {
                    underlay.notes.push(SungNote {
                        pitch: note.pitch,
                        start: note.start,
                        length: note.length,
                    });
                }
            }
            if !on.before
                && on.part == 0
                && let Some(begins) = underlay.habit.get_mut(place(on.places.start).start)
            {
                *begins = true;
            }
            let own = underlay.notes.get(from..).unwrap_or_default();
            let start = own.first().map_or(Quarters::ZERO, |note| note.start);
            let end = own.last().map_or(start, |note| note.start + note.length);
            underlay.syllables.push(Sung {
                word: chosen.word,
                way: chosen.way,
                syllable: chosen.syllable,
                start,
                length: end - start,
                notes: from..underlay.notes.len(),
                strength: self.strength(start),
                class: chosen.class,
            });
        }
        underlay
    }
}

/// The places as the search sees them, in order.
#[derive(Clone, Copy, Debug)]
pub(super) struct Row<'a> {
    pub(super) places: &'a [Place],
    pub(super) before: Option<[u32; 7]>,
}

impl Row<'_> {
    pub(super) fn len(&self) -> usize {
        self.places.len()
    }
}
