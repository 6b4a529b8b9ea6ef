//! What was read before: a line is laid anew only when its words, its phrase or what the verses share has changed.

use super::chord_times::{self, RowReading, SoundingChord};
use super::laid::Laid;
use super::rhymes::SectionRhymes;
use crate::music::meter::Meter;
use crate::music::quarters::Quarters;
use crate::music::tune::{Phrase, Signature};
use crate::singing::placement::{Frame, Pattern, Placement, place};
use crate::singing::stanza::Shape;
use crate::singing::underlay::places::Places;
use crate::singing::ways::{self, Way};
use crate::song::chord_row::ChordRow;
use crate::song::column::{Column, part_of};
use crate::song::{NodeId, Song};
use crate::words::line::WordReadings;
use crate::words::rhyme::Habit;
use crate::words::rhyme::line_end::LineEnd;
use crate::words::{SongWords, line};
use std::collections::HashMap;
use std::sync::Arc;

/// Lines, phrases and chord rows read before. A copy shares what it remembers.
#[derive(Clone, Debug, Default)]
pub struct Memory {
    own: Vec<(String, String)>,
    own_words: SongWords,
    /// Where each line is remembered.
    slots: HashMap<NodeId, usize>,
    lines: Vec<LineMemory>,
    phrases: Vec<(Signature, Meter, Arc<Prepared>)>,
    rhymes: HashMap<NodeId, Arc<SectionRhymes>>,
    /// How sections rhyme that were held to a form: as they rhymed alone, the form, and what came of it.
    kept: HashMap<NodeId, KeptForm>,
    /// Counts readings, to forget lines that are gone.
    readings: u32,
}

type KeptForm = (Arc<SectionRhymes>, Habit, Arc<SectionRhymes>);

