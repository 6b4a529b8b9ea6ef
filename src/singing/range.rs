//! Where a melody lies in the singer's voice.

use crate::music::pitch::Pitch;

/// The key number at which a written note sounds: `octave` is how many octaves the voice sounds above what is written, `capo`
/// the fret of the capo, since keys and tunes are written as fingered.
///
/// ```
/// # use breathmark::{music::pitch::Pitch, singing::range::sounding};
/// assert_eq!(sounding(Pitch::parse("E4").unwrap(), -1, 2), 54);
/// ```
#[must_use]
pub fn sounding(written: Pitch, octave: i16, capo: i16) -> i16 {
    written.midi() + 12 * octave + capo
}

/// The notes between two, both included, as key numbers of the MIDI 1.0 specification (middle C is 60).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Compass {
    /// The lowest.
    pub low: i16,
    /// The highest.
    pub high: i16,
}

/// Semitones at the bottom of a range that are outside the tessitura. Our choice.
const BELOW_TESSITURA: i16 = 3;
/// Semitones at the top of a range that are outside the tessitura. Our choice.
const ABOVE_TESSITURA: i16 = 4;

/// The share of a line's sung seconds outside the tessitura from which it deserves a remark. Our choice.
pub const MUCH_OUTSIDE: f64 = 1.0 / 3.0;

impl Compass {
    /// From the lowest to the highest of some notes; `None` where there is none.
    pub fn of(notes: impl Iterator<Item = i16> + Clone) -> Option<Self> {
        let low = notes.clone().min()?;
        let high = notes.max()?;
        Some(Self { low, high })
    }

    /// Whether all that another compass holds, moved by so many semitones, lies in this one.
    ///
    /// ```
    /// # use breathmark::singing::range::Compass;
    /// let voice = Compass { low: 45, high: 64 }; // A2-E4
    /// assert!(voice.holds_all(Compass { low: 59, high: 71 }, -12));
    /// assert!(!voice.holds_all(Compass { low: 59, high: 71 }, 0));
    /// ```
    #[must_use]
    pub const fn holds_all(self, other: Self, moved: i16) -> bool {
        self.holds(other.low + moved) && self.holds(other.high + moved)
    }

    /// Whether a note lies in it.
    #[must_use]
    pub const fn holds(self, note: i16) -> bool {
        self.low <= note && note <= self.high
    }

    /// Where the voice lies comfortably: the range without its lowest 3 and highest 4 semitones; all of a range that is too
    /// narrow for that.
    #[must_use]
    pub const fn tessitura(self) -> Self {
        let inner = Self {
            low: self.low + BELOW_TESSITURA,
            high: self.high - ABOVE_TESSITURA,
        };
        if inner.low <= inner.high { inner } else { self }
    }
}

/// How notes lie in a range.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Reach {
    /// Which of the notes lie outside the range, from 0.
    pub outside: Vec<usize>,
    /// The share of sung seconds outside the tessitura, from 0 to 1.
    pub outside_tessitura: f64,
}

/// How notes (key number as it sounds, seconds) lie in the singer's range.
///
/// ```
/// # use breathmark::singing::range::{Compass, reach};
/// let voice = Compass { low: 45, high: 64 }; // A2-E4
/// let found = reach(&[(44, 1.0), (50, 2.0), (61, 1.0)], voice);
/// assert_eq!(found.outside, [0]);
/// assert!((found.outside_tessitura - 0.5).abs() < 1e-9);
/// ```
#[must_use]
pub fn reach(notes: &[(i16, f64)], range: Compass) -> Reach {
    let tessitura = range.tessitura();
    let all: f64 = notes.iter().map(|(_, seconds)| seconds).sum();
    let beyond = notes.iter().filter(|(note, _)| !tessitura.holds(*note));
    let beyond: f64 = beyond.map(|(_, seconds)| seconds).sum();
    Reach {
        outside: (0..notes.len())
            .filter(|&i| notes.get(i).is_some_and(|(note, _)| !range.holds(*note)))
            .collect(),
        outside_tessitura: if all > 0.0 { beyond / all } else { 0.0 },
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn a_narrow_range_is_its_own_tessitura() {
        let narrow = Compass { low: 60, high: 66 };
        assert_eq!(narrow.tessitura(), narrow);
        assert_eq!(
            Compass { low: 45, high: 64 }.tessitura(),
            Compass { low: 48, high: 60 }
        );
    }

    #[test]
    fn no_notes_reach_nowhere() {
        let found = reach(&[], Compass { low: 45, high: 64 });
        assert_eq!(found, Reach::default());
        assert_eq!(Compass::of([].into_iter()), None);
    }
}
