//! The signs of a tune's body, as they stand on the page: no key, no meter, no time yet.

use super::fault::{Fault, Problem};
use crate::music::pitch::Step;
use crate::music::quarters::Quarters;
use unicode_segmentation::UnicodeSegmentation;

/// A sign and where it is written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Placed {
    /// Graphemes of the text, from 0.
    pub column: usize,
    /// The sign.
    pub sign: Sign,
}

/// What a tune's body is made of. Chord symbols, decorations, graces, spacers and endings are read and left out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Sign {
    /// A note, its length in unit notes.
    Note(Written, Quarters),
    /// Notes at once, and the length that stands behind the bracket, in unit notes; [`Written::tied`] and the lengths inside
    /// are those of the notes.
    Chord(Vec<(Written, Quarters)>, Quarters),
    /// `z`, `x`: a rest, in unit notes.
    Rest(Quarters),
    /// `Z`, `X`: a rest of whole bars.
    BarRest(u16),
    /// `-` behind a note.
    Tie,
    /// `>` (positive) or `<` (negative), and how many of them.
    Broken(i8),
    /// `(`
    SlurOpen,
    /// `)`
    SlurClose,
    /// `(p:q:r`: p notes in the time of q, for the next r.
    Tuplet {
        /// How many notes.
        p: u8,
        /// In the time of how many, where written.
        q: Option<u8>,
        /// For how many notes, where written.
        r: Option<u8>,
    },
    /// A bar line of any kind.
    Bar,
    /// `&`: another voice from the bar's beginning on.
    Overlay,
    /// `[X:value]`
    Field(char, String),
}

/// A note as written, before key and bar have their say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Written {
    /// The accidental before it.
    pub accidental: Option<i8>,
    /// Its letter.
    pub step: Step,
    /// Its octave; middle C begins octave 4.
    pub octave: i8,
    /// Whether a tie stands behind it inside a chord's brackets.
    pub tied: bool,
}

/// Decorations that the standard gives one sign (section 4.14).
const SHORT_DECORATIONS: [&str; 11] = [".", "~", "H", "L", "M", "O", "P", "S", "T", "u", "v"];

/// Cuts a tune's body into signs; what is none is a problem.
#[must_use]
pub fn signs(text: &str) -> (Vec<Placed>, Vec<Problem>) {
    let mut cutter = Cutter {
        text: text.graphemes(true).collect(),
        at: 0,
        signs: Vec::new(),
        problems: Vec::new(),
    };
    while cutter.at < cutter.text.len() {
        cutter.step();
    }
    (cutter.signs, cutter.problems)
}

struct Cutter<'a> {
    text: Vec<&'a str>,
    at: usize,
    signs: Vec<Placed>,
    problems: Vec<Problem>,
}

