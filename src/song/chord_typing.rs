//! Typing in a chord row: what is typed changes the chord under the cursor, and moves no other.

use super::chord_row::{ChordRow, ChordToken};
use super::column::Column;
use super::splice::Splice;

impl ChordRow {
    /// The row after a sign was typed at a column.
    ///
    /// Inside a token, right before or right behind it, the token takes the sign in; a token that runs into the next one only
    /// grows, and both keep their columns. On a blank a token begins at the column. A blank parts the token it is typed in.
    ///
    /// ```
    /// use breathmark::song::{chord_row::ChordRow, column::Column};
    /// let row = ChordRow::parse("Em    C");
    /// assert_eq!(row.type_at(Column(2), "7"), ChordRow::parse("Em7   C"));
    /// assert_eq!(row.type_at(Column(4), "G"), ChordRow::parse("Em  G C"));
    /// ```
    #[must_use]
    pub fn type_at(&self, column: Column, sign: &str) -> Self {
        let mut row = self.clone();
        if sign.chars().all(char::is_whitespace) {
            row.part_at(column);
            return row;
        }
        if let Some(index) = self.token_typed_in(column) {
            if let Some(token) = row.0.get_mut(index) {
                let offset = Column(column.0 - token.column.0);
                if let Some(splice) = Splice::new(&token.text, offset, 0, sign) {
                    token.text = splice.text;
                }
            }
        } else {
            let index = self.0.partition_point(|token| token.column < column);
            let text = sign.to_owned();
            row.0.insert(index, ChordToken { column, text });
        }
        row
    }

    /// The row after the sign before the column was erased; where there is none, the row as it is. A token left empty goes.
    #[must_use]
    pub fn erase_before(&self, column: Column) -> Self {
        let index = self
            .0
            .iter()
            .position(|token| token.column < column && column <= token.end());
        self.erase(index, column.0.saturating_sub(1))
    }

    /// The row after the sign at the column was erased; where there is none, the row as it is. A token left empty goes.
    #[must_use]
    pub fn erase_at(&self, column: Column) -> Self {
        let index = self
            .0
            .iter()
            .position(|token| token.column <= column && column < token.end());
        self.erase(index, column.0)
    }

    fn erase(&self, index: Option<usize>, column: usize) -> Self {
        let mut row = self.clone();
        if let Some(index) = index
            && let Some(token) = row.0.get_mut(index)
            && let Some(splice) = Splice::new(&token.text, Column(column - token.column.0), 1, "")
        {
            token.text = splice.text;
            if token.text.is_empty() {
                row.0.remove(index);
            }
        }
        row
    }

    /// Which token takes in what is typed at the column: the first that the column is in or right behind, else the one that begins there.
    #[must_use]
    pub fn token_typed_in(&self, column: Column) -> Option<usize> {
        let inside = |token: &ChordToken| token.column < column && column <= token.end();
        self.0
            .iter()
            .position(inside)
            .or_else(|| self.0.iter().position(|token| token.column == column))
    }

    /// A blank typed inside a token parts it; what stood behind the blank begins one column later.
    fn part_at(&mut self, column: Column) {
        let inside = |token: &ChordToken| token.column < column && column < token.end();
        let Some(index) = self.0.iter().position(inside) else {
            return;
        };
        let Some(token) = self.0.get_mut(index) else {
            return;
        };
        let text = token.text.clone();
        let byte = Column(column.0 - token.column.0).byte_in(&text);
        let (Some(first), Some(rest)) = (text.get(..byte), text.get(byte..)) else {
            return;
        };
        token.text = first.to_owned();
        let column = Column(column.0 + 1);
        let place = self.0.partition_point(|token| token.column < column);
        let rest = ChordToken {
            column,
            text: rest.to_owned(),
        };
        self.0.insert(place, rest);
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]
    use super::*;

    fn typed(row: &str, column: usize, sign: &str) -> String {
        let row = ChordRow::parse(row).type_at(Column(column), sign);
        row.to_text().unwrap_or_else(|| {
            format!(
                "{:?}",
                row.0
                    .iter()
                    .map(|token| (token.column.0, &*token.text))
                    .collect::<Vec<_>>()
            )
        })
    }

    #[test]
    fn typing_moves_no_other_chord() {
        assert_eq!(typed("", 3, "C"), "   C");
        assert_eq!(typed("Em   C", 1, "b"), "Ebm  C");
        assert_eq!(typed("Em   C", 5, "G"), "Em   GC");
        assert_eq!(typed("Em C", 2, "7"), r#"[(0, "Em7"), (3, "C")]"#);
        assert_eq!(typed("Em  C", 3, "D"), r#"[(0, "Em"), (3, "D"), (4, "C")]"#);
    }

    #[test]
    fn a_blank_parts() {
        assert_eq!(typed("EmC    G", 2, " "), "Em C   G");
        assert_eq!(typed("Em     G", 2, " "), "Em     G");
        assert_eq!(typed("Em     G", 4, " "), "Em     G");
        assert_eq!(
            typed("EmCD G", 2, " "),
            r#"[(0, "Em"), (3, "CD"), (5, "G")]"#
        );
    }

    #[test]
    fn erasing_takes_one_sign() {
        let row = ChordRow::parse("Em  C");
        assert_eq!(row.erase_before(Column(2)), ChordRow::parse("E   C"));
        assert_eq!(row.erase_before(Column(5)), ChordRow::parse("Em"));
        assert_eq!(row.erase_before(Column(4)), row);
        assert_eq!(row.erase_before(Column(0)), row);
        assert_eq!(row.erase_at(Column(0)), ChordRow::parse("m   C"));
        assert_eq!(row.erase_at(Column(4)), ChordRow::parse("Em"));
        assert_eq!(row.erase_at(Column(2)), row);
    }
}
