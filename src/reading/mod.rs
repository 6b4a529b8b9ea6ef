//! All that follows from a song: syllables, seconds, chords' times, air, breaths.
//!
//! In: a [`crate::song::Song`] and a [`memory::Memory`] of lines read before. Out: a [`Reading`], the same for the terminal, the
//! commands and every format. Never: edited, saved, or failing: what makes no sense is noted and a default serves meanwhile.

pub mod chord_times;
mod clock;
pub mod head;
pub mod laid;
mod lay;
pub mod memory;
pub mod order;
pub mod read;
pub mod repeats;
pub mod rhymes;
mod shared;
pub mod slots;

use crate::music::quarters::Quarters;
use crate::music::tune::Phrase;
use crate::singing::air::{Air, Sounding, Verdict};
use crate::singing::stanza::{Shape, Stanza};
use crate::song::NodeId;
use crate::song::column::Column;
use chord_times::{RowReading, SoundingChord};
use head::{Head, Setting};
use laid::{Laid, LaidSyllable, LaidWord};
use rhymes::SectionRhymes;
use std::sync::Arc;

/// What follows from a song.
#[derive(Clone, Debug)]
pub struct Reading {
    /// The header as understood.
    pub head: Head,
    /// The sections in the order sung.
    pub sections: Vec<SectionReading>,
    /// The lines in the order sung; a section that sings another's words again has lines of its own here.
    pub lines: Vec<LineReading>,
    /// When each syllable sounds, line after line.
    pub times: Vec<SyllableTime>,
    /// The same syllables as the breath model sees them; [`Sounding::line`] is an index of [`Reading::lines`].
    pub soundings: Vec<Sounding>,
    /// The level of air through the song: stretches and breaths, in indexes of [`Reading::soundings`].
    pub air: Air,
    /// The song's length in seconds, its first event to the end of its last bar or phrase.
    pub seconds: f64,
}

/// A section as sung.
#[derive(Clone, Debug)]
pub struct SectionReading {
    /// The section.
    pub id: NodeId,
    /// The section whose lines are sung: another one where this one says `again`.
    pub source: NodeId,
    /// Its label, or its number where it has none.
    pub label: String,
    /// `verse`, `chorus` and so on; as typed.
    pub kind: String,
    /// The name of its tune where it names one or the song has one called as its kind.
    pub tune: Option<String>,
    /// How many phrases its tune has; 0 where it is not written down.
    pub phrases: usize,
    /// Sections with the same name here are sung alike.
    pub tie: Arc<str>,
    /// Key, meter, tempo, bars and capo in force.
    pub setting: Setting,
    /// How its lines rhyme.
    pub rhymes: Arc<SectionRhymes>,
    /// Which of the reading's lines are its own.
    pub lines: std::ops::Range<usize>,
    /// Where its time begins, in seconds; a pickup before it belongs to its first line.
    pub start_s: f64,
    /// Where its time ends, in seconds.
    pub end_s: f64,
}