impl<'a> Cutter<'a> {
    fn ahead(&self, by: usize) -> &'a str {
        self.text.get(self.at + by).copied().unwrap_or("")
    }

    fn take_if(&mut self, sign: &str) -> bool {
        let found = self.ahead(0) == sign;
        self.at += usize::from(found);
        found
    }

    fn push(&mut self, column: usize, sign: Sign) {
        self.signs.push(Placed { column, sign });
    }

    fn problem(&mut self, column: usize, what: Fault) {
        self.problems.push(Problem { column, what });
    }

    /// Reads one sign; goes at least one grapheme on.
    fn step(&mut self) {
        let column = self.at;
        if let Some((note, length)) = self.note() {
            self.push(column, Sign::Note(note, length));
            return;
        }
        // A refused accidental has moved on already.
        if self.at > column {
            return;
        }
        let sign = self.ahead(0);
        self.at += 1;
        match sign {
            "z" | "x" => {
                let length = self.length();
                self.push(column, Sign::Rest(length));
            }
            "Z" | "X" => {
                let bars = self.number().unwrap_or(1).clamp(1, 999);
                self.push(column, Sign::BarRest(bars));
            }
            "y" => {
                self.length();
            }
            "-" => self.push(column, Sign::Tie),
            ">" | "<" => {
                let mut count = 1_i8;
                while self.take_if(sign) {
                    count = count.saturating_add(1);
                }
                // Three dots are the most that the standard shows.
                let count = count.min(3);
                self.push(
                    column,
                    Sign::Broken(if sign == ">" { count } else { -count }),
                );
            }
            "(" => self.slur_or_tuplet(column),
            ")" => self.push(column, Sign::SlurClose),
            "|" | ":" => self.bar(column),
            "[" => self.bracket(column),
            "&" => self.push(column, Sign::Overlay),
            "\"" => self.quoted(column),
            "!" | "+" => self.decoration(column, sign),
            "{" => {
                if !self.skip_past("}") {
                    self.problem(column, Fault::OpenGrace);
                }
            }
            "%" => {
                while !matches!(self.ahead(0), "" | "\n" | "\r\n") {
                    self.at += 1;
                }
            }
            "`" | "\\" | "$" => {}
            other if other.trim().is_empty() || SHORT_DECORATIONS.contains(&other) => {}
            other => {
                let what = Fault::UnknownSign(other.to_owned());
                self.problem(column, what);
            }
        }
    }

    /// A note with its accidental before and its octave signs and length behind it.
    fn note(&mut self) -> Option<(Written, Quarters)> {
        let column = self.at;
        let mut alter = None;
        let mut signs = 0;
        while let Some(by) = match self.ahead(0) {
            "^" => Some(1),
            "_" => Some(-1),
            "=" => Some(0),
            _ => None,
        } {
            alter = Some(alter.unwrap_or(0_i8).saturating_add(by));
            signs += 1;
            self.at += 1;
        }
        let letter = self.ahead(0);
        let step = single(letter).and_then(Step::from_letter);
        let Some(step) = step else {
            if signs > 0 {
                self.problem(column, Fault::LoneAccidental);
            }
            return None;
        };
        if signs > 2 || (signs == 2 && !matches!(alter, Some(2 | -2))) {
            self.problem(column, Fault::LoneAccidental);
            alter = None;
        }
        let mut octave = if letter.starts_with(char::is_lowercase) {
            5
        } else {
            4_i8
        };
        self.at += 1;
        loop {
            match self.ahead(0) {
                "," => octave = octave.saturating_sub(1),
                "'" => octave = octave.saturating_add(1),
                _ => break,
            }
            self.at += 1;
        }
        if !(-1..=9).contains(&octave) {
            self.problem(column, Fault::TooFar);
            octave = octave.clamp(-1, 9);
        }
        let length = self.length();
        let note = Written {
            accidental: alter,
            step,
            octave,
            tied: false,
        };
        Some((note, length))
    }

    fn number(&mut self) -> Option<u16> {
        let mut value = None;
        while let Some(digit) = single(self.ahead(0)).and_then(|c| c.to_digit(10)) {
            let digit = u16::try_from(digit).unwrap_or(0);
            value = Some(
                value
                    .unwrap_or(0_u16)
                    .saturating_mul(10)
                    .saturating_add(digit),
            );
            self.at += 1;
        }
        value
    }

    /// `2`, `/`, `//`, `3/2`; one where nothing is written.
    fn length(&mut self) -> Quarters {
        let column = self.at;
        let above = self.number().unwrap_or(1);
        let mut below = 1_u16;
        while self.take_if("/") {
            below = below.saturating_mul(self.number().unwrap_or(2));
        }
        // The denominators keep sums of lengths exact, whatever stands together in a phrase.
        let fine = (1..=12).contains(&below) || (below.is_power_of_two() && below <= 256);
        if above == 0 || above > 999 || !fine {
            self.problem(column, Fault::Length);
            return Quarters::ONE;
        }
        Quarters::new(i64::from(above), i64::from(below))
    }

    fn slur_or_tuplet(&mut self, column: usize) {
        let Some(p) = self.number() else {
            return self.push(column, Sign::SlurOpen);
        };
        let mut rest = [None, None];
        for value in &mut rest {
            if !self.take_if(":") {
                break;
            }
            *value = self.number();
        }
        let small = |value: u16| u8::try_from(value).ok().filter(|v| (1..=99).contains(v));
        let [q, r] = rest.map(|value| value.map(small));
        match (small(p).filter(|p| (2..=9).contains(p)), q, r) {
            (Some(_), Some(None), _) | (Some(_), _, Some(None)) | (None, _, _) => {
                self.problem(column, Fault::Tuplet);
            }
            (Some(p), q, r) => {
                self.push(
                    column,
                    Sign::Tuplet {
                        p,
                        q: q.flatten(),
                        r: r.flatten(),
                    },
                );
            }
        }
    }

    /// A bar line that begins with `|` or `:`, with its repeat dots and the number of an ending.
    fn bar(&mut self, column: usize) {
        let alone = self.text.get(column).copied() == Some(":");
        if alone && !matches!(self.ahead(0), ":" | "|") {
            return self.problem(column, Fault::UnknownSign(":".to_owned()));
        }
        while let ("|" | ":" | "]", _) | ("[", "|") = (self.ahead(0), self.ahead(1)) {
            self.at += 1;
        }
        self.ending();
        self.push(column, Sign::Bar);
    }

    fn ending(&mut self) {
        if single(self.ahead(0)).is_some_and(|c| c.is_ascii_digit()) {
            while single(self.ahead(0)).is_some_and(|c| c.is_ascii_digit() || c == ',' || c == '-')
            {
                self.at += 1;
            }
        }
    }

    /// `[` opens a bar line, an ending, a field or a chord.
    fn bracket(&mut self, column: usize) {
        let next = single(self.ahead(0));
        if next == Some('|') {
            return self.bar(column);
        }
        if next.is_some_and(|c| c.is_ascii_digit()) {
            return self.ending();
        }
        if let (Some(letter), ":") = (next.filter(char::is_ascii_alphabetic), self.ahead(1)) {
            let from = self.at + 2;
            if self.skip_past("]") {
                let value = self.text.get(from..self.at - 1).map(<[_]>::concat);
                let value = value.unwrap_or_default().trim().to_owned();
                return self.push(column, Sign::Field(letter, value));
            }
            return self.problem(column, Fault::OpenChord);
        }
        self.chord(column);
    }

    fn chord(&mut self, column: usize) {
        let inside = self.at;
        if !self.skip_past("]") {
            return self.problem(column, Fault::OpenChord);
        }
        let end = self.at;
        self.at = inside;
        let mut notes = Vec::new();
        while self.at < end - 1 {
            let at = self.at;
            if let Some(mut note) = self.note() {
                note.0.tied = self.take_if("-");
                notes.push(note);
            } else if self.at == at {
                let other = self.ahead(0);
                self.at += 1;
                let decoration = SHORT_DECORATIONS.contains(&other);
                if !decoration && !other.trim().is_empty() {
                    self.problem(at, Fault::UnknownSign(other.to_owned()));
                }
            }
        }
        self.at = end;
        let length = self.length();
        if !notes.is_empty() {
            self.push(column, Sign::Chord(notes, length));
        }
    }

    fn quoted(&mut self, column: usize) {
        if !self.skip_past("\"") {
            self.problem(column, Fault::OpenChordSymbol);
            // A half-typed name ends with the word, so that the notes behind it stay.
            while !self.ahead(0).trim().is_empty() {
                self.at += 1;
            }
        }
    }

    fn decoration(&mut self, column: usize, sign: &str) {
        if !self.skip_past(sign) {
            self.problem(column, Fault::OpenDecoration);
        }
    }

    /// Goes behind the next `sign`, if there is one on this line; else stays.
    fn skip_past(&mut self, sign: &str) -> bool {
        let rest = self.text.get(self.at..).unwrap_or_default();
        let line = rest.iter().take_while(|g| !matches!(**g, "\n" | "\r\n"));
        let found = line.into_iter().position(|g| *g == sign);
        if let Some(by) = found {
            self.at += by + 1;
        }
        found.is_some()
    }
}

/// The one ASCII character of a grapheme.
fn single(grapheme: &str) -> Option<char> {
    let mut chars = grapheme.chars();
    chars
        .next()
        .filter(|c| c.is_ascii() && chars.next().is_none())
}
