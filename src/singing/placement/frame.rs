//! The bars that a line without notes is sung in, and where its beats are.

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

    /// How far apart the line's beats are: a quarter of its length where that is whole bars or an even part of one (a bar in four bars of
    /// 3/4, half a bar in two of 4/4); else a bar, or where a line has too few bars for four beats, half a bar in meters with a middle and
    /// the dotted beat in 9/8 (half a bar in three of 4/4, where lines of five stresses fit). Our choice.
    ///
    /// ```
    /// # use breathmark::{music::{meter::Meter, quarters::Quarters}, singing::placement::Frame};
    /// let span = |meter, bars| Frame { meter: Meter::parse(meter).unwrap(), bars }.span();
    /// assert_eq!([span("3/4", 4), span("4/4", 2), span("6/8", 2)], [Quarters::from(3), Quarters::from(2), Quarters::new(3, 2)]);
    /// assert_eq!([span("3/4", 2), span("4/4", 3), span("4/4", 5)], [Quarters::from(3), Quarters::from(2), Quarters::from(4)]);
    /// assert_eq!([span("9/8", 2), span("12/8", 1)], [Quarters::new(3, 2), Quarters::new(3, 2)]);
    /// ```
    #[must_use]
    pub fn span(self) -> Quarters {
        let (bar, beat) = (self.meter.bar(), self.meter.beat());
        let quarter = self.length() / 4;
        let is_even = quarter.modulo(bar).is_zero() || bar.modulo(quarter).is_zero();
        if is_even && quarter.modulo(beat).is_zero() {
            return quarter;
        }
        match self.meter.beats() {
            _ if self.bars > 3 => bar,
            even if even % 2 == 0 => bar / 2,
            _ if self.meter.is_compound() => beat,
            _ => bar,
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
