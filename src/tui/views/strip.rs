//! The picture of the current line at the foot: chords, beats, syllables, notes, stress, air, over one another in time.

mod about;

use self::about::about;
use super::figures::{air, seconds};
use crate::music::quarters::Quarters;
use crate::reading::{LineReading, Reading, SyllableTime};
use crate::singing::stresses::Conflict;
use crate::tui::app::App;
use crate::tui::cells::{put, put_right, set, width};
use crate::tui::look::{Look, Role};
use crate::tui::page::Page;
use crate::tui::rows::{PageRow, line_of};
use crate::wording::figure::short_number;
use crate::words::stress::Class;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// Draws the rule and, under it, the line that the cursor is in.
pub fn draw(app: &App, page: &Page, area: Rect, buf: &mut Buffer) {
    if area.height == 0 {
        return;
    }
    let look = app.look;
    for x in area.left()..area.right() {
        set(buf, x, area.y, look.rule(), 1, look.style(Role::Quiet));
    }
    let row = page.rows.get(page.cursor.row).copied();
    let Some((section, line)) = row.and_then(line_of) else {
        about(look, page, row, area, buf);
        return;
    };
    if matches!(row, Some(PageRow::LineValue(..))) {
        about(look, page, row, area, buf);
        return;
    }
    let Some(read) = page.line_reading(section, line) else {
        return;
    };
    let Some(label) = page
        .reading()
        .sections
        .get(section)
        .map(|section| section.label.clone())
    else {
        return;
    };
    title(
        look,
        page.reading(),
        read,
        &format!(" {label}, line {} ", line + 1),
        area,
        buf,
    );
    if read.laid.syllables.is_empty() {
        put(
            buf,
            area.x + 1,
            area.y + 1,
            area.right(),
            "no words to sing yet",
            look.style(Role::Quiet),
        );
        return;
    }
    picture(page, read, look, area, buf);
}

/// The line's picture; where its syllables need more room than there is, the part of it around the cursor.
fn picture(page: &Page, read: &LineReading, look: Look, area: Rect, buf: &mut Buffer) {
    let drawn = |fourths: u16| {
        let width = u32::from(area.width) * u32::from(fourths) / 4;
        let width = u16::try_from(width).unwrap_or(u16::MAX);
        Strip::new(look, page.reading(), read, Rect { width, ..area })
    };
    let strip = (4..=16)
        .map(drawn)
        .find(Strip::holds_its_words)
        .unwrap_or_else(|| drawn(16));
    if strip.area == area {
        strip.draw(buf);
        return;
    }
    let column = page.cursor.place.column;
    let at = read
        .laid
        .syllables
        .iter()
        .rfind(|syllable| syllable.column <= column);
    let cell = at.map_or(area.x, |syllable| strip.cell(syllable.start)) - area.x;
    let most = strip.area.width - area.width;
    let shift = cell.saturating_sub(area.width / 2).min(most);
    let mut whole = Buffer::empty(strip.area);
    strip.draw(&mut whole);
    for y in area.top() + 1..area.bottom() {
        for x in area.left()..area.right() {
            if let (Some(to), Some(from)) = (buf.cell_mut((x, y)), whole.cell((x + shift, y))) {
                to.clone_from(from);
            }
        }
    }
}

/// Whose line it is, and the figures behind its seconds and its air.
fn title(
    look: Look,
    reading: &Reading,
    read: &LineReading,
    label: &str,
    area: Rect,
    buf: &mut Buffer,
) {
    let quiet = look.style(Role::Quiet);
    let end = put(buf, area.x + 1, area.y, area.right(), label, quiet);
    let Some(section) = reading.sections.get(read.section) else {
        return;
    };
    let beat = section.setting.tempo.beat;
    let (Some(start), Some(stop), Some(left)) = (read.start_s, read.end_s, read.air_left) else {
        return;
    };
    let sung = read
        .laid
        .syllables
        .last()
        .map_or(Quarters::ZERO, |last| last.start + last.length)
        - read
            .laid
            .syllables
            .first()
            .map_or(Quarters::ZERO, |first| first.start);
    let text = format!(
        " {} beats at {} = {}{}air {} left ",
        short_number((sung / beat).to_f64()),
        short_number(section.setting.tempo.per_minute),
        seconds(stop - start),
        look.between(),
        air(left)
    );
    put_right(
        buf,
        end,
        area.right().saturating_sub(1),
        area.y,
        &text,
        quiet,
    );
}

