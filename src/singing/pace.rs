//! How fast syllables follow one another.

/// Syllables a second up to which nobody has to hurry. Our choice: speech has 4 to 7 (Klatt 1976, Journal of the Acoustical Society of America 59:
/// 1208–1221), sung ballads 1.5 to 3 (common practice, no source).
pub const UNHURRIED: f64 = 4.0;

/// Syllables a second above which a run is crowded. The fastest repetition of adults is 6.2 (SD 0.8), and below 5.4 is unusual (Icht and
/// Ben-David 2014, Journal of Communication Disorders 48: 27–37); that words are no easier than repeated syllables is our choice.
pub const CROWDED: f64 = 5.4;

/// Syllables a second under which a whole line deserves a second look. Our choice.
pub const DRAWN_OUT: f64 = 1.0;

/// The fewest syllables that make a run. Our choice.
const RUN: usize = 3;

/// How a run goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Pace {
    /// More than [`UNHURRIED`].
    Quick,
    /// More than [`CROWDED`].
    Crowded,
}

/// Syllables that follow one another fast.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Run {
    /// The first, from 0 in the line.
    pub first: usize,
    /// The last; two or more behind the first.
    pub last: usize,
    /// Syllables a second over the run.
    pub per_second: f64,
    /// How it goes.
    pub pace: Pace,
}

/// The runs of a line in which three syllables or more in a row are quick or crowded. `starts` are the seconds at which its syllables begin,
/// `end` when its last one ends. A crowded run inside a quick one is told apart from it.
///
/// ```
/// # use breathmark::singing::pace::{Pace, runs};
/// let found = runs(&[0.0, 0.5, 0.65, 0.8, 0.95, 1.5], 2.0);
/// assert_eq!((found[0].first, found[0].last, found[0].pace), (1, 3, Pace::Crowded));
/// ```
#[must_use]
pub fn runs(starts: &[f64], end: f64) -> Vec<Run> {
    // When each syllable makes room for the next.
    let ends = |index: usize| starts.get(index + 1).copied().unwrap_or(end);
    let rate = |first: usize, last: usize| {
        let seconds = ends(last) - starts.get(first).copied().unwrap_or(end);
        let count = f64::from(u32::try_from(last + 1 - first).unwrap_or(u32::MAX));
        if seconds > 0.0 {
            count / seconds
        } else {
            f64::MAX
        }
    };
    let mut runs: Vec<Run> = Vec::new();
    for first in 0..starts.len().saturating_sub(RUN - 1) {
        let last = first + RUN - 1;
        let pace = match rate(first, last) {
            fast if fast > CROWDED + 1e-9 => Pace::Crowded,
            fast if fast > UNHURRIED + 1e-9 => Pace::Quick,
            _ => continue,
        };
        match runs.last_mut() {
            Some(run) if run.pace == pace && run.last >= first => {
                run.last = last;
                run.per_second = rate(run.first, last);
            }
            _ => runs.push(Run {
                first,
                last,
                per_second: rate(first, last),
                pace,
            }),
        }
    }
    runs
}

/// Syllables a second over a whole line that begins and ends at these seconds; `None` where it has no syllable or takes no time.
#[must_use]
pub fn rate(syllables: usize, start: f64, end: f64) -> Option<f64> {
    let count = u32::try_from(syllables).ok().filter(|count| *count > 0)?;
    (end > start).then(|| f64::from(count) / (end - start))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn even(count: u32, each: f64) -> Vec<f64> {
        (0..count).map(|index| f64::from(index) * each).collect()
    }

    #[test]
    fn two_fast_syllables_are_no_run() {
        assert_eq!(runs(&[0.0, 0.1, 0.2, 1.0], 2.0), []);
        assert_eq!(runs(&[], 1.0), []);
        assert_eq!(runs(&[0.0], 0.0), []);
    }

    #[test]
    fn limits_are_not_yet_fast() {
        assert_eq!(runs(&even(8, 0.25), 2.0), []);
        let quick = runs(&even(8, 0.2), 1.6);
        assert_eq!(quick.len(), 1);
        assert_eq!(
            (quick[0].first, quick[0].last, quick[0].pace),
            (0, 7, Pace::Quick)
        );
        assert!((quick[0].per_second - 5.0).abs() < 1e-9);
    }

    #[test]
    fn the_rate_of_a_line() {
        assert_eq!(rate(0, 0.0, 1.0), None);
        assert_eq!(rate(3, 1.0, 1.0), None);
        assert!(rate(9, 1.0, 4.0).is_some_and(|rate| (rate - 3.0).abs() < 1e-9));
    }
}
