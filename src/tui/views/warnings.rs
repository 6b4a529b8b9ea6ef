//! A warning with its ways out.

use super::figures::{air, clock};
use super::list::{frame, item, note};
use crate::tui::app::{App, Areas};
use crate::tui::cells::{put, put_cut, wrapped};
use crate::tui::lists::Warnings;
use crate::tui::look::Role;
use crate::warnings::{Severity, WayOut};
use ratatui::buffer::Buffer;

/// Draws the warning that is open, and the ways out of it.
pub fn draw(app: &App, list: &Warnings, areas: Areas, buf: &mut Buffer) {
    let look = app.look;
    let Some(page) = &app.page else { return };
    let warnings = page.desk.warnings();
    let Some(warning) = warnings.get(list.at) else {
        return;
    };
    let what = if warning.severity() == Severity::Warning {
        "Warning"
    } else {
        "Remark"
    };
    let place = warning.place_in_words(page.desk.reading());
    let between = if place.is_empty() { "" } else { look.between() };
    let title = format!(
        "{what} {} of {}{between}{place}",
        list.at + 1,
        warnings.len()
    );
    let area = frame(app, areas, &title, buf);
    let mut y = area.y;
    for row in wrapped(&warning.message, area.width).into_iter().take(3) {
        let role = if warning.severity() == Severity::Warning {
            Role::Plain
        } else {
            Role::Quiet
        };
        put(buf, area.x, y, area.right(), &row, look.style(role));
        y += 1;
    }
    y += u16::from(areas.beside);
    let Some(ways) = &list.ways else {
        note(
            app,
            area,
            y,
            if app.waiting {
                "trying ways out ..."
            } else {
                "stopped"
            },
            buf,
        );
        return;
    };
    if ways.is_empty() {
        note(
            app,
            area,
            y,
            "No way out was found that helps without other words.",
            buf,
        );
        return;
    }
    if y < area.bottom() {
        item(app, area, y, list.chosen.is_none(), "as it is", "", buf);
        y += 1;
    }
    for (index, way) in ways.iter().enumerate() {
        if y >= area.bottom() {
            break;
        }
        let chosen = list.chosen == Some(index);
        if areas.beside || chosen {
            y = tall(app, way, chosen, area, y, buf);
        } else {
            item(app, area, y, chosen, &way.text, &follows(app, way), buf);
            y += 1;
        }
    }
    if let Some(way) = list.chosen.and_then(|index| ways.get(index))
        && let Some(remains) = way.after.remains.first()
        && y < area.bottom()
    {
        put_cut(
            buf,
            area.x + 2,
            y,
            area.right(),
            &format!("then remains: {remains}"),
            look.more(),
            look.style(Role::Care),
        );
    }
}

/// A way over as many rows as it needs, where there is room.
fn tall(
    app: &App,
    way: &WayOut,
    chosen: bool,
    area: ratatui::layout::Rect,
    y: u16,
    buf: &mut Buffer,
) -> u16 {
    let look = app.look;
    let role = if chosen { Role::Strong } else { Role::Plain };
    let mut y = y;
    for (index, row) in wrapped(&way.text, area.width.saturating_sub(2))
        .into_iter()
        .enumerate()
    {
        if y >= area.bottom() {
            return y;
        }
        if index == 0 && chosen {
            put(
                buf,
                area.x,
                y,
                area.right(),
                look.chosen(),
                look.style(Role::Strong),
            );
        }
        put(buf, area.x + 2, y, area.right(), &row, look.style(role));
        y += 1;
    }
    if y < area.bottom() {
        put_cut(
            buf,
            area.x + 2,
            y,
            area.right(),
            &follows(app, way),
            look.more(),
            look.style(Role::Quiet),
        );
        y += 1;
    }
    y
}

/// What follows from a way: the verdict, the air left, the song's length.
fn follows(app: &App, way: &WayOut) -> String {
    let mut parts = Vec::new();
    if let Some(found) = way.after.verdict {
        parts.push(found.words().to_owned());
    }
    if let Some(left) = way.after.air_left {
        parts.push(format!("air {}", air(left)));
    }
    parts.push(clock(way.after.seconds));
    parts.join(app.look.between())
}
