//! Meter, its beat and its metrical grid; tempo.

use super::quarters::Quarters;
use std::fmt;

/// A time signature: `numerator` notes of `1/denominator` in a bar. Both from 1 to 64, the denominator a power of two.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Meter {
    numerator: u8,
    denominator: u8,
}

/// How strong a moment in a bar is, after the metrical grid of Lerdahl and Jackendoff, A Generative Theory of Tonal Music
/// (1983): beats of each level stand two or three apart. Which levels we number how is our choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Strength {
    /// Between the numbered places: sixteenths in 6/8, less than half a beat elsewhere.
    Between,
    /// Half a beat in 4/4, 3/4, 2/4; sixteenths in compound meters.
    Half,
    /// The beats of no special weight; in compound meters the other eighths.
    Beat,
    /// The middle of the bar: beat 3 of 4/4, the fourth eighth of 6/8. In 9/8 and 12/8 every later dotted beat: their bars are sung as
    /// three or two of 6/8's halves (common practice).
    Middle,
    /// The downbeat.
    Downbeat,
}

impl Meter {
    /// `4/4`, what a song without a meter is in.
    pub const COMMON: Self = Self {
        numerator: 4,
        denominator: 4,
    };

    /// The meter `numerator/denominator`, or `None` where it makes no sense (see [`Meter`]).
    #[must_use]
    pub fn new(numerator: u8, denominator: u8) -> Option<Self> {
        let sound =
            (1..=64).contains(&numerator) && denominator <= 64 && denominator.is_power_of_two();
        sound.then_some(Self {
            numerator,
            denominator,
        })
    }

    /// Reads `3/4`, `6/8`; also `C` (4/4) and `C|` (2/2) as the ABC standard 2.1 (section 3.1.6) writes them.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        match text.trim() {
            "C" => Self::new(4, 4),
            "C|" => Self::new(2, 2),
            other => {
                let (above, below) = other.split_once('/')?;
                Self::new(above.trim().parse().ok()?, below.trim().parse().ok()?)
            }
        }
    }

    /// The number above.
    #[must_use]
    pub const fn numerator(self) -> u8 {
        self.numerator
    }

    /// The number below.
    #[must_use]
    pub const fn denominator(self) -> u8 {
        self.denominator
    }

    /// Whether the beat is divided in three: 6/8, 9/8, 12/8 and their like with other denominators from 8 up.
    #[must_use]
    pub const fn is_compound(self) -> bool {
        self.numerator > 3 && self.numerator.is_multiple_of(3) && self.denominator >= 8
    }

    /// Whether bars or beats go in threes: 3/4, 3/8, 6/8, 9/8, 12/8.
    #[must_use]
    pub const fn is_triple(self) -> bool {
        self.numerator == 3 || self.is_compound()
    }

    /// The length of a bar.
    #[must_use]
    pub fn bar(self) -> Quarters {
        Quarters::new(4 * i64::from(self.numerator), i64::from(self.denominator))
    }

    /// The note below the line: a quarter in 3/4, an eighth in 6/8.
    #[must_use]
    pub fn unit(self) -> Quarters {
        Quarters::new(4, i64::from(self.denominator))
    }

    /// The beat that a tempo counts where the song does not say another: a dotted note in compound meters, else the note below.
    #[must_use]
    pub fn beat(self) -> Quarters {
        if self.is_compound() {
            self.unit() * 3
        } else {
            self.unit()
        }
    }

    /// How many beats ([`Meter::beat`]) a bar has.
    #[must_use]
    pub fn beats(self) -> i64 {
        (self.bar() / self.beat()).floor()
    }

    /// The strength of a moment, counted from any bar's beginning (it may be negative or past the bar's end).
    #[must_use]
    pub fn strength(self, moment: Quarters) -> Strength {
        let within = moment.modulo(self.bar());
        if within.is_zero() {
            return Strength::Downbeat;
        }
        let on = |unit: Quarters| within.modulo(unit).is_zero();
        if on(self.beat()) {
            let middle = self.beats() % 2 == 0
                && self.beats() > 2
                && (within * 2).modulo(self.bar()).is_zero();
            if middle || self.is_compound() {
                Strength::Middle
            } else {
                Strength::Beat
            }
        } else if self.is_compound() && on(self.unit()) {
            Strength::Beat
        } else if on(if self.is_compound() {
            self.unit() / 2
        } else {
            self.beat() / 2
        }) {
            Strength::Half
        } else {
            Strength::Between
        }
    }
}

