//! The rows of the song with their margins.

mod heading;
mod margins;
mod values;

use super::head::assumed;
use super::line::{Chords, Window, Words, draw_chords, draw_lyric, draw_text, shift_for};
use crate::song::column::Column;
use crate::song::place::Row;
use crate::tui::app::App;
use crate::tui::cells::{put, put_cut, put_right, set, width};
use crate::tui::look::{Look, Role};
use crate::tui::page::Page;
use crate::tui::rows::{PageRow, line_of};
use crate::tui::sheet::{HEADING, Sheet};
use crate::tui::typing::{selected_in_row, selected_rows};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

/// What one row needs to be drawn.
struct Drawing<'a> {
    look: Look,
    page: &'a Page,
    sheet: &'a Sheet<'a>,
    area: Rect,
    /// The cell behind the right margin.
    right: u16,
    selected_rows: Option<(usize, usize)>,
    selected: Option<(Column, Column)>,
}

/// Draws the rows in sight and gives the cursor's cell.
pub fn draw(app: &App, page: &Page, area: Rect, buf: &mut Buffer) -> Option<(u16, u16)> {
    page.with_sheet(|sheet| {
        let drawing = Drawing {
            look: app.look,
            page,
            sheet,
            area,
            right: area.right().saturating_sub(1),
            selected_rows: selected_rows(page),
            selected: selected_in_row(page),
        };
        let mut cursor = None;
        for y in 0..area.height {
            let index = page.top + usize::from(y);
            let Some(row) = page.rows.get(index) else {
                break;
            };
            let found = drawing.row(buf, index, *row, area.y + y);
            if index == page.cursor.row {
                cursor = found;
            }
        }
        cursor
    })
}

