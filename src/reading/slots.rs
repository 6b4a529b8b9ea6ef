//! A section's chords as slots for the search, and chords back into rows.

use super::chord_times::{self, SoundingChord};
use super::laid::Laid;
use super::{LineReading, Reading, SectionReading};
use crate::harmony::slot::{Setting, Slot, SlotNote};
use crate::harmony::variant::Variant;
use crate::music::quarters::Quarters;
use crate::song::Song;
use crate::song::chord_row::{ChordRow, ChordToken};
use crate::song::column::Column;
use crate::song::edit::{Edit, Value};
use crate::song::field::Field;

/// A slot with its place in the song.
#[derive(Clone, Debug)]
pub struct PlacedSlot {
    /// What the search is asked about.
    pub slot: Slot,
    /// The index of its line in the section.
    pub line: usize,
    /// How long a beat is.
    pub beat: Quarters,
    /// As typed.
    pub text: String,
    /// Whether it stands in another line's row.
    pub borrowed: bool,
}

impl PlacedSlot {
    /// The bar and the beat so long after the slot's beginning. Bars count from 1 at the section's first full bar, 0 is a pickup;
    /// beats from 1, 2.5 is half a beat after the second.
    #[must_use]
    pub fn bar_and_beat(&self, after: Quarters) -> (i64, f64) {
        let (moment, bar) = (self.slot.start + after, self.slot.meter.bar());
        (
            (moment / bar).floor() + 1,
            1.0 + (moment.modulo(bar) / self.beat).to_f64(),
        )
    }
}

/// What holds for a section in the search.
#[must_use]
pub fn setting(reading: &Reading, song: &Song, section: &SectionReading) -> Setting {
    let own = song
        .section(section.id)
        .and_then(|written| written.values.get(Field::Mood));
    let sung = song
        .section(section.source)
        .and_then(|written| written.values.get(Field::Mood));
    Setting {
        key: section.setting.key,
        style: reading.head.style,
        mood: own.or(sung).unwrap_or("").to_owned(),
    }
}

/// The chords of a section as they sound, in order, a repeated chord included. Time counts from the section's first full bar.
#[must_use]
pub fn of_section(reading: &Reading, section: usize) -> Vec<PlacedSlot> {
    let Some(section) = reading.sections.get(section) else {
        return Vec::new();
    };
    let lines = reading.lines.get(section.lines.clone()).unwrap_or(&[]);
    let Some(first) = lines.first() else {
        return Vec::new();
    };
    let zero = first.laid.downbeat;
    let end = lines
        .last()
        .map_or(Quarters::ZERO, |line| line.origin + line.laid.length)
        - zero;
    let mut starts: Vec<(Quarters, &LineReading, &SoundingChord)> = lines
        .iter()
        .flat_map(|line| {
            line.chords
                .iter()
                .map(move |chord| (line.origin + chord.start - zero, line, chord))
        })
        .collect();
    starts.sort_by_key(|(start, ..)| *start);
    let notes: Vec<SlotNote> = lines
        .iter()
        .flat_map(|line| sung_notes(line, zero))
        .collect();
    let (meter, beat) = (section.setting.meter, section.setting.tempo.beat);
    let placed = starts
        .iter()
        .enumerate()
        .filter_map(|(index, (start, line, chord))| {
            let next = starts.get(index + 1);
            let length = next.map_or(end, |(next, ..)| *next) - *start;
            if !length.is_positive() {
                return None;
            }
            Some(PlacedSlot {
                slot: Slot {
                    base: chord.chord.clone(),
                    meter,
                    start: *start,
                    length,
                    notes: notes
                        .iter()
                        .filter(|note| {
                            note.start < *start + length && note.start + note.length > *start
                        })
                        .copied()
                        .collect(),
                    notes_known: line.phrase.is_some(),
                    line_end: next.is_none_or(|(_, following, _)| following.line != line.line),
                },
                line: line.line,
                beat,
                text: chord.text.clone(),
                borrowed: line.borrows.is_some(),
            })
        });
    placed.collect()
}

fn sung_notes(line: &LineReading, zero: Quarters) -> impl Iterator<Item = SlotNote> {
    let origin = line.origin - zero;
    line.laid.notes.iter().map(move |note| SlotNote {
        pitch: note.pitch,
        start: origin + note.start,
        length: note.length,
    })
}

