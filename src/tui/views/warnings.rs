//! A warning with its ways out.

use super::figures::{air, clock};
use super::list::{frame, item, note};
use crate::tui::app::{App, Areas};
use crate::tui::cells::{put, put_cut, wrapped};
use crate::tui::lists::Warnings;
use crate::tui::look::Role;
use crate::warnings::{Severity, Warning, WayOut};
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
    // Counted among its like, as the status line counts warnings.
    let like = |other: &&Warning| other.severity() == warning.severity();
    let number = warnings.iter().take(list.at + 1).filter(like).count();
    let count = warnings.iter().filter(like).count();
    let place = warning.place_in_words(page.desk.reading());
    let between = if place.is_empty() { "" } else { look.between() };
    let title = format!("{what} {number} of {count}{between}{place}");
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
            "Nothing that was tried here helps: other words, or other notes, are yours to write.",
            buf,
        );
        return;
    }
    let is_tall = |index: usize| areas.beside || list.chosen == Some(index);
    let first = first_in_sight(list, ways, area.bottom().saturating_sub(y), |index, way| {
        if is_tall(index) {
            tall_rows(way, area) + 1
        } else {
            1
        }
    });
    if first == 0 && y < area.bottom() {
        item(app, area, y, list.chosen.is_none(), "as it is", "", buf);
        y += 1;
    }
    for (index, way) in ways.iter().enumerate().skip(first.saturating_sub(1)) {
        if y >= area.bottom() {
            break;
        }
        let chosen = list.chosen == Some(index);
        if is_tall(index) {
            y = tall(app, way, chosen, area, y, buf);
        } else {
            item(app, area, y, chosen, &way.text, &follows(app, way), buf);
            y += 1;
        }
    }
    if let Some(remains) = remains(list, ways)
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

/// The first item to show, the song as it is being 0, so that the chosen way is in sight with all its rows.
fn first_in_sight(
    list: &Warnings,
    ways: &[WayOut],
    rows: u16,
    rows_of: impl Fn(usize, &WayOut) -> u16,
) -> usize {
    let Some(chosen) = list.chosen else { return 0 };
    let mut first = chosen + 1;
    let mut needed = u16::from(remains(list, ways).is_some());
    for (index, way) in ways.iter().enumerate().take(chosen + 1).rev() {
        needed += rows_of(index, way);
        if needed > rows {
            return first;
        }
        first = index + 1;
    }
    if needed < rows { 0 } else { first }
}

/// The first of what the chosen way leaves unsolved.
fn remains<'a>(list: &Warnings, ways: &'a [WayOut]) -> Option<&'a String> {
    ways.get(list.chosen?)?.after.remains.first()
}

fn tall_rows(way: &WayOut, area: ratatui::layout::Rect) -> u16 {
    let rows = wrapped(&way.text, area.width.saturating_sub(2)).len();
    u16::try_from(rows).unwrap_or(u16::MAX)
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
