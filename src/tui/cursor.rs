//! Where the cursor goes. No row opens or closes by moving, and Up then Down comes back.

use super::commands::Action;
use super::rows::PageRow;
use super::sheet::Sheet;
use super::spread::What;
use crate::song::column::Column;
use crate::song::field::Field;
use crate::song::place::{Place, Row};
use unicode_segmentation::UnicodeSegmentation as _;

/// The cursor on a page.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cursor {
    /// Where it is. In a chord row the column counts cells of the line as spread.
    pub place: Place,
    /// The index of its row.
    pub row: usize,
    /// The cell that it keeps while it goes up and down.
    pub kept: Option<u16>,
    /// Where a selection began.
    pub anchor: Option<Place>,
}

impl Cursor {
    /// A cursor at a place, with nothing selected.
    #[must_use]
    pub const fn at(place: Place, row: usize) -> Self {
        Self {
            place,
            row,
            kept: None,
            anchor: None,
        }
    }

    /// The cursor after a motion; where it cannot go on, it stays. `page` is the number of rows that the screen shows.
    #[must_use]
    pub fn moved(self, sheet: &Sheet<'_>, action: Action, page: usize) -> Self {
        let found = match action {
            Action::Up | Action::Down | Action::PageUp | Action::PageDown => {
                return self.by_rows(sheet, action, page);
            }
            Action::Left => self.left(sheet),
            Action::Right => self.right(sheet),
            Action::WordLeft => self.word_left(sheet),
            Action::WordRight => self.word_right(sheet),
            Action::RowStart => Some((self.row, self.row_start(sheet))),
            Action::RowEnd => Some((self.row, self.row_end(sheet))),
            Action::SongStart => edge(sheet, true),
            Action::SongEnd => edge(sheet, false),
            Action::SectionBefore => self.heading(sheet, false),
            Action::SectionAfter => self.heading(sheet, true),
            _ => None,
        };
        match found {
            Some((row, place)) => Self {
                place,
                row,
                kept: None,
                ..self
            },
            None => self,
        }
    }

    fn by_rows(self, sheet: &Sheet<'_>, action: Action, page: usize) -> Self {
        let kept = self
            .kept
            .unwrap_or_else(|| sheet.cell(self.row, self.place));
        let down = matches!(action, Action::Down | Action::PageDown);
        let mut row = self.row;
        let target = match action {
            Action::Up | Action::Down => None,
            _ if down => Some(self.row.saturating_add(page.max(1))),
            _ => Some(self.row.saturating_sub(page.max(1))),
        };
        while let Some(next) = sheet.next_row(row, down) {
            let past =
                target.is_some_and(|target| if down { next > target } else { next < target });
            if past && row != self.row {
                break;
            }
            row = next;
            if target.is_none() {
                break;
            }
        }
        match sheet.place_at(row, kept) {
            Some(place) if row != self.row => Self {
                place,
                row,
                kept: Some(kept),
                ..self
            },
            _ => self,
        }
    }

    fn to(self, column: Column) -> (usize, Place) {
        (
            self.row,
            Place {
                column,
                ..self.place
            },
        )
    }

    fn left(self, sheet: &Sheet<'_>) -> Option<(usize, Place)> {
        if let Some(column) = self.place.column.0.checked_sub(1) {
            return Some(self.to(Column(column)));
        }
        if self.place.row == Row::Value(Field::Happens) {
            return sheet
                .place_at(self.row, 0)
                .map(|label| (self.row, end_of_label(sheet, self.row, label)));
        }
        let row = neighbour(sheet, self.row, false)?;
        let place = sheet.place_at(row, 0)?;
        Some((
            row,
            Place {
                column: sheet.end(row, place.row),
                ..place
            },
        ))
    }

