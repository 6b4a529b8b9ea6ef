//! A line's syllables laid on beats or notes; what depends on nothing but the words, the phrase and what the verses share.

use crate::music::meter::{Meter, Strength};
use crate::music::pitch::Pitch;
use crate::music::quarters::Quarters;
use crate::singing::air::Ends;
use crate::singing::range::Compass;
use crate::singing::stresses::Conflict;
use crate::song::column::Column;
use crate::words::stress::Class;

/// A line on its beats. Time 0 is where the line's time begins: its first note where it has notes (pickup included), else beat 1
/// of its first bar (a pickup is then negative).
#[derive(Clone, Debug)]
pub struct Laid {
    /// The syllables in the order sung, ascending in time.
    pub syllables: Vec<LaidSyllable>,
    /// The same syllables as the clock sees them.
    pub timings: Box<[Timing]>,
    /// The words, for asking which reading was taken.
    pub words: Vec<LaidWord>,
    /// How long the line's time is; the next line's begins there.
    pub length: Quarters,
    /// The moment of its first downbeat: bar 1 begins there.
    pub downbeat: Quarters,
    /// Its meter.
    pub meter: Meter,
    /// The notes of its phrase, rests left out; empty where no notes are known.
    pub notes: Vec<LaidNote>,
    /// The lowest and the highest note sung, as written; `None` where no notes are known.
    pub compass: Option<Compass>,
    /// Where stress and beat disagree.
    pub conflicts: Vec<Conflict>,
    /// How many syllables the phrase has places for.
    pub places: Option<usize>,
    /// Splits and drawn-out syllables in it, beyond one note a syllable.
    pub misfits: usize,
    /// The cost of laying them so, in thousandths.
    pub cost: u32,
}

/// A syllable on its beat.
#[derive(Clone, Debug)]
pub struct LaidSyllable {
    /// Its letters.
    pub text: String,
    /// The column of the lyric where it begins.
    pub column: Column,
    /// The index of its word.
    pub word: usize,
    /// Where it begins.
    pub start: Quarters,
    /// How long it sounds.
    pub length: Quarters,
    /// Its first note and all others, with what each lasts; empty where no notes are known.
    pub notes: Vec<(Pitch, Quarters)>,
    /// Its stress in the line.
    pub class: Class,
    /// Its stress in its word: 1 main, 2 secondary, 0 none.
    pub stress: u8,
    /// Whether its vowel is closed: *ee*, *oo*, *i* or *u*, which carry least on high notes.
    pub is_closed: bool,
    /// How strong the moment is on which it begins.
    pub strength: Strength,
    /// What each of its breathy sounds costs, in seconds of steady note; those that cost nothing left out.
    pub costs: Vec<f64>,
}

/// What the clock needs of a syllable, in quarter notes: kept side by side, because a clock runs through the whole song at each key.
#[derive(Clone, Copy, Debug)]
pub struct Timing {
    /// Where it begins.
    pub start: f64,
    /// How long it sounds.
    pub length: f64,
    /// How long its last note sounds; all of it where no notes are known.
    pub last_note: f64,
    /// What its breathy sounds cost, in seconds of steady note.
    pub charge: f64,
    /// What ends with it.
    pub ends: Ends,
}

/// A word as read.
#[derive(Clone, Debug)]
pub struct LaidWord {
    /// As written.
    pub text: String,
    /// Where it begins.
    pub column: Column,
    /// Whether a comma, a full stop or a dash follows it.
    pub stop: bool,
    /// Whether its sounds were estimated from the spelling.
    pub estimated: bool,
    /// Why it was read with this count, where that is not its first reading.
    pub why: Option<String>,
}

/// A note of the phrase.
#[derive(Clone, Copy, Debug)]
pub struct LaidNote {
    /// Its pitch as written.
    pub pitch: Pitch,
    /// Where it begins.
    pub start: Quarters,
    /// How long it lasts.
    pub length: Quarters,
}

impl LaidWord {
    /// The column behind its last sign.
    #[must_use]
    pub fn end(&self) -> Column {
        Column(self.column.0 + Column::end_of(&self.text).0)
    }
}
