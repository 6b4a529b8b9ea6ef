//! Spelled pitches.

use std::fmt;

/// A letter of the scale.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Step {
    /// C
    C,
    /// D
    D,
    /// E
    E,
    /// F
    F,
    /// G
    G,
    /// A
    A,
    /// B
    B,
}

impl Step {
    /// All seven, upward from C.
    pub const ALL: [Self; 7] = [
        Self::C,
        Self::D,
        Self::E,
        Self::F,
        Self::G,
        Self::A,
        Self::B,
    ];

    /// The letter's number from C = 0 to B = 6.
    #[must_use]
    pub const fn index(self) -> usize {
        self as usize
    }

    /// Semitones above C of the natural note.
    #[must_use]
    pub const fn semitones(self) -> i16 {
        [0, 2, 4, 5, 7, 9, 11][self as usize]
    }

    /// The letter `steps` above (below where negative), as in counting on a staff.
    #[must_use]
    pub fn up(self, steps: i32) -> Self {
        let index =
            usize::try_from((i32::try_from(self.index()).unwrap_or(0) + steps).rem_euclid(7))
                .unwrap_or(0);
        Self::ALL.get(index).copied().unwrap_or(Self::C)
    }

    /// Reads one of `A` to `G`, upper or lower case.
    #[must_use]
    pub const fn from_letter(letter: char) -> Option<Self> {
        Some(match letter.to_ascii_uppercase() {
            'C' => Self::C,
            'D' => Self::D,
            'E' => Self::E,
            'F' => Self::F,
            'G' => Self::G,
            'A' => Self::A,
            'B' => Self::B,
            _ => return None,
        })
    }

    /// The upper-case letter.
    #[must_use]
    pub const fn letter(self) -> char {
        ['C', 'D', 'E', 'F', 'G', 'A', 'B'][self as usize]
    }
}

/// A note name without an octave: a letter and its accidental.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Note {
    /// The letter.
    pub step: Step,
    /// Semitones that the accidental raises (sharp 1, flat −1); from −3 to 3 in anything that people write.
    pub alter: i8,
}

impl Note {
    /// A natural note.
    #[must_use]
    pub const fn natural(step: Step) -> Self {
        Self { step, alter: 0 }
    }

    /// Reads a letter `A` to `G` (upper case only) with `#`, `##`, `b`, `bb` or the signs ♯ ♭ 𝄪 𝄫 behind it, and nothing else.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let mut chars = text.chars();
        let letter = chars.next().filter(char::is_ascii_uppercase)?;
        let alter = match chars.as_str() {
            "" => 0,
            "#" | "♯" => 1,
            "##" | "♯♯" | "𝄪" => 2,
            "b" | "♭" => -1,
            "bb" | "♭♭" | "𝄫" => -2,
            _ => return None,
        };
        Some(Self {
            step: Step::from_letter(letter)?,
            alter,
        })
    }

    /// Semitones above C, from 0 to 11, spelling forgotten.
    #[must_use]
    pub fn class(self) -> u8 {
        u8::try_from((self.step.semitones() + i16::from(self.alter)).rem_euclid(12)).unwrap_or(0)
    }
}

impl fmt::Display for Note {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.step.letter())?;
        for _ in 0..self.alter.unsigned_abs() {
            f.write_str(if self.alter > 0 { "#" } else { "b" })?;
        }
        Ok(())
    }
}

/// A note at its height: middle C is `C4`.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Pitch {
    /// Its name.
    pub note: Note,
    /// Its octave, counted from C upward; the octave of middle C is 4.
    pub octave: i8,
}

impl Pitch {
    /// Reads scientific names: `E2`, `Bb3`, `F#4`, `C-1`.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        let split = text.find(|c: char| c == '-' || c.is_ascii_digit())?;
        let (name, octave) = text.split_at_checked(split)?;
        let octave: i8 = octave.parse().ok().filter(|o| (-1..=9).contains(o))?;
        Some(Self {
            note: Note::parse(name)?,
            octave,
        })
    }

    /// The key number of the MIDI 1.0 specification, where middle C is 60; it may lie outside 0 to 127.
    #[must_use]
    pub fn midi(self) -> i16 {
        (i16::from(self.octave) + 1) * 12 + self.note.step.semitones() + i16::from(self.note.alter)
    }
}

impl fmt::Display for Pitch {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.note, self.octave)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_and_numbers_agree() {
        // Key numbers as in the MIDI 1.0 detailed specification (middle C = 60).
        for (name, number) in [
            ("C4", 60),
            ("A4", 69),
            ("E2", 40),
            ("Cb4", 59),
            ("B#3", 60),
            ("C-1", 0),
            ("G9", 127),
            ("Bb3", 58),
        ] {
            let pitch = Pitch::parse(name).expect(name);
            assert_eq!(pitch.midi(), number, "{name}");
            assert_eq!(pitch.to_string(), name);
        }
        for bad in ["", "4", "c4", "H4", "C", "C#b4", "C44", "C4x"] {
            assert_eq!(Pitch::parse(bad), None, "{bad}");
        }
    }

    #[test]
    fn letters_go_round() {
        assert_eq!(Step::B.up(1), Step::C);
        assert_eq!(Step::C.up(-1), Step::B);
    }
}
