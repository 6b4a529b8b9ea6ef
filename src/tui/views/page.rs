//! The rows of the song with their margins.

use super::figures::{clock, seconds};
use super::head::assumed;
use super::line::{Chords, Window, Words, draw_chords, draw_lyric, draw_text, shift_for};
use crate::reading::{LineReading, SectionReading};
use crate::singing::air::Verdict;
use crate::song::Section;
use crate::song::column::Column;
use crate::song::field::Field;
use crate::song::place::Row;
use crate::tui::app::App;
use crate::tui::cells::{put, put_cut, put_right, set, width};
use crate::tui::look::{Look, Role};
use crate::tui::page::Page;
use crate::tui::rows::{PageRow, line_of, place_of};
use crate::tui::sheet::{AGAIN, HEADING, Sheet, VALUE, label_cells, stand_in};
use crate::tui::typing::{selected_in_row, selected_rows};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

/// From this width on, the right margin has a bar of five cells.
const WITH_BAR: u16 = 72;

/// A heading shows the rhyme scheme of up to so many lines; the letters stand at the lines as well.
const LONGEST_SCHEME: usize = 12;

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

    fn heading(
        &self,
        buf: &mut Buffer,
        index: usize,
        section: usize,
        y: u16,
    ) -> Option<(u16, u16)> {
        let found = self.sheet.section(section)?;
        let is_here = index == self.page.cursor.row;
        let right = self.heading_facts(buf, section, y);
        let (start, label_end) = label_cells(found);
        let x = self.area.x;
        if start > HEADING {
            put(buf, x + HEADING, y, right, AGAIN, self.style(Role::Quiet));
        }
        let row = place_of(PageRow::Heading(section), self.sheet.song)?.1;
        let label = self.sheet.text(index, row);
        let in_happens = self.page.cursor.place.row == Row::Value(Field::Happens);
        let picked = |of_happens: bool, text: &str| {
            let whole = Column::end_of(text);
            self.selection(index, whole)
                .filter(|_| self.selected_rows.is_some() || of_happens == in_happens)
        };
        let window = Window {
            from: x + start,
            to: right,
            y,
            shift: 0,
        };
        if label.is_empty() {
            draw_text(buf, window, stand_in(found), self.style(Role::Quiet), None);
        } else {
            draw_text(
                buf,
                window,
                label,
                self.style(Role::Strong),
                picked(false, label),
            );
        }
        let happens = self.sheet.text(index, Row::Value(Field::Happens));
        let origin = label_end + 2;
        let mut window = Window {
            from: x + origin,
            to: right,
            y,
            shift: 0,
        };
        if is_here && in_happens {
            window = self.window(index, origin, right, y);
        }
        if happens.is_empty() && is_here {
            draw_text(
                buf,
                window,
                "what happens here",
                self.style(Role::Quiet),
                None,
            );
        } else {
            draw_text(
                buf,
                window,
                happens,
                self.style(Role::Quiet),
                picked(true, happens),
            );
            window.mark_cut(buf, width(happens), self.look);
        }
        let (window, origin) = if in_happens {
            (window, origin)
        } else {
            (
                Window {
                    from: x + start,
                    ..window
                },
                start,
            )
        };
        self.cursor_in(index, window, origin)
    }

    /// What follows for a section, at the right: its own setting, whose chords it borrows, where it begins. Gives the cell before it.
    fn heading_facts(&self, buf: &mut Buffer, section: usize, y: u16) -> u16 {
        let Some(read) = self.page.reading().sections.get(section) else {
            return self.right;
        };
        let quiet = self.style(Role::Quiet);
        let mut x = put_right(buf, self.area.x, self.right, y, &clock(read.start_s), quiet);
        for fact in self
            .facts(read, self.sheet.section(section))
            .into_iter()
            .rev()
        {
            x = put_right(buf, self.area.x, x.saturating_sub(2), y, &fact, quiet);
        }
        x.saturating_sub(2)
    }

    fn facts(&self, read: &SectionReading, section: Option<&Section>) -> Vec<String> {
        let mut facts = Vec::new();
        let whole = &self.page.reading().head.setting;
        if let Some(section) = section {
            for (field, text) in [
                (Field::Key, read.setting.key.to_string()),
                (Field::Meter, read.setting.meter.to_string()),
                (
                    Field::Tempo,
                    format!(
                        "tempo {}",
                        crate::wording::figure::short_number(read.setting.tempo.per_minute)
                    ),
                ),
                (Field::Capo, format!("capo {}", read.setting.capo)),
            ] {
                if section.values.get(field).is_some() && read.setting != *whole {
                    facts.push(text);
                }
            }
            if let Some(bars) = section
                .values
                .get(Field::Bars)
                .filter(|_| section.lines.is_empty())
            {
                facts.push(format!("{bars} bars"));
            }
        }
        let lines = self
            .page
            .reading()
            .lines
            .get(read.lines.clone())
            .unwrap_or(&[]);
        if section.is_some_and(|section| section.values.get(Field::Again).is_none())
            && let Some(from) = lines.first().and_then(|line| line.borrows)
            && lines.iter().all(|line| line.borrows.is_some())
            && let Some(source) = self
                .sheet
                .song
                .sections
                .iter()
                .find(|found| found.lines.iter().any(|line| line.id == from))
        {
            facts.push(format!(
                "chords as {}",
                crate::tui::sheet::heading_text(source)
            ));
        }
        if read.rhymes.has_rhymes() && read.rhymes.ends.len() <= LONGEST_SCHEME {
            facts.push(read.rhymes.scheme.shown());
        }
        facts
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
        let limit = match (is_lyric, read) {
            (true, Some(read)) => {
                self.left_margin(buf, read, y);
                self.rhyme(buf, read, y);
                self.right_margin(buf, read, y)
            }
            _ => self.right,
        };
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

    /// Syllables, and how many are asked for where that is another number.
    fn left_margin(&self, buf: &mut Buffer, read: &LineReading, y: u16) {
        let count = read.laid.syllables.len();
        if count == 0 {
            return;
        }
        let x = self.area.x;
        match read.wanted.filter(|wanted| *wanted != count) {
            Some(wanted) => {
                let end = put(
                    buf,
                    x,
                    y,
                    x + 8,
                    &format!("{count:>2}"),
                    self.style(Role::Plain),
                );
                put(
                    buf,
                    end,
                    y,
                    x + 8,
                    &format!(" on {wanted}"),
                    self.style(Role::Plain),
                );
            }
            None => {
                put(
                    buf,
                    x,
                    y,
                    x + 8,
                    &format!("{count:>2}"),
                    self.style(Role::Quiet),
                );
            }
        }
    }

    /// The letter of the line's rhyme at the very right, a capital where the whole line is sung again. Where a verdict needs the
    /// room, or in a narrow page, the heading tells it alone; a section that does not rhyme has none.
    fn rhyme(&self, buf: &mut Buffer, read: &LineReading, y: u16) {
        let has_room = matches!(read.verdict, Some(Verdict::Easy | Verdict::Tight));
        let section = self.page.reading().sections.get(read.section);
        let Some(rhymes) = section.map(|section| &section.rhymes) else {
            return;
        };
        if has_room
            && self.area.width >= WITH_BAR
            && rhymes.has_rhymes()
            && let Some(sign) = rhymes.scheme.sign(read.line)
        {
            let style = self.style(Role::Quiet);
            put(buf, self.right - 1, y, self.right, &sign.to_string(), style);
        }
    }

    /// Seconds, air left and the verdict where it is not easy. Gives the cell before which the lyric has to end.
    fn right_margin(&self, buf: &mut Buffer, read: &LineReading, y: u16) -> u16 {
        let (Some(start), Some(end), Some(air)) = (read.start_s, read.end_s, read.air_left) else {
            return self.right;
        };
        let time = seconds(end - start);
        let quiet = self.style(Role::Quiet);
        let wide = self.area.width >= WITH_BAR;
        let judged = read.verdict.filter(|verdict| *verdict != Verdict::Easy);
        let (role, word) = match judged {
            Some(found @ Verdict::Tight) => (Role::Care, found.words()),
            Some(found) => (Role::Alarm, found.words()),
            None => (Role::Quiet, ""),
        };
        let left = match (wide, word.is_empty()) {
            (true, true) => {
                let x = self.right.saturating_sub(10);
                put(buf, x, y, self.right, &self.look.bar(air, 5), quiet);
                put_right(buf, self.area.x, x.saturating_sub(2), y, &time, quiet)
            }
            (true, false) => {
                let bar = self.look.bar(air, 1);
                let x = self.right.saturating_sub(10.max(width(word)));
                let x = if width(word) <= 8 {
                    put(buf, x, y, self.right, &bar, self.style(role));
                    put(buf, x + 2, y, self.right, word, self.style(role));
                    x
                } else {
                    put(buf, x, y, self.right, word, self.style(role));
                    x
                };
                if width(word) > 10 {
                    return x.saturating_sub(2);
                }
                put_right(
                    buf,
                    self.area.x,
                    x.saturating_sub(2),
                    y,
                    &time,
                    self.style(Role::Plain),
                )
            }
            (false, true) => {
                let x = put_right(
                    buf,
                    self.area.x,
                    self.right,
                    y,
                    self.look.height(air),
                    quiet,
                );
                put_right(buf, self.area.x, x.saturating_sub(1), y, &time, quiet)
            }
            (false, false) => put_right(buf, self.area.x, self.right, y, word, self.style(role)),
        };
        left.saturating_sub(2)
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

    fn value(&self, buf: &mut Buffer, index: usize, field: Field, y: u16) -> Option<(u16, u16)> {
        let name = field_name(field);
        let row = Row::Value(field);
        let text = self.sheet.text(index, row);
        put(
            buf,
            self.area.x + HEADING + 1,
            y,
            self.area.x + VALUE,
            &name,
            self.style(Role::Quiet),
        );
        let window = self.window(index, VALUE, self.right, y);
        if text.is_empty() {
            draw_text(
                buf,
                window,
                &self.default_for(index, field),
                self.style(Role::Quiet),
                None,
            );
        } else {
            draw_text(
                buf,
                window,
                text,
                self.style(Role::Plain),
                self.selection(index, Column::end_of(text)),
            );
            window.mark_cut(buf, width(text), self.look);
        }
        self.cursor_in(index, window, VALUE)
    }

    /// What serves where a value is not written, in brackets; empty where nothing does.
    fn default_for(&self, index: usize, field: Field) -> String {
        let reading = self.page.reading();
        let (setting, of_song) = match self.page.rows.get(index) {
            Some(PageRow::SectionValue(section, _)) => (
                reading
                    .sections
                    .get(*section)
                    .map_or(&reading.head.setting, |section| &section.setting),
                false,
            ),
            Some(PageRow::LineValue(section, ..)) => (
                reading
                    .sections
                    .get(*section)
                    .map_or(&reading.head.setting, |section| &section.setting),
                false,
            ),
            _ => (&reading.head.setting, true),
        };
        let value = match field {
            Field::Key => setting.key.to_string(),
            Field::Meter => setting.meter.to_string(),
            Field::Tempo => crate::wording::figure::short_number(setting.tempo.per_minute),
            Field::Bars => setting.bars.to_string(),
            Field::Capo => setting.capo.to_string(),
            Field::SteadyNote => format!(
                "{} s, not timed",
                crate::wording::figure::short_number(reading.head.voice.steady_note)
            ),
            Field::Octave => reading.head.octave.to_string(),
            Field::Style => reading.head.style.word().to_owned(),
            _ => return String::new(),
        };
        if of_song {
            format!("({value})")
        } else {
            format!("({value}, as the song)")
        }
    }
}

/// A key of the song file in words.
#[must_use]
pub fn field_name(field: Field) -> String {
    field
        .name()
        .rsplit('.')
        .next()
        .unwrap_or("")
        .replace('_', " ")
}
