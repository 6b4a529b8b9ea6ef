//! Help: every action with its key, searched by typing.

use super::list::{first_shown, frame};
use crate::tui::app::{App, Areas};
use crate::tui::cells::{put, put_cut, wrapped};
use crate::tui::commands::where_it_counts;
use crate::tui::lists::{Actions, found};
use crate::tui::look::Role;
use ratatui::buffer::Buffer;

/// Draws the list and gives the cell behind what is searched.
pub fn draw(app: &App, list: &Actions, areas: Areas, buf: &mut Buffer) -> Option<(u16, u16)> {
    let look = app.look;
    let area = frame(app, areas, "Actions: type to search, Enter does it", buf);
    let rows = found(list);
    let search_y = area.y;
    let x = put(
        buf,
        area.x,
        search_y,
        area.right(),
        "search: ",
        look.style(Role::Quiet),
    );
    let cursor = put(
        buf,
        x,
        search_y,
        area.right(),
        &list.search,
        look.style(Role::Plain),
    );
    // The chosen action's sentence stands whole at the foot.
    let sentence = rows
        .get(list.chosen)
        .map(|row| format!("{} ({}).", row.says, where_it_counts(row.places)));
    let sentence = wrapped(
        &sentence.unwrap_or_else(|| "Nothing is called so.".to_owned()),
        area.width,
    );
    let foot = u16::try_from(sentence.len()).unwrap_or(1).max(2);
    let top = search_y + 1;
    let bottom = area.bottom().saturating_sub(foot + 1);
    let first = first_shown(list.chosen, usize::from(bottom.saturating_sub(top)));
    for ((index, row), y) in rows.iter().enumerate().skip(first).zip(top..bottom) {
        let chosen = index == list.chosen;
        let here = row.places.contains(&list.focus);
        let role = match (chosen, here) {
            (true, _) => Role::Strong,
            (false, true) => Role::Plain,
            (false, false) => Role::Quiet,
        };
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
        put(
            buf,
            area.x + 2,
            y,
            area.x + 17,
            row.keys.first().copied().unwrap_or(""),
            look.style(role),
        );
        let end = put_cut(
            buf,
            area.x + 17,
            y,
            area.right(),
            row.name,
            look.more(),
            look.style(role),
        );
        if area.width > 70 {
            put_cut(
                buf,
                (area.x + 37).max(end + 2),
                y,
                area.right(),
                row.says,
                look.more(),
                look.style(Role::Quiet),
            );
        }
    }
    for (text, y) in sentence
        .iter()
        .zip(area.bottom().saturating_sub(foot)..area.bottom())
    {
        put(buf, area.x, y, area.right(), text, look.style(Role::Quiet));
    }
    Some((cursor, search_y))
}
