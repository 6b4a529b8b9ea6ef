//! What stands beside a lyric: its syllables at the left; seconds, air, verdict and rhyme at the right.

use super::Drawing;
use crate::reading::LineReading;
use crate::singing::air::Verdict;
use crate::tui::cells::{put, width};
use crate::tui::look::Role;
use crate::tui::views::figures::seconds;
use ratatui::buffer::Buffer;

/// From this width on, the right margin has a bar of five cells.
const WITH_BAR: u16 = 72;

impl Drawing<'_> {
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

    /// Seconds, air left and the verdict where it is not easy, each with its first cell; and the cell before which the row has to
    /// end. The chord row ends where its lyric does, so that both are shifted alike.
    fn right_margin(&self, read: &LineReading) -> (Vec<(u16, String, Role)>, u16) {
        let (Some(start), Some(end), Some(air)) = (read.start_s, read.end_s, read.air_left) else {
            return (Vec::new(), self.right);
        };
        let judged = read.verdict.filter(|verdict| *verdict != Verdict::Easy);
        let (role, word) = match judged {
            Some(found @ Verdict::Tight) => (Role::Care, found.words()),
            Some(found) => (Role::Alarm, found.words()),
            None => (Role::Quiet, ""),
        };
        let before = |x: u16, text: &str| x.saturating_sub(width(text)).max(self.area.x);
        let time = seconds(end - start);
        let mut shown = Vec::new();
        let left = match (self.area.width >= WITH_BAR, word.is_empty()) {
            (true, true) => {
                let bar = self.right.saturating_sub(10);
                shown.push((bar, self.look.bar(air, 5), Role::Quiet));
                let x = before(bar.saturating_sub(2), &time);
                shown.push((x, time, Role::Quiet));
                x
            }
            (true, false) => {
                let x = self.right.saturating_sub(10.max(width(word)));
                if width(word) <= 8 {
                    shown.push((x, self.look.bar(air, 1), role));
                    shown.push((x + 2, word.to_owned(), role));
                } else {
                    shown.push((x, word.to_owned(), role));
                }
                if width(word) <= 10 {
                    let time_x = before(x.saturating_sub(2), &time);
                    shown.push((time_x, time, Role::Plain));
                    time_x
                } else {
                    x
                }
            }
            (false, true) => {
                let height = self.look.height(air);
                let x = before(self.right, height);
                shown.push((x, height.to_owned(), Role::Quiet));
                let x = before(x.saturating_sub(1), &time);
                shown.push((x, time, Role::Quiet));
                x
            }
            (false, false) => {
                let x = before(self.right, word);
                shown.push((x, word.to_owned(), role));
                x
            }
        };
        (shown, left.saturating_sub(2))
    }

    /// The cell before which the rows of this line have to end.
    pub(super) fn row_end(&self, read: Option<&LineReading>) -> u16 {
        read.map_or(self.right, |read| self.right_margin(read).1)
    }

    /// Draws what stands beside a lyric.
    pub(super) fn margins(&self, buf: &mut Buffer, read: &LineReading, y: u16) {
        self.left_margin(buf, read, y);
        self.rhyme(buf, read, y);
        for (x, text, role) in self.right_margin(read).0 {
            put(buf, x, y, self.right, &text, self.style(role));
        }
    }
}