    fn right(self, sheet: &Sheet<'_>) -> Option<(usize, Place)> {
        let next = Column(self.place.column.0 + 1);
        match self.place.row {
            Row::Chords => (next.0 <= usize::from(sheet.farthest(self.row))).then(|| self.to(next)),
            row if next <= sheet.end(self.row, row) => Some(self.to(next)),
            Row::Value(Field::Label | Field::Again) if is_heading(sheet, self.row) => Some((
                self.row,
                Place {
                    row: Row::Value(Field::Happens),
                    column: Column(0),
                    ..self.place
                },
            )),
            _ => {
                let row = neighbour(sheet, self.row, true)?;
                Some((row, sheet.place_at(row, 0)?))
            }
        }
    }

    fn word_left(self, sheet: &Sheet<'_>) -> Option<(usize, Place)> {
        let column = match self.place.row {
            Row::Chords => {
                let spread = sheet.spread_of(self.row)?;
                let starts = spread
                    .over
                    .iter()
                    .filter(|over| matches!(over.what, What::Chord(_)));
                starts
                    .map(|over| usize::from(over.cell))
                    .take_while(|cell| *cell < self.place.column.0)
                    .last()
                    .unwrap_or(0)
            }
            row => word_starts(sheet.text(self.row, row))
                .into_iter()
                .take_while(|start| *start < self.place.column.0)
                .last()
                .unwrap_or(0),
        };
        if self.place.column.0 == 0 {
            return self.left(sheet);
        }
        Some(self.to(Column(column)))
    }

    fn word_right(self, sheet: &Sheet<'_>) -> Option<(usize, Place)> {
        let end = sheet.end(self.row, self.place.row);
        let after = |start: &usize| *start > self.place.column.0;
        let next = match self.place.row {
            Row::Chords => sheet
                .spread_of(self.row)?
                .over
                .iter()
                .filter(|over| matches!(over.what, What::Chord(_)))
                .map(|over| usize::from(over.cell))
                .find(after),
            row => word_starts(sheet.text(self.row, row))
                .into_iter()
                .find(after),
        };
        match next {
            Some(column) => Some(self.to(Column(column))),
            None if self.place.column < end => Some(self.to(end)),
            None => self.right(sheet),
        }
    }

    fn row_start(self, sheet: &Sheet<'_>) -> Place {
        if is_heading(sheet, self.row) && self.place.column.0 == 0 {
            return sheet.place_at(self.row, 0).unwrap_or(self.place);
        }
        Place {
            column: Column(0),
            ..self.place
        }
    }

    fn row_end(self, sheet: &Sheet<'_>) -> Place {
        let end = sheet.end(self.row, self.place.row);
        let happens = Row::Value(Field::Happens);
        if is_heading(sheet, self.row) && self.place.column == end && self.place.row != happens {
            return Place {
                row: happens,
                column: sheet.end(self.row, happens),
                ..self.place
            };
        }
        Place {
            column: end,
            ..self.place
        }
    }

    fn heading(self, sheet: &Sheet<'_>, down: bool) -> Option<(usize, Place)> {
        let found = |index: &usize| is_heading(sheet, *index);
        let row = if down {
            (self.row + 1..sheet.rows.len()).find(found)
        } else {
            (0..self.row.min(sheet.rows.len())).rev().find(found)
        }?;
        Some((row, sheet.place_at(row, 0)?))
    }
}

/// The first lyric row's start (else the first row), or the end of the last row.
#[must_use]
pub fn edge(sheet: &Sheet<'_>, start: bool) -> Option<(usize, Place)> {
    if start {
        let lyric = sheet
            .rows
            .iter()
            .position(|row| matches!(row, PageRow::Lyric(..)));
        let row = lyric.or_else(|| sheet.next_row(0, true))?;
        Some((row, sheet.place_at(row, 0)?))
    } else {
        let row = sheet.next_row(sheet.rows.len(), false)?;
        let place = sheet.place_at(row, 0)?;
        Some((
            row,
            Place {
                column: sheet.end(row, place.row),
                ..place
            },
        ))
    }
}

fn is_heading(sheet: &Sheet<'_>, index: usize) -> bool {
    matches!(sheet.rows.get(index), Some(PageRow::Heading(_)))
}

