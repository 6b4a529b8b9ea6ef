//! The singer's breath: its unit, its levels, and how it is timed.
//!
//! The unit is the *lungful*, the air of one steady note sung as long as it will stay steady. Level 1 is the breath before
//! that note, level 0 the moment at which it breaks off; litres are never needed. Published lung levels are shares of vital
//! capacity; with the share that a best trial uses (90 %: Solomon, Garlitz and Milbrath 2000, Journal of Voice 14: 331–340,
//! twelve people) a share v of vital capacity is the level (v − 0.10) / 0.90.

/// Level after a deliberate full breath: 90 % of vital capacity. Our choice: a breath in a song is no test breath.
pub const FULL: f64 = 8.0 / 9.0;

/// Level after an ordinary breath: 70 % of vital capacity. Our choice, set on evidence: the lower edge of where phrases of
/// classical singers mostly begin (Thomasson and Sundberg 1997, seven singers), above the 42–63 % of speech (Winkworth et
/// al. 1995, Journal of Speech and Hearing Research 38: 124–144).
pub const COMFORTABLE: f64 = 2.0 / 3.0;

/// Level to which singing goes without pressing: 35 % of vital capacity. Our choice, set on evidence: phrases of classical
/// singers mostly end between 30 and 39 % (Thomasson and Sundberg 1997), and the chest pulls inward no more below its resting level.
pub const EASY: f64 = 5.0 / 18.0;

/// Lowest level that a line is planned to end at: 20 % of vital capacity. Our choice, set on evidence: the lowest end named
/// for speech (Hixon, Goldman and Mead 1973, as later texts quote it).
pub const FLOOR: f64 = 1.0 / 9.0;

/// Lungfuls a second that a breath takes in. Our choice, the model's weakest constant: about 2.8 L/s in a chest of 4.5 L,
/// inside the 2–3 L/s of a quick breath in song (value from memory). The breaths that follow, 0.42–0.56 s for a usual phrase, lie within the
/// 50–1225 ms measured for breath noises in song (Nakano, Ogata, Goto and Hiraga 2008, ICMPC 10; 1488 breaths).
pub const REFILL: f64 = 0.7;

/// Seconds that the turn from singing to breathing and back takes. Our choice.
pub const TURN: f64 = 0.10;

/// The shortest rest in which a singer breathes, in seconds. Our choice.
pub const MIN_REST: f64 = 0.25;

/// A silence of so many seconds lets the singer breathe as deep as the next phrase asks. Our choice.
pub const WORDLESS: f64 = 2.0;

/// Steady note where the singer's own is not timed, in seconds. Our choice, near the lower end of the means of
/// published groups, 20.9–31.6 s (Ptacek 1966, Rau and Beckett 1984, Awan 2001, Shanks and Mast 1977, as summaries give them; Maslan et al. 2011,
/// Journal of Voice 25: 709–713: 23.2 and 21.0 s from 60 to 89 years).
pub const UNTIMED: f64 = 22.0;

/// What is left of steady note and refill on a bad day. Our choice; how much playing, nerves and a short night take is not measured.
pub const BAD_DAY: f64 = 0.85;

/// Levels nearer than this are equal: a planned breath ends at [`EASY`] exactly.
pub const EPSILON: f64 = 1e-6;

/// A singer, as far as breath goes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Voice {
    /// How many seconds the singer holds one steady note on one breath; more than zero (values below 1 count as 1).
    pub steady_note: f64,
    /// Lungfuls a second taken in, as [`REFILL`]; a singer may set 0.4 to 0.9.
    pub refill: f64,
    /// Level after an ordinary breath, as [`COMFORTABLE`]. An untrained singer who sings as he speaks may set 5/9, 60 % of vital
    /// capacity (Hoit, Jenks, Watson and Cleveland 1996, Journal of Voice 10: 39–49: country singers breathe in song as in speech).
    pub comfortable: f64,
}