/// Where a line is remembered until the reading ends, and what is asked of its words at each key.
#[derive(Clone, Copy, Debug)]
pub(super) struct Slot {
    at: usize,
    /// What it has where each word is sung as usual.
    pub(super) shape: Shape,
    /// The column behind the lyric's last sign.
    pub(super) end: Column,
    /// Whether there is no word in it.
    pub(super) wordless: bool,
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
    id: NodeId,
    lyric: String,
    slot: Slot,
    words: Arc<LineWords>,
    ending: Arc<LineEnd>,
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
            self.slots.clear();
        }
        self.readings = self.readings.wrapping_add(1);
    }

    /// Ends a reading: lines that were not in it, nor in many before it, are forgotten.
    pub(super) fn end(&mut self, lines: usize) {
        if self.lines.len() > 2 * lines + 64 {
            let now = self.readings;
            self.lines.retain(|line| now.wrapping_sub(line.used) < 16);
            let slots = self.lines.iter().enumerate();
            self.slots = slots.map(|(index, line)| (line.id, index)).collect();
        }
        if self.rhymes.len() > 2 * lines + 64 {
            self.rhymes.clear();
            self.kept.clear();
        }
        if self.phrases.len() > 4096 {
            self.phrases.clear();
        }
    }

    /// Where the words of a line are, read now if they were not before.
    pub(super) fn words(&mut self, id: NodeId, lyric: &str) -> Slot {
        let at = *self.slots.entry(id).or_insert(self.lines.len());
        let used = self.readings;
        if let Some(line) = self.lines.get_mut(at)
            && line.lyric == lyric
        {
            line.used = used;
            line.slot.at = at;
            return line.slot;
        }
        let line = LineMemory::of(id, lyric, at, used, &self.own_words);
        let slot = line.slot;
        match self.lines.get_mut(at) {
            Some(outdated) => *outdated = line,
            None => self.lines.push(line),
        }
        slot
    }

    /// The words of a line.
    pub(super) fn words_of(&self, slot: Slot) -> &LineWords {
        &self.at(slot).words
    }

    #[expect(
        clippy::indexing_slicing,
        reason = "a slot is only given for a line that is there"
    )]
    fn at(&self, slot: Slot) -> &LineMemory {
        &self.lines[slot.at]
    }

    #[expect(
        clippy::indexing_slicing,
        reason = "a slot is only given for a line that is there"
    )]
    fn at_mut(&mut self, slot: Slot) -> &mut LineMemory {
        &mut self.lines[slot.at]
    }

    /// How a section rhymes when it is held to a form.
    pub(super) fn kept_form(
        &mut self,
        section: NodeId,
        own: &Arc<SectionRhymes>,
        habit: &Habit,
    ) -> Arc<SectionRhymes> {
        if let Some((alone, form, kept)) = self.kept.get(&section)
            && Arc::ptr_eq(alone, own)
            && form == habit
        {
            return Arc::clone(kept);
        }
        let kept = SectionRhymes::kept(own, habit);
        let known = (Arc::clone(own), habit.clone(), Arc::clone(&kept));
        self.kept.insert(section, known);
        kept
    }

    /// How the lines of a section rhyme.
    pub(super) fn rhymes(
        &mut self,
        section: NodeId,
        lines: impl ExactSizeIterator<Item = Slot> + Clone,
    ) -> Arc<SectionRhymes> {
        let ends = lines.map(|slot| &self.at(slot).ending);
        if let Some(known) = self.rhymes.get(&section)
            && known.ends.len() == ends.len()
            && ends
                .clone()
                .zip(&known.ends)
                .all(|(end, known)| Arc::ptr_eq(end, known))
        {
            return Arc::clone(known);
        }
        let rhymes = Arc::new(SectionRhymes::of(ends.cloned().collect()));
        self.rhymes.insert(section, Arc::clone(&rhymes));
        rhymes
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
        let places = Places::of(&phrase, meter);
        let prepared = Arc::new(Prepared {
            text: text.to_owned(),
            phrase,
            places,
        });
        self.phrases.push((signature, meter, Arc::clone(&prepared)));
        prepared
    }

    /// Which syllables of a line carry the beats of its bars.
    pub(super) fn placed(&mut self, slot: Slot, frame: Frame, pattern: Pattern) -> Arc<Placement> {
        let line = self.at_mut(slot);
        if let Some((.., placed)) = line
            .placed
            .iter()
            .find(|(known, shared, _)| *known == frame && *shared == pattern)
        {
            return Arc::clone(placed);
        }
        let placed = Arc::new(place(&line.words.ways, frame, pattern));
        push(&mut line.placed, (frame, pattern, Arc::clone(&placed)));
        placed
    }

    /// A line laid before from the same, or laid now.
    pub(super) fn laid(
        &mut self,
        slot: Slot,
        from: &LaidFrom,
        lay: impl FnOnce(&LineWords) -> Laid,
    ) -> Arc<Laid> {
        let line = self.at_mut(slot);
        if let Some((_, laid)) = line.laid.iter().find(|(known, _)| known.is(from)) {
            return Arc::clone(laid);
        }
        let laid = Arc::new(lay(&line.words));
        push(&mut line.laid, (from.clone(), Arc::clone(&laid)));
        laid
    }

    /// A line's own chord row, as understood over how it is laid.
    pub(super) fn row(
        &mut self,
        slot: Slot,
        row: &ChordRow,
        laid: &Arc<Laid>,
        beat: Quarters,
    ) -> Arc<RowReading> {
        let line = self.at_mut(slot);
        let known = line
            .rows
            .iter()
            .find(|(known, on, unit, _)| known == row && Arc::ptr_eq(on, laid) && *unit == beat);
        if let Some((.., read)) = known {
            return Arc::clone(read);
        }
        let read = Arc::new(chord_times::own(row, laid, line.slot.end, beat));
        push(
            &mut line.rows,
            (row.clone(), Arc::clone(laid), beat, Arc::clone(&read)),
        );
        read
    }

    /// The chords that a line borrows from another.
    pub(super) fn borrowed(
        &mut self,
        slot: Slot,
        chords: &Arc<[SoundingChord]>,
        from: &Arc<Laid>,
        laid: &Arc<Laid>,
    ) -> Arc<[SoundingChord]> {
        let line = self.at_mut(slot);
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

impl LineMemory {
    fn of(id: NodeId, lyric: &str, at: usize, used: u32, own: &SongWords) -> Self {
        let words = line_words(lyric, own);
        Self {
            id,
            lyric: lyric.to_owned(),
            slot: Slot {
                at,
                shape: Shape::of(&words.ways),
                end: Column::end_of(lyric.trim_end()),
                wordless: words.words.is_empty(),
            },
            ending: Arc::new(LineEnd::of(&words.words)),
            words: Arc::new(words),
            placed: Vec::new(),
            laid: Vec::new(),
            rows: Vec::new(),
            lent: Vec::new(),
            used,
        }
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
        words,
    }
}
