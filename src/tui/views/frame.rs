//! The whole screen.

use super::{actions, contents, head, page, plan, rhymes, said, status, strip, variants, warnings};
use crate::tui::app::{App, SMALLEST};
use crate::tui::cells::put;
use crate::tui::lists::List;
use crate::tui::look::Role;
use ratatui::buffer::Buffer;

/// Draws everything and gives the cell in which the terminal's cursor belongs; `None` where there is none to show.
pub fn draw(app: &App, buf: &mut Buffer) -> Option<(u16, u16)> {
    if !app.fits() {
        too_small(app, buf);
        return None;
    }
    let areas = app.areas();
    let mut cursor = None;
    if let (Some(found), true) = (&app.contents, app.list.is_none()) {
        contents::draw(app, found, areas, buf);
    } else if let Some(song) = &app.page {
        head::draw(app, song, areas.head, buf);
        cursor = page::draw(app, song, areas.page, buf);
        strip::draw(app, song, areas.foot, buf);
    }
    match &app.list {
        Some(List::Actions(list)) => cursor = actions::draw(app, list, areas, buf),
        Some(List::Warnings(list)) => warnings::draw(app, list, areas, buf),
        Some(List::Variants(list)) => variants::draw(app, list, areas, buf),
        Some(List::Plan(list)) => plan::draw(app, list, areas, buf),
        Some(List::Rhymes(list)) => rhymes::draw(app, list, areas, buf),
        Some(List::Said(list)) => said::draw(app, list, areas, buf),
        Some(List::Aside(list)) => super::list::draw_aside(app, list, areas, buf),
        None => {}
    }
    status::draw(app, areas.status, buf).or(cursor)
}

fn too_small(app: &App, buf: &mut Buffer) {
    let (columns, rows) = SMALLEST;
    let texts = [
        format!("The page needs {columns} columns and {rows} rows."),
        format!("Here are {} and {}.", app.size.0, app.size.1),
        "Keys still count; Ctrl-S saves.".to_owned(),
    ];
    let mut y = 0;
    for text in texts {
        for row in crate::tui::cells::wrapped(&text, app.size.0) {
            put(buf, 0, y, app.size.0, &row, app.look.style(Role::Plain));
            y += 1;
        }
    }
}
