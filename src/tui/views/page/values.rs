//! A detail of the song, a section or a line: its name and what is written, else what serves.

use super::Drawing;
use crate::song::column::Column;
use crate::song::field::Field;
use crate::song::place::Row;
use crate::tui::cells::{put, put_cut, put_right, width};
use crate::tui::look::Role;
use crate::tui::rows::PageRow;
use crate::tui::sheet::{HEADING, VALUE};
use crate::tui::views::line::draw_text;
use crate::wording::figure::short_number;
use ratatui::buffer::Buffer;

impl Drawing<'_> {
    pub(super) fn value(
        &self,
        buf: &mut Buffer,
        index: usize,
        field: Field,
        y: u16,
    ) -> Option<(u16, u16)> {
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

    /// A phrase of a tune, behind its number; the first behind the tune's name.
    pub(super) fn phrase(
        &self,
        buf: &mut Buffer,
        index: usize,
        (tune, phrase): (usize, usize),
        y: u16,
    ) -> Option<(u16, u16)> {
        let song = self.sheet.song;
        let known = song.tunes.get(tune);
        let name = match known {
            Some(tune) => tune.name.clone(),
            None => song.next_tune().unwrap_or_default(),
        };
        let quiet = self.style(Role::Quiet);
        let (from, limit) = (self.area.x + HEADING + 1, self.area.x + VALUE - 1);
        if phrase == 0 {
            put_cut(
                buf,
                from,
                y,
                limit,
                &format!("tune {name}"),
                self.look.more(),
                quiet,
            );
        } else {
            put_right(buf, from, limit, y, &(phrase + 1).to_string(), quiet);
        }
        let window = self.window(index, VALUE, self.right, y);
        let text = self.sheet.text(index, Row::Phrase(tune, phrase));
        if text.is_empty() {
            let hint = match known {
                Some(_) => "(one more phrase)",
                None => "(no notes: each line takes its bars)",
            };
            draw_text(buf, window, hint, quiet, None);
        } else {
            let picked = self.selection(index, Column::end_of(text));
            draw_text(buf, window, text, self.style(Role::Plain), picked);
            window.mark_cut(buf, width(text), self.look);
        }
        self.cursor_in(index, window, VALUE)
    }

    /// What serves where a value is not written, in brackets; empty where nothing does.
    fn default_for(&self, index: usize, field: Field) -> String {
        let reading = self.page.reading();
        let section = match self.page.rows.get(index) {
            Some(PageRow::SectionValue(section, _) | PageRow::LineValue(section, ..)) => {
                reading.sections.get(*section)
            }
            _ => None,
        };
        let setting = section.map_or(&reading.head.setting, |section| &section.setting);
        let value = match field {
            Field::Key => setting.key.to_string(),
            Field::Meter => setting.meter.to_string(),
            Field::Tempo => short_number(setting.tempo.per_minute),
            Field::Bars => setting.bars.to_string(),
            Field::Capo => setting.capo.to_string(),
            Field::SteadyNote => format!(
                "{} s, not timed",
                short_number(reading.head.voice.steady_note)
            ),
            Field::Octave => reading.head.octave.to_string(),
            Field::Style => reading.head.style.word().to_owned(),
            _ => return String::new(),
        };
        if section.is_some() {
            format!("({value}, as the song)")
        } else {
            format!("({value})")
        }
    }
}

/// A key of the song file in words.
fn field_name(field: Field) -> String {
    field
        .name()
        .rsplit('.')
        .next()
        .unwrap_or("")
        .replace('_', " ")
}
