//! A song on the page: what is open, where the cursor is, which rows show; all that is no part of the song itself.

use super::commands::{Action, Focus};
use super::cursor::{Cursor, edge};
use super::preview::Preview;
use super::rows::{Opened, PageRow, rows_of};
use super::sheet::Sheet;
use crate::desk::Desk;
use crate::reading::slots::row_for;
use crate::reading::{LineReading, Reading};
use crate::song::Song;
use crate::song::chord_row::ChordRow;
use crate::song::edit::{Edit, EditError, Step};
use crate::song::place::{Place, Row};

/// The cell at which lyrics begin; the left margin is before it.
pub const LYRIC: u16 = 10;

/// Rows kept in sight above and below the cursor.
const CONTEXT: usize = 2;

/// A song at work and how it is shown.
#[derive(Debug)]
pub struct Page {
    /// The song with its reading, warnings and history.
    pub desk: Desk,
    /// What the writer has opened.
    pub opened: Opened,
    /// The rows, top to bottom.
    pub rows: Vec<PageRow>,
    /// The cursor.
    pub cursor: Cursor,
    /// The index of the row at the top of the screen.
    pub top: usize,
    /// The song as it would be, while a list offers something.
    pub preview: Option<Preview>,
    /// How it stands with the file.
    pub file: FileState,
    /// Where the cursor was before it went to the song's details.
    pub came_from: Option<Place>,
}

/// How a song stands with its file, as far as the page shows it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct FileState {
    /// The file's name.
    pub name: String,
    /// Another window has the song: nothing may be changed here.
    pub read_only: bool,
    /// Another program has written the file since.
    pub changed: bool,
    /// The writer has been told, so that the next save keeps both texts.
    pub told_changed: bool,
    /// Unsaved words are kept nowhere, or came back from where they were kept.
    pub draft: Draft,
}

/// What the head of the page says of drafts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub enum Draft {
    /// Nothing.
    #[default]
    Quiet,
    /// The words came back from a draft, written when these words say.
    BroughtBack(String),
    /// There is no place for drafts, or the last one failed.
    NotKept,
}

impl Page {
    /// A song as it is opened: the cursor at the start of the first lyric.
    #[must_use]
    pub fn new(desk: Desk, file: FileState) -> Self {
        let somewhere = super::sheet::start_of(crate::song::NodeId::SONG, Row::Lyric);
        let mut page = Self {
            desk,
            opened: Opened::default(),
            rows: Vec::new(),
            cursor: Cursor::at(somewhere, 0),
            top: 0,
            preview: None,
            file,
            came_from: None,
        };
        page.lay_out();
        let first = page.with_sheet(|sheet| edge(sheet, true));
        if let Some((row, place)) = first {
            page.cursor = Cursor::at(place, row);
        } else {
            page.opened.song = true;
            page.lay_out();
            page.go_to(super::sheet::start_of(
                crate::song::NodeId::SONG,
                Row::Value(crate::song::field::Field::Title),
            ));
        }
        page
    }

    /// The song as shown: as it is, or as it would be.
    #[must_use]
    pub fn song(&self) -> &Song {
        self.preview
            .as_ref()
            .map_or_else(|| self.desk.song(), |preview| &preview.song)
    }

    /// What follows from the song as shown.
    #[must_use]
    pub fn reading(&self) -> &Reading {
        self.preview
            .as_ref()
            .map_or_else(|| self.desk.reading(), |preview| &preview.reading)
    }