/// A line in time over the width of the screen.
struct Strip<'a> {
    look: Look,
    read: &'a LineReading,
    times: &'a [SyllableTime],
    beat: Quarters,
    area: Rect,
    first: Quarters,
    span: Quarters,
}

impl<'a> Strip<'a> {
    fn new(look: Look, reading: &'a Reading, read: &'a LineReading, area: Rect) -> Self {
        let beat = reading
            .sections
            .get(read.section)
            .map_or(Quarters::ONE, |section| section.setting.tempo.beat);
        let sung = read
            .laid
            .syllables
            .first()
            .map_or(Quarters::ZERO, |first| first.start);
        let first = sung.min(read.laid.downbeat).min(Quarters::ZERO);
        let span = read.laid.length - first;
        Self {
            look,
            read,
            times: reading.times_of(read),
            beat,
            area,
            first,
            span,
        }
    }

    /// The cell at which a moment stands.
    fn cell(&self, moment: Quarters) -> u16 {
        let room = self.area.width.saturating_sub(3);
        if !self.span.is_positive() {
            return self.area.x + 1;
        }
        let place = (moment - self.first) * i64::from(room) / self.span;
        self.area.x + 1 + u16::try_from(place.floor().clamp(0, i64::from(room))).unwrap_or(0)
    }

    fn holds_its_words(&self) -> bool {
        let placed = self.placed();
        placed
            .last()
            .is_none_or(|(x, text)| x.saturating_add(width(text)) <= self.area.right())
    }

    fn draw(&self, buf: &mut Buffer) {
        let rows = self.area.height.saturating_sub(1);
        let y = self.area.y + 1;
        let has_notes = self
            .read
            .laid
            .syllables
            .iter()
            .any(|syllable| !syllable.notes.is_empty());
        self.chords(buf, y);
        self.beats(buf, y + 1);
        self.syllables(buf, y + 2);
        let air_rows = if rows >= 7 { 2 } else { 1 };
        let mut next = y + 3;
        let last = y + rows;
        // Where stress and beat disagree, that is shown rather than the notes.
        let at_odds = !self.read.laid.conflicts.is_empty();
        if has_notes && !at_odds && next + air_rows < last + 1 && rows >= 5 {
            self.notes(buf, next);
            next += 1;
        }
        if (!has_notes || at_odds || rows >= 7) && next + air_rows <= last {
            self.stresses(buf, next);
            next += 1;
        }
        self.air(buf, next, air_rows.min(last.saturating_sub(next)));
    }

    fn chords(&self, buf: &mut Buffer, y: u16) {
        let role = if self.read.borrows.is_some() {
            Role::Quiet
        } else {
            Role::Chord
        };
        let mut free = self.area.x;
        for chord in self.read.chords.iter() {
            let x = self.cell(chord.start).max(free);
            free = put(
                buf,
                x,
                y,
                self.area.right(),
                &chord.text,
                self.look.style(role),
            ) + 1;
        }
    }

    fn beats(&self, buf: &mut Buffer, y: u16) {
        let bar = self.read.laid.meter.bar();
        let beats = (bar / self.beat).floor().clamp(1, 64);
        let mut free = self.area.x;
        let mut number = ((self.first - self.read.laid.downbeat) / self.beat).floor();
        let end = self.read.laid.length;
        loop {
            let moment = self.read.laid.downbeat + self.beat * number;
            if moment >= end || number > 4096 {
                break;
            }
            if moment >= self.first {
                let in_bar = number.rem_euclid(beats) + 1;
                let x = self.cell(moment);
                if in_bar == 1 && x > self.area.x && x > free {
                    set(
                        buf,
                        x - 1,
                        y,
                        self.look.edge(),
                        1,
                        self.look.style(Role::Quiet),
                    );
                }
                if x >= free {
                    let role = if in_bar == 1 {
                        Role::Plain
                    } else {
                        Role::Quiet
                    };
                    free = put(
                        buf,
                        x,
                        y,
                        self.area.right(),
                        &in_bar.to_string(),
                        self.look.style(role),
                    ) + 1;
                }
            }
            number += 1;
        }
    }

