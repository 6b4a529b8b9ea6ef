//! A chord row: tokens over columns of the lyric.

use super::column::Column;
use unicode_segmentation::UnicodeSegmentation as _;

/// The chord row of a line: tokens as typed (chords, `|`, `%`, `N.C.`, half-typed chords), each over a column of the lyric.
/// Columns never descend; two tokens may share one after the letters between them were deleted.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct ChordRow(pub Vec<ChordToken>);

/// One token of a chord row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ChordToken {
    /// The column of the lyric over which it begins.
    pub column: Column,
    /// What was typed; no blanks.
    pub text: String,
}

impl ChordToken {
    /// The column behind the token's last sign.
    #[must_use]
    pub fn end(&self) -> Column {
        Column(self.column.0 + Column::end_of(&self.text).0)
    }
}

impl ChordRow {
    /// Reads a row of text: tokens parted by blanks, each at its column.
    ///
    /// ```
    /// # use breathmark::song::chord_row::ChordRow;
    /// let row = ChordRow::parse("  Em   C");
    /// assert_eq!(row.to_text().as_deref(), Some("  Em   C"));
    /// ```
    #[must_use]
    pub fn parse(text: &str) -> Self {
        let mut tokens: Vec<ChordToken> = Vec::new();
        let mut open = false;
        for (column, grapheme) in text.graphemes(true).enumerate() {
            let blank = grapheme.chars().all(char::is_whitespace);
            match tokens.last_mut() {
                Some(token) if open && !blank => token.text.push_str(grapheme),
                _ if !blank => tokens.push(ChordToken {
                    column: Column(column),
                    text: grapheme.to_owned(),
                }),
                _ => {}
            }
            open = !blank;
        }
        Self(tokens)
    }

    /// The row as text, each token at its column; `None` where two stand too close for that (less than a blank between them).
    #[must_use]
    pub fn to_text(&self) -> Option<String> {
        let mut text = String::new();
        let mut width = 0;
        for (index, token) in self.0.iter().enumerate() {
            if token.column.0 < width + usize::from(index > 0) {
                return None;
            }
            text.extend(std::iter::repeat_n(' ', token.column.0 - width));
            text.push_str(&token.text);
            width = token.end().0;
        }
        Some(text)
    }

    /// Whether nothing stands in the row.
    #[must_use]
    pub const fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_come_back_as_typed() {
        for row in [
            "",
            "Em",
            "    Em       C           Am      B7",
            "| Em | C  D |",
            "♭x 👍",
        ] {
            assert_eq!(ChordRow::parse(row).to_text().as_deref(), Some(row));
        }
    }

    #[test]
    fn crowded_tokens_are_no_row_of_text() {
        let mut row = ChordRow::parse("Em  C");
        row.0[1].column = Column(2);
        assert_eq!(row.to_text(), None);
    }
}
