//! The melody over a section's chords: who sounds when, how strongly, and whence and whither it moves.

use super::slot::Slot;
use crate::music::meter::{Meter, Strength};
use crate::music::pitch::Pitch;
use crate::music::quarters::Quarters;

/// The notes of a section in time order, each once.
#[derive(Clone, Debug, Default)]
pub struct Melody {
    notes: Vec<Line>,
}

/// A note among its neighbours.
#[derive(Clone, Copy, Debug)]
struct Line {
    pitch: Pitch,
    start: Quarters,
    end: Quarters,
    /// Whether it begins where the note before ends, with no rest between.
    joined: bool,
}

/// A note, or the part of it, that sounds within a span.
#[derive(Clone, Copy, Debug)]
pub struct Part {
    /// The note.
    pub pitch: Pitch,
    /// How long it sounds within the span.
    pub length: Quarters,
    /// How much the place where it begins weighs, in hundredths.
    pub weight: i64,
    /// Whether it is the first note of the span.
    pub first: bool,
    /// Whether it begins the span.
    pub at_change: bool,
    /// Whether it is the last note of the span.
    pub last: bool,
    /// Semitones from the note before, zero where that is the same or goes on; `None` after a rest.
    pub came: Option<i16>,
    /// Semitones to the next note, likewise.
    pub goes: Option<i16>,
    /// The note of another pitch before, over repetitions, unless a rest parts them.
    pub from: Option<Other>,
    /// The next note of another pitch, likewise.
    pub to: Option<Other>,
}

/// A neighbouring note of another pitch.
#[derive(Clone, Copy, Debug)]
pub struct Other {
    /// Semitones from here to there.
    pub moved: i16,
    /// Its class, 0 = C to 11 = B, where it sounds within the same span.
    pub class_within: Option<u8>,
    /// The same for the note beyond it, where that is a step further in the same direction.
    pub class_beyond: Option<u8>,
}

impl Melody {
    /// The melody of a section's slots; where a note stands in two slots it is one.
    #[must_use]
    pub fn of(slots: &[Slot]) -> Self {
        let mut notes: Vec<Line> = Vec::new();
        for note in slots.iter().flat_map(|slot| &slot.notes) {
            let end = note.start + note.length;
            let known = notes
                .iter()
                .any(|n| n.start == note.start && n.pitch == note.pitch);
            if !known && note.length.is_positive() {
                let joined = notes.last().is_some_and(|before| before.end == note.start);
                notes.push(Line {
                    pitch: note.pitch,
                    start: note.start,
                    end,
                    joined,
                });
            }
        }
        Self { notes }
    }

    /// What sounds from `start` up to `end`, weighed by the meter.
    #[must_use]
    pub fn within(&self, meter: Meter, start: Quarters, end: Quarters) -> Vec<Part> {
        let inside = |note: &Line| note.start < end && note.end > start;
        let mut parts: Vec<Part> = Vec::new();
        for (at, note) in self.notes.iter().enumerate().filter(|(_, n)| inside(n)) {
            let from = note.start.max(start);
            let came = if note.start < start {
                Some(0)
            } else {
                self.before(at)
                    .map(|before| note.pitch.midi() - before.pitch.midi())
            };
            let goes = if note.end > end {
                Some(0)
            } else {
                self.after(at)
                    .map(|after| after.pitch.midi() - note.pitch.midi())
            };
            parts.push(Part {
                pitch: note.pitch,
                length: note.end.min(end) - from,
                weight: weight(meter, from),
                first: parts.is_empty(),
                at_change: from == start,
                last: false,
                came,
                goes,
                from: self.other(at, Self::index_before, &inside),
                to: self.other(at, Self::index_after, &inside),
            });
        }
        if let Some(last) = parts.last_mut() {
            last.last = true;
        }
        parts
    }

    fn index_before(&self, at: usize) -> Option<usize> {
        self.notes.get(at).filter(|note| note.joined)?;
        at.checked_sub(1)
    }

    fn index_after(&self, at: usize) -> Option<usize> {
        self.notes.get(at + 1).filter(|note| note.joined)?;
        Some(at + 1)
    }

    fn before(&self, at: usize) -> Option<&Line> {
        self.notes.get(self.index_before(at)?)
    }

    fn after(&self, at: usize) -> Option<&Line> {
        self.notes.get(self.index_after(at)?)
    }

    /// The nearest note of another pitch in one direction. Repeated notes count as one: words, not the tune, part them.
    fn other(
        &self,
        at: usize,
        next: impl Fn(&Self, usize) -> Option<usize>,
        inside: &impl Fn(&Line) -> bool,
    ) -> Option<Other> {
        let step_to = |from: usize| {
            let pitch = self.notes.get(from)?.pitch.midi();
            let mut at = from;
            loop {
                at = next(self, at)?;
                let note = self.notes.get(at)?;
                if note.pitch.midi() != pitch {
                    return Some((at, note, note.pitch.midi() - pitch));
                }
            }
        };
        let class = |note: &Line| inside(note).then(|| note.pitch.note.class());
        let (found, note, moved) = step_to(at)?;
        let beyond = step_to(found)
            .filter(|(_, _, further)| further.signum() == moved.signum() && further.abs() <= 2);
        Some(Other {
            moved,
            class_within: class(note),
            class_beyond: beyond.and_then(|(_, note, _)| class(note)),
        })
    }
}

/// How much a place in the bar weighs for the fit of a chord, in hundredths.
///
/// About the log-odds of finding a tone of the chord there, over 2.2: counted in the Nottingham Music Database (1031 tunes,
/// 102,219 notes), where in 4/4 90.5 % of the notes on the downbeat are chord tones, 81.1 % on beat 3, 75.1 % on beats 2 and 4, 56.4 % off the
/// beat. Meters that were not counted: our choice.
#[must_use]
pub fn weight(meter: Meter, moment: Quarters) -> i64 {
    use Strength::{Beat, Between, Downbeat, Half, Middle};
    // 2/2 has the bar of 4/4 and is weighed like it.
    let meter = if (meter.numerator(), meter.denominator()) == (2, 2) {
        Meter::COMMON
    } else {
        meter
    };
    let table: [i64; 4] = match (meter.numerator(), meter.is_compound()) {
        (4, _) => [65, 50, 15, 15],
        (2, _) => [60, 60, 50, 10],
        (3, _) => [40, 40, 10, 10],
        (6, true) => [80, 30, 15, 15],
        _ => [60, 40, 15, 15],
    };
    match meter.strength(moment) {
        Downbeat => 100,
        Middle => table[0],
        Beat => table[1],
        Half => table[2],
        Between => table[3],
    }
}

/// From this weight on a note is strong, in hundredths.
pub const STRONG: i64 = 60;

impl Part {
    /// Whether a change of chord has to reckon with it: it stands on a strong beat, comes first, or lasts a half note or more.
    #[must_use]
    pub fn is_strong(&self) -> bool {
        self.weight >= STRONG || self.first || self.length >= Quarters::from(2)
    }

    /// Its class, 0 = C to 11 = B.
    #[must_use]
    pub fn class(&self) -> u8 {
        self.pitch.note.class()
    }
}