    /// Where each syllable's text stands: at its moment, or behind the one before it.
    fn placed(&self) -> Vec<(u16, String)> {
        let syllables = &self.read.laid.syllables;
        let mut free = self.area.x;
        let mut placed = Vec::with_capacity(syllables.len());
        for (index, syllable) in syllables.iter().enumerate() {
            let goes_on = syllables
                .get(index + 1)
                .is_some_and(|next| next.word == syllable.word);
            let estimated = self
                .read
                .laid
                .words
                .get(syllable.word)
                .is_some_and(|word| word.estimated);
            let text = match (goes_on, estimated) {
                (true, _) => format!("{}-", syllable.text),
                (false, true) => format!("{}~", syllable.text), // its sounds are a guess
                (false, false) => syllable.text.clone(),
            };
            let x = self.cell(syllable.start).max(free);
            free = x
                .saturating_add(width(&text))
                .saturating_add(u16::from(!goes_on));
            placed.push((x, text));
        }
        placed
    }

    fn syllables(&self, buf: &mut Buffer, y: u16) {
        for ((x, text), syllable) in self.placed().into_iter().zip(&self.read.laid.syllables) {
            let role = if is_stressed(syllable.class) {
                Role::Strong
            } else {
                Role::Plain
            };
            put(buf, x, y, self.area.right(), &text, self.look.style(role));
        }
    }

    /// Scansion as verse is marked: a stroke for a stress, a cross for a light syllable.
    fn stresses(&self, buf: &mut Buffer, y: u16) {
        let laid = &self.read.laid;
        for (index, ((x, _), syllable)) in
            self.placed().into_iter().zip(&laid.syllables).enumerate()
        {
            let against =
                |conflict: &Conflict| conflict.weak == index || conflict.stressed == index;
            let (sign, role) = match (
                is_stressed(syllable.class),
                laid.conflicts.iter().any(against),
            ) {
                (true, false) => ("/", Role::Quiet),
                (false, false) => ("x", Role::Quiet),
                (true, true) => ("/!", Role::Care),
                (false, true) => ("x!", Role::Care),
            };
            put(buf, x, y, self.area.right(), sign, self.look.style(role));
        }
    }

    fn notes(&self, buf: &mut Buffer, y: u16) {
        let mut free = self.area.x;
        for syllable in &self.read.laid.syllables {
            let mut moment = syllable.start;
            for (pitch, length) in &syllable.notes {
                let x = self.cell(moment);
                if x >= free {
                    free = put(
                        buf,
                        x,
                        y,
                        self.area.right(),
                        &pitch.to_string(),
                        self.look.style(Role::Quiet),
                    ) + 1;
                }
                moment += *length;
            }
        }
    }

    fn air(&self, buf: &mut Buffer, y: u16, rows: u16) {
        if rows == 0 {
            return;
        }
        let syllables = &self.read.laid.syllables;
        let mut before: Option<f64> = None;
        for (syllable, time) in syllables.iter().zip(self.times) {
            let (from, to) = (
                self.cell(syllable.start),
                self.cell(syllable.start + syllable.length),
            );
            let high = before
                .filter(|before| *before >= time.air)
                .unwrap_or(time.air);
            before = Some(time.air);
            for x in from..to.max(from + 1) {
                let part = f64::from(x - from) / f64::from((to - from).max(1));
                let level = high + (time.air - high) * part;
                let role = if level <= crate::singing::voice::FLOOR {
                    Role::Alarm
                } else {
                    Role::Air
                };
                self.column(buf, x, y, rows, level, role);
            }
        }
    }

    /// One cell's level over one or two rows.
    fn column(&self, buf: &mut Buffer, x: u16, y: u16, rows: u16, level: f64, role: Role) {
        let style = self.look.style(role);
        if level <= 0.0 {
            set(buf, x, y + rows - 1, self.look.sign("▁", "!"), 1, style);
            return;
        }
        if rows == 1 || !self.look.signs {
            set(buf, x, y + rows - 1, self.look.height(level), 1, style);
            return;
        }
        set(
            buf,
            x,
            y + 1,
            self.look.height((level * 2.0).min(1.0)),
            1,
            style,
        );
        if level > 0.5 {
            set(buf, x, y, self.look.height((level - 0.5) * 2.0), 1, style);
        }
    }
}

const fn is_stressed(class: Class) -> bool {
    matches!(class, Class::Primary | Class::Content | Class::Secondary)
}
