//! How a word is said: its readings, one of which may be taken for the whole song.

use super::list::{first_shown, frame, item};
use crate::tui::app::{App, Areas};
use crate::tui::said::Said;
use crate::wording::figure::counted;
use ratatui::buffer::Buffer;

/// Draws the list; the page shows what would follow from the way that is chosen.
pub fn draw(app: &App, list: &Said, areas: Areas, buf: &mut Buffer) {
    let title = format!("How \u{201c}{}\u{201d} is said in this song", list.word);
    let area = frame(app, areas, &title, buf);
    let at = list.chosen.map_or(0, |index| index + 1);
    let now = match &list.own {
        Some(own) => format!("as the song says: {own}"),
        None => "as fits each line best".to_owned(),
    };
    let way =
        |(way, count): &(String, usize)| (way.clone(), counted(*count, "syllable", "syllables"));
    let rows: Vec<(String, String)> = std::iter::once((now, String::new()))
        .chain(list.ways.iter().map(way))
        .chain(std::iter::once((
            "another way\u{2026}".to_owned(),
            String::new(),
        )))
        .collect();
    let first = first_shown(at, usize::from(area.height));
    for ((index, (text, remark)), y) in rows
        .iter()
        .enumerate()
        .skip(first)
        .zip(area.top()..area.bottom())
    {
        let text = if app.look.signs {
            text.clone()
        } else {
            text.replace('\u{2026}', "...")
        };
        item(app, area, y, at == index, &text, remark, buf);
    }
}
