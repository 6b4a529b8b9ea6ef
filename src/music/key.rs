//! Keys, as the ABC standard 2.1 (Walshaw and others, 2011, section 3.1.14) writes them.

use super::interval::{Interval, respelled};
use super::pitch::{Note, Step};
use std::fmt;

/// One of the seven modes of the diatonic scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Mode {
    /// Major.
    Ionian,
    /// Minor with a major sixth.
    Dorian,
    /// Minor with a minor second.
    Phrygian,
    /// Major with an augmented fourth.
    Lydian,
    /// Major with a minor seventh.
    Mixolydian,
    /// Natural minor.
    Aeolian,
    /// Minor with a minor second and a diminished fifth.
    Locrian,
}

impl Mode {
    /// All seven, on the white keys from C upward.
    pub const ALL: [Self; 7] = [
        Self::Ionian,
        Self::Dorian,
        Self::Phrygian,
        Self::Lydian,
        Self::Mixolydian,
        Self::Aeolian,
        Self::Locrian,
    ];

    /// The intervals of its seven degrees above the tonic.
    #[must_use]
    pub fn intervals(self) -> [Interval; 7] {
        let tonic = Note::natural(Step::ALL.get(self as usize).copied().unwrap_or(Step::C));
        let letters = [0, 1, 2, 3, 4, 5, 6];
        letters.map(|up| Interval::between(tonic, Note::natural(tonic.step.up(up))))
    }

    /// Whether its third is minor.
    #[must_use]
    pub const fn is_minor(self) -> bool {
        matches!(
            self,
            Self::Dorian | Self::Phrygian | Self::Aeolian | Self::Locrian
        )
    }

    /// How the standard abbreviates it behind a tonic: nothing for major, `m` for minor, else three letters.
    #[must_use]
    pub const fn abbreviation(self) -> &'static str {
        match self {
            Self::Ionian => "",
            Self::Dorian => "dor",
            Self::Phrygian => "phr",
            Self::Lydian => "lyd",
            Self::Mixolydian => "mix",
            Self::Aeolian => "m",
            Self::Locrian => "loc",
        }
    }

    /// The whole word, as a songwriter says it.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Ionian => "major",
            Self::Dorian => "Dorian",
            Self::Phrygian => "Phrygian",
            Self::Lydian => "Lydian",
            Self::Mixolydian => "Mixolydian",
            Self::Aeolian => "minor",
            Self::Locrian => "Locrian",
        }
    }

    /// Fifths that its signature lies below the major key on the same tonic (Lydian: above, −1).
    const fn fifths_below_major(self) -> i8 {
        match self {
            Self::Lydian => -1,
            Self::Ionian => 0,
            Self::Mixolydian => 1,
            Self::Dorian => 2,
            Self::Aeolian => 3,
            Self::Phrygian => 4,
            Self::Locrian => 5,
        }
    }

    /// Reads the word behind a tonic; only three letters count, capitals do not. A lone `M` is major (our choice: the standard
    /// leaves capitals out of account, players do not).
    fn parse(word: &str) -> Option<Self> {
        match word {
            "" | "M" => return Some(Self::Ionian),
            "m" => return Some(Self::Aeolian),
            _ => {}
        }
        if !word.chars().all(|c| c.is_ascii_alphabetic()) {
            return None;
        }
        let three: String = word
            .chars()
            .take(3)
            .collect::<String>()
            .to_ascii_lowercase();
        Some(match three.as_str() {
            "maj" | "ion" => Self::Ionian,
            "min" | "aeo" => Self::Aeolian,
            "dor" => Self::Dorian,
            "phr" => Self::Phrygian,
            "lyd" => Self::Lydian,
            "mix" => Self::Mixolydian,
            "loc" => Self::Locrian,
            _ => return None,
        })
    }
}

/// A tonic and its mode, with a signature of at most seven sharps or flats.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Key {
    tonic: Note,
    mode: Mode,
}

impl Key {
    /// C major, the key of a song that names none.
    pub const C_MAJOR: Self = Self {
        tonic: Note::natural(Step::C),
        mode: Mode::Ionian,
    };

    /// The key on that tonic, or `None` where its signature would need more than seven sharps or flats.
    #[must_use]
    pub fn new(tonic: Note, mode: Mode) -> Option<Self> {
        let key = Self { tonic, mode };
        (-7..=7).contains(&key.fifths()).then_some(key)
    }

