//! Where the syllables of a line fall in its bars when the tune has no notes.
//!
//! A line has four beats, as most English popular verse, the last of which may be silent (Attridge 1982, The Rhythms of English
//! Poetry). Which syllables carry them is a search for the least cost; the aims are Hayes's (2009, Textsetting as constraint
//! conflict), who ranks them: the sizes are our choice, tried on sixteen lines of old songs.

mod counts;
mod frame;
mod grid;
mod scansion;
mod times;

pub use self::frame::Frame;
pub use self::times::line_end_gap;

use super::ways::{Chosen, Way, syllables};
use crate::music::quarters::Quarters;

/// What a line of the verse is expected to have, where that is known.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub struct Pattern {
    /// Syllables, as 8 and 6 in common measure.
    pub syllables: Option<usize>,
    /// Stresses, as 4 and 3 in common measure.
    pub beats: Option<usize>,
    /// Whether the verses keep the number of syllables, as hymns do and ballads do not: then words give way more.
    pub strict: bool,
}

/// Which syllables of a line carry its beats.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placement {
    /// The syllables as they are sung.
    pub syllables: Vec<Chosen>,
    /// For each syllable, the line beat that it carries, from 0.
    pub on: Vec<Option<usize>>,
    /// How well it scans, in thousandths: 0 is best. Costs of the ways chosen included.
    pub cost: u32,
    /// How many syllables the pattern asks for.
    pub wanted: Option<usize>,
    frame: Frame,
}

/// Scans a line: chooses the ways in which its words are sung, and which syllables carry the beats.
///
/// With a number of syllables given, the ways are those that come nearest to it at the least cost; without, each word is sung as
/// usual, and of equally usual ways the one that scans better is taken.
#[must_use]
pub fn place(line: &[Vec<Way>], frame: Frame, pattern: Pattern) -> Placement {
    let allowed = counts::allowed(line, pattern);
    let scanned = scansion::scan(line, &allowed, frame, pattern.beats);
    Placement {
        syllables: syllables(line, &scanned.ways),
        on: scanned.on,
        cost: scanned.cost,
        wanted: pattern.syllables,
        frame,
    }
}

impl Placement {
    /// How long the line's slot is.
    #[must_use]
    pub fn length(&self) -> Quarters {
        self.frame.length()
    }

    /// How many syllables stand before the first beat.
    #[must_use]
    pub fn pickup(&self) -> usize {
        self.on.iter().take_while(|on| on.is_none()).count()
    }

    /// How many syllables stand after the last beat that one carries.
    #[must_use]
    pub fn trailing(&self) -> usize {
        self.on.iter().rev().take_while(|on| on.is_none()).count()
    }

    /// How many beats syllables carry.
    #[must_use]
    pub fn beats_used(&self) -> usize {
        self.on.iter().flatten().count()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;
    use crate::music::meter::Meter;
    use crate::words::stress::Class;

    fn frame(meter: &str, bars: u16) -> Frame {
        Frame {
            meter: Meter::parse(meter).unwrap(),
            bars,
        }
    }

    use Class::{Content as C, Light as L, Primary as P, Unstressed as U};

    #[test]
    fn ways_come_nearest_to_the_pattern() {
        let way = |cost, classes: &[Class], reduced| Way {
            cost,
            classes: classes.to_vec(),
            reduced,
        };
        let every = || vec![way(0, &[P, U], false), way(200, &[P, U, U], false)];
        let power = || vec![way(0, &[P, U], false), way(500, &[P], true)];
        let line = vec![every(), power(), power(), power()];
        let count = |syllables| {
            place(
                &line,
                frame("4/4", 2),
                Pattern {
                    syllables,
                    ..Pattern::default()
                },
            )
            .syllables
            .len()
        };
        assert_eq!(count(None), 8);
        assert_eq!(count(Some(9)), 9);
        assert_eq!(count(Some(7)), 7);
        // Never more than two words shorter than usual.
        assert_eq!(count(Some(4)), 6);
        // A way of 1.5 is not worth a syllable of 0.6.
        let dear = vec![vec![way(0, &[C], false), way(1500, &[P, U], false)]];
        let placed = place(
            &dear,
            frame("4/4", 2),
            Pattern {
                syllables: Some(2),
                ..Pattern::default()
            },
        );
        assert_eq!((placed.syllables.len(), placed.wanted), (1, Some(2)));
    }

    #[test]
    fn of_equally_usual_ways_the_better_scanning_one_is_taken() {
        let way = |classes: &[Class]| Way {
            cost: 0,
            classes: classes.to_vec(),
            reduced: false,
        };
        let line = vec![
            vec![way(&[C])],
            vec![way(&[L])],
            vec![way(&[U, P]), way(&[P, U])],
            vec![way(&[C])],
        ];
        let placed = place(
            &line,
            frame("4/4", 2),
            Pattern {
                beats: Some(3),
                ..Pattern::default()
            },
        );
        assert_eq!(placed.syllables[2].way, 1);
    }

    #[test]
    fn nothing_to_sing() {
        let placed = place(&[], frame("4/4", 2), Pattern::default());
        assert!(placed.set(None, None, Quarters::ZERO).syllables.is_empty());
        assert_eq!(placed.pickup_length(None), Quarters::ZERO);
        let placed = place(
            &[Vec::new()],
            frame("4/4", 0),
            Pattern {
                syllables: Some(3),
                beats: Some(2),
                strict: true,
            },
        );
        assert!(
            placed
                .set(Some(&placed), Some(&placed), Quarters::ZERO)
                .syllables
                .is_empty()
        );
    }
}
