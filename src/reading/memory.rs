//! What was read before: a line is laid anew only when its words, its phrase or what the verses share has changed.

use super::chord_times::{self, RowReading, SoundingChord};
use super::laid::Laid;
use crate::music::meter::Meter;
use crate::music::quarters::Quarters;
use crate::music::tune::{Phrase, Signature};
use crate::singing::placement::{Frame, Pattern, Placement, place};
use crate::singing::underlay::places::Places;
use crate::singing::ways::{self, Way};
use crate::song::chord_row::ChordRow;
use crate::song::column::{Column, part_of};
use crate::song::{NodeId, Song};
use crate::words::line::WordReadings;
use crate::words::{SongWords, line};
use std::collections::HashMap;
use std::sync::Arc;

/// Lines, phrases and chord rows read before. A copy shares what it remembers.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    own: Vec<(String, String)>,
    own_words: SongWords,
    lines: HashMap<NodeId, LineMemory>,
    phrases: Vec<(Signature, Meter, Arc<Prepared>)>,
    /// Counts readings, to forget lines that are gone.
    readings: u32,
}

/// A phrase of a tune, read and prepared.
#[derive(Debug)]
pub struct Prepared {
    /// As written.
    pub text: String,
    /// Its notes.
    pub phrase: Arc<Phrase>,
    /// Where its syllables can begin.
    pub places: Places,
}

/// The words of a line with the ways to sing them.
#[derive(Debug)]
pub struct LineWords {
    /// The words with their readings.
    pub words: Vec<WordReadings>,
    /// The ways to sing each.
    pub ways: Vec<Vec<Way>>,
    /// Whether a comma, a full stop or a dash follows each word.
    pub stops: Vec<bool>,
    /// The column behind the lyric's last sign.
    pub end: Column,
}

/// What a line is laid from, beside its words.
#[derive(Clone, Debug)]
pub struct LaidFrom {
    /// What its syllables stand on.
    pub on: On,
    /// Its meter.
    pub meter: Meter,
    /// Which notes began a syllable in the first verse.
    pub habit: Option<Arc<[bool]>>,
}

/// What a line's syllables stand on.
#[derive(Clone, Debug)]
pub enum On {
    /// The notes of a phrase.
    Notes(Arc<Prepared>),
    /// The beats of its bars, with the lines on both sides, which share the time between, and the gap to breathe in.
    Beats {
        /// The line itself.
        placed: Arc<Placement>,
        /// The line before, where it is one without notes too.
        before: Option<Arc<Placement>>,
        /// The line after.
        after: Option<Arc<Placement>>,
        /// What its last syllable leaves free.
        gap: Quarters,
    },
}

impl LaidFrom {
    fn is(&self, other: &Self) -> bool {
        let same = |one: &Option<Arc<Placement>>, other: &Option<Arc<Placement>>| match (one, other)
        {
            (Some(one), Some(other)) => Arc::ptr_eq(one, other),
            (one, other) => one.is_none() && other.is_none(),
        };
        let on = match (&self.on, &other.on) {
            (On::Notes(one), On::Notes(other)) => Arc::ptr_eq(one, other),
            (
                On::Beats {
                    placed,
                    before,
                    after,
                    gap,
                },
                On::Beats {
                    placed: p,
                    before: b,
                    after: a,
                    gap: g,
                },
            ) => Arc::ptr_eq(placed, p) && same(before, b) && same(after, a) && gap == g,
            _ => false,
        };
        on && self.meter == other.meter && self.habit == other.habit
    }
}

/// A chord row as it was, what it stood over, the beat, and what came of it.
type RowRead = (ChordRow, Arc<Laid>, Quarters, Arc<RowReading>);

/// Chords that were lent, the line that lent them and the one that borrowed, and what came of it.
type Lent = (
    Arc<[SoundingChord]>,
    Arc<Laid>,
    Arc<Laid>,
    Arc<[SoundingChord]>,
);

#[derive(Clone, Debug)]
struct LineMemory {
    lyric: String,
    words: Arc<LineWords>,
    placed: Vec<(Frame, Pattern, Arc<Placement>)>,
    laid: Vec<(LaidFrom, Arc<Laid>)>,
    rows: Vec<RowRead>,
    lent: Vec<Lent>,
    used: u32,
}

/// How many ways to lay one line are remembered: as itself, sung again in another setting, and without what the verses share.
const MOST: usize = 6;

impl Memory {
    /// Begins a reading of this song: its own words count from here on.
    pub(super) fn begin(&mut self, song: &Song) {
        if self.own != song.words {
            self.own.clone_from(&song.words);
            self.own_words = SongWords::new(
                song.words
                    .iter()
                    .map(|(word, said)| (word.as_str(), said.as_str())),
            );
            self.lines.clear();
        }
        self.readings = self.readings.wrapping_add(1);
    }

    /// Ends a reading: lines that were not in it, nor in many before it, are forgotten.
    pub(super) fn end(&mut self, lines: usize) {
        if self.lines.len() > 2 * lines + 64 {
            let now = self.readings;
            self.lines
                .retain(|_, line| now.wrapping_sub(line.used) < 16);
        }
        if self.phrases.len() > 4096 {
            self.phrases.clear();
        }
    }

