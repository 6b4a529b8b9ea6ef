//! Where the syllables of a line fall in its bars when the tune has no notes.
//!
//! A line has four beats, as most English popular verse, the last of which may be silent (Attridge 1982, The Rhythms of English
//! Poetry). Which syllables carry them is a search for the least cost; the aims are Hayes's (2009, Textsetting as constraint
//! conflict), who ranks them: the sizes are our choice, tried on sixteen lines of old songs.

mod grid;
mod scansion;

pub use self::grid::Frame;
use super::underlay::{Sung, SungNote, Underlay};
use super::ways::{Chosen, Way, syllables};
use crate::music::quarters::Quarters;

/// What a line of the verse is expected to have, where that is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub struct Pattern {
    /// Syllables, as 8 and 6 in common measure.
    pub syllables: Option<usize>,
    /// Stresses, as 4 and 3 in common measure.
    pub beats: Option<usize>,
}

/// Which syllables of a line carry its beats.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placement {
    /// The syllables as they are sung.
    pub syllables: Vec<Chosen>,
    /// For each syllable, the line beat that it carries, from 0.
    pub on: Vec<Option<usize>>,
    /// How well it scans, in thousandths: 0 is best. Costs of the ways chosen included.
    pub cost: u32,
    /// How many syllables the pattern asks for.
    pub wanted: Option<usize>,
    frame: Frame,
}

/// Scans a line: chooses the ways in which its words are sung, and which syllables carry the beats.
///
/// With a number of syllables given, the ways are those that come nearest to it at the least cost; without, each word is sung as
/// usual, and of equally usual ways the one that scans better is taken.
#[must_use]
pub fn place(line: &[Vec<Way>], frame: Frame, pattern: Pattern) -> Placement {
    let allowed = scansion::allowed(line, pattern.syllables);
    let scanned = scansion::scan(line, &allowed, frame, pattern.beats);
    Placement {
        syllables: syllables(line, &scanned.ways),
        on: scanned.on,
        cost: scanned.cost,
        wanted: pattern.syllables,
        frame,
    }
}

impl Placement {
    /// How long the line's slot is.
    #[must_use]
    pub fn length(&self) -> Quarters {
        self.frame.length()
    }

    /// How many syllables stand before the first beat.
    #[must_use]
    pub fn pickup(&self) -> usize {
        self.on.iter().take_while(|on| on.is_none()).count()
    }

    /// How many syllables stand after the last beat that one carries.
    #[must_use]
    pub fn trailing(&self) -> usize {
        self.on.iter().rev().take_while(|on| on.is_none()).count()
    }

    /// How many beats syllables carry.
    #[must_use]
    pub fn beats_used(&self) -> usize {
        self.on.iter().flatten().count()
    }

    /// How long the pickup is: it lies in the end of the slot before. Where the line before needs that time for its own last
    /// syllables, it is pressed together.
    #[must_use]
    pub fn pickup_length(&self, before: Option<&Self>) -> Quarters {
        let count = self.pickup();
        let usual = grid::pickup(self.frame.unit(), count)
            .first()
            .map_or(Quarters::ZERO, |first| -*first);
        let Some(before) = before else { return usual };
        let shares = count + before.trailing() + 1;
        let room = before.frame.length() - before.last_beat();
        let share = room * whole(count) / whole(shares);
        if usual <= share {
            return usual;
        }
        // A pressed pickup still keeps to the grid where it can.
        let fine = self.frame.unit() / 4;
        let steps = (share / fine).floor();
        if steps > 0 { fine * steps } else { share }
    }

    /// When the last beat that a syllable carries falls, from the slot's beginning.
    fn last_beat(&self) -> Quarters {
        let last = self.on.iter().rev().find_map(|on| *on).unwrap_or(0);
        self.frame.span() * whole(last)
    }

    /// The syllables in time. Each sounds to the next; the last one until `gap` before the next line's first syllable or the slot's end, and
    /// where the line's last beat is silent, for one and a half line beats at most. `before` and `after` are the neighbours that are placed in bars too.
    ///
    /// `gap` gives the time of a breath: half a beat, a whole one in fast songs (our choice, see [`line_end_gap`]); nothing where the sense runs on.
    #[must_use]
    pub fn set(&self, before: Option<&Self>, after: Option<&Self>, gap: Quarters) -> Underlay {
        let end = self.frame.length()
            - after.map_or(Quarters::ZERO, |next| next.pickup_length(Some(self)));
        let starts = self.starts(before, end);
        let mut underlay = Underlay {
            syllables: Vec::with_capacity(starts.len()),
            notes: Vec::with_capacity(starts.len()),
            cost: self.cost,
            wanted: self.wanted,
            habit: Vec::new(),
        };
        for (index, (chosen, &start)) in self.syllables.iter().zip(&starts).enumerate() {
            let length = starts
                .get(index + 1)
                .map_or_else(|| self.last_length(start, end, gap), |next| *next - start);
            underlay.notes.push(SungNote {
                pitch: None,
                start,
                length,
            });
            underlay.syllables.push(Sung {
                word: chosen.word,
                way: chosen.way,
                syllable: chosen.syllable,
                start,
                length,
                notes: index..index + 1,
                strength: self.frame.meter.strength(start),
                class: chosen.class,
            });
        }
        underlay
    }

    fn last_length(&self, start: Quarters, end: Quarters, gap: Quarters) -> Quarters {
        let room = end - start;
        // Where the gap leaves less than half, the syllable keeps half.
        let length = (room - gap).max(room / 2);
        if self.beats_used() < self.frame.beats() {
            length.min(self.frame.span() * 3 / 2)
        } else {
            length
        }
    }

    fn starts(&self, before: Option<&Self>, end: Quarters) -> Vec<Quarters> {
        let (unit, span) = (self.frame.unit(), self.frame.span());
        let count = self.pickup();
        let mut starts = grid::pickup(unit, count);
        let length = self.pickup_length(before);
        if starts.first().is_some_and(|first| -*first > length) {
            starts = (0..count)
                .map(|index| -length * whole(count - index) / whole(count))
                .collect();
        }
        let mut index = count;
        while index < self.on.len() {
            let beat = self.on.get(index).copied().flatten().unwrap_or(0);
            let lights = self
                .on
                .iter()
                .skip(index + 1)
                .take_while(|on| on.is_none())
                .count();
            let at = span * whole(beat);
            let is_last = index + 1 + lights == self.on.len();
            let mut offsets = grid::between(span, unit, lights);
            let room = end - at;
            if is_last && offsets.last().is_some_and(|last| *last >= room) {
                offsets = (1..=lights)
                    .map(|light| room * whole(light) / whole(lights + 1))
                    .collect();
            }
            starts.push(at);
            starts.extend(offsets.into_iter().map(|offset| at + offset));
            index += 1 + lights;
        }
        starts
    }
}

/// How long before the next line a line's last syllable ends where it has no notes: half a beat, or a whole beat where half
/// of one is less than the shortest rest in which a singer breathes.
#[must_use]
pub fn line_end_gap(tempo: crate::music::meter::Tempo) -> Quarters {
    let half = tempo.beat / 2;
    if tempo.seconds(half) < super::voice::MIN_REST {
        tempo.beat
    } else {
        half
    }
}

fn whole(count: usize) -> i64 {
    i64::try_from(count).unwrap_or(i64::MAX)
}