    /// Asks something of the page as a sheet of cells.
    pub fn with_sheet<T>(&self, ask: impl FnOnce(&Sheet<'_>) -> T) -> T {
        let reading = self.reading();
        ask(&Sheet {
            song: self.song(),
            rows: &self.rows,
            lyric: LYRIC,
            borrowed: &|section, line| borrowed_row(reading, section, line),
        })
    }

    /// What the line is read as; for a section that is sung again, the lines of its source.
    #[must_use]
    pub fn line_reading(&self, section: usize, line: usize) -> Option<&LineReading> {
        line_reading(self.reading(), section, line)
    }

    /// Lays the rows out anew, and finds the cursor's row again; the cursor stays at the same height of the screen as far as the song allows.
    pub fn lay_out(&mut self) {
        let height = self.cursor.row.saturating_sub(self.top);
        let reading = self.reading();
        self.rows = rows_of(
            self.song(),
            &self.opened,
            assumes_something(reading),
            |section, line| {
                line_reading(reading, section, line)
                    .is_some_and(|line| line.borrows.is_some() && !line.chords.is_empty())
            },
        );
        let (place, near) = (self.cursor.place, self.cursor.row);
        let found = self.with_sheet(|sheet| {
            sheet
                .row_of(place, near)
                .map(|row| (row, place))
                .or_else(|| sheet.nearest(place, near))
        });
        if let Some((row, place)) = found {
            self.cursor.row = row;
            self.cursor.place = place;
        }
        self.top = self.cursor.row.saturating_sub(height);
    }

    /// Puts the cursor at a place, opening what hides it.
    pub fn go_to(&mut self, place: Place) {
        self.opened.reveal(place);
        self.cursor = Cursor::at(place, self.cursor.row);
        self.lay_out();
    }

    /// Puts the cursor at a place of the song itself, in whose chord rows columns count the lyric's.
    pub fn go_to_column(&mut self, place: Place) {
        self.go_to(place);
        if place.row == Row::Chords {
            let row = self.cursor.row;
            let cell = self.with_sheet(|sheet| {
                let spread = sheet.spread_of(row)?;
                let over = spread.over.iter().find(|over| over.column == place.column);
                Some(over.map_or_else(|| spread.cell_of(place.column), |over| over.cell))
            });
            if let Some(cell) = cell {
                self.cursor.place.column = crate::song::column::Column(usize::from(cell));
            }
        }
    }

    /// Moves the cursor; `select` drags a selection along.
    pub fn walk(&mut self, action: Action, height: usize, select: bool) {
        let cursor = self.cursor;
        let mut moved = self
            .with_sheet(|sheet| cursor.moved(sheet, action, height.saturating_sub(CONTEXT).max(1)));
        moved.anchor = select.then(|| cursor.anchor.unwrap_or(cursor.place));
        self.cursor = moved;
        self.desk.end_run();
    }

    /// What the cursor is in.
    #[must_use]
    pub const fn focus(&self) -> Focus {
        match self.cursor.place.row {
            Row::Chords => Focus::Chords,
            Row::Lyric => Focus::Lyric,
            Row::Other(_) => Focus::Other,
            Row::Value(_) | Row::Phrase(..) => Focus::Heading,
        }
    }

    /// Makes an edit; the cursor goes to `after`, or where the edit carries it.
    ///
    /// # Errors
    /// As [`Song::apply`]; then nothing has changed.
    pub fn edit(&mut self, edit: &Edit, after: Option<Place>) -> Result<(), EditError> {
        self.preview = None;
        let cursor = self.desk.edit(edit, self.cursor.place, after)?;
        self.cursor.anchor = None;
        self.cursor.kept = None;
        if let Some(place) = cursor {
            self.opened.reveal(place);
            self.cursor.place = place;
        }
        self.lay_out();
        Ok(())
    }

    /// Makes an edit that was built with its cursor.
    ///
    /// # Errors
    /// As [`Page::edit`].
    pub fn step(&mut self, step: &Step) -> Result<(), EditError> {
        self.edit(&step.edit, Some(step.cursor))
    }

    /// Undoes or redoes; `false` where there is nothing to.
    pub fn turn_back(&mut self, redo: bool) -> bool {
        self.preview = None;
        let moved = if redo {
            self.desk.redo()
        } else {
            self.desk.undo()
        };
        let Some(place) = moved else { return false };
        self.cursor.anchor = None;
        self.cursor.kept = None;
        if let Some(place) = place {
            self.opened.reveal(place);
            self.cursor.place = place;
        }
        self.lay_out();
        true
    }

    /// Shows what would be, or what is.
    pub fn show(&mut self, preview: Option<Preview>) {
        if self.preview.is_some() || preview.is_some() {
            self.preview = preview;
            self.lay_out();
        }
    }

    /// How many rows of the details that the cursor is in stand below it.
    fn details_below(&self) -> usize {
        let from_cursor = self.rows.iter().skip(self.cursor.row);
        from_cursor
            .take_while(|row| is_detail(row))
            .count()
            .saturating_sub(1)
    }

    /// Moves the screen over the rows so that the cursor is in sight with rows around it.
    pub fn settle(&mut self, height: usize) {
        let context = CONTEXT.min(height.saturating_sub(1) / 2);
        let row = self.cursor.row;
        if row < self.top + context {
            self.top = row.saturating_sub(context);
        }
        let below = context.max(self.details_below().min(height.saturating_sub(context + 1)));
        if row + below + 1 > self.top + height {
            self.top = (row + below + 1).saturating_sub(height);
        }
        let last = self.rows.len().saturating_sub(height);
        self.top = self.top.min(last);
        // The first lyric shows with its heading and what the song assumes.
        let first_lyric = self
            .rows
            .iter()
            .position(|row| matches!(row, PageRow::Lyric(..) | PageRow::Chords(..)));
        if first_lyric.is_some_and(|first| row <= first + 1 && row < height) {
            self.top = 0;
        }
    }
}

/// Whether the row is one of opened details.
const fn is_detail(row: &PageRow) -> bool {
    matches!(
        row,
        PageRow::SongValue(_)
            | PageRow::Phrase(..)
            | PageRow::SectionValue(..)
            | PageRow::LineValue(..)
    )
}

/// What a line of the song is read as.
#[must_use]
pub fn line_reading(reading: &Reading, section: usize, line: usize) -> Option<&LineReading> {
    let range = reading.sections.get(section)?.lines.clone();
    reading.lines.get(range)?.get(line)
}

/// The chords that a line borrows, over its own syllables; empty where it borrows none.
#[must_use]
pub fn borrowed_row(reading: &Reading, section: usize, line: usize) -> ChordRow {
    let Some(found) = line_reading(reading, section, line).filter(|found| found.borrows.is_some())
    else {
        return ChordRow::default();
    };
    let Some(section) = reading.sections.get(section) else {
        return ChordRow::default();
    };
    let chords: Vec<_> = found
        .chords
        .iter()
        .map(|chord| (chord.start, chord.text.clone()))
        .collect();
    row_for(
        &chords,
        &found.laid,
        found.lyric_end,
        section.setting.tempo.beat,
    )
}

/// Whether the head of the page has to say what is assumed.
#[must_use]
pub fn assumes_something(reading: &Reading) -> bool {
    !reading.head.defaults.is_empty()
}