impl fmt::Display for Meter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}/{}", self.numerator, self.denominator)
    }
}

/// Tempo: `per_minute` beats a minute, each `beat` long.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tempo {
    /// Beats a minute, more than zero.
    pub per_minute: f64,
    /// What a beat is.
    pub beat: Quarters,
}

impl Tempo {
    /// The seconds that `length` lasts: its beats times 60 over the tempo.
    ///
    /// ```
    /// # use breathmark::music::{meter::Tempo, quarters::Quarters};
    /// let tempo = Tempo { per_minute: 96.0, beat: Quarters::ONE };
    /// assert!((tempo.seconds(Quarters::from(12)) - 7.5).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn seconds(self, length: Quarters) -> f64 {
        // Here floating point begins; dividing exactly first would only be slower.
        length.to_f64() / self.beat.to_f64() * 60.0 / self.per_minute
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(meter: &str, moments: &[(i64, i64)], expected: &[Strength]) {
        let meter = Meter::parse(meter).expect("a meter");
        let found: Vec<_> = moments
            .iter()
            .map(|&(n, d)| meter.strength(Quarters::new(n, d)))
            .collect();
        assert_eq!(found, expected, "{meter}");
    }

    #[test]
    fn grid_of_common_meters() {
        use Strength::{Beat, Between, Downbeat, Half, Middle};
        check(
            "4/4",
            &[(0, 1), (1, 1), (2, 1), (3, 1), (1, 2), (1, 4), (4, 1)],
            &[Downbeat, Beat, Middle, Beat, Half, Between, Downbeat],
        );
        check(
            "3/4",
            &[(0, 1), (1, 1), (2, 1), (5, 2), (-1, 1)],
            &[Downbeat, Beat, Beat, Half, Beat],
        );
        check("2/4", &[(0, 1), (1, 1), (1, 2)], &[Downbeat, Beat, Half]);
        check(
            "6/8",
            &[(0, 1), (1, 2), (3, 2), (2, 1), (1, 4)],
            &[Downbeat, Beat, Middle, Beat, Half],
        );
        check(
            "12/8",
            &[(0, 1), (1, 2), (3, 2), (3, 1), (4, 1), (9, 2)],
            &[Downbeat, Beat, Middle, Middle, Beat, Middle],
        );
        check(
            "9/8",
            &[(0, 1), (1, 2), (3, 2), (3, 1), (7, 2), (1, 4)],
            &[Downbeat, Beat, Middle, Middle, Beat, Half],
        );
    }

    #[test]
    fn meters_are_read_as_written() {
        assert_eq!(
            Meter::parse("C|").map(|m| m.to_string()).as_deref(),
            Some("2/2")
        );
        for bad in [
            "0/4", "4/0", "4/3", "fast", "", "4", "4/4/4", "-3/4", "300/4",
        ] {
            assert_eq!(Meter::parse(bad), None, "{bad}");
        }
    }

    #[test]
    fn compound_meters_beat_in_dotted_notes() {
        assert_eq!(
            Meter::parse("6/8").map(Meter::beat),
            Some(Quarters::new(3, 2))
        );
        assert_eq!(
            Meter::parse("3/8").map(Meter::beat),
            Some(Quarters::new(1, 2))
        );
        assert_eq!(Meter::parse("9/8").map(Meter::beats), Some(3));
    }
}