    /// Reads `Em`, `Bb`, `Ador`, `D dorian`, `F# Mixolydian`, `A minor`, and nothing behind it.
    ///
    /// The tonic is an upper-case letter; a lower-case one is taken too where the mode stands behind it.
    ///
    /// ```
    /// # use breathmark::music::key::Key;
    /// let name = |text| Key::parse(text).map(|key| key.to_string());
    /// assert_eq!(name("E minor").as_deref(), Some("Em"));
    /// assert_eq!(name("D MIXOLYDIAN").as_deref(), Some("Dmix"));
    /// assert_eq!(name("none"), None);
    /// ```
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let (key, rest) = Self::parse_beginning(text)?;
        rest.is_empty().then_some(key)
    }

    /// Reads the key that a `K:` field begins with, and gives what stands behind it (clef, accidentals of its own) trimmed.
    #[must_use]
    pub fn parse_beginning(text: &str) -> Option<(Self, &str)> {
        let text = text.trim();
        let letter = text.chars().next().filter(char::is_ascii_alphabetic)?;
        let sign_end = |rest: &str| match rest.chars().next() {
            Some(sign @ ('#' | '♯' | 'b' | '♭')) => sign.len_utf8(),
            _ => 0,
        };
        let behind_letter = text.strip_prefix(letter)?;
        let (sign, behind) = behind_letter.split_at_checked(sign_end(behind_letter))?;
        let tonic = Note::parse(&format!("{}{sign}", letter.to_ascii_uppercase()))?;
        // The mode is the word that follows at once or behind spaces; if that word is none, it belongs to the rest.
        let word_end = |t: &str| {
            t.find(|c: char| !c.is_ascii_alphabetic())
                .unwrap_or(t.len())
        };
        let spaced = behind.trim_start();
        let (word, rest) = spaced.split_at_checked(word_end(spaced))?;
        let attached = spaced.len() == behind.len() && !word.is_empty();
        let (mode, rest) = match Mode::parse(word) {
            Some(mode) if !rest.starts_with('=') || word.is_empty() => (mode, rest),
            _ if attached => return None,
            _ => (Mode::Ionian, spaced),
        };
        if letter.is_ascii_lowercase() && (word.is_empty() || rest == spaced) {
            return None;
        }
        Some((Self::new(tonic, mode)?, rest.trim_start()))
    }

    /// The first degree.
    #[must_use]
    pub const fn tonic(self) -> Note {
        self.tonic
    }

    /// The mode.
    #[must_use]
    pub const fn mode(self) -> Mode {
        self.mode
    }

    /// Whether the tonic's third is minor.
    #[must_use]
    pub const fn is_minor(self) -> bool {
        self.mode.is_minor()
    }

    /// Sharps in the signature (flats below zero), from −7 to 7.
    #[must_use]
    pub fn fifths(self) -> i8 {
        let natural = match self.tonic.step {
            Step::F => -1,
            Step::C => 0,
            Step::G => 1,
            Step::D => 2,
            Step::A => 3,
            Step::E => 4,
            Step::B => 5,
        };
        natural + 7 * self.tonic.alter - self.mode.fifths_below_major()
    }

    /// The seven notes from the tonic upward.
    #[must_use]
    pub fn scale(self) -> [Note; 7] {
        self.mode
            .intervals()
            .map(|interval| interval.above(self.tonic))
    }

    /// The accidental (sharp 1, flat −1) that the signature puts on each letter, in the order of [`Step::ALL`].
    #[must_use]
    pub fn signature(self) -> [i8; 7] {
        let mut signs = [0; 7];
        for note in self.scale() {
            if let Some(sign) = signs.get_mut(note.step.index()) {
                *sign = note.alter;
            }
        }
        signs
    }

    /// The note that the signature makes of a letter.
    #[must_use]
    pub fn note(self, step: Step) -> Note {
        let alter = self.signature().get(step.index()).copied().unwrap_or(0);
        Note { step, alter }
    }

    /// The degree of the major scale on this tonic, raised by `alter`: `(7, -1)` in D is C, whatever the mode.
    #[must_use]
    pub fn degree(self, degree: u8, alter: i8) -> Note {
        Interval::of_major_scale(degree, alter).above(self.tonic)
    }

    /// The key that many semitones higher (lower where negative), on the tonic with the simpler signature; of two equally simple
    /// ones sharps stay sharps and flats flats.
    #[must_use]
    pub fn transposed(self, semitones: i16) -> Self {
        let class = (i16::from(self.tonic.class()) + semitones).rem_euclid(12);
        if class == i16::from(self.tonic.class()) {
            return self;
        }
        let keys = Step::ALL
            .into_iter()
            .flat_map(|step| [-1, 0, 1].map(|alter| Note { step, alter }));
        keys.filter(|note| i16::from(note.class()) == class)
            .filter_map(|note| Self::new(note, self.mode))
            .min_by_key(|key| {
                (
                    key.fifths().abs(),
                    (key.fifths() < 0) != (self.fifths() < 0),
                )
            })
            .unwrap_or(Self {
                tonic: respelled(self.tonic),
                mode: self.mode,
            })
    }
}

