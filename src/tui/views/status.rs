//! The last row: what was said, what is asked, else what the keys do here.

use crate::tui::app::{App, Asking, Then};
use crate::tui::asking::tempo_of;
use crate::tui::cells::{put, put_cut, put_right, set, width, wrapped};
use crate::tui::commands::{Action, Focus, command};
use crate::tui::look::Role;
use crate::tui::page::Draft;
use crate::warnings::Severity;
use crate::wording::figure::counted;
use ratatui::buffer::Buffer;
use ratatui::layout::Rect;
use ratatui::style::Style;

/// The most rows that a sentence takes.
const MOST_SAID: usize = 4;

/// Draws the status line; gives the cursor's cell where it is in a question.
pub fn draw(app: &App, area: Rect, buf: &mut Buffer) -> Option<(u16, u16)> {
    let look = app.look;
    if let Some(asking) = &app.asking {
        return ask(app, asking, area, buf);
    }
    let right = facts(app);
    let mut limit = area.right().saturating_sub(1);
    if !right.is_empty() {
        limit = put_right(buf, area.x, limit, area.y, &right, look.style(Role::Quiet))
            .saturating_sub(2);
    }
    if let Some(said) = &app.said {
        let role = if said.alarm { Role::Alarm } else { Role::Plain };
        say(app, &said.text, look.style(role), limit, area, buf);
        return None;
    }
    let mut x = area.x + 1;
    for action in hints(app.focus(), app) {
        let Some(row) =
            command(*action, app.focus()).filter(|row| row.action != Action::Stop || app.waiting)
        else {
            continue;
        };
        let Some(key) = row.keys.first() else {
            continue;
        };
        if x + width(key) + 1 + width(row.name) > limit {
            break;
        }
        x = put(buf, x, area.y, limit, key, look.style(Role::Plain)) + 1;
        x = put(buf, x, area.y, limit, row.name, look.style(Role::Quiet)) + 3;
    }
    None
}

/// Says a sentence before what stands at the right of the row, else over the whole row, else over as many rows above it as it needs.
fn say(app: &App, text: &str, style: Style, limit: u16, area: Rect, buf: &mut Buffer) {
    if area.x + 1 + width(text) <= limit {
        put(buf, area.x + 1, area.y, limit, text, style);
        return;
    }
    let rows = wrapped(text, area.width.saturating_sub(2));
    let hidden = rows.len().saturating_sub(MOST_SAID);
    let last = rows.len().saturating_sub(hidden + 1);
    for (row, y) in rows.iter().take(last + 1).rev().zip((0..=area.y).rev()) {
        for x in area.left()..area.right() {
            set(buf, x, y, " ", 1, app.look.style(Role::Plain));
        }
        let end = put(buf, area.x + 1, y, area.right(), row, style);
        if hidden > 0 && y == area.y {
            put(buf, end, y, area.right(), app.look.more(), style);
        }
    }
}

/// What is worth a hint, most useful first.
fn hints(focus: Focus, app: &App) -> &'static [Action] {
    use crate::tui::lists::List;
    match (focus, &app.list) {
        (Focus::Lyric, _) => &[
            Action::ChordRow,
            Action::Warnings,
            Action::Variants,
            Action::Rhymes,
            Action::OtherWordings,
            Action::Help,
            Action::Save,
        ],
        (Focus::Chords, _) => &[
            Action::ChordRow,
            Action::ChordLeft,
            Action::ChordRight,
            Action::Variants,
            Action::Help,
        ],
        (Focus::Heading, _) => &[
            Action::Details,
            Action::SongDetails,
            Action::NewSection,
            Action::SetAside,
            Action::Help,
        ],
        (Focus::Other, _) => &[
            Action::UseWording,
            Action::OtherWordings,
            Action::KeepWording,
            Action::Help,
        ],
        (Focus::List, Some(List::Warnings(_))) => &[Action::Take, Action::CardAfter, Action::Close],
        (Focus::List, Some(List::Variants(_))) => {
            &[Action::Take, Action::CardAfter, Action::Stop, Action::Close]
        }
        (Focus::List, Some(List::Plan(_))) => &[Action::Take, Action::Stop, Action::Close],
        (Focus::List, Some(List::Rhymes(_))) => &[Action::Take, Action::CardAfter, Action::Close],
        (Focus::List, _) => &[Action::Take, Action::Close],
        (Focus::Contents, _) => &[Action::Take, Action::NewSong, Action::Help, Action::Leave],
        _ => &[],
    }
}

/// What stands at the right of the row: how many warnings there are.
fn facts(app: &App) -> String {
    let Some(page) = app.page.as_ref().filter(|_| app.contents.is_none()) else {
        return String::new();
    };
    let count = page
        .desk
        .warnings()
        .iter()
        .filter(|warning| warning.severity() == Severity::Warning)
        .count();
    match (&page.file.draft, count) {
        (Draft::BroughtBack(when), 0) => format!("draft from {when}"),
        (_, 0) => String::new(),
        (_, count) => counted(count, "warning", "warnings"),
    }
}

fn ask(app: &App, asking: &Asking, area: Rect, buf: &mut Buffer) -> Option<(u16, u16)> {
    let look = app.look;
    let plain = look.style(Role::Plain);
    let limit = area.right();
    let field = |buf: &mut Buffer, name: &str, text: &str, hint: &str| {
        let x = put(
            buf,
            area.x + 1,
            area.y,
            limit,
            name,
            look.style(Role::Strong),
        ) + 1;
        let end = put(buf, x, area.y, limit.saturating_sub(1), text, plain);
        put_right(
            buf,
            end + 2,
            limit.saturating_sub(1),
            area.y,
            hint,
            look.style(Role::Quiet),
        );
        Some((end, area.y))
    };
    match asking {
        Asking::Unsaved(then) => {
            let goes = if *then == Then::Leave {
                "leaves"
            } else {
                "goes on"
            };
            let text = if area.width < 72 {
                "Unsaved: Enter saves, n keeps the draft, Esc stays".to_owned()
            } else {
                format!("Unsaved words: Enter saves and {goes}, n keeps the draft, Esc stays")
            };
            put_cut(
                buf,
                area.x + 1,
                area.y,
                limit,
                &text,
                look.more(),
                look.style(Role::Strong),
            );
            None
        }
        Asking::Find(text) => match &app.said {
            Some(said) => field(buf, "Find:", text, &said.text),
            None => field(buf, "Find:", text, "Enter next   Esc closes"),
        },
        Asking::Title(text) => field(
            buf,
            "Title of the new song:",
            text,
            "Enter begins it   Esc closes",
        ),
        Asking::Said(word, text) => field(
            buf,
            &format!("Say \u{201c}{word}\u{201d}:"),
            text,
            "parts (eve-ning) or a word like it   Enter takes it",
        ),
        Asking::SteadyNote(trials) => {
            let text = trials.says();
            say(app, &text, look.style(Role::Strong), limit, area, buf);
            None
        }
        Asking::Tempo(taps) => {
            let text = match tempo_of(taps) {
                Some(tempo) => format!("{tempo} beats a minute"),
                None => "Tap once a beat".to_owned(),
            };
            let x = put(
                buf,
                area.x + 1,
                area.y,
                limit,
                &text,
                look.style(Role::Strong),
            ) + 3;
            put(
                buf,
                x,
                area.y,
                limit,
                "Space taps   Enter sets the tempo   Esc leaves it",
                look.style(Role::Quiet),
            );
            None
        }
    }
}