impl Drawing<'_> {
    /// Draws a row; gives the cursor's cell where the cursor is in it.
    fn row(&self, buf: &mut Buffer, index: usize, row: PageRow, y: u16) -> Option<(u16, u16)> {
        match row {
            PageRow::Gap => None,
            PageRow::Defaults => {
                let text = assumed(&self.page.reading().head, self.look);
                put_cut(
                    buf,
                    self.area.x + HEADING,
                    y,
                    self.right,
                    &text,
                    self.look.more(),
                    self.style(Role::Quiet),
                );
                None
            }
            PageRow::Heading(section) => self.heading(buf, index, section, y),
            PageRow::Chords(section, line) => self.line(buf, index, section, line, y),
            PageRow::Lyric(section, line) => self.line(buf, index, section, line, y),
            PageRow::Other(..) => self.other(buf, index, y),
            PageRow::Phrase(tune, phrase) => self.phrase(buf, index, (tune, phrase), y),
            PageRow::SongValue(field)
            | PageRow::SectionValue(_, field)
            | PageRow::LineValue(_, _, field) => self.value(buf, index, field, y),
        }
    }

    fn style(&self, role: Role) -> Style {
        self.look.style(role)
    }

    /// The window of a row whose text begins at a cell of the page, before a cell of the screen; shifted where the cursor would be outside.
    fn window(&self, index: usize, origin: u16, to: u16, y: u16) -> Window {
        let from = self.area.x + origin;
        let cursor_row = self.page.rows.get(self.page.cursor.row).copied();
        let this = self.page.rows.get(index).copied();
        let same = index == self.page.cursor.row
            || (this.and_then(line_of).is_some()
                && this.and_then(line_of) == cursor_row.and_then(line_of)
                && matches!(this, Some(PageRow::Chords(..) | PageRow::Lyric(..)))
                && matches!(cursor_row, Some(PageRow::Chords(..) | PageRow::Lyric(..))));
        let shift = if same {
            let cell = self
                .sheet
                .cell(self.page.cursor.row, self.page.cursor.place)
                .saturating_sub(origin);
            shift_for(cell, to.saturating_sub(from))
        } else {
            0
        };
        Window { from, to, y, shift }
    }

    fn cursor_in(&self, index: usize, window: Window, origin: u16) -> Option<(u16, u16)> {
        if index != self.page.cursor.row {
            return None;
        }
        let cell = self
            .sheet
            .cell(index, self.page.cursor.place)
            .saturating_sub(origin);
        let x = window.from + cell.saturating_sub(window.shift);
        Some((x.min(self.area.right().saturating_sub(1)), window.y))
    }

    fn selection(&self, index: usize, whole: Column) -> Option<(Column, Column)> {
        match self.selected_rows {
            Some((first, last)) if first <= index && index <= last => Some((Column(0), whole)),
            Some(_) => None,
            None => self.selected.filter(|_| index == self.page.cursor.row),
        }
    }

    fn line(
        &self,
        buf: &mut Buffer,
        index: usize,
        section: usize,
        line: usize,
        y: u16,
    ) -> Option<(u16, u16)> {
        let found = self.sheet.line(section, line)?;
        let spread = self.sheet.spread_of(index)?;
        let read = self.page.line_reading(section, line);
        let is_lyric = matches!(self.page.rows.get(index), Some(PageRow::Lyric(..)));
        let changed = self
            .page
            .preview
            .as_ref()
            .is_some_and(|preview| preview.changed.contains(&found.id));
        let limit = self.row_end(read);
        if let Some(read) = read.filter(|_| is_lyric) {
            self.margins(buf, read, y);
        }
        let window = self.window(index, self.sheet.lyric, limit, y);
        if changed && is_lyric {
            set(
                buf,
                self.area.x + self.sheet.lyric - 2,
                y,
                self.look.sign("▸", ">"),
                1,
                self.style(Role::Changed),
            );
        }
        if is_lyric {
            let before = self
                .page
                .preview
                .is_some()
                .then(|| self.page.desk.song().line(found.id))
                .flatten();
            let words = Words {
                falls_at: read.and_then(|read| read.falls_at),
                selected: self.selection(index, Column::end_of(&found.lyric)),
                changed: before.is_some_and(|before| before.lyric != found.lyric),
            };
            draw_lyric(buf, window, self.look, &found.lyric, &spread, words);
            window.mark_cut(buf, spread.lyric_end(), self.look);
            if !found.others.is_empty() && window.shift == 0 {
                let count = format!("+{}", found.others.len());
                put(
                    buf,
                    window.from + spread.lyric_end() + 2,
                    y,
                    limit,
                    &count,
                    self.style(Role::Quiet),
                );
            }
        } else {
            let row = self.sheet.chord_row(section, line);
            let before = self
                .page
                .preview
                .as_ref()
                .filter(|_| changed)
                .map(|_| self.row_before(found.id));
            let chords = Chords {
                borrowed: found.chords.is_none(),
                before: before.as_ref(),
                selected: self.selection(index, Column(usize::MAX)),
            };
            draw_chords(buf, window, self.look, &row, &spread, chords);
            window.mark_cut(
                buf,
                spread.over.last().map_or(0, crate::tui::spread::Over::end),
                self.look,
            );
            if found.chords.is_none() && !row.is_empty() {
                put_right(
                    buf,
                    self.area.x,
                    self.right,
                    y,
                    "borrowed",
                    self.style(Role::Quiet),
                );
            }
        }
        self.cursor_in(index, window, self.sheet.lyric)
    }

    /// The chord row of a line as it is while a preview shows another.
    fn row_before(&self, line: crate::song::NodeId) -> crate::song::chord_row::ChordRow {
        let song = self.page.desk.song();
        let own = song.line(line).and_then(|line| line.chords.clone());
        own.or_else(|| {
            let (section, index) = song.position(line)?;
            Some(crate::tui::page::borrowed_row(
                self.page.desk.reading(),
                section,
                index,
            ))
        })
        .unwrap_or_default()
    }

    fn other(&self, buf: &mut Buffer, index: usize, y: u16) -> Option<(u16, u16)> {
        let row = match self.page.rows.get(index) {
            Some(PageRow::Other(_, _, other)) => Row::Other(*other),
            _ => return None,
        };
        let text = self.sheet.text(index, row);
        let window = self.window(index, self.sheet.lyric, self.right, y);
        put_right(
            buf,
            self.area.x,
            self.area.x + self.sheet.lyric - 1,
            y,
            "or",
            self.style(Role::Quiet),
        );
        draw_text(
            buf,
            window,
            text,
            self.style(Role::Quiet),
            self.selection(index, Column::end_of(text)),
        );
        window.mark_cut(buf, width(text), self.look);
        self.cursor_in(index, window, self.sheet.lyric)
    }
}
