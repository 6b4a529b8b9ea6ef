//! The two rows of a line: chords over words.

use crate::music::chord_row::Token;
use crate::song::chord_row::ChordRow;
use crate::song::column::Column;
use crate::tui::cells::{set, shown, width};
use crate::tui::look::{Look, Role};
use crate::tui::spread::{Spread, What};
use ratatui::buffer::Buffer;
use ratatui::style::{Modifier, Style};
use unicode_segmentation::UnicodeSegmentation as _;

/// The part of the screen that a row is drawn into: cells `from..to` of row `y`, showing the row from its cell `shift` on.
#[derive(Clone, Copy, Debug)]
pub struct Window {
    /// First cell.
    pub from: u16,
    /// The cell behind the last.
    pub to: u16,
    /// The row of the screen.
    pub y: u16,
    /// How many cells of the row are passed over.
    pub shift: u16,
}

impl Window {
    /// Draws one sign at a cell of the row; what does not fit whole is left out.
    fn sign(&self, buf: &mut Buffer, cell: u16, symbol: &str, cells: u16, style: Style) {
        if let Some(within) = cell.checked_sub(self.shift)
            && self.from.saturating_add(within).saturating_add(cells) <= self.to
        {
            set(buf, self.from + within, self.y, symbol, cells, style);
        }
    }

    /// Says where the row goes on outside the window.
    pub fn mark_cut(&self, buf: &mut Buffer, end: u16, look: Look) {
        let style = look.style(Role::Quiet);
        if self.shift > 0 {
            set(buf, self.from, self.y, look.more(), 1, style);
        }
        if end.saturating_sub(self.shift) > self.to.saturating_sub(self.from) && self.to > self.from
        {
            set(buf, self.to - 1, self.y, look.more(), 1, style);
        }
    }
}

/// How a lyric is shown.
#[derive(Clone, Copy, Debug, Default)]
pub struct Words {
    /// The column from which the air is gone.
    pub falls_at: Option<Column>,
    /// The columns that are selected.
    pub selected: Option<(Column, Column)>,
    /// Whether a preview changed it.
    pub changed: bool,
}

/// Draws a lyric, spread.
pub fn draw_lyric(
    buf: &mut Buffer,
    window: Window,
    look: Look,
    lyric: &str,
    spread: &Spread,
    words: Words,
) {
    let plain = if words.changed {
        look.style(Role::Changed)
    } else {
        look.style(Role::Plain)
    };
    let mut in_word = false;
    for (column, grapheme) in lyric.graphemes(true).enumerate() {
        let column = Column(column);
        let cell = spread.cell_of(column);
        let letter = grapheme.chars().any(char::is_alphanumeric);
        let gap = spread.gap_before(column);
        if gap > 0 && letter && in_word {
            for filled in 0..gap {
                window.sign(buf, cell - gap + filled, "-", 1, look.style(Role::Quiet));
            }
        }
        let mut style = plain;
        if words.falls_at.is_some_and(|falls| falls <= column) {
            style = look.style(Role::Alarm).add_modifier(Modifier::UNDERLINED);
        }
        if words
            .selected
            .is_some_and(|(from, to)| from <= column && column < to)
        {
            style = style.add_modifier(Modifier::REVERSED);
        }
        let (symbol, cells) = shown(grapheme);
        window.sign(buf, cell, &symbol, cells, style);
        in_word = letter;
    }
}

/// How a chord row is shown.
#[derive(Clone, Copy, Debug)]
pub struct Chords<'a> {
    /// Whether the line borrows them.
    pub borrowed: bool,
    /// The row as it is, where the one shown is a preview.
    pub before: Option<&'a ChordRow>,
    /// The cells that are selected.
    pub selected: Option<(Column, Column)>,
}

/// Draws a chord row with its breath marks.
pub fn draw_chords(
    buf: &mut Buffer,
    window: Window,
    look: Look,
    row: &ChordRow,
    spread: &Spread,
    chords: Chords<'_>,
) {
    for over in &spread.over {
        let (text, mut style) = match over.what {
            What::Mark(_) => (",", look.style(Role::Breath).add_modifier(Modifier::BOLD)),
            What::Chord(index) => {
                let Some(token) = row.0.get(index) else {
                    continue;
                };
                let is_new = chords
                    .before
                    .is_some_and(|before| !before.0.contains(token));
                let role = match () {
                    () if is_new => Role::Changed,
                    () if chords.borrowed => Role::Quiet,
                    () => Role::Chord,
                };
                let mut style = look.style(role);
                if Token::parse(&token.text).is_err() {
                    style = look.style(Role::Care).add_modifier(Modifier::UNDERLINED);
                }
                (token.text.as_str(), style)
            }
        };
        let mut cell = over.cell;
        for grapheme in text.graphemes(true) {
            let (symbol, cells) = shown(grapheme);
            if chords
                .selected
                .is_some_and(|(from, to)| from.0 <= usize::from(cell) && usize::from(cell) < to.0)
            {
                style = style.add_modifier(Modifier::REVERSED);
            }
            window.sign(buf, cell, &symbol, cells, style);
            cell += cells;
        }
    }
}

/// Draws a row of plain text, part of which may be selected.
pub fn draw_text(
    buf: &mut Buffer,
    window: Window,
    text: &str,
    style: Style,
    selected: Option<(Column, Column)>,
) {
    let mut cell = 0;
    for (column, grapheme) in text.graphemes(true).enumerate() {
        let (symbol, cells) = shown(grapheme);
        let inside = selected.is_some_and(|(from, to)| from.0 <= column && column < to.0);
        let style = if inside {
            style.add_modifier(Modifier::REVERSED)
        } else {
            style
        };
        window.sign(buf, cell, &symbol, cells, style);
        cell += cells;
    }
}

/// How far a row is shifted so that its cell shows in so many cells: by steps, so that it does not move with each key.
#[must_use]
pub fn shift_for(cell: u16, room: u16) -> u16 {
    if room < 4 || cell + 2 <= room {
        return 0;
    }
    let step = (room / 2).max(1);
    (cell + 2 - room).div_ceil(step) * step
}

/// The width of a text, for callers that draw none.
#[must_use]
pub fn end_of(text: &str) -> u16 {
    width(text)
}