impl Default for Voice {
    /// A singer who has not timed a note.
    fn default() -> Self {
        Self::timed(UNTIMED)
    }
}

impl Voice {
    /// A singer with a steady note of so many seconds.
    #[must_use]
    pub const fn timed(steady_note: f64) -> Self {
        Self {
            steady_note,
            refill: REFILL,
            comfortable: COMFORTABLE,
        }
    }

    /// The same singer on a bad day: steady note and refill at [`BAD_DAY`].
    #[must_use]
    pub fn on_a_bad_day(self) -> Self {
        Self {
            steady_note: self.steady_note * BAD_DAY,
            refill: self.refill * BAD_DAY,
            ..self
        }
    }

    /// Lungfuls that so many seconds of steady note use.
    #[must_use]
    pub fn used(self, seconds: f64) -> f64 {
        seconds / self.steady_note.max(1.0)
    }

    /// Seconds of plain singing from a level down to [`FLOOR`]; negative: seconds missing.
    #[must_use]
    pub fn seconds_left(self, level: f64) -> f64 {
        (level - FLOOR) * self.steady_note.max(1.0)
    }

    /// The longest stretch, in seconds of steady note, that an ordinary breath carries without pressing: 7/18 of the steady note
    /// where [`Voice::comfortable`] is as usual.
    #[must_use]
    pub fn easy_up_to(self) -> f64 {
        (self.comfortable.min(FULL) - EASY) * self.steady_note.max(1.0)
    }

    /// The longest stretch, in seconds of steady note, that any breath carries: 7/9 of the steady note.
    #[must_use]
    pub fn sung_up_to(self) -> f64 {
        (FULL - FLOOR) * self.steady_note.max(1.0)
    }
}

/// A timing of the steady note.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Timing {
    /// The steady note in seconds: the median of the trials. Our choice: one lucky or broken trial does not move it; clinics
    /// take the longest or the mean.
    pub steady_note: f64,
    /// Whether two trials differ by more than a quarter of the longer: better timed anew on another day.
    pub uneven: bool,
}

/// The steady note from trials in seconds; of an even number, the mean of the middle two. Trials that are not finite and positive
/// do not count; `None` where no trial counts.
///
/// Three trials, a minute or more apart, are the usual protocol (Maslan et al. 2011 found no significant change among three: 21.77, 21.67, 22.80 s).
///
/// ```
/// # use breathmark::singing::voice::timing;
/// let timed = timing(&[17.2, 19.1, 18.4]).unwrap();
/// assert_eq!((timed.steady_note, timed.uneven), (18.4, false));
/// ```
#[must_use]
pub fn timing(trials: &[f64]) -> Option<Timing> {
    let mut trials: Vec<f64> = trials
        .iter()
        .copied()
        .filter(|t| t.is_finite() && *t > 0.0)
        .collect();
    trials.sort_by(f64::total_cmp);
    let (shortest, longest) = (*trials.first()?, *trials.last()?);
    let middle = trials.len() / 2;
    let upper = *trials.get(middle)?;
    let steady_note = if trials.len().is_multiple_of(2) {
        f64::midpoint(*trials.get(middle - 1)?, upper)
    } else {
        upper
    };
    Some(Timing {
        steady_note,
        uneven: longest - shortest > longest / 4.0,
    })
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;

    #[test]
    fn levels_are_shares_of_vital_capacity() {
        for (level, share) in [(FULL, 0.9), (COMFORTABLE, 0.7), (EASY, 0.35), (FLOOR, 0.2)] {
            assert!((level - (share - 0.10) / 0.90).abs() < 1e-12);
        }
    }

    #[test]
    fn trials() {
        assert_eq!(timing(&[]), None);
        assert_eq!(timing(&[f64::NAN, -1.0, f64::INFINITY]), None);
        let two = timing(&[12.0, 20.0]).unwrap();
        assert!((two.steady_note - 16.0).abs() < 1e-12 && two.uneven);
        assert!(!timing(&[15.0, 20.0]).unwrap().uneven);
    }
}
