//! The repeats of a tune: sections whose chords lie over the same melody.

use super::Reading;
use super::slots::{self, PlacedSlot};
use crate::harmony::plan::{self, curve, usual_turn};
use crate::harmony::slot::{Setting, Slot};
use crate::harmony::variant::{Sounding, Variant};
use crate::song::Song;

/// A section that has chords, ready for the search.
#[derive(Clone, Debug)]
pub struct Repeat {
    /// The index of the section in the reading.
    pub section: usize,
    /// Its chords with their places.
    pub placed: Vec<PlacedSlot>,
    /// The same as the search sees them.
    pub slots: Vec<Slot>,
    /// What holds for the section.
    pub setting: Setting,
}

/// The repeats of the tune, in the order sung; sections without chords are left out.
#[must_use]
pub fn of_tune(reading: &Reading, song: &Song, tie: &str) -> Vec<Repeat> {
    let sections = reading.sections.iter().enumerate();
    sections
        .filter(|(_, section)| *section.tie == *tie)
        .filter_map(|(index, section)| {
            let placed = slots::of_section(reading, index);
            (!placed.is_empty()).then(|| Repeat {
                section: index,
                slots: placed.iter().map(|placed| placed.slot.clone()).collect(),
                placed,
                setting: slots::setting(reading, song, section),
            })
        })
        .collect()
}

/// A variant for each repeat, along the usual curve; where `keep` says so, repeats that have other chords than the first keep them. `None` where `stop` said so before the end.
#[must_use]
pub fn planned(repeats: &[Repeat], keep: bool, stop: &dyn Fn() -> bool) -> Option<Vec<Variant>> {
    let heats = curve(repeats.len(), usual_turn(repeats.len()));
    let asked: Vec<_> = repeats
        .iter()
        .zip(heats)
        .map(|(repeat, heat)| plan::Repeat {
            slots: &repeat.slots,
            setting: &repeat.setting,
            heat,
            stays: keep
                && !repeats
                    .first()
                    .is_some_and(|first| has_chords_of(repeat, first)),
        })
        .collect();
    plan::plan(&asked, stop)
}

fn has_chords_of(repeat: &Repeat, first: &Repeat) -> bool {
    let chords = |repeat: &Repeat| -> Vec<_> {
        let slots = repeat.slots.iter();
        slots.map(|slot| slot.base.clone()).collect()
    };
    chords(repeat) == chords(first)
}

/// The chords over these slots of the section with that index in the repeat before, or else the one after, that has other chords; `None` where neither has.
#[must_use]
pub fn neighbour(
    reading: &Reading,
    number: usize,
    placed: &[PlacedSlot],
) -> Option<Vec<Vec<Sounding>>> {
    let section = reading.sections.get(number)?;
    let tied = |index: &usize| {
        reading
            .sections
            .get(*index)
            .is_some_and(|other| other.tie == section.tie)
    };
    let repeats: Vec<usize> = (0..reading.sections.len()).filter(tied).collect();
    let at = repeats.iter().position(|index| *index == number)?;
    let own = over(placed, placed);
    [at.checked_sub(1), at.checked_add(1)]
        .into_iter()
        .filter_map(|at| repeats.get(at?))
        .map(|index| slots::of_section(reading, *index))
        .filter(|other| !other.is_empty())
        .map(|other| over(placed, &other))
        .find(|other| *other != own)
}

/// What sounds over each of these slots in another repeat.
fn over(placed: &[PlacedSlot], others: &[PlacedSlot]) -> Vec<Vec<Sounding>> {
    let sounding = |slot: &Slot| {
        let end = slot.start + slot.length;
        let here = others.iter().map(|other| &other.slot);
        here.filter(|other| other.start < end && other.start + other.length > slot.start)
            .filter_map(|other| {
                Some(Sounding {
                    chord: other.base.clone()?,
                    after: other.start.max(slot.start) - slot.start,
                })
            })
            .collect()
    };
    placed.iter().map(|placed| sounding(&placed.slot)).collect()
}