fn end_of_label(sheet: &Sheet<'_>, index: usize, label: Place) -> Place {
    Place {
        column: sheet.end(index, label.row),
        ..label
    }
}

/// The row into which the cursor runs over at a row's end: the next of its kind. Chord rows have none.
fn neighbour(sheet: &Sheet<'_>, from: usize, down: bool) -> Option<usize> {
    let kind = |row: &PageRow| match row {
        PageRow::Lyric(..) => 1,
        PageRow::Other(..) => 2,
        _ => 0,
    };
    let wanted = kind(sheet.rows.get(from)?);
    if wanted == 0 {
        return None;
    }
    let found = |index: &usize| {
        sheet
            .rows
            .get(*index)
            .is_some_and(|row| kind(row) == wanted)
    };
    if down {
        (from + 1..sheet.rows.len()).find(found)
    } else {
        (0..from).rev().find(found)
    }
}

/// The columns at which words begin: runs of signs between blanks.
#[must_use]
pub fn word_starts(text: &str) -> Vec<usize> {
    let mut starts = Vec::new();
    let mut blank = true;
    for (column, grapheme) in text.graphemes(true).enumerate() {
        let now = grapheme.chars().all(char::is_whitespace);
        if blank && !now {
            starts.push(column);
        }
        blank = now;
    }
    starts
}

