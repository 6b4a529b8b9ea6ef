//! The places between the beats of a line. Which of them light syllables take is our choice.

use crate::music::meter::Meter;
use crate::music::quarters::Quarters;

/// The bars that a line without notes is sung in.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Frame {
    /// The meter.
    pub meter: Meter,
    /// How many bars; none counts as one.
    pub bars: u16,
}

impl Frame {
    /// How long the line's slot is.
    #[must_use]
    pub fn length(self) -> Quarters {
        self.meter.bar() * i64::from(self.bars.max(1))
    }

    /// How far apart the line's beats are: a quarter of its length where that falls on beats of the meter (one a bar in four
    /// bars of 3/4, two a bar in two bars of 4/4), else a bar. Our choice.
    ///
    /// ```
    /// # use breathmark::{music::{meter::Meter, quarters::Quarters}, singing::placement::Frame};
    /// let span = |meter, bars| Frame { meter: Meter::parse(meter).unwrap(), bars }.span();
    /// assert_eq!([span("3/4", 4), span("4/4", 2), span("6/8", 2)], [Quarters::from(3), Quarters::from(2), Quarters::new(3, 2)]);
    /// assert_eq!(span("3/4", 2), Quarters::from(3));
    /// ```
    #[must_use]
    pub fn span(self) -> Quarters {
        let quarter = self.length() / 4;
        if quarter.modulo(self.meter.beat()).is_zero() {
            quarter
        } else {
            self.meter.bar()
        }
    }

    /// How many beats a line has.
    #[must_use]
    pub fn beats(self) -> usize {
        usize::try_from((self.length() / self.span()).floor())
            .unwrap_or(1)
            .max(1)
    }

    /// The note that light syllables are counted in: a quarter in 3/4 and 4/4, an eighth in 6/8.
    #[must_use]
    pub fn unit(self) -> Quarters {
        self.meter.unit()
    }
}

/// Where a pickup of so many syllables falls, before the slot's beginning.
pub(super) fn pickup(unit: Quarters, count: usize) -> Vec<Quarters> {
    let halves = i64::try_from(count).unwrap_or(i64::MAX);
    let before: Vec<i64> = match halves {
        1 => vec![2],
        3 => vec![4, 2, 1],
        other => (1..=other).rev().collect(),
    };
    before
        .into_iter()
        .map(|halves| -unit * halves / 2)
        .collect()
}

/// Where so many light syllables fall after a line beat and before the next, counted from that beat.
pub(super) fn between(span: Quarters, unit: Quarters, count: usize) -> Vec<Quarters> {
    let units = span / unit;
    let quarters: &[i64] = match (units.numerator(), units.denominator(), count) {
        (_, _, 0) => &[],
        (2, 1, 1) => &[4],
        (2, 1, 2) => &[4, 6],
        (2, 1, 3) => &[2, 4, 6],
        (3, 1, 1) => &[8],
        (3, 1, 2) => &[4, 8],
        (3, 1, 3) => &[4, 8, 10],
        (3, 1, 4) => &[4, 6, 8, 10],
        (3, 1, 5) => &[2, 4, 6, 8, 10],
        (4, 1, 1) => &[8],
        (4, 1, 2) => &[8, 12],
        (4, 1, 3) => &[4, 8, 12],
        (4, 1, 4) => &[4, 8, 12, 14],
        (6, 1, 1) => &[12],
        (6, 1, 2) => &[12, 20],
        (6, 1, 3) => &[8, 12, 20],
        (6, 1, 4) => &[8, 12, 16, 20],
        (8 | 12, 1, 1..=4) => {
            return between(span / 2, unit, count)
                .into_iter()
                .map(|offset| offset * 2)
                .collect();
        }
        _ => return evenly(span, unit, count),
    };
    quarters
        .iter()
        .map(|quarters| unit * *quarters / 4)
        .collect()
}

/// Spread over the coarsest grid that has room for all.
fn evenly(span: Quarters, unit: Quarters, count: usize) -> Vec<Quarters> {
    let count = i64::try_from(count).unwrap_or(i64::MAX - 1);
    let mut step = unit;
    while (span / step).floor() <= count && step > unit / 64 {
        step = step / 2;
    }
    let steps = (span / step).floor();
    if steps <= count {
        return (1..=count)
            .map(|index| span * index / (count + 1))
            .collect();
    }
    (1..=count)
        .map(|index| step * (index * steps / (count + 1)))
        .collect()
}
