//! Intervals by degree, so that what stands on them is spelled right.

use super::pitch::Note;
use std::fmt;

/// The distance upward from one note to another: how many letters, and how many semitones.
///
/// Both are needed: a fourth of six semitones (C to F#) and a fifth of six (C to Gb) sound alike and are written apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Interval {
    /// The degree as musicians count it: 1 is the note itself, 3 a third, 9 a ninth.
    pub degree: u8,
    /// Semitones upward.
    pub semitones: u8,
}

/// Semitones above the tonic of the seven degrees of the major scale.
const MAJOR: [u8; 7] = [0, 2, 4, 5, 7, 9, 11];

impl Interval {
    /// The note itself.
    pub const UNISON: Self = Self::new(1, 0);

    /// The interval of that degree (1 or more) with that many semitones.
    #[must_use]
    pub const fn new(degree: u8, semitones: u8) -> Self {
        Self { degree, semitones }
    }

    /// The degree as the major scale has it, raised by `alter` semitones: `(7, -1)` is the minor seventh. A lowered first degree
    /// is counted from the octave.
    #[must_use]
    pub fn of_major_scale(degree: u8, alter: i8) -> Self {
        let degree = if degree <= 1 && alter < 0 {
            8
        } else {
            degree.max(1)
        };
        let steps = degree - 1;
        let (octaves, within) = (steps / 7, steps % 7);
        let natural = MAJOR.get(usize::from(within)).copied().unwrap_or(0) + 12 * octaves;
        Self::new(degree, natural.saturating_add_signed(alter))
    }

    /// How many semitones this is above the same degree of the major scale: −1 for a minor third.
    #[must_use]
    pub fn alteration(self) -> i8 {
        let natural = Self::of_major_scale(self.degree, 0).semitones;
        let difference = i16::from(self.semitones) - i16::from(natural);
        i8::try_from(difference).unwrap_or(0)
    }

    /// The interval upward from `low` to `high` within an octave; the alteration keeps both spellings.
    ///
    /// ```
    /// # use breathmark::music::{interval::Interval, pitch::Note};
    /// let up = |low, high| Some(Interval::between(Note::parse(low)?, Note::parse(high)?));
    /// assert_eq!(up("A", "C"), Some(Interval::new(3, 3)));
    /// assert_eq!(up("B", "F"), Some(Interval::new(5, 6)));
    /// ```
    #[must_use]
    pub fn between(low: Note, high: Note) -> Self {
        let letters = (7 + high.step.index() - low.step.index()) % 7;
        let degree = u8::try_from(letters + 1).unwrap_or(1);
        let semitones = (12 + high.class() - low.class()) % 12;
        // B# above B, or Cb above C, may fall on the other side of the octave: take the side nearer to the degree.
        let natural = Self::of_major_scale(degree, 0).semitones;
        if semitones > natural + 6 && degree == 1 {
            return Self::new(8, semitones);
        }
        Self::new(
            degree,
            if semitones + 6 < natural {
                semitones + 12
            } else {
                semitones
            },
        )
    }

    /// The note that lies this interval above `note`, spelled by its letter.
    #[must_use]
    pub fn above(self, note: Note) -> Note {
        let step = note.step.up(i32::from(self.degree) - 1);
        let natural = Note::natural(step).class();
        let wanted = (i16::from(note.class()) + i16::from(self.semitones)).rem_euclid(12);
        let alter = (wanted - i16::from(natural) + 6).rem_euclid(12) - 6;
        Note {
            step,
            alter: i8::try_from(alter).unwrap_or(0),
        }
    }
}

impl fmt::Display for Interval {
    /// As players name a chord's tones: `5`, `b7`, `#9`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let alteration = self.alteration();
        for _ in 0..alteration.unsigned_abs() {
            f.write_str(if alteration > 0 { "#" } else { "b" })?;
        }
        write!(f, "{}", self.degree)
    }
}

/// The simplest name of what sounds like `note`: at most one accidental, sharps kept sharp and flats flat.
///
/// Only needed where transposing made a name that nobody writes (more than two accidentals).
#[must_use]
pub fn respelled(note: Note) -> Note {
    let down = note.alter < 0;
    let name = if down {
        [
            "C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B",
        ]
    } else {
        [
            "C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B",
        ]
    };
    name.get(usize::from(note.class()))
        .and_then(|name| Note::parse(name))
        .unwrap_or(note)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;

    #[test]
    fn between_and_above_are_inverse() {
        let letters = ["C", "D", "E", "F", "G", "A", "B"];
        let signs = ["", "#", "b"];
        let notes: Vec<Note> = letters
            .iter()
            .flat_map(|l| {
                signs
                    .iter()
                    .map(move |s| Note::parse(&format!("{l}{s}")).unwrap())
            })
            .collect();
        for &low in &notes {
            for &high in &notes {
                assert_eq!(
                    Interval::between(low, high).above(low),
                    high,
                    "{low} {high}"
                );
            }
        }
    }

    #[test]
    fn degrees_are_named_as_players_name_them() {
        let names: Vec<_> = [(3, 3), (5, 7), (7, 10), (9, 15), (7, 9), (13, 21)]
            .map(|(d, s)| Interval::new(d, s).to_string())
            .into();
        assert_eq!(names, ["b3", "5", "b7", "#9", "bb7", "13"]);
        assert_eq!(Interval::of_major_scale(9, -1), Interval::new(9, 13));
    }

    #[test]
    fn names_that_nobody_writes_become_simple() {
        let high = Note {
            step: super::super::pitch::Step::B,
            alter: -3,
        };
        assert_eq!(respelled(high).to_string(), "Ab");
    }
}