/// The word that a column stands in or right behind, without the signs around it; its first column and its text.
#[must_use]
pub fn word_at(text: &str, column: Column) -> Option<(Column, String)> {
    let graphemes: Vec<&str> = text.graphemes(true).collect();
    let part = |index: usize| {
        graphemes.get(index).is_some_and(|sign| {
            sign.chars()
                .any(|c| c.is_alphanumeric() || matches!(c, '\'' | '’' | '-'))
        })
    };
    let mut start = column.0.min(graphemes.len());
    if !part(start) {
        start = start.checked_sub(1).filter(|before| part(*before))?;
    }
    while let Some(before) = start.checked_sub(1).filter(|before| part(*before)) {
        start = before;
    }
    let word: String = (start..)
        .take_while(|index| part(*index))
        .filter_map(|index| graphemes.get(index).copied())
        .collect();
    Some((Column(start), word))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used, reason = "a test may stop")]

    use super::*;
    use crate::song::Song;
    use crate::song::chord_row::ChordRow;
    use crate::tui::rows::{Opened, rows_of};
    use proptest::prelude::*;

    fn song(lyrics: &[(&str, &str)]) -> Song {
        let mut song = Song::new("Ferry");
        let mut lines = Vec::new();
        for (chords, lyric) in lyrics {
            let mut line = song.new_line(lyric);
            line.chords = (!chords.is_empty()).then(|| ChordRow::parse(chords));
            line.others = vec!["she pulled".to_owned()];
            lines.push(line);
        }
        let verse = song.new_section("Verse 1", "verse", lines);
        song.sections = vec![verse];
        song
    }

    /// Runs motions from the start of the first lyric and gives row kind and column.
    fn walk(song: &Song, opened: &Opened, actions: &[Action]) -> Vec<Cursor> {
        let rows = rows_of(song, opened, true, |_, _| false);
        let none = |_: usize, _: usize| ChordRow::default();
        let sheet = Sheet {
            song,
            rows: &rows,
            lyric: 10,
            borrowed: &none,
        };
        let (row, place) = edge(&sheet, true).unwrap();
        let mut cursor = Cursor::at(place, row);
        let mut seen = vec![cursor];
        for action in actions {
            cursor = cursor.moved(&sheet, *action, 5);
            seen.push(cursor);
        }
        seen
    }

    fn check(song: &Song, actions: &[Action], row: Row, column: usize) {
        let last = *walk(song, &Opened::default(), actions).last().unwrap();
        assert_eq!(
            (last.place.row, last.place.column.0),
            (row, column),
            "{actions:?}"
        );
    }

    #[test]
    fn motions_stay_on_graphemes_and_rows() {
        use Action::{Down, Left, Right, RowEnd, Up, WordLeft, WordRight};
        let song = song(&[("Em   C", "She rang"), ("", "e\u{301}a鐘b")]);
        check(&song, &[Right, Right], Row::Lyric, 2);
        check(&song, &[RowEnd], Row::Lyric, 8);
        check(&song, &[WordRight], Row::Lyric, 4);
        check(&song, &[WordRight, WordRight, WordLeft], Row::Lyric, 4);
        check(&song, &[RowEnd, Right], Row::Lyric, 0);
        check(&song, &[RowEnd, Right, Left], Row::Lyric, 8);
        check(&song, &[Up, WordRight], Row::Chords, 5);
        check(&song, &[RowEnd, Down], Row::Lyric, 4);
        check(&song, &[Right, Right, Right, Down], Row::Lyric, 2);
        check(&song, &[Right, Right, Right, Down, Up], Row::Lyric, 3);
        check(&song, &[Up, Up], Row::Value(Field::Happens), 0);
        check(&song, &[Up, Up, Left], Row::Value(Field::Label), 7);
        check(&song, &[Up, Up, Up, Up], Row::Value(Field::Happens), 0);
    }

    #[test]
    fn words_are_found_under_the_cursor() {
        let check = |column: usize, word: Option<&str>| {
            assert_eq!(
                word_at("’tis the well-worn bell, she’d", Column(column))
                    .map(|found| found.1)
                    .as_deref(),
                word
            );
        };
        check(0, Some("’tis"));
        check(4, Some("’tis"));
        check(12, Some("well-worn"));
        check(23, Some("bell"));
        check(24, None);
        check(30, Some("she’d"));
        assert_eq!(word_at("", Column(3)), None);
    }

    fn action() -> impl Strategy<Value = Action> {
        use Action::{
            Down, Left, PageDown, PageUp, Right, RowEnd, RowStart, SectionAfter, SectionBefore,
            SongEnd, SongStart, Up, WordLeft, WordRight,
        };
        proptest::sample::select(vec![
            Left,
            Right,
            Up,
            Down,
            WordLeft,
            WordRight,
            RowStart,
            RowEnd,
            PageUp,
            PageDown,
            SongStart,
            SongEnd,
            SectionBefore,
            SectionAfter,
        ])
    }

    proptest! {
        #[test]
        fn the_cursor_always_stands_and_comes_back(
            lyrics in proptest::collection::vec(("[ A-G]{0,12}", "[a-z é鐘\u{301}\u{200b}]{0,14}"), 1..5),
            actions in proptest::collection::vec(action(), 0..30),
            borrowed in any::<bool>(),
        ) {
            let lyrics: Vec<(&str, &str)> = lyrics.iter().map(|(chords, lyric)| (chords.as_str(), lyric.as_str())).collect();
            let song = song(&lyrics);
            let mut opened = Opened { borrowed, song: true, ..Opened::default() };
            opened.others.extend(song.sections[0].lines.iter().map(|line| line.id));
            let rows = rows_of(&song, &opened, true, |_, _| borrowed);
            let none = |_: usize, _: usize| ChordRow::parse("G D");
            let sheet = Sheet { song: &song, rows: &rows, lyric: 10, borrowed: &none };
            let (row, place) = edge(&sheet, true).unwrap();
            let mut cursor = Cursor::at(place, row);
            for action in actions {
                cursor = cursor.moved(&sheet, action, 5);
                prop_assert_eq!(sheet.row_of(cursor.place, 0), Some(cursor.row));
                prop_assert!(cursor.place.row == Row::Chords || cursor.place.column <= sheet.end(cursor.row, cursor.place.row));
                let up = cursor.moved(&sheet, Action::Up, 5);
                if up.row != cursor.row {
                    prop_assert_eq!(up.moved(&sheet, Action::Down, 5).place, cursor.place);
                }
                let down = cursor.moved(&sheet, Action::Down, 5);
                if down.row != cursor.row {
                    prop_assert_eq!(down.moved(&sheet, Action::Up, 5).place, cursor.place);
                }
            }
        }
    }
}
