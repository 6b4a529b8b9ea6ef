//! Where a line stands on the screen: its lyric, spread where chords stand too close, and what stands over it.

use super::cells::shown;
use crate::song::column::Column;
use unicode_segmentation::UnicodeSegmentation as _;

/// A line's chord row over its lyric, in cells from the lyric's left edge.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Spread {
    /// What stands in the chord row, from left to right; never two in one cell.
    pub over: Vec<Over>,
    /// The cell of each column of the lyric; last, the cell behind it.
    cells: Vec<u16>,
    /// Cells put in before a column, in order of columns; also past the lyric's end.
    gaps: Vec<(usize, u16)>,
}

/// A chord or a breath mark in a chord row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Over {
    /// Which it is.
    pub what: What,
    /// The column of the lyric that it belongs to.
    pub column: Column,
    /// Its first cell.
    pub cell: u16,
    /// Its cells.
    pub width: u16,
}

/// What stands over a lyric.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum What {
    /// A token of the chord row, by its index.
    Chord(usize),
    /// A breath mark, by its index.
    Mark(usize),
}

impl Over {
    /// The cell behind it.
    #[must_use]
    pub const fn end(&self) -> u16 {
        self.cell.saturating_add(self.width)
    }
}

/// Lays a line out: each chord over its column, at least one blank between two chords; where there is no room, the lyric
/// opens before the later chord's column.
///
/// `chords` and `marks` come in order of columns; a mark needs no blank beside it.
#[must_use]
pub fn spread(lyric: &str, chords: &[(Column, &str)], marks: &[Column]) -> Spread {
    let mut cells = Vec::with_capacity(lyric.len() + 1);
    let mut cell = 0_u16;
    for grapheme in lyric.graphemes(true) {
        cells.push(cell);
        cell = cell.saturating_add(shown(grapheme).1);
    }
    cells.push(cell);
    let mut laid = Spread {
        over: Vec::with_capacity(chords.len() + marks.len()),
        cells,
        gaps: Vec::new(),
    };
    let (mut chord, mut mark) = (0, 0);
    let (mut opened, mut free, mut after_chord) = (0_u16, 0_u16, false);
    loop {
        let (what, column, width) = match (chords.get(chord), marks.get(mark)) {
            (Some(&(column, text)), next) if next.is_none_or(|next| column <= *next) => {
                chord += 1;
                (What::Chord(chord - 1), column, super::cells::width(text))
            }
            (_, Some(&column)) => {
                mark += 1;
                (What::Mark(mark - 1), column, 1)
            }
            (_, None) => break,
        };
        let is_chord = matches!(what, What::Chord(_));
        let natural = laid.cell_without_gaps(column).saturating_add(opened);
        let least = free.saturating_add(u16::from(is_chord && after_chord));
        let cell = natural.max(least);
        if cell > natural {
            laid.gaps.push((column.0, cell - natural));
            opened = opened.saturating_add(cell - natural);
        }
        laid.over.push(Over {
            what,
            column,
            cell,
            width,
        });
        free = cell.saturating_add(width);
        after_chord = is_chord;
    }
    let mut gaps = laid.gaps.iter().peekable();
    let mut shift = 0_u16;
    for (column, cell) in laid.cells.iter_mut().enumerate() {
        while let Some((_, gap)) = gaps.next_if(|(at, _)| *at <= column) {
            shift = shift.saturating_add(*gap);
        }
        *cell = cell.saturating_add(shift);
    }
    laid
}

impl Spread {
    /// The cell of a column as if nothing were opened.
    fn cell_without_gaps(&self, column: Column) -> u16 {
        let last = self.cells.len().saturating_sub(1);
        let known = column.0.min(last);
        let past = u16::try_from(column.0 - known).unwrap_or(u16::MAX);
        self.cells
            .get(known)
            .copied()
            .unwrap_or(0)
            .saturating_add(past)
    }

    /// The cell of a column of the lyric, or past its end.
    #[must_use]
    pub fn cell_of(&self, column: Column) -> u16 {
        let last = self.cells.len().saturating_sub(1);
        if column.0 <= last {
            return self.cells.get(column.0).copied().unwrap_or(0);
        }
        let past = u16::try_from(column.0 - last).unwrap_or(u16::MAX);
        self.gaps
            .iter()
            .filter(|(at, _)| *at > last && *at <= column.0)
            .fold(
                self.cells.last().copied().unwrap_or(0).saturating_add(past),
                |cell, (_, gap)| cell.saturating_add(*gap),
            )
    }

    /// The column that a cell belongs to; the cells of an opened gap belong to the column behind it. Past the lyric's end, columns go on.
    #[must_use]
    pub fn column_at(&self, cell: u16) -> Column {
        let last = self.cells.len().saturating_sub(1);
        let after = self.cells.partition_point(|start| *start <= cell);
        // The column before the one that begins later holds the cell, unless the cell lies in the gap between them.
        if after <= last {
            let begins_next = self.cells.get(after).copied().unwrap_or(0);
            let gap = self.gap_before(Column(after));
            return Column(if cell >= begins_next.saturating_sub(gap) {
                after
            } else {
                after.saturating_sub(1)
            });
        }
        let mut column = last;
        while self.cell_of(Column(column)) < cell && column < last + 4096 {
            column += 1;
        }
        Column(column)
    }

