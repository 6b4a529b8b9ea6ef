//! What `vary` answers: slots, candidates and variants of a section, or a plan for the whole song.

use super::Number;
use crate::harmony::variant::{self, Change, Family, Variant};
use crate::harmony::vary::Found;
use crate::music::quarters::Quarters;
use crate::reading::SectionReading;
use crate::reading::slots::PlacedSlot;
use serde::Serialize;

/// The answer of `vary`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct Vary {
    pub section: usize,
    pub label: String,
    pub slots: Vec<VarySlot>,
    pub variants: Vec<VaryVariant>,
}

/// A slot in `vary`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct VarySlot {
    pub slot: usize,
    pub line: usize,
    pub bar: i64,
    pub beat: Number,
    pub base: String,
    pub borrowed: bool,
    pub notes: Vec<i16>,
    pub candidates: Vec<VaryCandidate>,
}

/// A candidate in `vary`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct VaryCandidate {
    pub chord: String,
    pub family: &'static str,
    pub rule: &'static str,
    pub cost: Number,
    pub why: String,
}

/// A variant in `vary`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct VaryVariant {
    pub cost: Number,
    pub chords: Vec<String>,
    pub row: Vec<VaryPlaced>,
    pub changes: Vec<VaryChange>,
    pub summary: String,
}

/// A chord in its place in `vary`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct VaryPlaced {
    pub slot: usize,
    pub bar: i64,
    pub beat: Number,
    pub chord: String,
}

/// A change in `vary`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct VaryChange {
    pub slot: usize,
    pub from: String,
    pub to: String,
    pub rule: &'static str,
    pub why: String,
}

/// The answer of `vary --plan`.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct Plan {
    pub plan: Vec<PlanSection>,
}

/// A section in a plan.
#[derive(Debug, Serialize)]
#[expect(missing_docs, reason = "see Check")]
pub struct PlanSection {
    pub section: usize,
    pub label: String,
    pub chords: Vec<String>,
    pub row: Vec<VaryPlaced>,
    pub changes: Vec<VaryChange>,
}

fn placed(placed: &PlacedSlot, slot: usize, chords: &[variant::Sounding]) -> Vec<VaryPlaced> {
    chords
        .iter()
        .map(|sounding| {
            let (bar, beat) = placed.bar_and_beat(sounding.after);
            VaryPlaced {
                slot,
                bar,
                beat: Number(beat),
                chord: sounding.chord.to_string(),
            }
        })
        .collect()
}

fn row(slots: &[PlacedSlot], variant: &Variant) -> Vec<VaryPlaced> {
    slots
        .iter()
        .zip(&variant.chords)
        .enumerate()
        .flat_map(|(slot, (place, chords))| placed(place, slot, chords))
        .collect()
}

fn changes(changes: &[Change]) -> Vec<VaryChange> {
    let one = |change: &Change| VaryChange {
        slot: change.slot,
        from: change.from.clone(),
        to: change.to.clone(),
        rule: change.rule,
        why: change.why.clone(),
    };
    changes.iter().map(one).collect()
}

fn thousandths(cost: i64) -> Number {
    #[expect(clippy::cast_precision_loss, reason = "costs are small")]
    Number(cost as f64 / 1000.0)
}

/// What `vary` answers for a section.
#[must_use]
pub fn vary(index: usize, section: &SectionReading, slots: &[PlacedSlot], found: &Found) -> Vary {
    let slot = |(number, place): (usize, &PlacedSlot)| {
        let (bar, beat) = place.bar_and_beat(Quarters::ZERO);
        VarySlot {
            slot: number,
            line: place.line + 1,
            bar,
            beat: Number(beat),
            base: place.text.clone(),
            borrowed: place.borrowed,
            notes: place
                .slot
                .notes
                .iter()
                .map(|note| note.pitch.midi())
                .collect(),
            candidates: found
                .candidates
                .get(number)
                .map_or_else(Vec::new, |candidates| {
                    candidates
                        .iter()
                        .filter(|found| found.family != Family::AsWritten)
                        .map(candidate)
                        .collect()
                }),
        }
    };
    Vary {
        section: index + 1,
        label: section.label.clone(),
        slots: slots.iter().enumerate().map(slot).collect(),
        variants: found
            .variants
            .iter()
            .map(|variant| VaryVariant {
                cost: thousandths(variant.cost),
                chords: variant
                    .chords
                    .iter()
                    .map(|chords| variant::row_text(chords))
                    .collect(),
                row: row(slots, variant),
                changes: changes(&variant.changes),
                summary: variant.summary.clone(),
            })
            .collect(),
    }
}

fn candidate(candidate: &variant::Candidate) -> VaryCandidate {
    VaryCandidate {
        chord: variant::row_text(&candidate.chords),
        family: candidate.family.word(),
        rule: candidate.rule,
        cost: thousandths(candidate.cost),
        why: candidate.why.clone(),
    }
}

/// A section of `vary --plan`.
#[must_use]
pub fn planned(
    index: usize,
    section: &SectionReading,
    slots: &[PlacedSlot],
    variant: &Variant,
) -> PlanSection {
    PlanSection {
        section: index + 1,
        label: section.label.clone(),
        chords: variant
            .chords
            .iter()
            .map(|chords| variant::row_text(chords))
            .collect(),
        row: row(slots, variant),
        changes: changes(&variant.changes),
    }
}
