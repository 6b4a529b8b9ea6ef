//! What stands beside a lyric: its syllables at the left; seconds, air, verdict and rhyme at the right.

use super::Drawing;
use crate::reading::LineReading;
use crate::singing::air::Verdict;
use crate::tui::cells::{put, put_right, width};
use crate::tui::look::Role;
use crate::tui::views::figures::seconds;
use ratatui::buffer::Buffer;

/// From this width on, the right margin has a bar of five cells.
const WITH_BAR: u16 = 72;

impl Drawing<'_> {
    /// Syllables, and how many are asked for where that is another number.
    pub(super) fn left_margin(&self, buf: &mut Buffer, read: &LineReading, y: u16) {
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
    pub(super) fn rhyme(&self, buf: &mut Buffer, read: &LineReading, y: u16) {
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
    pub(super) fn right_margin(&self, buf: &mut Buffer, read: &LineReading, y: u16) -> u16 {
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
}
