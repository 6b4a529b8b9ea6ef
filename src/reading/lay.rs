//! One line laid on its notes, or on the beats of its bars.

use super::laid::{Laid, LaidNote, LaidSyllable, LaidWord, Timing};
use super::memory::{LaidFrom, LineWords, On};
use crate::music::quarters::Quarters;
use crate::singing::air::Ends;
use crate::singing::charge;
use crate::singing::range::Compass;
use crate::singing::stresses::{Beaten, conflicts};
use crate::singing::underlay::{Sung, Underlay, underlay};
use crate::song::column::Column;
use crate::words::line::WordReadings;
use crate::words::phone::Phone;

/// Lays a line on its notes, or on the beats of its bars.
pub(super) fn lay(words: &LineWords, from: &LaidFrom) -> Laid {
    let (found, phrase, length) = match &from.on {
        On::Notes(prepared) => (
            underlay(&words.ways, &prepared.places, from.habit.as_deref()),
            Some(prepared),
            prepared.phrase.length,
        ),
        On::Beats {
            placed,
            before,
            after,
            gap,
        } => (
            Some(placed.set(before.as_deref(), after.as_deref(), *gap)),
            None,
            placed.length(),
        ),
    };
    let found = found.as_ref();
    let notes = phrase.iter().flat_map(|prepared| &prepared.phrase.notes);
    let syllables = found.map_or_else(Vec::new, |found| {
        let sung = found.syllables.iter();
        sung.filter_map(|sung| syllable(words, found, sung))
            .collect()
    });
    let laid_words: Vec<LaidWord> = words
        .words
        .iter()
        .enumerate()
        .map(|(index, word)| laid_word(words, word, index, found))
        .collect();
    let sung = syllables.iter().flat_map(|syllable| &syllable.notes);
    let heights = sung.map(|(pitch, _)| pitch.midi());
    let beaten: Vec<Beaten> = syllables
        .iter()
        .map(|syllable| Beaten {
            class: syllable.class,
            word: syllable.word,
            strength: syllable.strength,
        })
        .collect();
    Laid {
        timings: timings(&syllables, &laid_words),
        compass: Compass::of(heights),
        conflicts: conflicts(&beaten),
        syllables,
        words: laid_words,
        length,
        downbeat: phrase.map_or(Quarters::ZERO, |prepared| prepared.phrase.pickup),
        meter: from.meter,
        notes: notes
            .filter_map(|note| {
                Some(LaidNote {
                    pitch: note.pitch?,
                    start: note.start,
                    length: note.length,
                })
            })
            .collect(),
        places: phrase.map(|prepared| prepared.places.wanted()),
        misfits: phrase.and(found).map_or(0, Underlay::additions),
        cost: found.map_or(0, |found| found.cost),
    }
}

fn laid_word(
    words: &LineWords,
    word: &WordReadings,
    index: usize,
    found: Option<&Underlay>,
) -> LaidWord {
    let way = found.map_or(0, |found| way_of(word, index, found));
    let reading = word.readings.readings.get(way);
    LaidWord {
        text: word.text.clone(),
        column: Column(word.column),
        stop: words.stops.get(index).copied().unwrap_or(false),
        estimated: word.readings.is_estimate(),
        why: reading
            .filter(|_| way > 0)
            .map(|reading| reading.why.to_owned()),
    }
}

/// Which reading of a word was taken: where no syllable of it is sung, the one that has none.
fn way_of(word: &WordReadings, index: usize, found: &Underlay) -> usize {
    let sung = found.syllables.iter().find(|sung| sung.word == index);
    sung.map(|sung| sung.way)
        .or_else(|| without_syllable(word))
        .unwrap_or(0)
}

fn without_syllable(word: &WordReadings) -> Option<usize> {
    let mut readings = word.readings.readings.iter();
    readings.position(|reading| reading.count() == 0)
}

/// The word before, where it runs into this one.
fn run_in<'a>(words: &'a LineWords, found: &Underlay, sung: &Sung) -> Option<&'a WordReadings> {
    let index = sung.word.checked_sub(1).filter(|_| sung.syllable == 0)?;
    let word = words.words.get(index)?;
    let silent = without_syllable(word)?;
    (way_of(word, index, found) == silent).then_some(word)
}

fn syllable(words: &LineWords, found: &Underlay, sung: &Sung) -> Option<LaidSyllable> {
    let word = words.words.get(sung.word)?;
    let reading = word.readings.readings.get(sung.way)?;
    let syllable = reading.syllables.get(sung.syllable)?;
    let run_in = run_in(words, found, sung);
    Some(LaidSyllable {
        text: run_in.map_or_else(
            || syllable.text.clone(),
            |before| format!("{} {}", before.text, syllable.text),
        ),
        column: Column(run_in.map_or(word.column + syllable.column, |before| before.column)),
        word: sung.word,
        start: sung.start,
        length: sung.length,
        notes: found
            .notes_of(sung)
            .iter()
            .filter_map(|note| Some((note.pitch?, note.length)))
            .collect(),
        class: sung.class,
        stress: syllable.stress.digit(),
        is_closed: syllable
            .sounds
            .iter()
            .any(|sound| matches!(sound.phone, Phone::IY | Phone::UW | Phone::IH | Phone::UH)),
        strength: sung.strength,
        costs: charge::costs(&syllable.sounds, sung.syllable == 0),
    })
}

/// What the clock needs of each syllable, side by side.
fn timings(syllables: &[LaidSyllable], words: &[LaidWord]) -> Box<[Timing]> {
    let timing = |(number, syllable): (usize, &LaidSyllable)| {
        let last_note = syllable.notes.last().map_or(syllable.length, |note| note.1);
        Timing {
            start: syllable.start.to_f64(),
            length: syllable.length.to_f64(),
            last_note: last_note.to_f64(),
            charge: syllable.costs.iter().sum(),
            ends: if syllables
                .get(number + 1)
                .is_some_and(|next| next.word == syllable.word)
            {
                Ends::Nothing
            } else if words.get(syllable.word).is_some_and(|word| word.stop) {
                Ends::Clause
            } else {
                Ends::Word
            },
        }
    };
    syllables.iter().enumerate().map(timing).collect()
}
