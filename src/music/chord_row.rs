//! Rows of chords: what stands in them, and whether a row of text is one.

use super::chord::{Chord, Unread};
use std::fmt;
use unicode_segmentation::UnicodeSegmentation;

/// What one token of a chord row means.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Token {
    /// A chord.
    Chord(Chord),
    /// No chord sounds: `N.C.`, `NC`, `N`.
    NoChord,
    /// A bar line of any form: `|`, `||`, `|:`, `:|`.
    BarLine,
    /// The bar before once more: `%`.
    RepeatBar,
    /// The chord before goes on: `/`, `-` or `.`.
    HoldOn,
    /// What came before so many times: `x2`, `2x`.
    Times(u8),
}

impl Token {
    /// Reads one token, without spaces.
    ///
    /// # Errors
    /// [`Unread`] where it is nothing of a chord row; a half-typed chord is such.
    pub fn parse(text: &str) -> Result<Self, Unread> {
        let text = text.trim();
        Ok(match text {
            "%" | "𝄎" => Self::RepeatBar,
            "/" | "-" | "." => Self::HoldOn,
            "N.C." | "NC" | "N.C" | "N" | "n.c." | "—" => Self::NoChord,
            _ if is_bar_line(text) => Self::BarLine,
            _ => match times(text) {
                Some(times) => Self::Times(times),
                None => Self::Chord(Chord::parse(text)?),
            },
        })
    }
}

impl fmt::Display for Token {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Chord(chord) => chord.fmt(f),
            Self::NoChord => f.pad("N.C."),
            Self::BarLine => f.pad("|"),
            Self::RepeatBar => f.pad("%"),
            Self::HoldOn => f.pad("/"),
            Self::Times(times) => write!(f, "x{times}"),
        }
    }
}

fn is_bar_line(text: &str) -> bool {
    text.contains('|') && text.chars().all(|c| "|:[]".contains(c))
}

fn times(text: &str) -> Option<u8> {
    let figure = ["x", "X", "×"]
        .iter()
        .find_map(|x| text.strip_prefix(x).or_else(|| text.strip_suffix(x)))?;
    figure.parse().ok().filter(|n| (1..=32).contains(n))
}

/// The tokens of a row as text, each with its column in graphemes from 0. Spaces part them, and so do bar lines.
///
/// ```
/// # use breathmark::music::chord_row::tokens;
/// let found: Vec<_> = tokens("|Em  C/E|").into_iter().collect();
/// assert_eq!(found, [(0, "|".into()), (1, "Em".into()), (5, "C/E".into()), (8, "|".into())]);
/// ```
#[must_use]
pub fn tokens(row: &str) -> Vec<(usize, String)> {
    let mut tokens: Vec<(usize, String)> = Vec::new();
    let mut open = false;
    for (column, grapheme) in row.graphemes(true).enumerate() {
        if grapheme.chars().all(char::is_whitespace) {
            open = false;
            continue;
        }
        let bar = |text: &str| text.chars().all(|c| "|:".contains(c));
        match tokens.last_mut() {
            Some((_, text)) if open && bar(text) == bar(grapheme) => text.push_str(grapheme),
            _ => tokens.push((column, grapheme.to_owned())),
        }
        open = true;
    }
    tokens
}

/// A token of a row that was not understood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct BadToken {
    /// Its column in graphemes, from 0.
    pub column: usize,
    /// Why.
    pub why: Unread,
}

impl fmt::Display for BadToken {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "column {}: {}", self.column + 1, self.why)
    }
}

/// Reads a whole row.
///
/// # Errors
/// The first token that was not understood, with its column.
pub fn read_row(row: &str) -> Result<Vec<(usize, Token)>, BadToken> {
    tokens(row)
        .into_iter()
        .map(|(column, text)| match Token::parse(&text) {
            Ok(token) => Ok((column, token)),
            Err(why) => Err(BadToken { column, why }),
        })
        .collect()
}

/// Whether a row of pasted text is a row of chords: everything in it reads as a token, and at least one is a chord, `N.C.` or a
/// bar. A row of nothing but words that could be chords (`Do`, `Go`) is lyric.
///
/// ```
/// # use breathmark::music::chord_row::row_is_chords;
/// assert!(row_is_chords("   Em       C       Am/E  B7"));
/// assert!(!row_is_chords("A bell rang"));
/// ```
#[must_use]
pub fn row_is_chords(row: &str) -> bool {
    let texts = tokens(row);
    let names_a_chord = texts.iter().any(|(_, text)| {
        let token = Token::parse(text);
        let word = ["Do", "Go", "N", "Ado", "Ago"].contains(&text.as_str());
        !word
            && matches!(
                token,
                Ok(Token::Chord(_) | Token::NoChord | Token::RepeatBar)
            )
    });
    names_a_chord && read_row(row).is_ok()
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;

    #[test]
    fn rows_are_told_from_lyrics() {
        for row in [
            "Em C G D",
            "| Em | % | C  D7 |",
            "|:Em|C:| x2",
            "N.C.  Am",
            "  A",
            "Am",
            "Do  G",
            "F#m7b5 / B7(b9) /",
            "B♭  E♭/G",
        ] {
            assert!(row_is_chords(row), "{row}");
        }
        for row in [
            "",
            "   ",
            "A bell",
            "Do",
            "Go",
            "Am I",
            "She rang",
            "||",
            "/",
            "x2",
            "E a",
            "Verse 1",
            "-",
            "Dad and Bea",
        ] {
            assert!(!row_is_chords(row), "{row}");
        }
    }

    #[test]
    fn the_first_bad_token_has_its_column() {
        let bad = read_row("Em  ♭  Q7 Zz").unwrap_err();
        assert_eq!(bad.column, 4);
        let bad = read_row("Em  C7x").unwrap_err();
        assert_eq!(
            bad.to_string(),
            "column 5: C7x: C7 is a chord, x behind it is not understood"
        );
    }

    #[test]
    fn tokens_mean_what_players_mean() {
        let kinds: Vec<_> = read_row("|| Em:|% N.C. / x3")
            .unwrap()
            .into_iter()
            .map(|(column, token)| format!("{column} {token}"))
            .collect();
        assert_eq!(
            kinds,
            ["0 |", "3 Em", "5 |", "7 %", "9 N.C.", "14 /", "16 x3"]
        );
    }
}
