//! Typing in a chord row: no other chord moves.

use super::spread::{Spread, What, spread};
use crate::song::chord_row::{ChordRow, ChordToken};
use crate::song::column::{Column, part_of};

/// A chord row and its breath marks while they are typed in.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Typed {
    /// The chords.
    pub row: ChordRow,
    /// The breath marks.
    pub marks: Vec<Column>,
    /// Where the cursor stands afterwards, in cells.
    pub cell: u16,
}

/// The pairs that [`spread`] takes.
#[must_use]
pub fn pairs(row: &ChordRow) -> Vec<(Column, &str)> {
    row.0
        .iter()
        .map(|token| (token.column, token.text.as_str()))
        .collect()
}

/// Lays the row out over its lyric.
#[must_use]
pub fn laid(lyric: &str, row: &ChordRow, marks: &[Column]) -> Spread {
    spread(lyric, &pairs(row), marks)
}

/// What a character typed at a cell makes of the row.
///
/// A letter goes into the chord it touches, or begins one. A blank parts a chord, elsewhere only moves on. A comma sets or
/// takes away the breath mark of its column.
#[must_use]
pub fn typed(lyric: &str, row: &ChordRow, marks: &[Column], cell: u16, character: char) -> Typed {
    let before = laid(lyric, row, marks);
    let mut after = Typed {
        row: row.clone(),
        marks: marks.to_vec(),
        cell: cell.saturating_add(1),
    };
    match character {
        ',' => {
            let column = before
                .mark_at(cell)
                .and_then(|index| marks.get(index).copied())
                .unwrap_or_else(|| before.column_at(cell));
            match after.marks.binary_search(&column) {
                Ok(index) => {
                    after.marks.remove(index);
                    after.cell = cell;
                }
                Err(index) => {
                    after.marks.insert(index, column);
                    let shown = laid(lyric, row, &after.marks);
                    let over = shown
                        .over
                        .iter()
                        .find(|over| over.what == What::Mark(index));
                    after.cell = over.map_or(cell, |over| over.end());
                }
            }
        }
        blank if blank.is_whitespace() => {
            if let Some((index, over)) = before.chord_touching(cell)
                && over.cell < cell
                && cell < over.end()
                && let Some(token) = row.0.get(index)
            {
                let at = Column(usize::from(cell - over.cell));
                let head = part_of(&token.text, Column(0), at).to_owned();
                let tail = part_of(&token.text, at, Column(usize::MAX)).to_owned();
                let room = row
                    .0
                    .get(index + 1)
                    .map_or(usize::MAX, |next| next.column.0);
                let column = Column((token.column.0 + at.0 + 1).min(room));
                if let Some(token) = after.row.0.get_mut(index) {
                    token.text = head;
                }
                after
                    .row
                    .0
                    .insert(index + 1, ChordToken { column, text: tail });
                let shown = laid(lyric, &after.row, marks);
                after.cell = cell_of_chord(&shown, index + 1).unwrap_or(after.cell);
            }
        }
        letter => {
            if let Some((index, over)) = before.chord_touching(cell) {
                let at = usize::from(cell - over.cell);
                if let Some(token) = after.row.0.get_mut(index) {
                    let byte = Column(at).byte_in(&token.text);
                    token.text.insert(byte, letter);
                }
                let shown = laid(lyric, &after.row, marks);
                let start = cell_of_chord(&shown, index).unwrap_or(over.cell);
                after.cell = start.saturating_add(u16::try_from(at + 1).unwrap_or(u16::MAX));
            } else {
                let column = before.column_at(cell);
                let index = row.0.partition_point(|token| token.column < column);
                after.row.0.insert(
                    index,
                    ChordToken {
                        column,
                        text: letter.to_string(),
                    },
                );
                let shown = laid(lyric, &after.row, marks);
                after.cell = cell_of_chord(&shown, index)
                    .map_or(after.cell, |start| start.saturating_add(1));
            }
        }
    }
    after
}

/// What is left when the grapheme before the cell is deleted: a letter of a chord, or a breath mark; over a blank the cursor only moves.
/// `None` at the row's start.
#[must_use]
pub fn deleted_before(lyric: &str, row: &ChordRow, marks: &[Column], cell: u16) -> Option<Typed> {
    let cell = cell.checked_sub(1)?;
    let mut left = deleted_at(lyric, row, marks, cell);
    if left.row.0.len() == row.0.len() && left.marks.len() == marks.len() {
        let shown = laid(lyric, &left.row, &left.marks);
        let before = laid(lyric, row, marks);
        // A letter is gone: the cursor stays in its chord, which may have moved with its lyric.
        if let Some((index, over)) = before.chord_touching(cell)
            && cell < over.end()
            && let Some(start) = cell_of_chord(&shown, index)
        {
            left.cell = start + (cell - over.cell);
            return Some(left);
        }
    }
    left.cell = cell;
    Some(left)
}

