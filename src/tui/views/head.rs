//! The first row: title, key, meter, tempo, capo, length, and how the song stands with its file.

use super::figures::clock;
use crate::reading::head::Head;
use crate::song::field::Field;
use crate::tui::app::App;
use crate::tui::cells::{put, put_cut, put_right, width};
use crate::tui::commands::{Action, key_of};
use crate::tui::look::{Look, Role};
use crate::tui::page::{Draft, Page};
use crate::wording::figure::short_number;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;

/// Draws the head row.
pub fn draw(app: &App, page: &Page, area: Rect, buf: &mut Buffer) {
    let look = app.look;
    let reading = page.reading();
    let now = clock(reading.seconds);
    let before = clock(page.desk.reading().seconds);
    let right = area.right().saturating_sub(1);
    let length_role = if now == before {
        Role::Strong
    } else {
        Role::Changed
    };
    let mut x = put_right(buf, area.x, right, area.y, &now, look.style(length_role));
    if now != before {
        let from = format!("{before} {} ", look.becomes());
        x = put_right(buf, area.x, x, area.y, &from, look.style(Role::Quiet));
    }
    for value in values(&reading.head).into_iter().rev() {
        x = put_right(
            buf,
            area.x,
            x.saturating_sub(3),
            area.y,
            &value,
            look.style(Role::Plain),
        );
    }
    for flag in flags(page).into_iter().rev() {
        x = put_right(
            buf,
            area.x,
            x.saturating_sub(3),
            area.y,
            flag,
            look.style(Role::Care),
        );
    }
    let title = match reading.head.title.trim() {
        "" => "untitled",
        title => title,
    };
    let end = put_cut(
        buf,
        area.x + 1,
        area.y,
        x.saturating_sub(4),
        title,
        look.more(),
        look.style(Role::Strong),
    );
    if page.desk.unsaved() {
        put(
            buf,
            end + 1,
            area.y,
            x,
            look.sign("•", "*"),
            look.style(Role::Plain),
        );
    }
}

/// Key, meter, tempo and capo; what nobody wrote stands in brackets.
fn values(head: &Head) -> Vec<String> {
    let shown = |field: Field, text: String| {
        if head.defaults.contains(&field) {
            format!("({text})")
        } else {
            text
        }
    };
    let mut values = vec![
        shown(Field::Key, head.setting.key.to_string()),
        shown(Field::Meter, head.setting.meter.to_string()),
        shown(Field::Tempo, short_number(head.setting.tempo.per_minute)),
    ];
    if head.setting.capo != 0 {
        values.push(format!("capo {}", head.setting.capo));
    }
    values
}

fn flags(page: &Page) -> Vec<&'static str> {
    let mut flags = Vec::new();
    if page.file.read_only {
        flags.push("already open");
    }
    if page.file.changed {
        flags.push("changed");
    }
    if !matches!(page.file.draft, Draft::Quiet) {
        flags.push("draft");
    }
    flags
}

/// Says once what the song assumes because nothing was written.
#[must_use]
pub fn assumed(head: &Head, look: Look) -> String {
    let mut parts: Vec<String> = Vec::new();
    for field in &head.defaults {
        parts.push(match field {
            Field::Key => format!("key {}", head.setting.key),
            Field::Meter => format!("meter {}", head.setting.meter),
            Field::Tempo => format!(
                "{} beats a minute",
                short_number(head.setting.tempo.per_minute)
            ),
            Field::SteadyNote => format!(
                "steady note {} s, not timed yet ({})",
                short_number(head.voice.steady_note),
                key_of(Action::TimeNote)
            ),
            other => other.name().to_owned(),
        });
    }
    let mut text = "assumed: ".to_owned();
    for (index, part) in parts.iter().enumerate() {
        if index > 0 {
            text.push_str(look.between());
        }
        text.push_str(part);
    }
    debug_assert!(width(&text) > 0);
    text
}