    /// The words of a line.
    pub(super) fn words(&mut self, id: NodeId, lyric: &str) -> Arc<LineWords> {
        let used = self.readings;
        if let Some(line) = self.lines.get_mut(&id)
            && line.lyric == lyric
        {
            line.used = used;
            return Arc::clone(&line.words);
        }
        let words = Arc::new(line_words(lyric, &self.own_words));
        let memory = LineMemory {
            lyric: lyric.to_owned(),
            words: Arc::clone(&words),
            placed: Vec::new(),
            laid: Vec::new(),
            rows: Vec::new(),
            lent: Vec::new(),
            used,
        };
        self.lines.insert(id, memory);
        words
    }

    /// A phrase of a tune.
    pub(super) fn phrase(
        &mut self,
        text: &str,
        signature: Signature,
        meter: Meter,
    ) -> Arc<Prepared> {
        let known = |entry: &&(Signature, Meter, Arc<Prepared>)| {
            entry.0 == signature && entry.1 == meter && entry.2.text == text
        };
        if let Some((.., prepared)) = self.phrases.iter().find(known) {
            return Arc::clone(prepared);
        }
        let phrase = Arc::new(Phrase::read(text, signature, meter));
        let places = Places::of(&phrase, meter, Quarters::ZERO);
        let prepared = Arc::new(Prepared {
            text: text.to_owned(),
            phrase,
            places,
        });
        self.phrases.push((signature, meter, Arc::clone(&prepared)));
        prepared
    }

    /// Which syllables of a line carry the beats of its bars.
    pub(super) fn placed(
        &mut self,
        id: NodeId,
        frame: Frame,
        pattern: Pattern,
    ) -> Option<Arc<Placement>> {
        let line = self.lines.get_mut(&id)?;
        if let Some((.., placed)) = line
            .placed
            .iter()
            .find(|(known, shared, _)| *known == frame && *shared == pattern)
        {
            return Some(Arc::clone(placed));
        }
        let placed = Arc::new(place(&line.words.ways, frame, pattern));
        push(&mut line.placed, (frame, pattern, Arc::clone(&placed)));
        Some(placed)
    }

    /// A line laid before from the same, or laid now.
    pub(super) fn laid(
        &mut self,
        id: NodeId,
        from: &LaidFrom,
        lay: impl FnOnce(&LineWords) -> Laid,
    ) -> Option<Arc<Laid>> {
        let line = self.lines.get_mut(&id)?;
        if let Some((_, laid)) = line.laid.iter().find(|(known, _)| known.is(from)) {
            return Some(Arc::clone(laid));
        }
        let laid = Arc::new(lay(&line.words));
        push(&mut line.laid, (from.clone(), Arc::clone(&laid)));
        Some(laid)
    }

    /// A line's own chord row, as understood over how it is laid.
    pub(super) fn row(
        &mut self,
        id: NodeId,
        row: &ChordRow,
        laid: &Arc<Laid>,
        beat: Quarters,
    ) -> Arc<RowReading> {
        let Some(line) = self.lines.get_mut(&id) else {
            return Arc::default();
        };
        let known = line
            .rows
            .iter()
            .find(|(known, on, unit, _)| known == row && Arc::ptr_eq(on, laid) && *unit == beat);
        if let Some((.., read)) = known {
            return Arc::clone(read);
        }
        let read = Arc::new(chord_times::own(row, laid, line.words.end, beat));
        push(
            &mut line.rows,
            (row.clone(), Arc::clone(laid), beat, Arc::clone(&read)),
        );
        read
    }

    /// The chords that a line borrows from another.
    pub(super) fn borrowed(
        &mut self,
        id: NodeId,
        chords: &Arc<[SoundingChord]>,
        from: &Arc<Laid>,
        laid: &Arc<Laid>,
    ) -> Arc<[SoundingChord]> {
        let Some(line) = self.lines.get_mut(&id) else {
            return Arc::new([]);
        };
        let known = line.lent.iter().find(|(lent, by, to, _)| {
            Arc::ptr_eq(lent, chords) && Arc::ptr_eq(by, from) && Arc::ptr_eq(to, laid)
        });
        if let Some((.., borrowed)) = known {
            return Arc::clone(borrowed);
        }
        let borrowed: Arc<[SoundingChord]> = chord_times::borrowed(chords, from, laid).into();
        push(
            &mut line.lent,
            (
                Arc::clone(chords),
                Arc::clone(from),
                Arc::clone(laid),
                Arc::clone(&borrowed),
            ),
        );
        borrowed
    }
}

/// Remembers one more, and forgets the oldest where there are too many.
fn push<T>(remembered: &mut Vec<T>, one: T) {
    if remembered.len() >= MOST {
        remembered.remove(0);
    }
    remembered.push(one);
}

fn line_words(lyric: &str, own: &SongWords) -> LineWords {
    let words = line::line(lyric, own);
    let after = |(index, word): (usize, &WordReadings)| {
        let from = Column(word.column + word.length);
        let to = words
            .get(index + 1)
            .map_or(Column(usize::MAX), |next| Column(next.column));
        part_of(lyric, from, to).contains(|c: char| ",;:.!?\u{2014}\u{2013}".contains(c))
    };
    let stops = words.iter().enumerate().map(after).collect();
    LineWords {
        ways: ways::of_line(&words),
        stops,
        end: Column::end_of(lyric.trim_end()),
        words,
    }
}
