//! Other chords for every repeat of a tune, a row a repeat.

use super::list::{first_shown, frame, item, note};
use super::variants::{lines_side_by_side, one_row};
use crate::tui::app::{App, Areas};
use crate::tui::cells::{put, wrapped};
use crate::tui::look::Role;
use crate::tui::plan::Plan;
use ratatui::buffer::Buffer;

/// Rows for the chosen repeat's chords, line by line.
const SIDE_ROWS: usize = 12;

/// Draws the list; the page shows what is chosen.
pub fn draw(app: &App, list: &Plan, areas: Areas, buf: &mut Buffer) {
    let Some(page) = &app.page else { return };
    let sections = &page.desk.reading().sections;
    let label = |index: usize| {
        sections
            .get(index)
            .map_or("", |section| section.label.as_str())
    };
    let title = format!("Other chords for every repeat, as {}", label(list.section));
    let area = frame(app, areas, &title, buf);
    let Some(offers) = &list.offers else {
        let text = if app.waiting {
            "searching ..."
        } else {
            "stopped"
        };
        note(app, area, area.y, text, buf);
        return;
    };
    if !list.changes() {
        let text = match offers.len() {
            0 | 1 => {
                "Nothing to plan: only one section with chords of its own is sung to this tune; one sung again has the same chords."
            }
            _ => {
                "Nothing to plan: the repeats have chords of their own, or none can change and still fit the melody."
            }
        };
        note(app, area, area.y, text, buf);
        return;
    }
    let at = list.chosen.map_or(0, |index| index + 1);
    let first_told = list
        .chosen
        .and_then(|index| offers.get(index.checked_sub(1)?));
    let why_rows = if areas.beside { 6 } else { 2 };
    let rows = usize::from(area.height.saturating_sub(why_rows)).max(1);
    let name_width = offers
        .iter()
        .map(|(index, _)| label(*index).chars().count());
    let name_width = name_width.max().unwrap_or(0).min(12);
    let mut texts = vec![
        ("as written".to_owned(), String::new()),
        ("all repeats".to_owned(), String::new()),
    ];
    texts.extend(offers.iter().map(|(index, offer)| {
        let name: String = label(*index).chars().take(name_width).collect();
        let changes = match offer.changes.len() {
            0 => "as written".to_owned(),
            count => format!("{}{}{count}", offer.effect, app.look.between()),
        };
        let row = one_row(app.look, &offer.chords);
        (format!("{name:name_width$}  {row}"), changes)
    }));
    let rows = match (areas.beside, first_told) {
        (true, Some(_)) => rows.saturating_sub(SIDE_ROWS).max(4),
        _ => rows,
    };
    let first = first_shown(at, rows);
    let shown = texts.iter().enumerate().skip(first).take(rows);
    let mut y = area.y;
    for (index, (text, remark)) in shown {
        item(app, area, y, at == index, text, remark, buf);
        y += 1;
    }
    if areas.beside
        && let Some((_, offer)) = first_told
    {
        y = lines_side_by_side(app, offer, area, y + 1, why_rows, buf);
    }
    let told = match (first_told, list.chosen) {
        (Some((_, offer)), _) => offer.summary.clone(),
        (None, Some(_)) => {
            "The first repeat stays as written, since the tune has to be learned, and of three or more the last, since home has to be known again; neighbours differ, most where the story turns.".to_owned()
        }
        (None, None) => "Down tries them on the page.".to_owned(),
    };
    for row in wrapped(&told, area.width) {
        if y < area.bottom() {
            put(
                buf,
                area.x,
                y,
                area.right(),
                &row,
                app.look.style(Role::Quiet),
            );
            y += 1;
        }
    }
}
