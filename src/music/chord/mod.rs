//! Chords: a root, a kind, perhaps another bass note; spelled, and kept as the writer typed them.

pub mod kinds;
mod reading;

use super::interval::{Interval, respelled};
use super::pitch::Note;
use kinds::Kind;
use std::cmp::Ordering;
use std::fmt;
use std::hash::{Hash, Hasher};

/// A chord symbol that was understood.
///
/// Two chords are equal when root, tones and bass are, however they were written: `Cmaj7` is `CΔ`. C# and Db stay two chords.
///
/// ```
/// # use breathmark::music::chord::Chord;
/// let chord = Chord::parse("D-7/G")?;
/// assert_eq!(chord.to_string(), "D-7/G");
/// assert_eq!(chord.name(), "Dm7/G");
/// let notes: Vec<_> = chord.notes().iter().map(ToString::to_string).collect();
/// assert_eq!(notes, ["D", "F", "A", "C"]);
/// # Ok::<(), breathmark::music::chord::Unread>(())
/// ```
#[derive(Clone, Debug)]
pub struct Chord {
    root: Note,
    /// Root included, ascending by degree.
    tones: Vec<Interval>,
    bass: Option<Note>,
    written: String,
}

/// Why a text is no chord.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Unread {
    /// Nothing is written.
    Empty,
    /// It does not begin with a note from A to G.
    Root {
        /// The text.
        text: String,
    },
    /// A slash with no note behind it.
    Bass {
        /// What is read before the slash.
        read: String,
        /// What stands behind it.
        behind: String,
    },
    /// A bracket is not closed, or closed without being opened.
    Bracket {
        /// The text.
        text: String,
    },
    /// The beginning is a chord, the rest is not understood.
    Rest {
        /// The beginning.
        read: String,
        /// The rest.
        rest: String,
    },
}

impl fmt::Display for Unread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Empty => write!(
                f,
                "no chord is written; a chord begins with a note, such as Em"
            ),
            Self::Root { text } => {
                write!(
                    f,
                    "{text} is no chord; it has to begin with a note from A to G, such as Em"
                )
            }
            Self::Bass { read, behind } if behind.is_empty() => {
                write!(
                    f,
                    "{read}/ lacks the bass note behind its slash, such as {read}/G"
                )
            }
            Self::Bass { read, behind } => {
                write!(
                    f,
                    "{read}/{behind}: the bass behind the slash has to be a note from A to G"
                )
            }
            Self::Bracket { text } => write!(f, "{text}: a bracket has no partner"),
            Self::Rest { read, rest } => {
                write!(
                    f,
                    "{read}{rest}: {read} is a chord, {rest} behind it is not understood"
                )
            }
        }
    }
}

impl std::error::Error for Unread {}

impl Chord {
    /// Reads a chord symbol, accepting what players write for it (see [`kinds::KINDS`]).
    ///
    /// The root is an upper-case letter, so that words stay words. The bass is what stands behind the last slash where that is a
    /// note name: `C6/9` has none. It keeps the text as typed.
    ///
    /// # Errors
    /// [`Unread`] says what could not be understood.
    pub fn parse(text: &str) -> Result<Self, Unread> {
        reading::read(text)
    }

    /// A chord made of its parts, written as [`Chord::name`] gives it.
    #[must_use]
    pub fn of_kind(root: Note, kind: &Kind) -> Self {
        Self::from_parts(root, kind.intervals(), None)
    }

    fn from_parts(root: Note, tones: Vec<Interval>, bass: Option<Note>) -> Self {
        let mut chord = Self {
            root,
            tones,
            bass: bass.filter(|&b| b != root),
            written: String::new(),
        };
        chord.written = chord.name();
        chord
    }

    /// The same chord over another bass; over its own root where `bass` is that.
    #[must_use]
    pub fn over(&self, bass: Note) -> Self {
        Self::from_parts(self.root, self.tones.clone(), Some(bass))
    }

    /// The same root and bass with the tones of another kind.
    #[must_use]
    pub fn as_kind(&self, kind: &Kind) -> Self {
        Self::from_parts(self.root, kind.intervals(), self.bass)
    }

    /// The root.
    #[must_use]
    pub const fn root(&self) -> Note {
        self.root
    }

    /// The bass: the note behind the slash, else the root.
    #[must_use]
    pub fn bass(&self) -> Note {
        self.bass.unwrap_or(self.root)
    }

    /// Whether another note than the root is in the bass.
    #[must_use]
    pub const fn is_inverted(&self) -> bool {
        self.bass.is_some()
    }

    /// The tones as intervals above the root, the root first.
    #[must_use]
    pub fn intervals(&self) -> &[Interval] {
        &self.tones
    }

    /// The notes from the root upward, spelled by degree; a bass that lies outside the chord is not among them.
    #[must_use]
    pub fn notes(&self) -> Vec<Note> {
        self.tones
            .iter()
            .map(|tone| tone.above(self.root))
            .collect()
    }

    /// The tone of that degree, if the chord has one: 3 asks for its third.
    #[must_use]
    pub fn tone(&self, degree: u8) -> Option<Note> {
        let tone = self.tones.iter().find(|tone| tone.degree == degree)?;
        Some(tone.above(self.root))
    }

    /// What sounds, as twelve bits: bit 0 is C. The bass is included.
    #[must_use]
    pub fn classes(&self) -> u16 {
        let root = u16::from(self.root.class());
        let tones = self.tones.iter().fold(0, |bits, tone| {
            bits | 1 << ((root + u16::from(tone.semitones)) % 12)
        });
        tones | 1 << self.bass().class()
    }

    /// Whether a note of that class (0 = C to 11 = B) belongs to the chord or is its bass.
    #[must_use]
    pub fn sounds(&self, class: u8) -> bool {
        self.classes() & 1 << (class % 12) != 0
    }

