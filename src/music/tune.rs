//! A phrase of melody, read from the body of ABC notation.
//!
//! After the ABC music standard 2.1 (abcnotation.com, December 2011), section 4, "The tune body". Reading never fails: what is
//! no sign of ABC is a [`Problem`] at its column, and the rest of the phrase is read. Note lengths alone make the time; bar
//! lines only end accidentals and show where the pickup ends.

pub mod fault;
pub mod reader;
pub mod rebar;
pub mod signs;

use self::fault::Problem;
use super::meter::{Meter, Strength};
use super::pitch::Pitch;
use super::quarters::Quarters;

/// What a key signature does to each letter, indexed by [`super::pitch::Step::index`]: 1 sharp, −1 flat, 0 natural.
pub type Signature = [i8; 7];

/// The unit note length of a song's phrases, `L:1/8`: half a quarter note.
pub const UNIT: Quarters = Quarters::EIGHTH;

/// One phrase of a tune: what one line is sung to.
#[derive(Clone, Debug, PartialEq, Eq, Default)]
pub struct Phrase {
    /// Notes and rests in order; each begins where the one before ends.
    pub notes: Vec<PhraseNote>,
    /// Where bar lines stand, ascending, each moment once.
    pub bar_lines: Vec<Quarters>,
    /// What stands before the first full bar: the length up to the first bar line after a note, where that is shorter than a
    /// bar, else zero.
    pub pickup: Quarters,
    /// All lengths together, rests included.
    pub length: Quarters,
    /// What could not be read, from left to right.
    pub problems: Vec<Problem>,
}

/// A note or a rest of a phrase. Tied notes are one; grace notes are left out; a chord is its highest note.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PhraseNote {
    /// Its pitch as written; `None` for a rest.
    pub pitch: Option<Pitch>,
    /// Where it begins, from the phrase's first note or rest.
    pub start: Quarters,
    /// How long it lasts; more than zero.
    pub length: Quarters,
    /// The slur that it stands under, numbered from 0 in the phrase; notes of one number are sung on one syllable.
    pub slur: Option<usize>,
    /// Where it is written: graphemes of the phrase's text, from 0.
    pub column: usize,
}

impl PhraseNote {
    /// Where it ends.
    #[must_use]
    pub fn end(&self) -> Quarters {
        self.start + self.length
    }
}

impl Phrase {
    /// Reads a phrase in the given key signature and meter, with the unit note length [`UNIT`].
    ///
    /// ```
    /// # use breathmark::music::{meter::Meter, quarters::Quarters, tune::Phrase};
    /// let e_minor = [0, 0, 0, 1, 0, 0, 0]; // F sharp
    /// let waltz = Meter::parse("3/4").unwrap();
    /// let phrase = Phrase::read("B,2 | E4 F2 | G4 F2 | E4 D2 | B,4", e_minor, waltz);
    /// assert_eq!(phrase.notes.len(), 8);
    /// assert_eq!(phrase.notes[2].pitch.unwrap().to_string(), "F#4");
    /// assert_eq!((phrase.pickup, phrase.length), (Quarters::ONE, Quarters::from(12)));
    /// assert!(phrase.problems.is_empty());
    /// ```
    #[must_use]
    pub fn read(text: &str, signature: Signature, meter: Meter) -> Self {
        let mut reader = reader::Reader::new(signature, meter, UNIT);
        reader.read(text);
        reader.finish().phrase(meter)
    }

    /// How many notes there are, rests not counted.
    #[must_use]
    pub fn sung_notes(&self) -> usize {
        self.notes.iter().filter(|n| n.pitch.is_some()).count()
    }

    /// The strength of a moment of the phrase: bars are counted on from the end of the pickup, whatever bar lines say.
    #[must_use]
    pub fn strength(&self, moment: Quarters, meter: Meter) -> Strength {
        meter.strength(moment - self.pickup)
    }

    /// Bars between two bar lines that do not last as long as the meter says: (number from 1, its length). The pickup is no
    /// bar, and what follows the last bar line may be short, since the next phrase's pickup fills it.
    ///
    /// ```
    /// # use breathmark::music::{meter::Meter, quarters::Quarters, tune::Phrase};
    /// let phrase = Phrase::read("C2 | D4 E4 | F6 | G2", [0; 7], Meter::parse("3/4").unwrap());
    /// assert_eq!(phrase.uneven_bars(Meter::parse("3/4").unwrap()), [(1, Quarters::from(4))]);
    /// ```
    #[must_use]
    pub fn uneven_bars(&self, meter: Meter) -> Vec<(usize, Quarters)> {
        let mut lines = Vec::with_capacity(self.bar_lines.len() + 1);
        if self.pickup.is_zero() {
            lines.push(Quarters::ZERO);
        }
        lines.extend(self.bar_lines.iter().copied().filter(|l| l.is_positive()));
        lines
            .windows(2)
            .enumerate()
            .filter_map(|(index, pair)| match pair {
                [from, to] => Some((index + 1, *to - *from)),
                _ => None,
            })
            .filter(|&(_, length)| length != meter.bar())
            .collect()
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used, reason = "a test may stop")]
mod tests {
    use super::*;
    use std::fmt::Write;

