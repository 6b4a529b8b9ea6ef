//! What a writer should know before the microphone does, and the ways out.
//!
//! In: a song and its reading. Out: [`Warning`]s, each a sentence at a place, and for each the [`WayOut`]s that were tried
//! through the whole song. Never: a change to the song; a way out that is an edit is taken by the desk.

pub mod asking;
pub mod bars;
pub mod chord;
pub mod crowded;
pub mod no_time;
pub mod notes;
pub mod pattern;
pub mod range;
pub mod rhyme;
pub mod stress;
pub mod tessitura;
pub mod tight;
pub mod too_long;
pub mod tune;
pub mod value;
pub mod vowel;

use crate::reading::Reading;
use crate::singing::air::Verdict;
use crate::song::column::Column;
use crate::song::edit::Edit;
use crate::song::place::Place;
use crate::song::{NodeId, Song};
use crate::wording::figure::Figure;
use asking::Asking;

/// How much a thing matters: only warnings make a command end with 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The line cannot be sung, or a value not understood, as it stands.
    Warning,
    /// Worth knowing.
    Remark,
}

/// What a warning or remark is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// No breath holds the line.
    TooLong,
    /// A full breath would hold the lines; the gaps before are too short.
    NoTimeToBreathe,
    /// A note lies outside the singer's range.
    Range,
    /// A value makes no sense.
    Value,
    /// A chord is not understood.
    Chord,
    /// A tune cannot be read, or is missing.
    Tune,
    /// Syllables and notes hardly fit.
    Notes,
    /// Bars do not add up.
    Bars,
    /// The line takes a deep breath, or the end of the air.
    Tight,
    /// Syllables come faster than they can be sung.
    Crowded,
    /// A long high note on a vowel that does not carry there.
    Vowel,
    /// A line rhymes with its own word, or not where the other verses do.
    Rhyme,
    /// A weak syllable stands on a strong place, its stress on a weak one.
    Stress,
    /// A line or verse breaks the pattern of the verses.
    Pattern,
    /// A phrase stays at the edges of the singer's range.
    Tessitura,
    /// A key of the file is not known.
    UnknownKey,
    /// Words that YAML takes for something else.
    Typing,
}

impl Kind {
    /// The kind's name in JSON and on the page.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::TooLong => "too_long",
            Self::NoTimeToBreathe => "no_time_to_breathe",
            Self::Range => "range",
            Self::Value => "value",
            Self::Chord => "chord",
            Self::Tune => "tune",
            Self::Notes => "notes",
            Self::Bars => "bars",
            Self::Tight => "tight",
            Self::Crowded => "crowded",
            Self::Vowel => "vowel",
            Self::Rhyme => "rhyme",
            Self::Stress => "stress",
            Self::Pattern => "pattern",
            Self::Tessitura => "tessitura",
            Self::UnknownKey => "unknown_key",
            Self::Typing => "typing",
        }
    }

    /// How much it matters.
    #[must_use]
    pub const fn severity(self) -> Severity {
        match self {
            Self::Tight
            | Self::Crowded
            | Self::Vowel
            | Self::Rhyme
            | Self::Stress
            | Self::Pattern
            | Self::Tessitura
            | Self::UnknownKey
            | Self::Typing => Severity::Remark,
            Self::TooLong
            | Self::NoTimeToBreathe
            | Self::Range
            | Self::Value
            | Self::Chord
            | Self::Tune
            | Self::Notes
            | Self::Bars => Severity::Warning,
        }
    }
}

/// A warning or remark.
#[derive(Clone, Debug, PartialEq)]
pub struct Warning {
    /// What it is about.
    pub kind: Kind,
    /// The index of its section in the reading; `None` where it is about the whole song.
    pub section: Option<usize>,
    /// The index of its line in the section; `None` where it is about the section or the song.
    pub line: Option<usize>,
    /// Where the cursor goes for it.
    pub place: Place,
    /// The sentence, without its place.
    pub message: String,
}

impl Warning {
    /// How much it matters.
    #[must_use]
    pub const fn severity(&self) -> Severity {
        self.kind.severity()
    }

