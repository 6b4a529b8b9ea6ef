//! The songs of a folder.

use super::figures::clock;
use crate::tui::app::{App, Areas};
use crate::tui::cells::{put, put_cut, put_right};
use crate::tui::contents::{Contents, SongRow};
use crate::tui::look::Role;
use crate::wording::figure::counted;
use ratatui::buffer::Buffer;
use std::time::SystemTime;

/// Draws the contents.
pub fn draw(app: &App, contents: &Contents, areas: Areas, buf: &mut Buffer) {
    let look = app.look;
    let right = areas.head.right().saturating_sub(1);
    let folder = contents.folder.file_name().map_or_else(
        || contents.folder.display().to_string(),
        |name| name.to_string_lossy().into_owned(),
    );
    let count = counted(contents.songs.len(), "song", "songs");
    let x = put_right(buf, 0, right, areas.head.y, &count, look.style(Role::Plain));
    put_cut(
        buf,
        1,
        areas.head.y,
        x.saturating_sub(2),
        &folder,
        look.more(),
        look.style(Role::Strong),
    );
    let found = contents.found();
    let top = areas.page.y + 1;
    if !contents.search.is_empty() {
        let end = put(
            buf,
            1,
            areas.page.y,
            right,
            "search: ",
            look.style(Role::Quiet),
        );
        put(
            buf,
            end,
            areas.page.y,
            right,
            &contents.search,
            look.style(Role::Plain),
        );
    }
    if found.is_empty() {
        let text = if contents.songs.is_empty() {
            "No song yet. Ctrl-N begins one."
        } else {
            "No song is called so."
        };
        put(buf, 3, top, right, text, look.style(Role::Quiet));
    }
    for ((index, song), y) in found
        .iter()
        .enumerate()
        .skip(contents.top)
        .zip(top..areas.page.bottom())
    {
        row(app, contents, song, index == contents.chosen, y, right, buf);
    }
}

fn row(
    app: &App,
    contents: &Contents,
    song: &SongRow,
    chosen: bool,
    y: u16,
    right: u16,
    buf: &mut Buffer,
) {
    let look = app.look;
    if chosen {
        put(buf, 1, y, right, look.chosen(), look.style(Role::Strong));
    }
    let role = if chosen { Role::Strong } else { Role::Plain };
    let quiet = look.style(Role::Quiet);
    let ago = contents
        .now
        .zip(song.entry.modified)
        .map(|(now, then)| ago(now, then))
        .unwrap_or_default();
    put_right(buf, 0, right, y, &ago, quiet);
    let mut x = right.saturating_sub(16);
    let title = match &song.facts {
        None => song.entry.name.clone(),
        Some(facts) if facts.trouble.is_some() => {
            let why = facts.trouble.clone().unwrap_or_default();
            let end = put_cut(
                buf,
                3,
                y,
                x,
                &song.entry.name,
                look.more(),
                look.style(role),
            );
            put_cut(
                buf,
                end + 2,
                y,
                x,
                &why,
                look.more(),
                look.style(Role::Care),
            );
            return;
        }
        Some(facts) => {
            let warnings = match facts.warnings {
                0 => String::new(),
                count => counted(count, "warning", "warnings"),
            };
            put_right(buf, 0, x, y, &warnings, look.style(Role::Care));
            x = x.saturating_sub(13);
            put_right(buf, 0, x, y, &clock(facts.seconds), quiet);
            x = x.saturating_sub(8);
            put(buf, x.saturating_sub(5), y, x, &facts.key, quiet);
            x = x.saturating_sub(6);
            if facts.title.trim().is_empty() {
                song.entry.name.clone()
            } else {
                facts.title.clone()
            }
        }
    };
    let end = put_cut(
        buf,
        3,
        y,
        x.saturating_sub(7),
        &title,
        look.more(),
        look.style(role),
    );
    if song.draft {
        put(buf, end + 2, y, x, "draft", look.style(Role::Care));
    }
}

/// How long ago, in the largest whole unit.
#[must_use]
pub fn ago(now: SystemTime, then: SystemTime) -> String {
    let seconds = now
        .duration_since(then)
        .map_or(0, |passed| passed.as_secs());
    match seconds {
        0..60 => "just now".to_owned(),
        60..3600 => format!("{} ago", counted(whole(seconds / 60), "minute", "minutes")),
        3600..86_400 => format!("{} ago", counted(whole(seconds / 3600), "hour", "hours")),
        _ => format!("{} ago", counted(whole(seconds / 86_400), "day", "days")),
    }
}

fn whole(count: u64) -> usize {
    usize::try_from(count).unwrap_or(usize::MAX)
}