    /// Semitones of the third above the root: 4, 3, or `None` where there is no third.
    #[must_use]
    pub fn third(&self) -> Option<u8> {
        self.tones
            .iter()
            .find(|t| t.degree == 3)
            .map(|t| t.semitones)
    }

    /// Whether the third is major.
    #[must_use]
    pub fn is_major(&self) -> bool {
        self.third() == Some(4)
    }

    /// Whether the third is minor.
    #[must_use]
    pub fn is_minor(&self) -> bool {
        self.third() == Some(3)
    }

    /// Whether it has a seventh of any size.
    #[must_use]
    pub fn has_seventh(&self) -> bool {
        self.tones.iter().any(|t| t.degree == 7)
    }

    /// The symbol as this program writes it: `Am7`, `F#m7b5`, `C/E`.
    #[must_use]
    pub fn name(&self) -> String {
        let mut name = format!("{}{}", self.root, self.suffix());
        if let Some(bass) = self.bass {
            name.push('/');
            name.push_str(&bass.to_string());
        }
        name
    }

    fn suffix(&self) -> String {
        let Some((kind, changes)) = kinds::nearest(&self.tones) else {
            return String::new();
        };
        let changes = changes.concat();
        let plain = kind.written.first().copied().unwrap_or_default();
        if plain.is_empty() && changes.starts_with(['b', '#']) {
            // Without brackets the accidental would belong to the root.
            format!("({changes})")
        } else {
            format!("{plain}{changes}")
        }
    }

    /// What stands behind a roman numeral for this chord: `7`, `ø7`, `+`.
    #[must_use]
    pub(super) fn figure(&self) -> String {
        kinds::nearest(&self.tones).map_or_else(String::new, |(kind, changes)| {
            let changes = changes.concat();
            if kind.figure.is_empty() && changes.starts_with(['b', '#']) {
                format!("({changes})")
            } else {
                format!("{}{changes}", kind.figure)
            }
        })
    }

    /// The chord an interval higher, its spelling carried along: Bb up a minor third is Db, not C#.
    #[must_use]
    pub fn transposed(&self, up: Interval) -> Self {
        let moved = |note| {
            let moved = up.above(note);
            if moved.alter.abs() > 2 {
                respelled(moved)
            } else {
                moved
            }
        };
        Self::from_parts(moved(self.root), self.tones.clone(), self.bass.map(moved))
    }
}

impl PartialEq for Chord {
    fn eq(&self, other: &Self) -> bool {
        self.root == other.root && self.bass == other.bass && self.tones == other.tones
    }
}

impl Eq for Chord {}

impl Hash for Chord {
    fn hash<H: Hasher>(&self, state: &mut H) {
        (self.root, &self.tones, self.bass).hash(state);
    }
}

impl PartialOrd for Chord {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Chord {
    fn cmp(&self, other: &Self) -> Ordering {
        (self.root, &self.tones, self.bass).cmp(&(other.root, &other.tones, other.bass))
    }
}

impl fmt::Display for Chord {
    /// As it was typed; a chord the program made, as [`Chord::name`].
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.written)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;
    use proptest::prelude::*;

    pub(crate) const ROOTS: [&str; 17] = [
        "C", "C#", "Db", "D", "D#", "Eb", "E", "F", "F#", "Gb", "G", "G#", "Ab", "A", "A#", "Bb",
        "B",
    ];

    #[test]
    fn every_spelling_of_every_kind_on_every_root_is_read_and_written_again() {
        for root in ROOTS {
            for kind in kinds::KINDS {
                let expected = Chord::of_kind(Note::parse(root).unwrap(), kind);
                for written in kind.written {
                    let typed = format!("{root}{written}");
                    let chord = Chord::parse(&typed).unwrap();
                    assert_eq!(chord, expected, "{typed}");
                    assert_eq!(Chord::parse(&chord.name()).unwrap(), chord, "{typed}");
                    assert_eq!(chord.to_string(), typed);
                }
                assert_eq!(expected.name(), format!("{root}{}", kind.written[0]));
            }
        }
    }

    #[test]
    fn names_survive_transposing() {
        let up = Interval::new(3, 3);
        let check = |given: &str, expected: &str| {
            assert_eq!(Chord::parse(given).unwrap().transposed(up).name(), expected);
        };
        check("Bb", "Db");
        check("A", "C");
        check("F#m7b5/C", "Am7b5/Eb");
        check("Bbb7", "Dbb7");
    }

    #[test]
    fn tones_of_a_chord_are_found_by_degree_and_by_sound() {
        let chord = Chord::parse("Ebm/Db").unwrap();
        assert_eq!(chord.tone(3), Note::parse("Gb"));
        assert_eq!(chord.tone(7), None);
        assert!(chord.sounds(1) && chord.sounds(6) && !chord.sounds(0));
        assert!(chord.is_minor() && chord.is_inverted() && !chord.has_seventh());
    }

    proptest! {
        #[test]
        fn whatever_is_read_can_be_written_and_read_again(text in "[A-G][b#]?(m|maj|dim|aug|sus4|7|m7|maj7|9|6|13|5)?(\\(?[b#](5|9|11|13)\\)?|add(2|4|6|9|11|13)|no[35]|sus[24]){0,3}(/[A-G][b#]?)?") {
            if let Ok(chord) = Chord::parse(&text) {
                prop_assert_eq!(Chord::parse(&chord.name()), Ok(chord), "{}", text);
            }
        }

        #[test]
        fn no_text_is_too_odd(text in "\\PC{0,12}") {
            if let Err(why) = Chord::parse(&text) {
                prop_assert!(!why.to_string().is_empty());
            }
        }
    }
}
