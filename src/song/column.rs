//! Columns of a row: graphemes counted from its beginning.

use unicode_segmentation::UnicodeSegmentation as _;

/// A column of a row, in graphemes from 0; the row's length is the column behind its last grapheme.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Column(pub usize);

impl Column {
    /// The column behind the row's last grapheme.
    #[must_use]
    pub fn end_of(row: &str) -> Self {
        if row.is_ascii() {
            Self(row.len() - row.matches("\r\n").count())
        } else {
            Self(row.graphemes(true).count())
        }
    }

    /// The byte at which this column begins; the row's length where it lies past the end.
    #[must_use]
    pub fn byte_in(self, row: &str) -> usize {
        if row.is_ascii() && !row.contains('\r') {
            return self.0.min(row.len());
        }
        row.grapheme_indices(true)
            .nth(self.0)
            .map_or(row.len(), |(byte, _)| byte)
    }

    /// The column of the grapheme that holds this byte; the row's end where it lies past it.
    #[must_use]
    pub fn of_byte(row: &str, byte: usize) -> Self {
        Self(
            row.grapheme_indices(true)
                .take_while(|&(start, grapheme)| start + grapheme.len() <= byte)
                .count(),
        )
    }
}

/// The part of the row from one column up to another; empty where they cross or lie past the end.
#[must_use]
pub fn part_of(row: &str, from: Column, to: Column) -> &str {
    row.get(from.byte_in(row)..to.byte_in(row)).unwrap_or("")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn graphemes_are_one_column() {
        let row = "e\u{301}a👩‍👩‍👧🇳🇴b";
        assert_eq!(Column::end_of(row), Column(5));
        assert_eq!(part_of(row, Column(2), Column(3)), "👩‍👩‍👧");
        assert_eq!(Column::of_byte(row, Column(4).byte_in(row)), Column(4));
        assert_eq!(Column::of_byte(row, row.len()), Column(5));
        assert_eq!(part_of(row, Column(4), Column(2)), "");
    }
}
