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
    /// The lowest and highest note; `None` where there is none.
    pub compass: Option<Compass>,
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
        compass: compass(notes),
        outside: (0..notes.len())
            .filter(|&i| notes.get(i).is_some_and(|(note, _)| !range.holds(*note)))
            .collect(),
        outside_tessitura: if all > 0.0 { beyond / all } else { 0.0 },
    }
}

/// The lowest and the highest of some notes.
#[must_use]
pub fn compass(notes: &[(i16, f64)]) -> Option<Compass> {
    let low = notes.iter().map(|(note, _)| *note).min()?;
    let high = notes.iter().map(|(note, _)| *note).max()?;
    Some(Compass { low, high })
}

/// By how many semitones up (down where negative) a melody would have to be moved so that it lies in the range with the
/// least time outside the tessitura; of equals the smallest move, downward first. `None` where its compass is wider than the range.
///
/// ```
/// # use breathmark::singing::range::{Compass, best_move};
/// let voice = Compass { low: 45, high: 64 };
/// assert_eq!(best_move(&[(59, 1.0), (66, 1.0)], voice), Some(-6));
/// assert_eq!(best_move(&[(40, 1.0), (66, 1.0)], voice), None);
/// ```
#[must_use]
pub fn best_move(notes: &[(i16, f64)], range: Compass) -> Option<i16> {
    let own = compass(notes)?;
    let moves = (range.low - own.low)..=(range.high - own.high);
    let cost = |by: &i16| {
        let moved: Vec<_> = notes
            .iter()
            .map(|(note, seconds)| (note + by, *seconds))
            .collect();
        reach(&moved, range).outside_tessitura
    };
    let key = |by: &i16| (by.unsigned_abs(), *by > 0);
    moves.min_by(|a, b| cost(a).total_cmp(&cost(b)).then(key(a).cmp(&key(b))))
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
        assert_eq!(best_move(&[], Compass { low: 45, high: 64 }), None);
    }

    #[test]
    fn a_melody_that_lies_well_is_not_moved() {
        assert_eq!(
            best_move(&[(50, 1.0), (58, 1.0)], Compass { low: 45, high: 64 }),
            Some(0)
        );
    }
}