impl fmt::Display for Key {
    /// As the standard writes it: `Em`, `Bb`, `Dmix`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.tonic, self.mode.abbreviation())
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;

    fn key(text: &str) -> Key {
        Key::parse(text).unwrap()
    }

    #[test]
    fn keys_are_read_and_written_as_in_the_standard() {
        for (given, expected) in [
            ("Em", "Em"),
            ("E min", "Em"),
            ("Eminor", "Em"),
            ("EMIN", "Em"),
            ("C", "C"),
            ("C major", "C"),
            ("Cmaj", "C"),
            ("C ionian", "C"),
            ("Bb", "Bb"),
            ("B♭", "Bb"),
            ("Bbm", "Bbm"),
            ("Ador", "Ador"),
            ("D dorian", "Ddor"),
            ("DMix", "Dmix"),
            ("F#mixolydian", "F#mix"),
            ("A Aeolian", "Am"),
            ("E Phr", "Ephr"),
            ("Flyd", "Flyd"),
            ("B locrian", "Bloc"),
            ("em", "Em"),
            ("bbm", "Bbm"),
            ("a minor", "Am"),
            ("b dorian", "Bdor"),
            ("CM", "C"),
        ] {
            assert_eq!(
                Key::parse(given).map(|k| k.to_string()).as_deref(),
                Some(expected),
                "{given}"
            );
        }
        for bad in [
            "", "none", "a", "H", "fast", "Dx", "D#", "E m7", "C#b", "HP", "b", "be", "Do",
        ] {
            assert_eq!(Key::parse(bad), None, "{bad}");
        }
    }

    #[test]
    fn what_stands_behind_a_key_is_given_back() {
        let check = |text: &str, name: &str, rest: &str| {
            let (key, behind) = Key::parse_beginning(text).unwrap();
            assert_eq!((key.to_string().as_str(), behind), (name, rest), "{text}");
        };
        check("D Phr ^f", "Dphr", "^f");
        check("Em clef=bass", "Em", "clef=bass");
        check("G clef=treble", "G", "clef=treble");
        check("A=c", "A", "=c");
        check("C bass", "C", "bass");
        assert_eq!(Key::parse_beginning("clef=bass"), None);
    }

    #[test]
    fn signatures_follow_the_circle_of_fifths() {
        // Order of the letters: C D E F G A B.
        for (name, fifths, signs) in [
            ("C", 0, [0, 0, 0, 0, 0, 0, 0]),
            ("Em", 1, [0, 0, 0, 1, 0, 0, 0]),
            ("Ador", 1, [0, 0, 0, 1, 0, 0, 0]),
            ("Dmix", 1, [0, 0, 0, 1, 0, 0, 0]),
            ("Eb", -3, [0, 0, -1, 0, 0, -1, -1]),
            ("Cb", -7, [-1; 7]),
            ("C#", 7, [1; 7]),
            ("Flyd", 0, [0; 7]),
        ] {
            assert_eq!(
                (key(name).fifths(), key(name).signature()),
                (fifths, signs),
                "{name}"
            );
        }
        let scale: Vec<_> = key("Bbm").scale().iter().map(ToString::to_string).collect();
        assert_eq!(scale, ["Bb", "C", "Db", "Eb", "F", "Gb", "Ab"]);
    }

    #[test]
    fn every_key_goes_through_all_twelve_and_comes_back() {
        for (name, up, expected) in [
            ("Em", 2, "F#m"),
            ("G", 1, "Ab"),
            ("Bb", 3, "Db"),
            ("E", 2, "F#"),
            ("F", 1, "Gb"),
            ("Eb", 3, "Gb"),
            ("Dmix", -12, "Dmix"),
            ("Ador", -2, "Gdor"),
        ] {
            assert_eq!(
                key(name).transposed(up).to_string(),
                expected,
                "{name} {up}"
            );
        }
    }
}
