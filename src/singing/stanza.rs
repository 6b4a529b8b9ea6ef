//! The form of a stanza: how many syllables and how many stresses its lines have, and what the trade calls that.

use super::placement::{Frame, Pattern, place};
use super::ways::Way;
use crate::music::meter::Meter;

/// Forms by their syllables, as hymn books print them over their tunes (common practice: C.M., L.M. and S.M. of any metrical index).
const FORMS: [(&str, [usize; 4]); 3] = [
    ("common measure", [8, 6, 8, 6]),
    ("long measure", [8, 8, 8, 8]),
    ("short measure", [6, 6, 8, 6]),
];

/// The bars in which a line is scanned to count its stresses: four beats, the last of which may be silent (Attridge 1982, The Rhythms
/// of English Poetry).
const FOUR_BEATS: Frame = Frame {
    meter: Meter::COMMON,
    bars: 2,
};

/// What a line has, whatever it is sung to.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct Shape {
    /// Its syllables.
    pub syllables: usize,
    /// The stresses that carry its beats: at most four.
    pub beats: usize,
}

impl Shape {
    /// The shape of a line, each word sung as usual.
    ///
    /// ```
    /// # use breathmark::{singing::{stanza::Shape, ways}, words::{SongWords, line::line}};
    /// let shape = |text| Shape::of(&ways::of_line(&line(text, &SongWords::default())));
    /// assert_eq!(shape("Amazing grace, how sweet the sound"), Shape { syllables: 8, beats: 4 });
    /// assert_eq!(shape("That saved a wretch like me"), Shape { syllables: 6, beats: 3 });
    /// ```
    #[must_use]
    pub fn of(line: &[Vec<Way>]) -> Self {
        let placed = place(line, FOUR_BEATS, Pattern::default());
        Self {
            syllables: placed.syllables.len(),
            beats: placed.beats_used(),
        }
    }
}

/// What the lines of a stanza have.
#[derive(Clone, Debug, PartialEq, Eq, Hash, Default)]
pub struct Stanza(pub Vec<Shape>);

impl Stanza {
    /// The stresses of its lines: `4-3-4-3`.
    #[must_use]
    pub fn beats(&self) -> String {
        joined(self.0.iter().map(|line| line.beats), "-")
    }

    /// The syllables of its lines, as hymn books write them: `8.6.8.6`.
    #[must_use]
    pub fn syllables(&self) -> String {
        joined(self.0.iter().map(|line| line.syllables), ".")
    }

    /// What the trade calls it: common, long or short measure by its syllables; ballad measure by its stresses 4-3-4-3 alone, since ballads
    /// are free in their light syllables; double where a stanza of eight lines has such a form twice. `None` for all others.
    ///
    /// ```
    /// # use breathmark::singing::stanza::{Shape, Stanza};
    /// let stanza = |lines: [(usize, usize); 4]| Stanza(lines.map(|(syllables, beats)| Shape { syllables, beats }).to_vec());
    /// assert_eq!(stanza([(8, 4), (6, 3), (8, 4), (6, 3)]).name().as_deref(), Some("common measure"));
    /// assert_eq!(stanza([(9, 4), (6, 3), (10, 4), (7, 3)]).name().as_deref(), Some("ballad measure"));
    /// assert_eq!(stanza([(9, 4), (9, 4), (9, 4), (9, 4)]).name(), None);
    /// ```
    #[must_use]
    pub fn name(&self) -> Option<String> {
        if let [a, b, c, d, again @ ..] = self.0.as_slice()
            && again.len() == 4
        {
            let name = Self(vec![*a, *b, *c, *d]).name()?;
            return (Self(again.to_vec()).name()? == name).then(|| format!("{name} double"));
        }
        let has = |syllables: &[usize; 4]| {
            self.0
                .iter()
                .map(|line| line.syllables)
                .eq(syllables.iter().copied())
        };
        let is_ballad = || self.0.iter().map(|line| line.beats).eq([4, 3, 4, 3]);
        FORMS
            .iter()
            .find(|(_, syllables)| has(syllables))
            .map(|(name, _)| *name)
            .or_else(|| is_ballad().then_some("ballad measure"))
            .map(ToOwned::to_owned)
    }
}

fn joined(numbers: impl Iterator<Item = usize>, between: &str) -> String {
    let numbers: Vec<String> = numbers.map(|number| number.to_string()).collect();
    numbers.join(between)
}
