//! The heading of a section: its label, what happens in it, and at the right what follows for it.

use super::Drawing;
use crate::reading::SectionReading;
use crate::song::Section;
use crate::song::column::Column;
use crate::song::field::Field;
use crate::song::place::Row;
use crate::tui::cells::{put, put_right, width};
use crate::tui::look::Role;
use crate::tui::rows::{PageRow, place_of};
use crate::tui::sheet::{AGAIN, HEADING, label_cells, stand_in};
use crate::tui::views::figures::clock;
use crate::tui::views::line::{Window, draw_text};
use crate::wording::figure::short_number;
use ratatui::buffer::Buffer;

/// A heading shows the rhyme scheme of up to so many lines; the letters stand at the lines as well.
const LONGEST_SCHEME: usize = 12;

impl Drawing<'_> {
    pub(super) fn heading(
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
                    format!("tempo {}", short_number(read.setting.tempo.per_minute)),
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
}
