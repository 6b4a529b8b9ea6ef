//! The page as a sheet of rows and cells: where a place is on it, and which place is at a cell.

use super::cells::{self, cell_of, column_at};
use super::chord_typing::laid;
use super::rows::{self, PageRow, heading_field, place_of};
use super::spread::{Spread, spread};
use crate::song::chord_row::ChordRow;
use crate::song::column::Column;
use crate::song::field::Field;
use crate::song::place::{Place, Row};
use crate::song::{Line, NodeId, Section, Song};
use std::borrow::Cow;

/// The cell at which headings begin.
pub const HEADING: u16 = 1;
/// The cell at which the values of details begin.
pub const VALUE: u16 = 15;
/// Cells between a heading's label and what happens.
const APART: u16 = 2;
/// What stands before the label of a section that is sung again.
pub const AGAIN: &str = "again ";
/// How far past lyric and chords a cursor in a chord row goes.
const PAST: u16 = 64;

/// A song's rows on a page whose lyrics begin at a cell. Cells count from the page's left edge.
#[derive(Clone, Copy)]
pub struct Sheet<'a> {
    /// The song.
    pub song: &'a Song,
    /// Its rows.
    pub rows: &'a [PageRow],
    /// The cell at which lyrics begin.
    pub lyric: u16,
    /// The chords that a line borrows, over its own syllables.
    pub borrowed: &'a dyn Fn(usize, usize) -> ChordRow,
}