    /// The place in words: `Verse 3, line 2`; empty for the whole song.
    #[must_use]
    pub fn place_in_words(&self, reading: &Reading) -> String {
        match (
            self.section.and_then(|index| reading.sections.get(index)),
            self.line,
        ) {
            (Some(section), Some(line)) => format!("{}, line {}", section.label, line + 1),
            (Some(section), None) => section.label.clone(),
            (None, _) => String::new(),
        }
    }

    /// Whether this is the same trouble as another one, perhaps in other figures.
    #[must_use]
    pub fn is_same_trouble(&self, other: &Self) -> bool {
        self.kind == other.kind
            && self.section == other.section
            && self.line == other.line
            && self.place.node == other.place.node
            && self.place.row == other.place.row
    }
}

/// A way out of a warning, tried through the whole song before it is offered.
#[derive(Clone, Debug, PartialEq)]
pub struct WayOut {
    /// What kind of way: `breath`, `tempo`, `gap`, `sounds`, `bars`, `line_end`, `two_lines`, `syllables`, `capo`, `octave`, `default`, `chord`, `rhyme`.
    pub kind: &'static str,
    /// The sentence.
    pub text: String,
    /// Its figure: beats a minute, seconds of gap, sounds to lose.
    pub figure: Option<Figure>,
    /// Where a breath would stand, in columns of the line's lyric.
    pub column: Option<Column>,
    /// The edit that takes it; `None` where only the writer can (other words).
    pub edit: Option<Edit>,
    /// What follows from it.
    pub after: After,
}

/// What follows when a way out is taken.
#[derive(Clone, Debug, PartialEq)]
pub struct After {
    /// The new verdict of the warning's line.
    pub verdict: Option<Verdict>,
    /// The air left at the end of that line, in lungfuls.
    pub air_left: Option<f64>,
    /// The song's new length in seconds.
    pub seconds: f64,
    /// The warnings that it would bring in other places, in words; empty where it simply helps.
    pub remains: Vec<String>,
}

/// A kind of warning: how it is found, and its ways out.
pub struct Rule {
    /// What it finds.
    pub kind: Kind,
    /// Finds all of them in a song.
    pub find: fn(&Song, &Reading, &mut Vec<Warning>),
    /// Ways out of one of them, best first; none where none exists.
    pub ways_out: fn(&mut Asking<'_>, &Warning) -> Vec<WayOut>,
    /// A song that earns it once, and no other warning.
    pub example: &'static str,
}

/// All kinds that a song's reading can earn, in the order in which they are told at one place.
pub const RULES: &[Rule] = &[
    too_long::RULE,
    no_time::RULE,
    range::RULE,
    value::RULE,
    chord::RULE,
    tune::RULE,
    notes::RULE,
    bars::RULE,
    tight::RULE,
    crowded::RULE,
    vowel::RULE,
    tessitura::RULE,
    rhyme::RULE,
    stress::RULE,
    pattern::RULE,
];

/// All warnings and remarks of a song, in the order of its lines; those about the whole song first.
#[must_use]
pub fn all(song: &Song, reading: &Reading) -> Vec<Warning> {
    let mut warnings = Vec::new();
    for rule in RULES {
        (rule.find)(song, reading, &mut warnings);
    }
    warnings.sort_by_key(|warning| {
        (
            warning.section.map_or(0, |index| index + 1),
            warning.line.map_or(0, |index| index + 1),
        )
    });
    warnings
}

/// The ways out of a warning. Slow (it reads the song some dozens of times): the terminal asks from its worker.
#[must_use]
pub fn ways_out(asking: &mut Asking<'_>, warning: &Warning) -> Vec<WayOut> {
    RULES
        .iter()
        .find(|rule| rule.kind == warning.kind)
        .map_or_else(Vec::new, |rule| (rule.ways_out)(asking, warning))
}

/// The warning's line in the reading.
#[must_use]
pub fn line_of<'a>(
    reading: &'a Reading,
    warning: &Warning,
) -> Option<&'a crate::reading::LineReading> {
    let (section, line) = (warning.section?, warning.line?);
    let section = reading.sections.get(section)?;
    reading.lines.get(section.lines.clone())?.get(line)
}

/// A place in the lyric of a line.
#[must_use]
pub const fn in_lyric(node: NodeId, column: Column) -> Place {
    Place {
        node,
        row: crate::song::place::Row::Lyric,
        column,
    }
}