/// The edit that writes a variant's chords over the section's lines; `None` where it changes no row.
#[must_use]
pub fn taken(
    reading: &Reading,
    section: usize,
    slots: &[PlacedSlot],
    variant: &Variant,
) -> Option<Edit> {
    let found = reading.sections.get(section)?;
    let lines = reading.lines.get(found.lines.clone())?;
    let zero = lines.first()?.laid.downbeat;
    let mut edits = Vec::new();
    for line in lines {
        let mut changed = false;
        let mut chords: Vec<(Quarters, String)> = Vec::new();
        for (index, placed) in slots
            .iter()
            .enumerate()
            .filter(|(_, placed)| placed.line == line.line)
        {
            let start = placed.slot.start + zero - line.origin;
            let sounding = variant.chords.get(index).map_or(&[][..], Vec::as_slice);
            if variant.changes.iter().any(|change| change.slot == index) {
                changed = true;
                chords.extend(
                    sounding
                        .iter()
                        .map(|sounding| (start + sounding.after, sounding.chord.to_string())),
                );
            } else {
                chords.push((start, placed.text.clone()));
            }
        }
        if changed {
            let row = row_for(
                &chords,
                &line.laid,
                line.lyric_end,
                found.setting.tempo.beat,
            );
            edits.push(Edit::Set {
                node: line.id,
                value: Value::Chords(Some(row)),
            });
        }
    }
    (!edits.is_empty()).then_some(Edit::Group(edits))
}

/// A chord row over this line in which these chords begin at these moments: over syllables where that says it exactly, else by bars.
#[must_use]
pub fn row_for(
    chords: &[(Quarters, String)],
    laid: &Laid,
    lyric_end: Column,
    beat: Quarters,
) -> ChordRow {
    let over = over_syllables(chords, laid, lyric_end, beat);
    let says = |row: &ChordRow| {
        let sounding = chord_times::own(row, laid, lyric_end, beat).sounding;
        sounding.len() == chords.len()
            && sounding
                .iter()
                .zip(chords)
                .all(|(found, (start, text))| found.start == *start && found.text == *text)
    };
    if says(&over) {
        return over;
    }
    let bars = by_bars(chords, laid, beat);
    if says(&bars) { bars } else { over }
}

fn over_syllables(
    chords: &[(Quarters, String)],
    laid: &Laid,
    lyric_end: Column,
    beat: Quarters,
) -> ChordRow {
    let number = |moment: Quarters| ((moment - laid.downbeat) / beat).floor();
    let last = laid.syllables.last().map(|syllable| syllable.start);
    let mut least = Column(0);
    let mut tokens = Vec::with_capacity(chords.len());
    for (start, text) in chords {
        let exactly = laid
            .syllables
            .iter()
            .find(|syllable| syllable.start == *start);
        let in_beat = laid
            .syllables
            .iter()
            .find(|syllable| number(syllable.start) == number(*start) && syllable.start >= *start);
        let syllable = exactly.or(in_beat);
        let column = match (syllable, last) {
            (Some(syllable), _) => syllable.column,
            (None, Some(last)) if *start <= last => {
                let nearest = laid
                    .syllables
                    .iter()
                    .rev()
                    .find(|syllable| syllable.start <= *start);
                nearest.map_or(Column(0), |syllable| syllable.column)
            }
            _ => Column(lyric_end.0 + 1),
        };
        let column = column.max(least);
        let token = ChordToken {
            column,
            text: text.clone(),
        };
        least = Column(column.0 + 1);
        if column >= lyric_end {
            least = Column(token.end().0 + 1); // past the words there is room
        }
        tokens.push(token);
    }
    ChordRow(tokens)
}

/// The row with bar lines, a sign for each beat (or half beat) where a bar holds more than one chord.
fn by_bars(chords: &[(Quarters, String)], laid: &Laid, beat: Quarters) -> ChordRow {
    let bar = laid.meter.bar();
    let mut texts: Vec<String> = Vec::new();
    let pickup: Vec<&str> = chords
        .iter()
        .filter(|(start, _)| *start < laid.downbeat)
        .map(|(_, text)| text.as_str())
        .collect();
    texts.extend(pickup.iter().map(|text| (*text).to_owned()));
    let mut start = laid.downbeat;
    while start < laid.length && texts.len() < 4096 {
        texts.push("|".to_owned());
        let inside: Vec<(Quarters, &str)> = chords
            .iter()
            .filter(|(moment, _)| *moment >= start && *moment < start + bar)
            .map(|(moment, text)| (*moment - start, text.as_str()))
            .collect();
        match inside.as_slice() {
            [] => texts.push("/".to_owned()),
            [(offset, text)] if offset.is_zero() => texts.push((*text).to_owned()),
            several => {
                let even = |unit: Quarters| {
                    several
                        .iter()
                        .all(|(offset, _)| offset.modulo(unit).is_zero())
                };
                let unit = [bar / 2, beat, beat / 2, beat / 4]
                    .into_iter()
                    .find(|unit| even(*unit))
                    .unwrap_or(beat / 4);
                let mut moment = Quarters::ZERO;
                while moment < bar {
                    let here = several.iter().find(|(offset, _)| *offset == moment);
                    texts.push(here.map_or_else(|| "/".to_owned(), |(_, text)| (*text).to_owned()));
                    moment += unit;
                }
            }
        }
        start += bar;
    }
    let mut column = 0;
    let mut tokens = Vec::with_capacity(texts.len());
    for text in texts {
        let token = ChordToken {
            column: Column(column),
            text,
        };
        column = token.end().0 + 1;
        tokens.push(token);
    }
    ChordRow(tokens)
}