/// What is left when the grapheme at the cell is deleted.
#[must_use]
pub fn deleted_at(lyric: &str, row: &ChordRow, marks: &[Column], cell: u16) -> Typed {
    let before = laid(lyric, row, marks);
    let mut after = Typed {
        row: row.clone(),
        marks: marks.to_vec(),
        cell,
    };
    if let Some(index) = before.mark_at(cell) {
        after.marks.remove(index);
    } else if let Some((index, over)) = before.chord_touching(cell)
        && cell < over.end()
        && let Some(token) = after.row.0.get_mut(index)
    {
        let at = usize::from(cell - over.cell);
        let head = part_of(&token.text, Column(0), Column(at)).to_owned();
        let tail = part_of(&token.text, Column(at + 1), Column(usize::MAX));
        token.text = head + tail;
        if token.text.is_empty() {
            after.row.0.remove(index);
        }
    }
    after
}

/// The chord at or behind the cell moved by one place; `None` where there is none, or it would pass its neighbour or the row's start.
#[must_use]
pub fn moved(
    lyric: &str,
    row: &ChordRow,
    marks: &[Column],
    cell: u16,
    right: bool,
) -> Option<Typed> {
    let before = laid(lyric, row, marks);
    let (index, over) = before.chord_touching(cell)?;
    let token = row.0.get(index)?;
    let column = if right {
        token.column.0 + 1
    } else {
        token.column.0.checked_sub(1)?
    };
    let left_neighbour = index.checked_sub(1).and_then(|left| row.0.get(left));
    let in_order = left_neighbour.is_none_or(|left| left.column.0 < column)
        && row
            .0
            .get(index + 1)
            .is_none_or(|next| column < next.column.0);
    if !in_order {
        return None;
    }
    let mut after = row.clone();
    after.0.get_mut(index)?.column = Column(column);
    let shown = laid(lyric, &after, marks);
    let start = cell_of_chord(&shown, index)?;
    Some(Typed {
        row: after,
        marks: marks.to_vec(),
        cell: start + (cell - over.cell),
    })
}

/// The first cell of a chord, by its index.
#[must_use]
pub fn cell_of_chord(laid: &Spread, index: usize) -> Option<u16> {
    laid.over
        .iter()
        .find(|over| over.what == What::Chord(index))
        .map(|over| over.cell)
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::*;

    const LYRIC: &str = "She rang the bell at the water's edge";

    /// Types keys at a cell (`<` deletes back, `^` deletes at) and compares the tokens with their columns, and the cursor.
    fn check(row: &str, cell: u16, keys: &str, expected: &[(usize, &str)], at: u16) {
        let mut now = Typed {
            row: ChordRow::parse(row),
            marks: Vec::new(),
            cell,
        };
        for key in keys.chars() {
            now = match key {
                '<' => deleted_before(LYRIC, &now.row, &now.marks, now.cell).unwrap(),
                '^' => deleted_at(LYRIC, &now.row, &now.marks, now.cell),
                key => typed(LYRIC, &now.row, &now.marks, now.cell, key),
            };
        }
        let tokens: Vec<(usize, &str)> = now
            .row
            .0
            .iter()
            .map(|token| (token.column.0, token.text.as_str()))
            .collect();
        assert_eq!(tokens, expected, "{row:?} {keys:?}");
        assert_eq!(now.cell, at, "{row:?} {keys:?}");
    }

    #[test]
    fn letters_make_chords_and_move_none() {
        check("", 4, "Em", &[(4, "Em")], 6);
        check("    Em   C", 6, "7", &[(4, "Em7"), (9, "C")], 7);
        check("    Em   C", 4, "Am ", &[(4, "Am"), (7, "Em"), (9, "C")], 7);
        check("    Em C", 6, "7b5", &[(4, "Em7b5"), (7, "C")], 9);
        check("    Em   C", 12, "G", &[(4, "Em"), (9, "C"), (12, "G")], 13);
    }

    #[test]
    fn blanks_part_and_move_on() {
        check("    EmC", 6, " ", &[(4, "Em"), (7, "C")], 7);
        check("    Em  C", 6, "  ", &[(4, "Em"), (8, "C")], 8);
        check("", 0, "   G", &[(3, "G")], 4);
    }

    #[test]
    fn deleting_moves_none() {
        check("    Em   C", 6, "<<<", &[(9, "C")], 3);
        check("    Em   C", 4, "^", &[(4, "m"), (9, "C")], 4);
        check("    Em   C", 9, "<", &[(4, "Em"), (9, "C")], 8);
        check("    Em7  C", 5, "^", &[(4, "E7"), (9, "C")], 5);
    }

    #[test]
    fn a_comma_is_a_breath_mark_and_takes_itself_away() {
        let once = typed(LYRIC, &ChordRow::default(), &[], 17, ',');
        assert_eq!(
            (once.marks.as_slice(), once.cell),
            ([Column(17)].as_slice(), 18)
        );
        let again = typed(LYRIC, &once.row, &once.marks, 17, ',');
        assert_eq!((again.marks.as_slice(), again.cell), ([].as_slice(), 17));
        assert_eq!(
            deleted_before(LYRIC, &once.row, &once.marks, 18)
                .unwrap()
                .marks,
            []
        );
    }

    #[test]
    fn a_chord_is_moved_up_to_its_neighbour() {
        let row = ChordRow::parse("    Em   C");
        let right = moved(LYRIC, &row, &[], 5, true).unwrap();
        assert_eq!(right.row.to_text().as_deref(), Some("     Em  C"));
        assert_eq!(right.cell, 6);
        assert_eq!(moved(LYRIC, &ChordRow::parse("Em"), &[], 0, false), None);
        assert_eq!(moved(LYRIC, &row, &[], 20, true), None);
    }
}
