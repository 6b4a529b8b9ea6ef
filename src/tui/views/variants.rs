//! The variants of a section's chords beside the written ones, and why each chord changed.

use super::list::{first_shown, frame, item, note};
use crate::tui::app::{App, Areas};
use crate::tui::cells::{put, wrapped};
use crate::tui::lists::Variants;
use crate::tui::look::{Look, Role};
use crate::tui::worker::{Offer, OfferedSlot};
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// Draws the list; the page shows what is chosen.
pub fn draw(app: &App, list: &Variants, areas: Areas, buf: &mut Buffer) {
    let look = app.look;
    let Some(page) = &app.page else { return };
    let label = page
        .desk
        .reading()
        .sections
        .get(list.section)
        .map_or("", |section| section.label.as_str());
    let area = frame(
        app,
        areas,
        &format!("Variants of {label} over the same melody"),
        buf,
    );
    let Some(offers) = &list.offers else {
        note(
            app,
            area,
            area.y,
            if app.waiting {
                "searching ..."
            } else {
                "stopped"
            },
            buf,
        );
        return;
    };
    if offers.is_empty() {
        note(
            app,
            area,
            area.y,
            "No chord here can change and still fit the melody.",
            buf,
        );
        return;
    }
    let chosen = list.chosen.and_then(|index| offers.get(index));
    let why_rows = if areas.beside {
        (area.height / 2).max(8)
    } else {
        3.min(area.height.saturating_sub(3))
    };
    let rows = usize::from(area.height.saturating_sub(why_rows)).max(1);
    let at = list.chosen.map_or(0, |index| index + 1);
    let first = first_shown(at, rows);
    let mut y = area.y;
    for index in first..(first + rows).min(offers.len() + 1) {
        match index.checked_sub(1).and_then(|index| offers.get(index)) {
            None => item(app, area, y, at == 0, "as written", "", buf),
            Some(offer) => {
                let remark = format!("{}{}{}", offer.effect, look.between(), offer.changes.len());
                item(
                    app,
                    area,
                    y,
                    at == index,
                    &one_row(look, &offer.chords),
                    &remark,
                    buf,
                );
            }
        }
        y += 1;
    }
    let below = Rect::new(area.x, y, area.width, area.bottom().saturating_sub(y));
    if let Some(offer) = chosen {
        explained(app, list, offer, below, areas.beside, buf);
    } else {
        note(
            app,
            below,
            below.y + u16::from(areas.beside),
            "Down tries a variant on the page.",
            buf,
        );
    }
}

/// All chords of a variant, changed ones behind the sign for what a value becomes, lines parted by a bar.
pub fn one_row(look: Look, slots: &[OfferedSlot]) -> String {
    let mut text = String::new();
    let mut line = None;
    for slot in slots {
        if line.is_some_and(|line| line != slot.line) {
            text.push_str(" |");
        }
        if !text.is_empty() {
            text.push(' ');
        }
        line = Some(slot.line);
        text.push_str(&marked(look, slot));
    }
    text
}

fn marked(look: Look, slot: &OfferedSlot) -> String {
    if slot.changed {
        // A slot that is split holds two names.
        let names = slot.chord.split(' ');
        let names = names.map(|name| format!("{}{name}", look.becomes()));
        names.collect::<Vec<_>>().join(" ")
    } else {
        slot.chord.clone()
    }
}

/// The chosen variant line by line beside the written chords where there is room, and why one of its chords changed.
fn explained(
    app: &App,
    list: &Variants,
    offer: &Offer,
    area: Rect,
    beside: bool,
    buf: &mut Buffer,
) {
    let look = app.look;
    let mut y = area.y;
    if beside {
        y = lines_side_by_side(app, offer, area, y + 1, 1, buf);
    }
    if let Some(change) = offer.changes.get(list.change) {
        let number = if offer.changes.len() > 1 {
            format!("{} of {}  ", list.change + 1, offer.changes.len())
        } else {
            String::new()
        };
        let text = format!(
            "{number}{} {} {}: {}",
            change.from,
            look.becomes(),
            change.to,
            change.why
        );
        for row in wrapped(&text, area.width) {
            if y >= area.bottom() {
                break;
            }
            put(buf, area.x, y, area.right(), &row, look.style(Role::Plain));
            y += 1;
        }
    }
    for row in wrapped(&offer.summary, area.width) {
        if y >= area.bottom() {
            break;
        }
        put(buf, area.x, y, area.right(), &row, look.style(Role::Quiet));
        y += 1;
    }
}

/// Each line that changes, its written chords over those of the variant, as long as `left` rows stay free; gives the row behind.
pub fn lines_side_by_side(
    app: &App,
    offer: &Offer,
    area: Rect,
    mut y: u16,
    left: u16,
    buf: &mut Buffer,
) -> u16 {
    let last = offer.chords.iter().map(|slot| slot.line).max().unwrap_or(0);
    for line in 0..=last {
        let of_line = |slot: &&OfferedSlot| slot.line == line;
        let slots: Vec<&OfferedSlot> = offer.chords.iter().filter(of_line).collect();
        if slots.iter().all(|slot| !slot.changed) || y + 3 + left > area.bottom() {
            continue;
        }
        side_by_side(app, &slots, area, y, buf);
        y += 3;
    }
    y
}

/// A line's written chords over those of the variant, one under the other.
fn side_by_side(app: &App, slots: &[&OfferedSlot], area: Rect, y: u16, buf: &mut Buffer) {
    let look = app.look;
    let mut x = area.x;
    for slot in slots {
        let above = put(buf, x, y, area.right(), &slot.base, look.style(Role::Quiet));
        let role = if slot.changed {
            Role::Changed
        } else {
            Role::Chord
        };
        let below = put(
            buf,
            x,
            y + 1,
            area.right(),
            &marked(look, slot),
            look.style(role),
        );
        x = above.max(below) + 2;
    }
}