    /// The phrase as "pitch length" (quarter notes), a rest as z, notes under a slur with its number.
    fn shown(phrase: &Phrase) -> String {
        let mut out = String::new();
        for note in &phrase.notes {
            if !out.is_empty() {
                out.push(' ');
            }
            match note.pitch {
                Some(pitch) => write!(out, "{pitch}:{}", note.length).unwrap(),
                None => write!(out, "z:{}", note.length).unwrap(),
            }
            if let Some(slur) = note.slur {
                write!(out, "s{slur}").unwrap();
            }
        }
        out
    }

    fn read_in(meter: &str, text: &str) -> Phrase {
        Phrase::read(text, [0; 7], Meter::parse(meter).unwrap())
    }

    fn check(text: &str, expected: &str) {
        let phrase = read_in("4/4", text);
        assert_eq!(shown(&phrase), expected, "{text}");
        assert!(phrase.problems.is_empty(), "{text}: {:?}", phrase.problems);
    }

    fn check_problem(text: &str, column: usize, expected: &str, notes: usize) {
        let phrase = read_in("4/4", text);
        let problem = phrase.problems.first().unwrap_or_else(|| panic!("{text}"));
        assert_eq!(
            (problem.column, problem.what.to_string().as_str()),
            (column, expected),
            "{text}"
        );
        assert_eq!(phrase.notes.len(), notes, "{text}");
    }

    #[test]
    fn lengths() {
        check(
            "C2 D E/ F// G3/2 A/4 B3/",
            "C4:1 D4:1/2 E4:1/4 F4:1/8 G4:3/4 A4:1/8 B4:3/4",
        );
        check("C>D E<F G>>A", "C4:3/4 D4:1/4 E4:1/4 F4:3/4 G4:7/8 A4:1/8");
        check("C2>{e}D2 E > F", "C4:3/2 D4:1/2 E4:3/4 F4:1/4");
        check("z2 x Z X2", "z:1 z:1/2 z:4 z:8");
    }

    #[test]
    fn heights() {
        check(
            "C, C c c' C,, c,'",
            "C3:1/2 C4:1/2 C5:1/2 C6:1/2 C2:1/2 C5:1/2",
        );
        check(
            "^C _B =A ^^F __E",
            "C#4:1/2 Bb4:1/2 A4:1/2 F##4:1/2 Ebb4:1/2",
        );
    }

    #[test]
    fn accidentals_hold_in_every_octave_to_the_bar_line() {
        check(
            "^F f F, =f F | F",
            "F#4:1/2 F#5:1/2 F#3:1/2 F5:1/2 F4:1/2 F4:1/2",
        );
        let g = Phrase::read("F =F F | F", [0, 0, 0, 1, 0, 0, 0], Meter::COMMON);
        assert_eq!(shown(&g), "F#4:1/2 F4:1/2 F4:1/2 F#4:1/2");
    }

    #[test]
    fn ties_join_equal_pitches_only() {
        check("C2-C D-E F4-|F2 G", "C4:3/2 D4:1/2 E4:1/2 F4:3 G4:1/2");
        check("^F4-|F2 F", "F#4:3 F4:1/2");
        check("C-z C", "C4:1/2 z:1/2 C4:1/2");
        check("C-C-C-", "C4:3/2");
        check("^C-_D", "C#4:1");
    }

    #[test]
    fn slurs() {
        check("(CD) (EF)G", "C4:1/2s0 D4:1/2s0 E4:1/2s1 F4:1/2s1 G4:1/2");
        check("(C (DE) F) G", "C4:1/2s0 D4:1/2s0 E4:1/2s0 F4:1/2s0 G4:1/2");
        check("(C) D .(EF)", "C4:1/2 D4:1/2 E4:1/2s0 F4:1/2s0");
        check("(C-C) D", "C4:1 D4:1/2");
        check("(B,C)-(CD)", "B3:1/2s0 C4:1s0 D4:1/2s0");
    }