/// A line as sung.
#[derive(Clone, Debug)]
pub struct LineReading {
    /// The line (that of the source section where a section is sung again).
    pub id: NodeId,
    /// The index of its section in the reading.
    pub section: usize,
    /// Its index in the section.
    pub line: usize,
    /// Its phrase of the tune, where the tune is written down.
    pub phrase: Option<Arc<Phrase>>,
    /// The column behind the lyric's last sign.
    pub lyric_end: Column,
    /// Its syllables on beats or notes.
    pub laid: Arc<Laid>,
    /// Where its time 0 lies in its section, from where the section's time begins.
    pub origin: Quarters,
    /// The index of its first syllable in [`Reading::times`].
    pub first_time: usize,
    /// Where its time 0 lies in the song, in seconds.
    pub origin_s: f64,
    /// Start of its first note, in seconds; `None` where nothing is sung.
    pub start_s: Option<f64>,
    /// End of its last written note, in seconds; `None` where nothing is sung.
    pub end_s: Option<f64>,
    /// Its chords as they sound, its own or borrowed.
    pub chords: Arc<[SoundingChord]>,
    /// Its own chord row as understood; empty where it borrows.
    pub row: Arc<RowReading>,
    /// The line whose chords it borrows, where it has none of its own.
    pub borrows: Option<NodeId>,
    /// How many syllables the tune or the other verses ask for, where that is known.
    pub wanted: Option<usize>,
    /// What it has where each word is sung as usual.
    pub shape: Shape,
    /// What the verses sung to its tune have in this line: medians, its own among them.
    pub verses_shape: Shape,
    /// How many verses have this line, its own among them; a section sung again counts once.
    pub verses: usize,
    /// The level at the line's end, in lungfuls; may be negative. `None` where nothing is sung.
    pub air_left: Option<f64>,
    /// Seconds of plain singing still possible before the floor; negative: seconds missing.
    pub seconds_left: Option<f64>,
    /// The verdict on the stretches that the line touches.
    pub verdict: Option<Verdict>,
    /// The verdict on a bad day, with note and refill at 85 %.
    pub bad_day: Option<Verdict>,
    /// The column of the word at which the level passes the floor.
    pub falls_at: Option<Column>,
}

/// When a syllable sounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SyllableTime {
    /// Its start, in seconds.
    pub start_s: f64,
    /// The end of its last note as written, in seconds.
    pub end_s: f64,
    /// The level of air at its end, in lungfuls.
    pub air: f64,
}

impl LineReading {
    /// The name of its tune and the index of its phrase, where the tune is written down.
    #[must_use]
    pub fn phrase_name<'a>(&self, reading: &'a Reading) -> Option<(&'a str, usize)> {
        let section = reading.sections.get(self.section)?;
        Some((
            section.tune.as_deref()?,
            self.line.checked_rem(section.phrases)?,
        ))
    }
}

impl Reading {
    /// The times of a line's syllables.
    #[must_use]
    pub fn times_of(&self, line: &LineReading) -> &[SyllableTime] {
        self.times
            .get(line.first_time..line.first_time + line.laid.syllables.len())
            .unwrap_or(&[])
    }

    /// The form that the verses of a section's tune share.
    #[must_use]
    pub fn stanza(&self, section: &SectionReading) -> Stanza {
        let lines = self.lines.get(section.lines.clone()).unwrap_or_default();
        Stanza(lines.iter().map(|line| line.verses_shape).collect())
    }

    /// The first time that a line is sung.
    #[must_use]
    pub fn line_of(&self, id: NodeId) -> Option<&LineReading> {
        self.lines.iter().find(|line| line.id == id)
    }

    /// The line in which a syllable of the song is sung, by its index in [`Reading::times`].
    #[must_use]
    pub fn line_at(&self, syllable: usize) -> Option<&LineReading> {
        self.lines.get(self.soundings.get(syllable)?.line)
    }

    /// The syllable of the song with that index, with its line.
    #[must_use]
    pub fn syllable_at(&self, syllable: usize) -> Option<(&LineReading, &LaidSyllable)> {
        let line = self.line_at(syllable)?;
        Some((
            line,
            line.laid
                .syllables
                .get(syllable.checked_sub(line.first_time)?)?,
        ))
    }

    /// The word that ends with this syllable of the song, with its line and the column behind it; `None` inside a word.
    #[must_use]
    pub fn word_ending_at(&self, syllable: usize) -> Option<(&LineReading, &LaidWord, Column)> {
        let (line, found) = self.syllable_at(syllable)?;
        let next = line.laid.syllables.get(syllable + 1 - line.first_time);
        let word = line
            .laid
            .words
            .get(found.word)
            .filter(|_| next.is_none_or(|next| next.word != found.word))?;
        Some((line, word, word.end()))
    }
}