impl<'a> Sheet<'a> {
    /// The section of that index.
    #[must_use]
    pub fn section(&self, section: usize) -> Option<&'a Section> {
        self.song.sections.get(section)
    }

    /// The line of that index.
    #[must_use]
    pub fn line(&self, section: usize, line: usize) -> Option<&'a Line> {
        self.section(section)?.lines.get(line)
    }

    /// The chord row of a line as shown: its own, or what it borrows.
    #[must_use]
    pub fn chord_row(&self, section: usize, line: usize) -> Cow<'a, ChordRow> {
        match self
            .line(section, line)
            .and_then(|line| line.chords.as_ref())
        {
            Some(own) => Cow::Borrowed(own),
            None => Cow::Owned((self.borrowed)(section, line)),
        }
    }

    /// How the line of a chord row or lyric row stands, spread by the chords where its chord row is shown.
    #[must_use]
    pub fn spread_of(&self, index: usize) -> Option<Spread> {
        let (section, line, shown) = match *self.rows.get(index)? {
            PageRow::Chords(section, line) => (section, line, true),
            PageRow::Lyric(section, line) => {
                let above = index.checked_sub(1).and_then(|above| self.rows.get(above));
                (
                    section,
                    line,
                    above == Some(&PageRow::Chords(section, line)),
                )
            }
            _ => return None,
        };
        let found = self.line(section, line)?;
        Some(if shown {
            laid(&found.lyric, &self.chord_row(section, line), &found.marks)
        } else {
            spread(&found.lyric, &[], &[])
        })
    }

    /// The text of a row as typed in; empty for chord rows, which are no text.
    #[must_use]
    pub fn text(&self, index: usize, row: Row) -> &'a str {
        let value = |values: &'a crate::song::field::Values, field| values.get(field).unwrap_or("");
        match (self.rows.get(index), row) {
            (Some(&PageRow::Lyric(section, line)), Row::Lyric) => {
                self.line(section, line).map_or("", |line| &line.lyric)
            }
            (Some(&PageRow::Other(section, line, other)), Row::Other(_)) => self
                .line(section, line)
                .and_then(|line| line.others.get(other))
                .map_or("", |text| text),
            (Some(&PageRow::Phrase(tune, phrase)), Row::Phrase(..)) => {
                let tune = self.song.tunes.get(tune);
                tune.and_then(|tune| tune.phrases.get(phrase))
                    .map_or("", |text| text)
            }
            (Some(&PageRow::SongValue(_)), Row::Value(field)) => value(&self.song.values, field),
            (
                Some(&(PageRow::Heading(section) | PageRow::SectionValue(section, _))),
                Row::Value(field),
            ) => self
                .section(section)
                .map_or("", |section| value(&section.values, field)),
            (Some(&PageRow::LineValue(section, line, _)), Row::Value(field)) => self
                .line(section, line)
                .map_or("", |line| value(&line.values, field)),
            _ => "",
        }
    }

    /// The cell at which a row's text begins.
    #[must_use]
    pub fn origin(&self, index: usize, row: Row) -> u16 {
        match self.rows.get(index) {
            Some(&PageRow::Heading(section)) => self.section(section).map_or(HEADING, |section| {
                let (start, end) = label_cells(section);
                match row {
                    Row::Value(Field::Happens) => end + APART,
                    _ => start,
                }
            }),
            Some(
                PageRow::SongValue(_)
                | PageRow::Phrase(..)
                | PageRow::SectionValue(..)
                | PageRow::LineValue(..),
            ) => VALUE,
            _ => self.lyric,
        }
    }

    /// The cell of a place in the row of that index.
    #[must_use]
    pub fn cell(&self, index: usize, place: Place) -> u16 {
        let origin = self.origin(index, place.row);
        let within = match place.row {
            // In a chord row, columns count cells of the line as spread.
            Row::Chords => u16::try_from(place.column.0).unwrap_or(u16::MAX),
            Row::Lyric => self
                .spread_of(index)
                .map_or(0, |spread| spread.cell_of(place.column)),
            row => cell_of(self.text(index, row), place.column),
        };
        origin.saturating_add(within)
    }

    /// The place at a cell of the row of that index; the nearest one where the cell lies beside its text. `None` where no cursor stands.
    #[must_use]
    pub fn place_at(&self, index: usize, cell: u16) -> Option<Place> {
        let page_row = *self.rows.get(index)?;
        let (node, mut row) = place_of(page_row, self.song)?;
        if let PageRow::Heading(section) = page_row {
            let section = self.section(section)?;
            if cell >= label_cells(section).1 + APART {
                row = Row::Value(Field::Happens);
            }
        }
        let within = cell.saturating_sub(self.origin(index, row));
        let column = match row {
            Row::Chords => Column(usize::from(within.min(self.farthest(index)))),
            Row::Lyric => {
                let spread = self.spread_of(index)?;
                spread.column_at(within).min(self.end(index, row))
            }
            row => column_at(self.text(index, row), within),
        };
        Some(Place { node, row, column })
    }

    /// The last column of a row: behind its text; in a chord row, behind lyric and chords.
    #[must_use]
    pub fn end(&self, index: usize, row: Row) -> Column {
        match row {
            Row::Chords => Column(
                self.spread_of(index)
                    .map_or(0, |spread| usize::from(spread.end())),
            ),
            row => Column::end_of(self.text(index, row)),
        }
    }

    /// The farthest cell that a cursor in a chord row may reach.
    #[must_use]
    pub fn farthest(&self, index: usize) -> u16 {
        self.spread_of(index)
            .map_or(PAST, |spread| spread.end().saturating_add(PAST))
    }

    /// The index of the row in which a place stands.
    #[must_use]
    pub fn row_of(&self, place: Place, near: usize) -> Option<usize> {
        rows::row_of(self.rows, self.song, place, near)
    }

    /// The nearest row above or below in which a cursor can stand.
    #[must_use]
    pub fn next_row(&self, from: usize, down: bool) -> Option<usize> {
        let stands = |index: &usize| {
            self.rows
                .get(*index)
                .is_some_and(|row| !matches!(row, PageRow::Gap | PageRow::Defaults))
        };
        if down {
            (from + 1..self.rows.len()).find(stands)
        } else {
            (0..from.min(self.rows.len())).rev().find(stands)
        }
    }

    /// Where a cursor goes whose row is gone: the lyric of the same line or the heading of the same section, else the row nearest to where it was.
    #[must_use]
    pub fn nearest(&self, place: Place, near: usize) -> Option<(usize, Place)> {
        let same_node = self.rows.iter().position(|row| {
            place_of(*row, self.song)
                .is_some_and(|(node, row)| node == place.node && row != Row::Chords)
        });
        let index = same_node
            .or_else(|| self.next_row(near, false))
            .or_else(|| self.next_row(near.saturating_sub(1), true))?;
        let (node, row) = place_of(*self.rows.get(index)?, self.song)?;
        let column = if node == place.node {
            place.column.min(self.end(index, row))
        } else {
            Column(0)
        };
        Some((index, Place { node, row, column }))
    }
}

/// The first cell of a heading's label and the cell behind it, or behind what stands in for it.
#[must_use]
pub fn label_cells(section: &Section) -> (u16, u16) {
    let field = heading_field(section);
    let start = match field {
        Field::Again => HEADING + cells::width(AGAIN),
        _ => HEADING,
    };
    let label = section.values.get(field).unwrap_or("");
    let shown = if label.is_empty() {
        stand_in(section)
    } else {
        label
    };
    (start, start.saturating_add(cells::width(shown)))
}

/// What a heading shows where the section has no label: its kind.
#[must_use]
pub fn stand_in(section: &Section) -> &str {
    section
        .values
        .get(Field::Kind)
        .filter(|kind| !kind.is_empty())
        .unwrap_or("section")
}

/// A place at the start of a row.
#[must_use]
pub const fn start_of(node: NodeId, row: Row) -> Place {
    Place {
        node,
        row,
        column: Column(0),
    }
}

/// What a section is called on the page: its label, the section it sings again, or its kind.
#[must_use]
pub fn heading_text(section: &Section) -> &str {
    section
        .values
        .get(heading_field(section))
        .filter(|label| !label.is_empty())
        .unwrap_or_else(|| stand_in(section))
}