    #[test]
    fn tuplets() {
        check("(3CDE F", "C4:1/3 D4:1/3 E4:1/3 F4:1/2");
        check("(3:2:2C2D F", "C4:2/3 D4:1/3 F4:1/2");
        check("(2CD (4CDEF", "C4:3/4 D4:3/4 C4:3/8 D4:3/8 E4:3/8 F4:3/8");
        check("(3::2 CD E", "C4:1/3 D4:1/3 E4:1/2");
        check("(3zCD-D", "z:1/3 C4:1/3 D4:5/6");
        let jig = read_in("6/8", "(5CDEFG");
        assert_eq!(jig.length, Quarters::new(3, 2));
    }

    #[test]
    fn what_is_not_melody_is_passed_over() {
        check(
            "\"Em7\"!fermata!C {ga}D .E ~F vG uA HB [P:A] y2 `c $ \\",
            "C4:1/2 D4:1/2 E4:1/2 F4:1/2 G4:1/2 A4:1/2 B4:1/2 C5:1/2",
        );
        check("[CEG]2 [c2E2]/ [CE]-E", "G4:1 C5:1/2 E4:1");
        check(
            "|: C |1 D :|2 E |] F [| G || A :: B [1 c .| d % rest of line",
            "C4:1/2 D4:1/2 E4:1/2 F4:1/2 G4:1/2 A4:1/2 B4:1/2 C5:1/2 D5:1/2",
        );
        check("C [L:1/4] C [r:why] [I:x]", "C4:1/2 C4:1");
        check("[M:3/4] Z C", "z:3 C4:1/2");
        check("F [K:G] F [K:C] F", "F4:1/2 F#4:1/2 F4:1/2");
    }

    #[test]
    fn pickup_is_shorter_than_a_bar() {
        for (text, pickup) in [
            ("B,2 | E8", "1"),
            ("E8 | E8", "0"),
            ("| E4 E4 |", "0"),
            ("|: B,2 | E8", "1"),
            ("E4", "0"),
            ("z2 E2 | F8", "2"),
            ("E8 F8 | G8", "0"),
        ] {
            assert_eq!(read_in("4/4", text).pickup.to_string(), pickup, "{text}");
        }
    }

    #[test]
    fn problems_have_a_column_and_lose_nothing_else() {
        check_problem("C k D", 2, "\"k\" is no sign of a tune", 2);
        check_problem("C (D E", 2, "this slur is not closed", 3);
        check_problem("C D) E", 3, "no slur is open here", 3);
        check_problem("{ga C", 0, "this grace is not closed with }", 3);
        check_problem("C \"Em D", 2, "this chord symbol is not closed with \"", 2);
        check_problem("[CE D", 0, "this chord is not closed with ]", 3);
        check_problem("^ C", 0, "this accidental stands before no note", 1);
        check_problem("> C", 0, "there is no note before and after this > or <", 1);
        check_problem("C >", 2, "there is no note before and after this > or <", 1);
        check_problem(
            "C0 D",
            1,
            "this length cannot be read; lengths are such as 2, / or 3/2",
            2,
        );
        check_problem(
            "C1/999 D",
            1,
            "this length cannot be read; lengths are such as 2, / or 3/2",
            2,
        );
        check_problem(
            "c'''''''''''' D",
            0,
            "this note is too far from middle C to be sung",
            2,
        );
        check_problem("(3C D", 0, "this group of 3 has only 2 notes", 2);
        check_problem("C [V:2] D", 2, "V: is not read inside a phrase", 2);
        check_problem("C & D | E", 2, "a second voice after & is left out", 2);
        check_problem("♭C", 0, "\"♭\" is no sign of a tune", 1);
        check_problem("é C", 0, "\"é\" is no sign of a tune", 1);
    }

    #[test]
    fn nothing_is_an_empty_phrase() {
        assert_eq!(read_in("4/4", "  "), Phrase::default());
    }

    proptest::proptest! {
        #[test]
        fn any_text_is_read(text in "[A-Ga-gzZxX0-9/()\\[\\]|:{}<>=_^,'\\-\" .!&~KLMV%\\\\♭é]{0,60}") {
            let phrase = read_in("6/8", &text);
            let mut moment = Quarters::ZERO;
            for note in &phrase.notes {
                proptest::prop_assert_eq!(note.start, moment);
                proptest::prop_assert!(note.length.is_positive());
                moment = note.end();
            }
            proptest::prop_assert_eq!(phrase.length, moment);
            proptest::prop_assert!(phrase.bar_lines.windows(2).all(|w| w[0] < w[1]));
            proptest::prop_assert!(phrase.problems.windows(2).all(|w| w[0].column <= w[1].column));
        }

        #[test]
        fn any_bytes_are_read(text in "\\PC{0,40}") {
            let _ = read_in("4/4", &text);
        }
    }
}
