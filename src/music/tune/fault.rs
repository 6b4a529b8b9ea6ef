//! What can be wrong with the text of a phrase.

use std::fmt;

/// Something in a phrase that could not be read as it stands; the rest of the phrase was.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Problem {
    /// Where: graphemes of the phrase's text, from 0.
    pub column: usize,
    /// What; prints as a sentence without capital and full stop.
    pub what: Fault,
}

/// The causes, one a variant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fault {
    /// Not a sign of the tune body.
    UnknownSign(String),
    /// A `^`, `_` or `=` without a note behind it, or more than two of them.
    LoneAccidental,
    /// A length of zero, or finer or longer than any written note.
    Length,
    /// Beyond the octaves from C−1 to B9.
    TooFar,
    /// A `>` or `<` without a note on either side.
    LoneBroken,
    /// A `(` without `)`.
    OpenSlur,
    /// A `)` without `(`.
    StraySlurEnd,
    /// A `{` without `}`.
    OpenGrace,
    /// A `"` without its partner.
    OpenChordSymbol,
    /// A `!` without its partner.
    OpenDecoration,
    /// A `[` without `]`.
    OpenChord,
    /// A tuplet that names no group of two to nine notes.
    Tuplet,
    /// A tuplet with fewer notes than it says.
    ShortTuplet {
        /// What the tuplet says.
        wanted: u8,
        /// The notes that follow it.
        found: u8,
    },
    /// A field in brackets that has no meaning here.
    Field(char),
    /// A field in brackets whose value cannot be read.
    FieldValue(char, String),
    /// An `&`.
    SecondVoice,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::UnknownSign(sign) => write!(f, "\"{sign}\" is no sign of a tune"),
            Self::LoneAccidental => f.write_str("this accidental stands before no note"),
            Self::Length => {
                f.write_str("this length cannot be read; lengths are such as 2, / or 3/2")
            }
            Self::TooFar => f.write_str("this note is too far from middle C to be sung"),
            Self::LoneBroken => f.write_str("there is no note before and after this > or <"),
            Self::OpenSlur => f.write_str("this slur is not closed"),
            Self::StraySlurEnd => f.write_str("no slur is open here"),
            Self::OpenGrace => f.write_str("this grace is not closed with }"),
            Self::OpenChordSymbol => f.write_str("this chord symbol is not closed with \""),
            Self::OpenDecoration => f.write_str("this decoration is not closed with !"),
            Self::OpenChord => f.write_str("this chord is not closed with ]"),
            Self::Tuplet => f.write_str("groups such as (3 go from 2 to 9 notes"),
            Self::ShortTuplet { wanted, found } => {
                write!(f, "this group of {wanted} has only {found} notes")
            }
            Self::Field(letter) => write!(f, "{letter}: is not read inside a phrase"),
            Self::FieldValue(letter, value) => {
                write!(f, "{letter}: cannot be \"{value}\"")
            }
            Self::SecondVoice => f.write_str("a second voice after & is left out"),
        }
    }
}