    /// Cells opened before a column.
    #[must_use]
    pub fn gap_before(&self, column: Column) -> u16 {
        self.gaps
            .iter()
            .filter(|(at, _)| *at == column.0)
            .fold(0, |sum: u16, (_, gap)| sum.saturating_add(*gap))
    }

    /// The cell behind the lyric.
    #[must_use]
    pub fn lyric_end(&self) -> u16 {
        self.cells.last().copied().unwrap_or(0)
    }

    /// The cell behind the lyric and all that stands over it.
    #[must_use]
    pub fn end(&self) -> u16 {
        let over = self.over.last().map_or(0, Over::end);
        self.lyric_end().max(over)
    }

    /// The chord that a cursor at the cell is in or behind: a letter typed there goes into it.
    #[must_use]
    pub fn chord_touching(&self, cell: u16) -> Option<(usize, &Over)> {
        self.over.iter().find_map(|over| match over.what {
            What::Chord(index) if over.cell <= cell && cell <= over.end() => Some((index, over)),
            What::Chord(_) | What::Mark(_) => None,
        })
    }

    /// The breath mark that stands at the cell.
    #[must_use]
    pub fn mark_at(&self, cell: u16) -> Option<usize> {
        self.over.iter().find_map(|over| match over.what {
            What::Mark(index) if over.cell == cell => Some(index),
            What::Chord(_) | What::Mark(_) => None,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::song::chord_row::ChordRow;
    use proptest::prelude::*;

    /// Both rows as the page shows them.
    fn drawn(lyric: &str, row: &ChordRow, marks: &[usize]) -> (String, String) {
        let chords: Vec<(Column, &str)> = row
            .0
            .iter()
            .map(|token| (token.column, token.text.as_str()))
            .collect();
        let marks: Vec<Column> = marks.iter().map(|&column| Column(column)).collect();
        let laid = spread(lyric, &chords, &marks);
        let pad = |text: &mut String, to: u16| {
            while text.chars().count() < usize::from(to) {
                text.push(' ');
            }
        };
        let (mut above, mut below) = (String::new(), String::new());
        for over in &laid.over {
            pad(&mut above, over.cell);
            match over.what {
                What::Chord(index) => above.push_str(chords.get(index).map_or("", |found| found.1)),
                What::Mark(_) => above.push(','),
            }
        }
        for (column, grapheme) in lyric.graphemes(true).enumerate() {
            pad(&mut below, laid.cell_of(Column(column)));
            below.push_str(grapheme);
        }
        (above, below)
    }

    fn check(lyric: &str, row: &str, marks: &[usize], above: &str, below: &str) {
        let shown = drawn(lyric, &ChordRow::parse(row), marks);
        assert_eq!((shown.0.as_str(), shown.1.as_str()), (above, below));
    }

    #[test]
    fn a_row_with_room_stays_as_typed() {
        check(
            "She rang the bell",
            "    Em   C",
            &[8],
            "    Em  ,C",
            "She rang the bell",
        );
    }

    #[test]
    fn close_chords_open_the_lyric() {
        let mut row = ChordRow::parse("Cmaj7 D");
        if let Some(token) = row.0.last_mut() {
            token.column = Column(2);
        }
        assert_eq!(
            drawn("wa-ter", &row, &[]),
            ("Cmaj7 D".to_owned(), "wa    -ter".to_owned())
        );
    }

    #[test]
    fn marks_need_no_blank() {
        check("a bell", "Em", &[2], "Em,", "a bell");
        check("a bell", "Em", &[1], "Em,", "a  bell");
    }

    #[test]
    fn chords_past_the_end_stand_past_the_end() {
        check("bell", "   C  G7 D", &[], "   C  G7 D", "bell");
        let laid = spread("bell", &[(Column(6), "G7")], &[]);
        assert_eq!(laid.column_at(6), Column(6));
        assert_eq!(laid.end(), 8);
    }

    proptest! {
        #[test]
        fn nothing_overlaps_and_cells_come_back(
            lyric in "[a-z ]{0,20}|[a鐘é ]{0,10}",
            mut columns in proptest::collection::vec(0_usize..30, 0..6),
            mut marks in proptest::collection::vec(0_usize..20, 0..3),
        ) {
            columns.sort_unstable();
            marks.sort_unstable();
            marks.dedup();
            let chords: Vec<(Column, &str)> = columns.iter().zip(["C", "Em7", "F#m7b5", "G", "A/C#", "D"])
                .map(|(&column, text)| (Column(column), text)).collect();
            let marks: Vec<Column> = marks.into_iter().map(Column).collect();
            let laid = spread(&lyric, &chords, &marks);
            prop_assert_eq!(laid.over.len(), chords.len() + marks.len());
            for pair in laid.over.windows(2) {
                if let [left, right] = pair {
                    prop_assert!(left.end() <= right.cell);
                }
            }
            for column in 0..=Column::end_of(&lyric).0 + 5 {
                prop_assert_eq!(laid.column_at(laid.cell_of(Column(column))), Column(column));
            }
        }
    }
}
