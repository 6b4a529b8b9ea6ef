//! What the air is computed from, and the names of breaths and verdicts.

/// A syllable as it sounds: what the level of air is computed from. A song is a list of these, in order of time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sounding {
    /// When it begins, in seconds from the song's beginning.
    pub start: f64,
    /// When it ends; at or before the next one's start.
    pub end: f64,
    /// Seconds of its last note, which a breath may shorten; all of it where it has one note.
    pub last_note: f64,
    /// What its breathy consonants cost, in seconds of steady note.
    pub charge: f64,
    /// Flow against the steady note's: 1, or [`LOUD`] where the writer marks it loud above the tessitura, or breathy.
    pub flow: f64,
    /// The line that it belongs to, ascending through the song.
    pub line: usize,
    /// Why the singer breathes after it, if not for a rest.
    pub after: After,
    /// What ends with it.
    pub ends: Ends,
}

impl Sounding {
    /// What it costs, in seconds of steady note.
    #[must_use]
    pub fn drain(&self) -> f64 {
        self.flow * (self.end - self.start).max(0.0) + self.charge
    }
}

/// What ends with a syllable: where a breath may be proposed. Breaths fall mostly at clause boundaries (Winkworth et al. 1995; Wang et al. 2010,
/// Folia Phoniatrica et Logopaedica 62: 297–302).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Ends {
    /// Nothing: the word goes on.
    Nothing,
    /// A word.
    Word,
    /// A clause: a comma, a full stop, a dash follows.
    Clause,
}

/// Flow of loud singing above the tessitura or of breathy singing. The direction is evidence (Yanagihara and Koike 1967, Folia
/// Phoniatrica 19: 1–18), the size our choice.
pub const LOUD: f64 = 1.2;

/// What asks for a breath after a syllable.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum After {
    /// Nothing: the singer goes on, unless a rest follows.
    Nothing,
    /// A breath mark.
    Mark,
    /// The line's end, where the sense does not run on.
    LineEnd,
    /// A breath that the program proposes.
    Added,
}

/// Where a breath comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum From {
    /// A rest of [`MIN_REST`](crate::singing::voice::MIN_REST) or more inside a line, or after one that runs on.
    Rest,
    /// The end of a line.
    Line,
    /// A breath mark.
    Mark,
    /// A proposal.
    Added,
}

/// How a stretch is sung, from best to worst.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Verdict {
    /// On an ordinary breath, without pressing.
    Easy,
    /// With a deep breath, or to the end of the air.
    Tight,
    /// A full breath would carry it, but the gaps before it are too short for one.
    NoTime,
    /// No breath carries it.
    TooLong,
}

impl From {
    /// Its name in what the program writes: `rest`, `line`, `mark`, `added`.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Rest => "rest",
            Self::Line => "line",
            Self::Mark => "mark",
            Self::Added => "added",
        }
    }
}

impl Verdict {
    /// The verdict in words: `easy`, `tight`, `no time to breathe`, `too long`.
    #[must_use]
    pub const fn words(self) -> &'static str {
        match self {
            Self::Easy => "easy",
            Self::Tight => "tight",
            Self::NoTime => "no time to breathe",
            Self::TooLong => "too long",
        }
    }
}
