//! What lists have in common: their frame, rows of which one is chosen; and the two plain ones.

use crate::tui::app::{App, Areas};
use crate::tui::cells::{put, put_cut, put_right, set, width, wrapped};
use crate::tui::lists::{Aside, aside};
use crate::tui::look::Role;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// Draws the edge or the rule of a list with its title, and gives the area inside.
pub fn frame(app: &App, areas: Areas, title: &str, buf: &mut Buffer) -> Rect {
    let look = app.look;
    let quiet = look.style(Role::Quiet);
    let area = areas.list;
    if area.width < 4 || area.height < 2 {
        return Rect::ZERO;
    }
    for y in area.top()..area.bottom() {
        for x in area.left()..area.right() {
            set(buf, x, y, " ", 1, look.style(Role::Plain));
        }
    }
    if areas.beside {
        for y in area.top()..area.bottom() {
            set(buf, area.x, y, look.edge(), 1, quiet);
        }
        put_cut(
            buf,
            area.x + 2,
            area.y,
            area.right(),
            title,
            look.more(),
            look.style(Role::Strong),
        );
        Rect::new(
            area.x + 2,
            area.y + 2,
            area.width.saturating_sub(3),
            area.height.saturating_sub(2),
        )
    } else {
        for x in area.left()..area.right() {
            set(buf, x, area.y, look.rule(), 1, quiet);
        }
        put_cut(
            buf,
            area.x + 1,
            area.y,
            area.right().saturating_sub(1),
            &format!(" {title} "),
            look.more(),
            look.style(Role::Strong),
        );
        Rect::new(
            area.x + 1,
            area.y + 1,
            area.width.saturating_sub(2),
            area.height.saturating_sub(1),
        )
    }
}

/// The first item to show so that the chosen one is in sight.
#[must_use]
pub fn first_shown(chosen: usize, rows: usize) -> usize {
    (chosen + 1).saturating_sub(rows.max(1))
}

/// One row of a list: a sign where it is chosen, a text, and a remark at its right end.
pub fn item(
    app: &App,
    area: Rect,
    y: u16,
    chosen: bool,
    text: &str,
    remark: &str,
    buf: &mut Buffer,
) {
    let look = app.look;
    let role = if chosen { Role::Strong } else { Role::Plain };
    if chosen {
        put(
            buf,
            area.x,
            y,
            area.right(),
            look.chosen(),
            look.style(Role::Strong),
        );
    }
    let mut limit = area.right();
    if !remark.is_empty() && width(remark) + 12 < area.width {
        limit = put_right(buf, area.x, limit, y, remark, look.style(Role::Quiet)).saturating_sub(2);
    }
    put_cut(
        buf,
        area.x + 2,
        y,
        limit,
        text,
        look.more(),
        look.style(role),
    );
}

/// Rows that say that something is computed, or that nothing was found.
pub fn note(app: &App, area: Rect, y: u16, text: &str, buf: &mut Buffer) {
    let rows = wrapped(text, area.width.saturating_sub(2));
    for (row, y) in rows.iter().zip(y..area.bottom()) {
        put(
            buf,
            area.x + 2,
            y,
            area.right(),
            row,
            app.look.style(Role::Quiet),
        );
    }
}

/// Draws the list of what is set aside.
pub fn draw_aside(app: &App, list: &Aside, areas: Areas, buf: &mut Buffer) {
    let area = frame(app, areas, "Set aside: Enter brings it back", buf);
    let Some(page) = &app.page else { return };
    let found = aside(page.desk.song());
    let first = first_shown(list.chosen, usize::from(area.height));
    for ((index, (_, text, from)), y) in found
        .iter()
        .enumerate()
        .skip(first)
        .zip(area.top()..area.bottom())
    {
        item(app, area, y, index == list.chosen, text, from, buf);
    }
}
