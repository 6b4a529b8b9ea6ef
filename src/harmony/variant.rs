//! What the search answers: candidates for each slot, and whole rows of chords with their reasons.

use crate::music::chord::Chord;
use crate::music::quarters::Quarters;
use std::fmt::Write as _;

/// A chord inside a slot.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Sounding {
    /// The chord.
    pub chord: Chord,
    /// When it begins, counted from the slot's start; the first is at zero.
    pub after: Quarters,
}

/// What kind of change a rule makes; at most two candidates of a kind are kept for a slot.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Family {
    /// The chord as written.
    AsWritten,
    /// The chord a third below, which shares two notes.
    Relative,
    /// The chord a third above, which shares two notes.
    Third,
    /// Another chord of the key with another function.
    Function,
    /// A chord from the parallel or a neighbouring mode.
    Mixture,
    /// A dominant that pushes to the next chord.
    Push,
    /// The same chord over another bass.
    Bass,
    /// The same chord with a tone more, or one held back.
    Colour,
    /// The third left out.
    Drone,
    /// The change comes sooner, later or more often.
    Rhythm,
}

impl Family {
    /// The word for it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::AsWritten => "as written",
            Self::Relative => "relative",
            Self::Third => "third",
            Self::Function => "function",
            Self::Mixture => "mixture",
            Self::Push => "dominant push",
            Self::Bass => "bass",
            Self::Colour => "colour",
            Self::Drone => "drone",
            Self::Rhythm => "rhythm",
        }
    }
}

/// Something that can stand in a slot instead of the written chord.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Candidate {
    /// The chords in time order; empty where no chord sounds.
    pub chords: Vec<Sounding>,
    /// The kind of change.
    pub family: Family,
    /// The trade name of the rule.
    pub rule: &'static str,
    /// The rule's word for the effect: `darker`, `lift`.
    pub word: &'static str,
    /// In thousandths; a relative minor that fits the tune as well as the written chord costs 1000.
    pub cost: i64,
    /// A sentence: what, by which rule, and what the melody says to it.
    pub why: String,
    /// How far it is from the written chord, 0 to 4.
    pub difference: u8,
    /// What has to stand around it in the same variant.
    pub around: Around,
}

/// What a candidate asks of its neighbours in the same variant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Around {
    /// Roots that may follow, as twelve bits from C.
    pub next: u16,
    /// Roots that may stand before.
    pub before: u16,
    /// The chord before stays as written.
    pub before_as_written: bool,
    /// The next chord stays as written.
    pub next_as_written: bool,
    /// Not twice in a row for the same written chord.
    pub once: bool,
}

/// All twelve roots.
pub const ANY_ROOT: u16 = 0xFFF;

impl Around {
    /// Asks nothing.
    pub const ANY: Self = Self {
        next: ANY_ROOT,
        before: ANY_ROOT,
        before_as_written: false,
        next_as_written: false,
        once: false,
    };
}

/// One changed slot of a variant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// The slot, from 0.
    pub slot: usize,
    /// The chord as written.
    pub from: String,
    /// What stands there now; two chords with a space between.
    pub to: String,
    /// The trade name of the rule.
    pub rule: &'static str,
    /// A sentence with its reason and what follows.
    pub why: String,
}

/// Another row of chords for the same melody.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Variant {
    /// In thousandths: how much it asks of the ear beyond the written chords. Better variants cost less.
    pub cost: i64,
    /// The chords of each slot in time order; empty where no chord sounds.
    pub chords: Vec<Vec<Sounding>>,
    /// How far it is from the written chords: the mean difference of its slots by their length, from 0 to 100, where every chord has
    /// another function.
    pub heat: i64,
    /// The slots that differ from the written chords.
    pub changes: Vec<Change>,
    /// The word for the effect of what changes most: `darker`, `lift`; empty where nothing changes.
    pub effect: &'static str,
    /// A sentence about the whole.
    pub summary: String,
}

/// The chords of a slot as text: `Em`, `D7 G`, `N.C.`.
#[must_use]
pub fn row_text(chords: &[Sounding]) -> String {
    let mut text = String::new();
    for sounding in chords {
        let gap = if text.is_empty() { "" } else { " " };
        // Writing to a String cannot fail.
        let _ = write!(text, "{gap}{}", sounding.chord);
    }
    if text.is_empty() {
        "N.C.".to_owned()
    } else {
        text
    }
}
